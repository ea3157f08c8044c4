#include "app/tools/spot_tool.hpp"

#include <utility>

namespace padchart::app {
namespace {

constexpr double kRing_px = 7.0;

class SpotTool final : public Tool {
public:
    SpotTool(std::string hint, std::function<void(geometry::Vec2)> take)
        : hint_(std::move(hint)), take_(std::move(take)) {}

    void press(const ToolContext&, const Pointer&) override { is_down_ = true; }
    void move(const ToolContext&, const Pointer&) override {}
    void release(const ToolContext& context, const Pointer& pointer) override {
        if (!std::exchange(is_down_, false)) return;
        take_(context.board(pointer.scene));
        is_done_ = true;
    }
    bool cancel(const ToolContext&) override { return !std::exchange(is_done_, true); }

    void overlay(const ToolContext&, const Pointer& pointer, scene::Scene& out) const override {
        const geometry::Ring ring = geometry::circle(pointer.mm(kRing_px), pointer.mm(0.3));
        add_outline(out, scene::Role::Selection,
                    geometry::transformed(ring, geometry::Affine::translation(pointer.scene)), scene::Weight::Bold);
    }
    [[nodiscard]] std::string hint() const override { return hint_ + "; Esc leaves it"; }
    [[nodiscard]] bool is_done() const override { return is_done_; }
    [[nodiscard]] bool awaits_click() const override { return true; }

private:
    std::string hint_;
    std::function<void(geometry::Vec2)> take_;
    bool is_down_ = false, is_done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_spot_tool(std::string hint, std::function<void(geometry::Vec2)> take) {
    return std::make_unique<SpotTool>(std::move(hint), std::move(take));
}

} // namespace padchart::app
