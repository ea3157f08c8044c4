#include <algorithm>
#include <fstream>

#include "support.hpp"

#include "app/actions.hpp"
#include "app/canvas.hpp"
#include "app/documents.hpp"
#include "app/import_flow.hpp"
#include "app/picture.hpp"
#include "app/proposal_watch.hpp"
#include "app/scale_desk.hpp"
#include "app/tools/scale_tool.hpp"
#include "document/edits.hpp"
#include "support/places.hpp"

namespace padchart::app {
namespace {

using document::Side;
using svg::Role;

/// Ten units a millimetre: a layer nobody understands with a body, pads and an edge all in it.
constexpr const char* kLoose = R"(<svg xmlns="http://www.w3.org/2000/svg" xmlns:d="urn:draw" width="40mm" height="30mm"
 viewBox="0 0 400 300"><g id="layer1" d:label="Kupfer">
 <rect x="100" y="100" width="6" height="8"/><rect x="118" y="100" width="6" height="8"/>
 <rect x="100" y="140" width="6" height="8"/><rect x="118" y="140" width="6" height="8"/>
 <rect x="20" y="20" width="360" height="260"/></g>
 <g d:label="bodies"><rect id="R1" x="104" y="99" width="16" height="10"/></g></svg>)";

std::filesystem::path write(const ScratchFolder& folder, const char* name, std::string_view text) {
    std::ofstream(folder.path() / name) << text;
    return folder.path() / name;
}

std::size_t entry_named(const ImportDesk& desk, std::string_view name) {
    const auto found = std::find_if(desk.entries().begin(), desk.entries().end(),
                                    [&](const FoundEntry& entry) { return entry.name == name; });
    REQUIRE_MESSAGE(found != desk.entries().end(), name);
    return static_cast<std::size_t>(found - desk.entries().begin());
}

TEST_CASE("a trace is told as layers with shapes of one kind and size together") {
    const ScratchFolder folder;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder, "loose.svg", kLoose), {}));
    const FoundEntry& layer = desk.entries()[entry_named(desk, "Kupfer")];
    CHECK(layer.shapes.size() == 5);
    REQUIRE(layer.children.size() == 2);
    const FoundEntry& pads = desk.entries()[layer.children[0]];
    CHECK(pads.kind == FoundEntry::Kind::Alike);
    CHECK(pads.name == "4 rects 0.60 x 0.80 mm");
    CHECK(pads.children.size() == 4);
    CHECK(desk.entries()[layer.children[1]].kind == FoundEntry::Kind::Shape);
    CHECK(taken_words(layer) == "5 not understood");
    CHECK(desk.listed().size() == 2); // nothing is folded out yet
}

TEST_CASE("up and down walk the list of what was found, right and left fold it") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(document::Chart{});
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    ImportDesk& desk = s.desks.get<ImportDesk>();
    const std::size_t layer = entry_named(desk, "Kupfer"), bodies = entry_named(desk, "bodies");
    const auto press = [&](Key key) {
        CHECK(import_key(s, {key}));
        return desk.chosen;
    };
    CHECK(press(Key::Down) == layer);
    CHECK(press(Key::Down) == bodies);
    CHECK(press(Key::Down) == bodies); // the end
    CHECK(press(Key::Up) == layer);
    CHECK(press(Key::Up) == layer);
    press(Key::Right);
    CHECK(press(Key::Down) == desk.entries()[layer].children[0]);
    CHECK(press(Key::Left) == layer);
    CHECK(desk.entries()[layer].open);
    press(Key::Left);
    CHECK(press(Key::Down) == bodies);
    CHECK_FALSE(import_key(s, shift(Key::Down)));
}

