#include "app/found_memory.hpp"

#include <algorithm>
#include <fstream>

#include "support.hpp"

#include "app/import_flow.hpp"

namespace padchart::app {
namespace {

using svg::Role;

/// Two parts whose groups bear the same id by mistake, a layer of its own for what has no name, and a guide.
std::string two_groups(double x_of_second = 30) {
    const auto part = [](double x) {
        const auto rect = [](double left, double width) {
            return "<rect x=\"" + std::to_string(left) + "\" y=\"10\" width=\"" + std::to_string(width) +
                   "\" height=\"1\"/>";
        };
        return "<g id=\"R4\">" + rect(x, 2) + rect(x - 1, 0.8) + rect(x + 2.2, 0.8) + "</g>";
    };
    return R"(<svg xmlns="http://www.w3.org/2000/svg" xmlns:d="urn:draw" width="60mm" height="30mm" viewBox="0 0 60 30">)"
           R"(<g d:label="top">)" +
           part(10) + part(x_of_second) + R"(</g><g d:label="help"><path d="M1 1 H20"/></g></svg>)";
}

std::filesystem::path write(const std::filesystem::path& folder, const char* name, std::string_view text) {
    std::filesystem::create_directories(folder);
    std::ofstream(folder / name) << text;
    return folder / name;
}

std::size_t entry_named(const ImportDesk& desk, std::string_view name) {
    const auto found = std::find_if(desk.entries().begin(), desk.entries().end(),
                                    [&](const FoundEntry& entry) { return entry.name == name; });
    REQUIRE_MESSAGE(found != desk.entries().end(), name);
    return static_cast<std::size_t>(found - desk.entries().begin());
}

Role role_of(const ImportDesk& desk, std::size_t shape) {
    return desk.outcome()->result->account[shape].role;
}

bool tells(const ImportDesk& desk, std::string_view words) {
    const Diagnostics& told = desk.outcome()->findings;
    return std::any_of(told.begin(), told.end(), [&](const Diagnostic& d) { return d.message == words; });
}

TEST_CASE("what was said of one shape holds for that shape when the same drawing comes again") {
    const ScratchFolder folder;
    const auto path = write(folder.path(), "board.svg", two_groups());
    MeaningMemory memory;
    ImportDesk desk;
    REQUIRE(desk.load(path, memory));
    desk.say_role(desk.entry_of(0), Role::Body);
    desk.remember(memory);
    REQUIRE(desk.load(path, MeaningMemory::from_text(memory.text())));
    CHECK(role_of(desk, 0) == Role::Body);
    CHECK(role_of(desk, 3) != Role::Body); // the first shape of the other group of that id
    CHECK(desk.from_memory().shapes == 1);
    CHECK(tells(desk, "1 shape is taken for a body, as you said for board.svg"));
    CHECK(desk.entries()[desk.entry_of(0)].remembered);
    CHECK_FALSE(desk.is_touched()); // nobody said it here
}

TEST_CASE("another drawing under the same file name and ids takes nothing over from single shapes") {
    const ScratchFolder folder;
    MeaningMemory memory;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder.path() / "one", "board.svg", two_groups(30)), memory));
    desk.say_role(desk.entry_of(3), Role::Body);
    desk.remember(memory);
    REQUIRE(desk.load(write(folder.path() / "other", "board.svg", two_groups(31)), memory));
    CHECK(desk.from_memory().shapes == 0);
    CHECK(role_of(desk, 3) != Role::Body);
}

TEST_CASE("what programs lose when they write decimals is still the same shape, a hundredth more is another") {
    const auto print = [](const char* x) {
        const std::string text = std::string("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\" "
                                             "viewBox=\"0 0 9 9\"><rect x=\"") +
                                 x + "\" y=\"2\" width=\"1\" height=\"1\"/></svg>";
        return shape_prints(svg::read(text).value())[0];
    };
    CHECK(print("4.125") == print("4.1250001"));
    CHECK(print("4.125") == print("4.1249999"));
    CHECK(print("4.125") != print("4.135"));
}

