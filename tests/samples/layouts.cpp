#include "samples/layouts.hpp"

#include <string_view>

#include "document/edits.hpp"
#include "patterns/family.hpp"

namespace padchart::samples {
namespace {

using namespace document;

/// Collects parts of families and remembers the first thing that went wrong.
class Builder {
public:
    explicit Builder(std::string title) {
        chart_.title.title = std::move(title);
        chart_.title.board = "River logger";
        chart_.title.revision = "C";
        chart_.title.maker = "Tarn & Ford Gauging";
        chart_.title.author = "J. Abara-Lindqvist";
        chart_.title.date = "2026-04-02";
        chart_.title.chart_revision = "1";
        chart_.scale = Scale{1.0, ScaleSource::Drawn, 0.005, "drawn from families, places measured by calliper", {}};
    }

    Footprint* part(std::string name, std::string_view family, geometry::Vec2 at, double turn_deg,
                    Side side = Side::Top) {
        Result<Footprint> made = patterns::generate(family);
        if (!made) {
            if (!error_) error_ = Error{std::string(family) + ": " + made.error().message, name};
            return &parts_.emplace_back();
        }
        Footprint part = *made;
        part.id = id_of("p", chart_.title.title + "/" + name);
        part.name = std::move(name);
        part.placement = {at, Angle::degrees(turn_deg), side};
        parts_.push_back(std::move(part));
        return &parts_.back();
    }

    Chart& chart() { return chart_; }