TEST_CASE("what is said of a layer holds for all in it unless an inner entry is told otherwise") {
    const ScratchFolder folder;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder, "loose.svg", kLoose), {}));
    const std::size_t layer = entry_named(desk, "Kupfer");
    desk.say_role(layer, Role::Pad);
    CHECK(taken_words(desk.entries()[layer]) == "5 pads");
    desk.say_role(desk.entries()[layer].children[1], Role::Outline);
    CHECK(taken_words(desk.entries()[layer]) == "4 pads, 1 outline");
    REQUIRE(desk.outcome()->result);
    const document::Chart& chart = desk.outcome()->result->chart;
    CHECK(chart.board.outline);
    CHECK(part_named(chart, "R1").pads.size() == 2);
    desk.say_side(layer, Side::Bottom);
    CHECK(desk.outcome()->result->chart.parts.size() > chart.parts.size() - 1);
    desk.say_role(layer, std::nullopt);
    CHECK(taken_words(desk.entries()[layer]) == "4 not understood, 1 outline");
}

TEST_CASE("the preview counts the groups of loose pads that will be proposed") {
    const ScratchFolder folder;
    ImportDesk desk;
    constexpr const char* kTwoPairs = R"(<svg xmlns="http://www.w3.org/2000/svg" xmlns:d="urn:draw" width="40mm"
 height="30mm" viewBox="0 0 400 300"><g id="layer1" d:label="Kupfer">
 <rect x="100" y="100" width="6" height="8"/><rect x="112" y="100" width="6" height="8"/>
 <rect x="200" y="240" width="6" height="8"/><rect x="212" y="240" width="6" height="8"/></g></svg>)";
    REQUIRE(desk.load(write(folder, "pairs.svg", kTwoPairs), {}));
    REQUIRE(desk.outcome());
    CHECK(desk.outcome()->groups == 0); // nobody has said that they are pads
    desk.say_role(entry_named(desk, "Kupfer"), Role::Pad);
    desk.wait();
    CHECK(desk.outcome()->groups == 2);
    CHECK(groups_in_words(1) == "1 group of loose pads could be a part");
    CHECK(groups_in_words(3) == "3 groups of loose pads could be parts");
}

TEST_CASE("what was said is remembered for the next trace with a layer of that name") {
    const ScratchFolder folder;
    MeaningMemory memory;
    {
        ImportDesk desk;
        REQUIRE(desk.load(write(folder, "loose.svg", kLoose), memory));
        desk.say_role(entry_named(desk, "Kupfer"), Role::Pad);
        desk.remember(memory);
    }
    const auto file = folder.path() / "deep" / "trace-meanings";
    REQUIRE(save_meanings(memory, file));
    ImportDesk next;
    REQUIRE(next.load(write(folder, "other.svg", kLoose), load_meanings(file)));
    CHECK(taken_words(next.entries()[entry_named(next, "Kupfer")]) == "5 pads");
    next.say_role(entry_named(next, "Kupfer"), std::nullopt);
    MeaningMemory later = load_meanings(file);
    next.remember(later);
    CHECK(later.size() == 0); // unsaid again
}

TEST_CASE("the memory survives names with tabs and lines that make no sense") {
    MeaningMemory memory;
    memory.set("layer a\tb", {Role::KeepOut, Side::Bottom}, "one.svg");
    memory.set("layer c", {std::nullopt, Side::Top});
    const MeaningMemory read = MeaningMemory::from_text("nonsense\n" + memory.text() + "pad\tup\tlayer d\nx");
    REQUIRE(read.find("LAYER A B") != nullptr);
    CHECK(read.find("layer a b")->meaning == svg::ShapeMeaning{Role::KeepOut, Side::Bottom});
    CHECK(read.find("layer a b")->file == "one.svg");
    CHECK(read.find("layer d")->file.empty()); // as lines were once
    CHECK(read.find("layer c")->meaning.role == std::nullopt);
    CHECK(read.find("layer d")->meaning.side == std::nullopt);
    CHECK(read.find("layer e") == nullptr);
    CHECK(load_meanings("/no/such/file").size() == 0);
}

TEST_CASE("only so much is remembered and the oldest goes first") {
    MeaningMemory memory;
    for (std::size_t i = 0; i <= MeaningMemory::kMost; ++i)
        memory.set("layer " + std::to_string(i), {Role::Pad, std::nullopt});
    CHECK(memory.size() == MeaningMemory::kMost);
    CHECK(memory.find("layer 0") == nullptr);
    CHECK(memory.find("layer 1") != nullptr);
}

