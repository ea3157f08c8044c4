// Drag from point to point, or from one part to another for the true gap between their outlines.

#include <optional>

#include <fmt/format.h>

#include "analysis/clearance.hpp"
#include "app/tools/tool.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using geometry::Gap;
using geometry::Vec2;

class MeasureTool final : public Tool {
public:
    void press(const ToolContext& context, const Pointer& pointer) override {
        if (!context.editor.chart().scale)
            return context.editor.tell(Severity::Warning, "This chart has no scale: nothing on it can be measured.");
        from_ = pointer.scene;
        from_part_ = context.part_at(pointer);
        dragging_ = true;
        gap_.reset();
    }

    void move(const ToolContext& context, const Pointer& pointer) override {
        if (!dragging_) return;
        const document::Id to_part = context.part_at(pointer);
        const bool between_parts = !from_part_.is_empty() && !to_part.is_empty() && from_part_ != to_part;
        gap_ = between_parts ? analysis::gap_between_parts(context.editor.chart(), from_part_, to_part) : std::nullopt;
        between_ = gap_ ? name_of(context.editor.chart(), std::array{from_part_, to_part}) : "";
        if (gap_) return;
        const Vec2 a = context.board(from_);
        const Vec2 b = context.board(pointer.scene);
        gap_ = Gap{geometry::distance(a, b), a, b};
    }

    void release(const ToolContext& context, const Pointer& pointer) override {
        move(context, pointer);
        if (dragging_ && gap_) trace("measure", fmt::format("{:.3f} mm", gap_->mm));
        dragging_ = false;
    }

    bool cancel(const ToolContext&) override {
        done_ = true;
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        if (gap_ && gap_->mm > 0) scene::add_gap(out, *gap_, context.seen_from, pointer.px_per_mm / pointer.ui_scale);
    }

    [[nodiscard]] std::string hint() const override {
        if (!gap_) return "Drag from point to point, or from part to part for the gap between them; Esc stops";
        if (between_.empty()) return fmt::format("{:.2f} mm from point to point", gap_->mm);
        return fmt::format("{}: {:.2f} mm between outlines", between_, gap_->mm);
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    Vec2 from_;
    document::Id from_part_;
    std::string between_;
    std::optional<Gap> gap_;
    bool dragging_ = false;
    bool done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_measure_tool() {
    return std::make_unique<MeasureTool>();
}

} // namespace padchart::app
