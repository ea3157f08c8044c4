#include "app/tools/pin_tool.hpp"

#include <utility>

#include "app/tools/keyed_place.hpp"

namespace padchart::app {
namespace {

class PinTool final : public Tool {
public:
    PinTool(std::string hint, std::function<bool(const PinnedPlace&)> placed, std::function<bool()> entered)
        : hint_(std::move(hint)), placed_(std::move(placed)), entered_(std::move(entered)) {}

    bool key(const ToolContext& context, const Chord& chord) override {
        if (keyed_.key(context, chord)) return true;
        if (keyed_.leads() && chord == Chord{Key::Enter}) {
            done_ = placed_(place(context, keyed_.pointer(context.from)));
            return true;
        }
        if (chord != Chord{Key::Enter}) return false;
        if (entered_)
            done_ = entered_();
        else
            show_place(context);
        return true;
    }

    void press(const ToolContext& context, const Pointer& pointer) override {
        done_ = placed_(place(context, pointer));
    }
    void move(const ToolContext&, const Pointer&) override {}
    void hover() override { keyed_.drop(); }
    void release(const ToolContext&, const Pointer&) override {}
    bool cancel(const ToolContext&) override { return std::exchange(done_, true) == false; }
    void overlay(const ToolContext&, const Pointer& pointer, scene::Scene& out) const override {
        out.add(scene::Role::BadgeNote, scene::Symbol{keyed_.pointer(pointer).scene, scene::Sign::Cross, 7.0});
    }
    [[nodiscard]] std::string hint() const override { return hint_; }
    [[nodiscard]] bool is_done() const override { return done_; }
    [[nodiscard]] bool awaits_click() const override { return true; }
    [[nodiscard]] bool is_led_by_keys() const override { return keyed_.leads(); }

private:
    /// Enter without a place yet: nobody knows where it would go before it is seen.
    void show_place(const ToolContext& context) {
        keyed_.begin(context);
        context.editor.tell(Severity::Note, "Arrows lead the cross, Enter puts it down there.");
    }

    static std::optional<std::size_t> pad_under(const document::Footprint& part, geometry::Vec2 at) {
        for (std::size_t i = 0; i < part.pads.size(); ++i)
            if (geometry::contains(document::outline_on_board(part, part.pads[i]), at)) return i;
        return std::nullopt;
    }

    static PinnedPlace place(const ToolContext& context, const Pointer& pointer) {
        PinnedPlace at{context.board(pointer.scene), context.seen_from, context.part_at(pointer), "", {}};
        const auto source = context.hits.at(pointer.scene, pointer.mm(2));
        const auto part = document::find_part(context.editor.chart(), at.part);
        if (!source || !part) return at;
        const std::int32_t pad = context.scene.sources[static_cast<std::size_t>(*source)].pad;
        const document::Footprint& of = context.editor.chart().parts[*part];
        at.pad_index = pad_under(of, at.at);
        if (pad < 0 || static_cast<std::size_t>(pad) >= of.pads.size()) return at;
        const document::Pad& hit = of.pads[static_cast<std::size_t>(pad)];
        at.pad = hit.number;
        at.pad_index = static_cast<std::size_t>(pad);
        at.at = document::board_from_part(of.placement)(hit.at);
        return at;
    }

    std::string hint_;
    std::function<bool(const PinnedPlace&)> placed_;
    std::function<bool()> entered_;
    KeyedPlace keyed_;
    bool done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_pin_tool(std::string hint, std::function<bool(const PinnedPlace&)> placed,
                                    std::function<bool()> entered) {
    return std::make_unique<PinTool>(std::move(hint), std::move(placed), std::move(entered));
}

} // namespace padchart::app