TEST_CASE("a place on the preview finds its shape and the entry is folded into view") {
    const ScratchFolder folder;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder, "loose.svg", kLoose), {}));
    const auto pad = desk.shape_at({10.3, 10.4}, 0.05);
    REQUIRE(pad);
    CHECK(*pad == 0);
    desk.reveal(desk.entry_of(*pad));
    const auto listed = desk.listed();
    CHECK(std::find(listed.begin(), listed.end(), desk.entry_of(*pad)) != listed.end());
    CHECK_FALSE(desk.shape_at({39.5, 29.5}, 0.05));
    CHECK(desk.shape_at({2.0, 15.0}, 0.05) == 4); // on the line of the edge
}

TEST_CASE("a trace without a size gets its scale on the preview") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    std::string text = kLoose;
    text.erase(text.find(" width=\"40mm\" height=\"30mm\""), 27);
    REQUIRE(begin_import(s, write(folder, "nosize.svg", text).string()));
    wait_for_import(s);
    ImportDesk& desk = s.desks.get<ImportDesk>();
    CHECK_FALSE(s.editor.shown().scale);
    ScaleDesk& scale = s.desks.get<ScaleDesk>();
    scale.pick({{20, 20}, ""});
    scale.pick({{380, 20}, ""});
    scale.distance_mm = 36.0;
    REQUIRE(take_scale_for_import(s));
    hold_import(s);
    REQUIRE(s.editor.shown().scale);
    CHECK(s.editor.shown().scale->mm_per_unit == doctest::Approx(0.1));
    CHECK(part_named(s.editor.shown(), "R1").body->shape.width_mm == doctest::Approx(1.6));
    const Diagnostics& told = desk.outcome()->findings;
    CHECK(std::none_of(told.begin(), told.end(), [](const Diagnostic& d) { return d.code == "no-physical-size"; }));
    CHECK_FALSE(scale.distance_mm);                // it was measured on this board
    CHECK(desk.shape_at({10.3, 10.4}, 0.05) == 0); // places are those of the preview
}

TEST_CASE("Enter is held back while a trace is on the preview, and says what takes it") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    CHECK(held_back(s, {Key::Enter})); // nothing has asked for it
    CHECK_FALSE(s.editor.notice());
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    CHECK(held_back(s, {Key::Enter}));
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "Enter takes no trace; Make the chart does.");
    leave_import(s);
    s.show_stage(scene::Stage::Orient);
    CHECK_FALSE(held_back(s, {Key::Enter}));
}

TEST_CASE("another preview is told once, so that what counts its parts is drawn anew") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    CHECK_FALSE(hold_import(s));
    ImportDesk& desk = s.desks.get<ImportDesk>();
    desk.say_role(0, svg::Role::Note);
    desk.wait();
    CHECK(hold_import(s));
    CHECK_FALSE(hold_import(s));
}

TEST_CASE("hidden shapes are listed as such, apart from their like that are seen") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    const std::string text =
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40mm\" height=\"30mm\" viewBox=\"0 0 40 30\">"
        "<g id=\"pads\"><rect id=\"U1-1\" width=\"2\" height=\"1\"/><rect id=\"U1-2\" x=\"5\" "
        "width=\"2\" height=\"1\" visibility=\"hidden\"/></g></svg>";
    REQUIRE(begin_import(s, write(folder, "hidden.svg", text).string()));
    wait_for_import(s);
    const ImportDesk& desk = s.desks.get<ImportDesk>();
    CHECK(desk.entries()[desk.entry_of(0)].name == "rect U1-1");
    CHECK(desk.entries()[desk.entry_of(1)].name == "rect U1-2 (hidden)");
    CHECK(s.editor.shown().parts[0].pads.size() == 2);
}

