#include "app/tools/proposal_tool.hpp"

#include <algorithm>

#include "app/proposal_desk.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

class ProposalTool final : public Tool {
public:
    explicit ProposalTool(ProposalDesk& desk) : desk_(desk) {}

    void press(const ToolContext& context, const Pointer& pointer) override {
        const Vec2 at = context.board(pointer.scene);
        const auto kind = desk_.shown_kind;
        const std::size_t shown = desk_.shown;
        for (const auto wanted : {ProposalDesk::ShownKind::Group, ProposalDesk::ShownKind::Offer}) {
            const bool groups = wanted == ProposalDesk::ShownKind::Group;
            for (std::size_t i = 0; i < (groups ? desk_.groups().size() : desk_.offers().size()); ++i) {
                desk_.shown_kind = wanted;
                desk_.shown = i;
                const ProposalDesk::Picture picture = desk_.picture();
                if (picture.side == context.seen_from &&
                    std::any_of(picture.now.begin(), picture.now.end(),
                                [&](const geometry::Ring& ring) { return geometry::contains(ring, at); }))
                    return;
            }
        }
        desk_.shown_kind = kind;
        desk_.shown = shown;
    }
    void move(const ToolContext&, const Pointer&) override {}
    void release(const ToolContext&, const Pointer&) override {}
    bool cancel(const ToolContext&) override {
        done_ = true;
        return true;
    }

    void overlay(const ToolContext& context, const Pointer&, scene::Scene& out) const override {
        const ProposalDesk::Picture picture = desk_.picture();
        if (picture.side != context.seen_from) return;
        const auto map = scene::scene_from_board(context.seen_from);
        for (const geometry::Ring& ring : picture.now)
            out.add(scene::Role::Selection, scene::Line{geometry::transformed(ring, map), true, scene::Weight::Bold});
        for (const geometry::Ring& ring : picture.then)
            add_outline(out, scene::Role::Preview, geometry::transformed(ring, map), scene::Weight::Normal);
    }

    [[nodiscard]] std::string hint() const override {
        return "Point at a proposal, or click its pads; blue is as drawn, dashed as it would become";
    }
    [[nodiscard]] bool is_done() const override { return done_; }

private:
    ProposalDesk& desk_;
    bool done_ = false;
};

} // namespace

std::unique_ptr<Tool> make_proposal_tool(ProposalDesk& desk) {
    return std::make_unique<ProposalTool>(desk);
}

} // namespace padchart::app