    [[nodiscard]] Result<Layout> finish(std::string file_name) {
        for (Footprint& part : parts_)
            chart_.parts.add(std::move(part));
        if (error_) return *error_;
        if (auto fault = fault_of(chart_)) return *fault;
        return Layout{std::move(file_name), std::move(chart_)};
    }

private:
    Chart chart_;
    std::vector<Footprint> parts_;
    std::optional<Error> error_;
};

geometry::Polygon board(geometry::Ring outer, std::vector<geometry::Ring> holes = {}) {
    return {std::move(outer), std::move(holes)};
}

geometry::Ring hole(geometry::Vec2 at, double radius_mm) {
    return geometry::transformed(geometry::circle(radius_mm, 0.002), geometry::Affine::translation(at));
}

void mark(Footprint* part, MarkKind kind, double bearing_deg, Meaning meaning, EvidenceKind evidence) {
    part->orientation.state = RecordState::Recorded;
    part->orientation.mark = kind;
    part->orientation.bearing = Angle::degrees(bearing_deg);
    part->orientation.meaning = meaning;
    part->orientation.evidence.kind = evidence;
    part->orientation.evidence.date = "2026-04-02";
}

void limit(Footprint* part, std::string_view material) {
    part->heat.emplace();
    part->heat->material = material;
}

Result<Layout> radio_corner() {
    Builder b("Radio corner");
    b.chart().board.outline = board({{0, 0}, {26, 0}, {26, 15}, {22, 19}, {0, 19}}, {hole({2, 17}, 0.9)});
    b.chart().board.stack.layers = 6;
    b.chart().board.stack.thickness_mm = 1.0;
    mark(b.part("U20", "bga-64-0.8", {7, 7}, 0), MarkKind::Triangle, 135, Meaning::CornerA1, EvidenceKind::SeenHere);
    b.part("U21", "wafer-level-4x4", {14.5, 4.5}, 45);
    b.part("U22", "lga-3x3-long-a1", {14.5, 9.5}, 0);
    mark(b.part("U23", "qfn-16-3030-oblong", {20.5, 5}, 90), MarkKind::Dot, 135, Meaning::Pin1, EvidenceKind::SeenHere);
    b.part("X20", "oscillator-4-2016", {14.5, 13.5}, 0);
    b.part("Y20", "crystal-4-3225", {19.5, 10.5}, 0);
    limit(b.part("J20", "board-connector-0.4", {6.5, 15.5}, 90), "lcp");
    for (int i = 0; i < 6; ++i)
        b.part("C" + std::to_string(20 + i), "chip-0603M", {1.5 + 0.9 * i, 1.2}, 90);
    for (int i = 0; i < 4; ++i)
        b.part("C" + std::to_string(40 + i), "chip-0402M", {2.5 + 2.4 * i, 7.5}, 90, Side::Bottom);
    b.part("Q20", "sot-23", {18, 15.5}, 30);
    return b.finish("radio-corner.chart.json");
}

Result<Layout> sensor_strip() {
    Builder b("Float sensor strip");
    b.chart().board.outline = board({{0, 2}, {58, 2}, {60, 0}, {66, 0}, {66, 10}, {60, 10}, {58, 8}, {0, 8}});
    b.chart().board.stack.thickness_mm = 0.2;
    b.chart().board.stack.layers = 2;
    b.chart().board.stack.note = "flexible: it warps and burns sooner than a rigid board";
    limit(b.part("J30", "flat-cable-0.5", {62.5, 5}, 90), "unknown-plastic");
    for (int i = 0; i < 8; ++i)
        b.part("S" + std::to_string(1 + i), "sot-23", {4.0 + 6.5 * i, 5}, 15.0 * i);
    for (int i = 0; i < 8; ++i)
        b.part("C" + std::to_string(50 + i), "chip-1005M", {7.2 + 6.5 * i, 5}, 90 - 11.5 * i);
    Footprint* gone = b.part("R50", "chip-1005M", {56.5, 6.4}, 0);
    gone->condition.presence = Presence::Lost;
    gone->condition.note = "sprang off the tweezers";
    Note note;
    note.id = id_of("n", "crease");
    note.at = {30, 7.4};
    note.text = "crease in the foil here, do not bend";
    note.date = "2026-04-02";
    b.chart().notes.add(note);
    return b.finish("float-strip.chart.json");
}

Result<Layout> cell_bay() {
    Builder b("Cell bay");
    b.chart().board.outline =
        board({{0, 0}, {34, 0}, {34, 26}, {0, 26}}, {hole({2.2, 2.2}, 1.1), hole({31.8, 23.8}, 1.1)});
    b.chart().board.stack.layers = 2;
    b.chart().board.stack.thickness_mm = 1.6;
    limit(b.part("BT40", "cell-holder-12", {12, 12}, 0, Side::Bottom), "coin-cell");
    limit(b.part("C60", "aluminium-can-6.3", {27, 7}, 90, Side::Bottom), "al-can");
    mark(b.part("C61", "tantalum-3528-21", {27, 15}, 0, Side::Bottom), MarkKind::Bar, 180, Meaning::Positive,
         EvidenceKind::SeenHere);
    b.part("D60", "sod-323", {27, 19}, 180, Side::Bottom);
    mark(b.part("U40", "soic-8", {12, 12}, 270), MarkKind::Dot, 135, Meaning::Pin1, EvidenceKind::DataSheet);
    b.part("RN40", "array-4-2010M", {21, 20}, 0);
    for (int i = 0; i < 5; ++i)
        b.part("R" + std::to_string(60 + i), "chip-1608M", {6.0 + 2.6 * i, 22.5}, 90);
    KeepOut keep_out;
    keep_out.id = id_of("k", "cell");
    keep_out.name = "under the cell";
    keep_out.outline.outer =
        geometry::transformed(geometry::circle(6.5, 0.01), geometry::Affine::translation({12, 12}));
    keep_out.side = Side::Bottom;
    keep_out.through_board = true;
    keep_out.reason = KeepOutReason::Cell;
    keep_out.measure = Measure::Removed;
    b.chart().keep_outs.add(keep_out);
    return b.finish("cell-bay.chart.json");
}

/// As it comes from a trace whose size nobody knows: shapes in its own units, no names, no scale.
Result<Layout> unscaled_trace() {
    Builder b("Unscaled trace");
    b.chart().scale.reset();
    b.chart().title.not_mapped = "everything but the five parts round the fuse";
    b.chart().board.outline = board({{0, 0}, {300, 0}, {300, 180}, {0, 180}});
    for (int i = 0; i < 5; ++i) {
        Footprint* part = b.part("", "chip-1608M", {40.0 + 50 * i, 90}, 10.0 * i);
        part->id = id_of("p", "unscaled " + std::to_string(i));
        part->family.clear();
        part->family_parameters.clear();
        part->part_class = PartClass::Unknown;
        for (Pad& pad : part->pads) {
            pad.at = pad.at * 10.0;
            pad.shape.width_mm *= 10.0;
            pad.shape.height_mm *= 10.0;
        }
        part->body.reset();
    }
    return b.finish("unscaled-trace.chart.json");
}

} // namespace

Result<std::vector<Layout>> layouts() {
    std::vector<Layout> made;
    for (const auto& make : {radio_corner, sensor_strip, cell_bay, unscaled_trace}) {
        Result<Layout> layout = make();
        if (!layout) return layout.error();
        made.push_back(std::move(*layout));
    }
    return made;
}

} // namespace padchart::samples