TEST_CASE("what was told of a corrected drawing goes with it when it is undone") {
    Session s;
    s.editor.start_new(row_of_chips());
    REQUIRE(s.editor.commit(document::Chart{}, std::string(kCorrectedTrace) + "b.svg"));
    s.findings = {{Severity::Note, "new-in-trace", "C99 is new", {}, {}}};
    s.findings_title = "b.svg";
    s.panel = Panel::Findings;
    run(*find_action("undo"), s);
    CHECK(s.panel == Panel::Stage);
    CHECK(s.findings.empty());
}

TEST_CASE("what nothing is known of is in view from the start and drawn whatever tool is in hand") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    hold_import(s);
    ImportDesk& desk = s.desks.get<ImportDesk>();
    // The edge and the pads lie in a layer nobody knows; only R1's body is understood.
    CHECK(desk.extent_not_understood().min.x == doctest::Approx(2.0));
    CHECK(desk.extent_not_understood().max.x == doctest::Approx(38.0));
    Canvas canvas;
    s.camera.set_viewport({{90, 60}, {1200, 900}});
    canvas.refresh(s);
    CHECK(canvas.whole(s).contains({38, 28}));
    const auto dashed = [&] {
        const auto overlay = canvas.overlay(s);
        return std::count_if(overlay->items.begin(), overlay->items.end(),
                             [](const scene::Item& item) { return item.role == scene::Role::UnknownEdge; });
    };
    CHECK(dashed() == 5);
    s.use_tool(make_scale_tool(s.desks.get<ScaleDesk>()));
    CHECK(dashed() == 5);
    desk.say_role(entry_named(desk, "Kupfer"), Role::Pad);
    CHECK(desk.extent_not_understood().is_empty());
}

TEST_CASE("a corrected trace without a size lies where the chart's own scale puts it") {
    const OwnConfig config;
    const ScratchFolder folder;
    std::string text = kLoose;
    text.erase(text.find(" width=\"40mm\" height=\"30mm\""), 27);
    const auto path = write(folder, "nosize.svg", text);
    ImportDesk desk;
    REQUIRE(desk.load(path, {}));
    desk.set_scale(document::Scale{0.1, document::ScaleSource::TwoPoints, 0.01, "points", {}});
    desk.wait();
    const auto chart = std::make_shared<const document::Chart>(*desk.outcome()->chart);
    REQUIRE(desk.load(path, {}, chart));
    CHECK(desk.factor() == doctest::Approx(0.1));
    CHECK(desk.shape_at({10.3, 10.4}, 0.05) == 0);
    REQUIRE(desk.outcome()->chart);
    CHECK(desk.outcome()->chart->parts.size() == chart->parts.size());
    CHECK(desk.outcome()->changed.empty());
}

/// Of so many pads that its outcome is made on a thread.
std::string many_pads(int rows, int columns) {
    std::string text = R"(<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">)";
    text += R"(<g id="copper">)";
    for (int y = 0; y < rows; ++y)
        for (int x = 0; x < columns; ++x)
            text += "<rect x=\"" + std::to_string(2 * x) + "\" y=\"" + std::to_string(2 * y) +
                    "\" width=\"1\" height=\"0.5\"/>";
    return text + "</g></svg>";
}

TEST_CASE("the outcome of a large trace comes later and is the one a small trace has at once") {
    const ScratchFolder folder;
    Result<FoundTrace> found = find_trace(write(folder, "many.svg", many_pads(50, 40)), {});
    REQUIRE(found);
    ImportDesk desk;
    desk.take(std::move(*found));
    CHECK(desk.is_making());
    CHECK(desk.outcome() == nullptr);
    desk.wait();
    REQUIRE(desk.outcome() != nullptr);
    const std::size_t copper = entry_named(desk, "copper");
    CHECK(taken_words(desk.entries()[copper]) == "2000 not understood");
    const std::uint64_t before = desk.revision();
    // Two orders in a row: only the last one counts.
    desk.say_role(copper, Role::KeepOut);
    desk.say_role(copper, Role::Pad);
    CHECK(desk.revision() == before);
    desk.wait();
    CHECK(taken_words(desk.entries()[copper]) == "2000 pads");
    TraceOrder twin;
    twin.drawing = std::make_shared<const svg::Drawing>(desk.drawing());
    twin.said = {{{Role::Pad, std::nullopt}, desk.entries()[copper].shapes}};
    CHECK(make_outcome(twin).chart.value() == desk.outcome()->chart.value());
}

