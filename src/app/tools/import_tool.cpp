// A click on a shape finds its entry in the list of what the trace holds; what nothing is known of yet is shown dashed.

#include "app/tools/import_tool.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "app/import_desk.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

// A picture of more would be painted anew for every move of the pointer.
constexpr std::size_t kMostShapes = 3000, kMostPoints = 60'000;
constexpr std::size_t kMostMarked = 200;
constexpr double kReach_px = 5.0;

class FoundShapes {
public:
    explicit FoundShapes(const ImportDesk& desk) : desk_(desk) {}

    void add_to(const ToolContext& context, scene::Scene& out) const {
        if (!desk_.is_loaded() || desk_.outcome() == nullptr || !desk_.outcome()->result) return;
        std::size_t room = kMostPoints, shapes = kMostShapes;
        const auto& account = desk_.outcome()->result->account;
        for (std::size_t i = 0; i < account.size() && room > 0 && shapes > 0; ++i)
            if (account[i].role == svg::Role::None || account[i].role == svg::Role::Note) {
                const auto role =
                    account[i].role == svg::Role::None ? scene::Role::UnknownEdge : scene::Role::FarSideEdge;
                add(context, i, role, scene::Weight::Thin, room, out);
                --shapes;
            }
        add_changed(context, out);
        if (!desk_.chosen) return;
        room = kMostPoints;
        shapes = kMostShapes;
        for (const std::size_t i : desk_.entries()[*desk_.chosen].shapes) {
            if (room == 0 || shapes-- == 0) return;
            add(context, i, scene::Role::Selection, scene::Weight::Bold, room, out);
        }
    }

private:
    /// What a corrected trace draws differently stands out from all the rest.
    void add_changed(const ToolContext& context, scene::Scene& out) const {
        if (!desk_.outcome()->chart) return;
        const document::Chart& chart = *desk_.outcome()->chart;
        const auto& changed = desk_.outcome()->changed;
        for (std::size_t i = 0; i < std::min(changed.size(), kMostMarked); ++i)
            if (const auto at = document::find_part(chart, changed[i]);
                at && chart.parts[*at].placement.side == context.seen_from) {
                geometry::Ring ring = document::extent_on_board(chart.parts[*at]);
                for (Vec2& p : ring)
                    p = context.board(p); // the map is its own inverse
                out.add(scene::Role::Hover, scene::Line{std::move(ring), true, scene::Weight::Bold});
            }
    }

    void add(const ToolContext& context, std::size_t shape, scene::Role role, scene::Weight weight, std::size_t& room,
             scene::Scene& out) const {
        const double factor = desk_.factor();
        for (const svg::Subpath& subpath : desk_.drawing().subpaths_of(desk_.drawing().shapes[shape])) {
            const auto points = desk_.drawing().points_of(subpath);
            if (points.size() > room) {
                room = 0;
                return;
            }
            room -= points.size();
            scene::Line line{{}, false, weight};
            for (const Vec2 p : points)
                line.points.push_back(context.board(p * factor));
            out.add(role, std::move(line));
        }
    }

    const ImportDesk& desk_;
};

class ImportTool final : public Tool {
public:
    explicit ImportTool(ImportDesk& desk) : desk_(desk) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        if (!desk_.is_loaded()) return;
        const Vec2 at = context.board(pointer.scene);
        trace("click", fmt::format("board {:.2f} {:.2f}", at.x, at.y));
        const auto shape = desk_.shape_at(at, pointer.mm(kReach_px));
        desk_.chosen.reset();
        if (!shape) return;
        desk_.chosen = desk_.entry_of(*shape);
        desk_.reveal(*desk_.chosen);
        trace("import chosen", desk_.entries()[*desk_.chosen].name);
    }
    void move(const ToolContext&, const Pointer&) override {}
    void release(const ToolContext&, const Pointer&) override {}

    /// The digits of the tracing tool, and 7 for a mark, 0 for nothing of it.
    bool key(const ToolContext&, const Chord& chord) override {
        if (!desk_.chosen || chord.ctrl || chord.alt) return false;
        constexpr std::array kByDigit{svg::Role::Note, svg::Role::Outline, svg::Role::CutOut, svg::Role::Body,
                                      svg::Role::Pad,  svg::Role::KeepOut, svg::Role::Shield, svg::Role::Mark};
        if (chord.key >= Key::Digit0 && chord.key <= Key::Digit7)
            desk_.say_role(*desk_.chosen,
                           kByDigit[static_cast<std::size_t>(chord.key) - static_cast<std::size_t>(Key::Digit0)]);
        else if (chord.key == Key::Backspace)
            desk_.say_role(*desk_.chosen, std::nullopt);
        else
            return false;
        return true;
    }

    bool cancel(const ToolContext&) override { return std::exchange(desk_.chosen, std::nullopt).has_value(); }

    [[nodiscard]] std::string hint() const override {
        if (!desk_.is_loaded()) return "The trace is being read; Esc gives it up";
        if (!desk_.chosen) return "Click a shape to find it in the list; Esc gives up the import";
        return "Keys 0 to 7 say what it is, Backspace: as named";
    }

private:
    ImportDesk& desk_;
};

} // namespace

void add_found_shapes(const ImportDesk& desk, const ToolContext& context, scene::Scene& out) {
    FoundShapes(desk).add_to(context, out);
}

std::unique_ptr<Tool> make_import_tool(ImportDesk& desk) {
    return std::make_unique<ImportTool>(desk);
}

} // namespace padchart::app