TEST_CASE("one of two shapes that lie on one another is told from the other") {
    const ScratchFolder folder;
    std::string text = two_groups();
    const std::size_t end = text.rfind("</g></svg>");
    text.insert(end, "<path d=\"M1 1 H20\"/>"); // the guide once more
    const auto path = write(folder.path(), "double.svg", text);
    MeaningMemory memory;
    ImportDesk desk;
    REQUIRE(desk.load(path, memory));
    desk.say_role(desk.entry_of(7), Role::Note);
    desk.remember(memory);
    REQUIRE(desk.load(path, memory));
    CHECK(role_of(desk, 6) == Role::None);
    CHECK(role_of(desk, 7) == Role::Note);
}

TEST_CASE("what was said of shapes of one size is remembered of each, so that a corrected one does not lose the rest") {
    const ScratchFolder folder;
    MeaningMemory memory;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder.path(), "board.svg", two_groups()), memory));
    const std::size_t alike = entry_named(desk, "4 rects 0.80 x 1.00 mm");
    desk.say_role(alike, Role::KeepOut);
    desk.say_role(desk.entry_of(1), Role::Note); // but one of them
    desk.remember(memory);

    REQUIRE(desk.load(write(folder.path(), "board.svg", two_groups()), memory));
    CHECK(role_of(desk, 1) == Role::Note);
    CHECK(role_of(desk, 2) == Role::KeepOut);
    CHECK(desk.from_memory().shapes == 4);
    CHECK(desk.from_memory().left_out == 1);
    CHECK(tells(desk, "3 shapes are taken for keep-outs, as you said for board.svg"));

    REQUIRE(desk.load(write(folder.path(), "board.svg", two_groups(31)), memory));
    CHECK(role_of(desk, 2) == Role::KeepOut);
    CHECK(role_of(desk, 4) != Role::KeepOut); // it lies elsewhere now

    // All of one meaning stand as one line, and unsaid at one press.
    desk.say_role(desk.entry_of(1), std::nullopt);
    desk.remember(memory);
    REQUIRE(desk.load(write(folder.path(), "board.svg", two_groups()), memory));
    CHECK(desk.entries()[alike].remembered == false);
    desk.say_role(alike, Role::KeepOut);
    desk.say_role(desk.entry_of(1), std::nullopt);
    desk.remember(memory);
    REQUIRE(desk.load(write(folder.path(), "board.svg", two_groups()), memory));
    CHECK(desk.entries()[alike].remembered);
    CHECK(desk.entries()[alike].said.role == Role::KeepOut);
    CHECK_FALSE(desk.entries()[desk.entry_of(1)].remembered);
}

/// A body, two pads and two vias of one size in a layer that says nothing.
std::string with_vias(double x_of_first, const char* id_of_first, double x_of_second = 40) {
    const auto circle = [](const std::string& id, double x) {
        return "<circle " + (id.empty() ? id : "id=\"" + id + "\" ") + "cx=\"" + std::to_string(x) +
               "\" cy=\"20\" r=\"0.5\"/>";
    };
    std::string text = two_groups();
    text.insert(text.rfind("<g d:label=\"help\">"),
                "<g d:label=\"dots\">" + circle(id_of_first, x_of_first) + circle("", x_of_second) + "</g>");
    return text;
}

TEST_CASE(
    "in a corrected drawing a shape that moved is still what it was said to be, by its id or where it is nearest") {
    const ScratchFolder folder;
    const auto chart = std::make_shared<const document::Chart>(new_chart());
    for (const char* id : {"via-7", ""}) {
        MeaningMemory memory;
        ImportDesk desk;
        REQUIRE(desk.load(write(folder.path(), "board.svg", with_vias(30, id)), memory));
        desk.say_role(desk.entry_of(6), Role::KeepOut);
        desk.remember(memory);
        memory = MeaningMemory::from_text(memory.text());
        const auto moved = write(folder.path(), "board.svg", with_vias(30.4, id));
        REQUIRE(desk.load(moved, memory, chart));
        CHECK(role_of(desk, 6) == Role::KeepOut);
        CHECK(role_of(desk, 7) != Role::KeepOut);
        const Diagnostics told = desk.from_memory().findings;
        REQUIRE(told.size() == 1);
        CHECK(told[0].message.ends_with("is taken for a keep-out, as you said for board.svg, though it lies 0.40 mm "
                                        "from there now"));
        // Farther off than it is long only its id tells it.
        REQUIRE(desk.load(write(folder.path(), "board.svg", with_vias(33, id)), memory, chart));
        CHECK((role_of(desk, 6) == Role::KeepOut) == (std::string(id) == "via-7"));
        // A drawing that nobody calls a corrected one takes nothing over.
        REQUIRE(desk.load(moved, memory));
        CHECK(role_of(desk, 6) != Role::KeepOut);
    }
}