TEST_CASE("reading tells how far it is and can be given up on the way") {
    const ScratchFolder folder;
    const auto path = write(folder, "many.svg", many_pads(100, 100));
    std::stop_source stop;
    stop.request_stop();
    const Watch given_up{std::make_shared<WorkProgress>(), stop.get_token()};
    CHECK_FALSE(find_trace(path, {}, given_up));
    const Watch watched{std::make_shared<WorkProgress>(), {}};
    const Result<FoundTrace> found = find_trace(path, {}, watched);
    REQUIRE(found);
    CHECK(watched.progress->words() == std::string_view("Sorting shapes into layers"));
    CHECK(watched.progress->share() > 0.9);
    TraceOrder order;
    order.drawing = found->drawing;
    CHECK_FALSE(make_outcome(order, given_up).result);
}

TEST_CASE("a reading that was cancelled never comes, and the next one does") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    REQUIRE(begin_import(s, write(folder, "many.svg", many_pads(100, 100)).string()));
    leave_import(s);
    CHECK_FALSE(is_importing(s));
    CHECK(s.panel == Panel::Stage);
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    CHECK(s.desks.get<ImportDesk>().file_name() == "loose.svg");
}

TEST_CASE("a file that is no trace brings the dialog back with what is wrong") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    for (const std::string_view text :
         {"", "\xFF\xD8\xFF\xE0 no drawing", "<svg xmlns=\"http://www.w3.org/2000/svg\"><g>"}) {
        s.dialog = std::monostate{};
        REQUIRE(begin_import(s, write(folder, "bad.svg", text).string()));
        wait_for_import(s);
        CHECK_FALSE(is_importing(s));
        CHECK(s.tool->is_selecting());
        CHECK(s.panel == Panel::Stage);
        REQUIRE(std::holds_alternative<FileDialog>(s.dialog));
        CHECK(std::get<FileDialog>(s.dialog).path.ends_with("bad.svg"));
        CHECK_FALSE(std::get<FileDialog>(s.dialog).error.empty());
    }
    CHECK_FALSE(begin_import(s, (folder.path() / "nowhere.svg").string()));
    s.dialog = std::monostate{};
    REQUIRE(begin_import(s, folder.path().string()));
    wait_for_import(s);
    CHECK(std::get<FileDialog>(s.dialog).error.find("is no file") != std::string::npos);
}

TEST_CASE("the chart behind a preview cannot be changed, and leaving asks where something was said") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({s.editor.chart().parts[0].id});
    s.editor.nudge({0.05, 0});
    const document::Chart before = s.editor.chart();
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    for (const char* id : {"undo", "delete", "add-part", "left", "save", "survey", "trace", "scale"}) {
        INFO(id);
        CHECK_FALSE(find_action(id)->enabled(s));
        run(*find_action(id), s);
    }
    wait_for_import(s);
    s.editor.select({s.editor.chart().parts[0].id});
    for (const char* id : {"undo", "delete", "add-part", "right"})
        run(*find_action(id), s);
    CHECK(s.editor.chart() == before);
    CHECK(s.panel == Panel::Import);
    CHECK(find_action("flip-side")->enabled(s));

    ImportDesk& desk = s.desks.get<ImportDesk>();
    desk.say_role(entry_named(desk, "Kupfer"), Role::Pad);
    run(*find_action("quit"), s);
    CHECK_FALSE(s.wants_quit);
    CHECK(is_importing(s));
    REQUIRE(std::holds_alternative<LeaveImportDialog>(s.dialog));
    CHECK(std::get<LeaveImportDialog>(s.dialog).then == AfterSaving::Quit);
    leave_import(s);
    CHECK(find_action("undo")->enabled(s));
    CHECK(load_meanings(meaning_file()).find("layer Kupfer")->meaning.role == Role::Pad); // remembered all the same
}

TEST_CASE("an import in which nothing was said is left without a question") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    ask_to_leave_import(s);
    CHECK_FALSE(is_importing(s));
    CHECK_FALSE(s.has_dialog());
}

TEST_CASE("a scale point meets what is drawn on the side looked at, of a chart of any size") {
    Session s;
    ScaleDesk& desk = s.desks.get<ScaleDesk>();
    const auto click = [&](Tool& tool, Side side, geometry::Vec2 board) {
        const scene::Scene picture;
        const scene::HitTest hits(picture);
        const ToolContext context{s.editor, side, picture, hits};
        tool.press(context, Pointer{context.board(board), 40.0, 1.0, false, false});
    };
    document::Chart large = row_of_chips();
    for (int i = 0; i < 2600; ++i) {
        document::Footprint part = part_of("chip-1608M", "C1", {3.0 * (i % 50), 10 + 3.0 * (i / 50)});
        part.id.text = part.name = "C" + std::to_string(i);
        large.parts.add(std::move(part));
    }
    REQUIRE_FALSE(is_drawn_at_once(large));
    for (const document::Chart& chart : {row_of_chips(), large}) {
        desk.forget_picks();
        s.editor.start_new(chart);
        const auto tool = make_scale_tool(desk);
        click(*tool, Side::Top, {5.02, 0.03}); // beside the middle of R2
        REQUIRE(desk.points.size() == 1);
        CHECK(desk.points[0].at.x == doctest::Approx(5.0));
        CHECK(desk.points[0].words.find("R2") != std::string::npos);
        click(*tool, Side::Bottom, {5.02, 3.03}); // R9 lies on the other side
        REQUIRE(desk.points.size() == 2);
        CHECK(desk.points[1].words.find("R9") != std::string::npos);
        click(*tool, Side::Top, {5.02, 3.03});
        CHECK(desk.points[0].words.find("R9") == std::string::npos);
    }
}

TEST_CASE("the tools of an import leave its preview as it is, so that it is not drawn anew") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    const auto shown = s.editor.shown_snapshot();
    s.use_tool(make_scale_tool(s.desks.get<ScaleDesk>()));
    CHECK(s.editor.shown_snapshot() == shown);
    s.use_tool(s.resting_tool());
    hold_import(s);
    CHECK(s.editor.shown_snapshot() == shown);
    s.flip_side();
    CHECK(s.editor.shown_snapshot() == shown);
    leave_import(s);
    CHECK_FALSE(s.editor.has_preview());
}

TEST_CASE("nothing that was picked or typed for one trace is there in the next") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    ImportDesk& desk = s.desks.get<ImportDesk>();
    ScaleDesk& scale = s.desks.get<ScaleDesk>();
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    const std::uint64_t first = desk.arrival();
    scale.pick({{20, 20}, ""});
    scale.distance_mm = 42.0;
    scale.size = 3;
    scale.measuring_mm = 0.02;
    leave_import(s);
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    CHECK(desk.arrival() != first);
    CHECK(scale.points.empty());
    CHECK_FALSE(scale.distance_mm);
    CHECK_FALSE(scale.size);
    CHECK(scale.measuring_mm == 0.02); // the hand is the same
}

TEST_CASE("no chart is made past a scale that was measured and not taken") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    ScaleDesk& scale = s.desks.get<ScaleDesk>();
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    scale.pick({{20, 20}, ""});
    scale.pick({{380, 20}, ""});
    scale.distance_mm = 42.0;
    CHECK_FALSE(accept_import(s));
    CHECK(s.editor.notice()->text.starts_with("The scale you measured is not taken yet."));
    CHECK(is_importing(s));
    SUBCASE("taken") {
        REQUIRE(take_scale_for_import(s));
        CHECK_FALSE(s.editor.notice()); // it is taken now
        wait_for_import(s);
    }
    SUBCASE("dropped") {
        scale.distance_mm.reset();
    }
    CHECK(accept_import(s));
}