TEST_CASE("what is said anew of a shape that moved is what is remembered from then on") {
    const ScratchFolder folder;
    const auto chart = std::make_shared<const document::Chart>(new_chart());
    MeaningMemory memory;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder.path(), "board.svg", with_vias(30, "via-7")), memory));
    desk.say_role(desk.entry_of(6), Role::KeepOut);
    desk.remember(memory);
    REQUIRE(desk.load(write(folder.path(), "board.svg", with_vias(33, "via-7")), memory, chart));
    desk.say_role(desk.entry_of(6), Role::Note);
    desk.remember(memory);
    REQUIRE(desk.load(write(folder.path(), "board.svg", with_vias(36, "via-7")), memory, chart));
    CHECK(role_of(desk, 6) == Role::Note);
    desk.forget_remembered();
    desk.remember(memory);
    CHECK(memory.beginning_with("once ").empty());
}

TEST_CASE("a layer's name is remembered for any trace, and told with the file it was said of") {
    const ScratchFolder folder;
    MeaningMemory memory;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder.path(), "first.svg", two_groups()), memory));
    desk.say_role(entry_named(desk, "top"), Role::Note);
    desk.remember(memory);
    REQUIRE(desk.load(write(folder.path(), "second.svg", two_groups(40)), memory));
    CHECK(desk.from_memory().left_out == 6);
    CHECK(tells(desk, "6 shapes of layer top are left out, as you said for first.svg"));
    CHECK(desk.entries()[entry_named(desk, "top")].remembered);
}

TEST_CASE("a layer whose name a program gave is known by what is drawn in it alone") {
    const ScratchFolder folder;
    std::string text = two_groups();
    text.replace(text.find("<g d:label=\"help\">"), 18, "<g id=\"layer3\">");
    MeaningMemory memory;
    ImportDesk desk;
    REQUIRE(desk.load(write(folder.path(), "one.svg", text), memory));
    desk.say_role(entry_named(desk, "layer3"), Role::Note);
    desk.remember(memory);
    REQUIRE(desk.load(write(folder.path(), "same.svg", text), memory));
    CHECK(role_of(desk, 6) == Role::Note);
    text.replace(text.find("H20"), 3, "H25");
    REQUIRE(desk.load(write(folder.path(), "one.svg", text), memory));
    CHECK(role_of(desk, 6) == Role::None);
}

TEST_CASE("what was remembered is forgotten at one press, here and for the next trace") {
    const OwnConfig config;
    const ScratchFolder folder;
    const auto path = write(folder.path(), "board.svg", two_groups());
    Session s;
    ImportDesk& desk = s.desks.get<ImportDesk>();
    REQUIRE(begin_import(s, path.string()));
    wait_for_import(s);
    desk.say_role(entry_named(desk, "help"), Role::Note);
    desk.say_role(desk.entry_of(0), Role::Body);
    leave_import(s);

    REQUIRE(begin_import(s, path.string()));
    wait_for_import(s);
    CHECK(desk.from_memory().shapes == 2);
    desk.forget_remembered();
    CHECK(desk.from_memory().shapes == 0);
    CHECK(role_of(desk, 6) == Role::None);
    leave_import(s);

    REQUIRE(begin_import(s, path.string()));
    wait_for_import(s);
    CHECK(desk.from_memory().shapes == 0);
    CHECK(load_meanings(meaning_file()).size() == 0);
}

TEST_CASE("what is said again here is said, not remembered") {
    const ScratchFolder folder;
    const auto path = write(folder.path(), "board.svg", two_groups());
    MeaningMemory memory;
    ImportDesk desk;
    REQUIRE(desk.load(path, memory));
    desk.say_role(entry_named(desk, "help"), Role::Note);
    desk.remember(memory);
    REQUIRE(desk.load(path, memory));
    desk.say_role(entry_named(desk, "help"), Role::Note);
    CHECK(desk.from_memory().shapes == 0);
    CHECK_FALSE(tells(desk, "1 shape of layer help is left out, as you said for board.svg"));
    desk.forget_remembered();
    CHECK(role_of(desk, 6) == Role::Note);
}

} // namespace
} // namespace padchart::app