TEST_CASE("giving up an import changes nothing") {
    const OwnConfig config;
    Session s;
    s.editor.start_new(row_of_chips());
    const document::Chart before = s.editor.chart();
    REQUIRE(begin_import(s, (tests::source_folder() / "demo/power-corner.svg").string()));
    CHECK(is_importing(s));
    wait_for_import(s);
    CHECK(s.editor.has_preview());
    leave_import(s);
    CHECK_FALSE(s.editor.has_preview());
    CHECK(s.editor.chart() == before);
    CHECK(s.tool->is_selecting());
    CHECK_FALSE(accept_import(s));
}

TEST_CASE("a corrected trace keeps every tag and tells what changed") {
    const OwnConfig config;
    const ScratchFolder folder;
    Session s;
    REQUIRE(begin_import(s, write(folder, "loose.svg", kLoose).string()));
    wait_for_import(s);
    ImportDesk& desk = s.desks.get<ImportDesk>();
    desk.say_role(desk.entry_of(0), Role::Pad);
    desk.say_role(desk.entry_of(1), Role::Pad);
    REQUIRE(accept_import(s));
    const document::Id r1 = part_named(s.editor.chart(), "R1").id;
    REQUIRE(s.editor.commit(document::set_value(s.editor.chart(), r1, "10k"), "Value"));
    const std::size_t steps = s.editor.history().steps().size();

    std::string moved = kLoose;
    moved.replace(moved.find("x=\"104\""), 7, "x=\"107\"");
    ask_for_trace(s, true);
    CHECK(is_correction_wanted(s));
    REQUIRE(begin_import(s, write(folder, "loose.svg", moved).string()));
    wait_for_import(s);
    REQUIRE(desk.is_correction());
    const Diagnostics told = desk.outcome()->findings;
    // The body alone: its pads lie where they lay.
    CHECK(std::any_of(told.begin(), told.end(),
                      [](const Diagnostic& d) { return d.message == "R1: its body moved by 0.30 mm"; }));
    CHECK(desk.outcome()->changed == std::vector<document::Id>{r1});
    REQUIRE(accept_import(s));
    CHECK(part_named(s.editor.chart(), "R1").value == "10k");
    CHECK(part_named(s.editor.chart(), "R1").placement.at.x == doctest::Approx(11.5));
    CHECK(s.editor.history().steps().size() == steps + 1);
    CHECK(s.editor.undo());
    CHECK(part_named(s.editor.chart(), "R1").placement.at.x == doctest::Approx(11.2));
}

TEST_CASE("a picture traced from behind is told in the findings of the import") {
    // Two parts of eight pins, numbered clockwise as they are drawn.
    std::string text = R"(<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">)";
    for (int u = 1; u <= 2; ++u) {
        const int x = 10 * u;
        text += "<g id=\"U" + std::to_string(u) + "\"><rect class=\"body\" x=\"" + std::to_string(x) +
                "\" y=\"10\" width=\"4\" height=\"5\"/>";
        for (int i = 1; i <= 8; ++i) {
            const bool right = i <= 4;
            const double px = right ? x + 3.8 : x - 0.8, py = 10.4 + 1.27 * (right ? i - 1 : 8 - i);
            text += "<rect class=\"pad\" id=\"U" + std::to_string(u) + "-" + std::to_string(i) + "\" x=\"" +
                    std::to_string(px) + "\" y=\"" + std::to_string(py) + "\" width=\"1\" height=\"0.5\"/>";
        }
        text += "</g>";
    }
    const ScratchFolder folder;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder, "mirrored.svg", text + "</svg>"), {}));
    const Diagnostics told = desk.outcome()->findings;
    CHECK(std::any_of(told.begin(), told.end(), [](const Diagnostic& d) { return d.code == "picture-mirrored"; }));
}

} // namespace
} // namespace padchart::app
