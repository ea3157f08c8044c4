#include "app/panels/proposals_panel.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/body.hpp"
#include "app/proposal_desk.hpp"
#include "app/proposal_watch.hpp"
#include "app/refused_field.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

constexpr std::size_t kMost = 40; // more at once nobody reads; the list moves up as they are answered

constexpr std::size_t kMostSteps = 8; // of one part: one with forty pads has as many

struct ProposalsState {
    float footer = 0.0F;
};

struct Answer {
    std::optional<std::size_t> taken, refused;
};

/// Take and refuse below the title of an entry, where they are found however much there is to say; pointing anywhere at
/// the entry shows it on the board.
void answer_buttons(const Ui& ui, std::size_t i, const char* yes, const char* no, Answer& answer) {
    const float third = share_of_line(3);
    if (button(ui, yes, ButtonKind::Outlined, third, true, ui.px(32))) answer.taken = i;
    ImGui::SameLine();
    if (button(ui, no, ButtonKind::Plain, third, true, ui.px(32))) answer.refused = i;
}

void point_at(ProposalDesk& desk, ProposalDesk::ShownKind kind, std::size_t i) {
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    if (!ImGui::IsMouseHoveringRect(min, max) || !ImGui::IsWindowHovered()) return;
    desk.shown_kind = kind;
    desk.shown = i;
}

bool is_shown(const ProposalDesk& desk, ProposalDesk::ShownKind kind, std::size_t i) {
    return desk.shown_kind == kind && desk.shown == i;
}

void entry_title(const Ui& ui, const std::string& text, bool shown) {
    dot(ui, shown ? Tone::Fine : Tone::Plain, shown);
    ImGui::SameLine(0, ui.px(8));
    ImGui::PushFont(ui.fonts().strong);
    wrapped(ui, text);
    ImGui::PopFont();
}

Answer group_list(const Ui& ui, ProposalDesk& desk) {
    Answer answer;
    for (std::size_t i = 0; i < std::min(desk.groups().size(), kMost); ++i) {
        const analysis::GroupProposal& proposal = desk.groups()[i];
        ImGui::PushID(static_cast<int>(i));
        ImGui::BeginGroup();
        entry_title(ui, title_of(proposal), is_shown(desk, ProposalDesk::ShownKind::Group, i));
        answer_buttons(ui, i, "Accept", "Refuse", answer);
        muted(ui, proposal.why);
        ImGui::EndGroup();
        point_at(desk, ProposalDesk::ShownKind::Group, i);
        gap(ui, 6);
        ImGui::PopID();
    }
    if (desk.groups().size() > kMost) muted(ui, fmt::format("and {} more", desk.groups().size() - kMost));
    return answer;
}

Answer offer_list(const Ui& ui, ProposalDesk& desk) {
    Answer answer;
    for (std::size_t i = 0; i < std::min(desk.offers().size(), kMost); ++i) {
        const TidyOffer& offer = desk.offers()[i];
        ImGui::PushID(static_cast<int>(1000 + i));
        ImGui::BeginGroup();
        entry_title(ui, fmt::format("{}: at most {:.3f} mm off", offer.name, offer.deviation_mm),
                    is_shown(desk, ProposalDesk::ShownKind::Offer, i));
        answer_buttons(ui, i, "Accept", "Refuse", answer);
        for (std::size_t k = 0; k < std::min(offer.steps.size(), kMostSteps); ++k)
            muted(ui, offer.steps[k].words);
        if (offer.steps.size() > kMostSteps) muted(ui, fmt::format("and {} more", offer.steps.size() - kMostSteps));
        ImGui::EndGroup();
        point_at(desk, ProposalDesk::ShownKind::Offer, i);
        gap(ui, 6);
        ImGui::PopID();
    }
    if (desk.offers().size() > kMost) muted(ui, fmt::format("and {} more", desk.offers().size() - kMost));
    return answer;
}

void groups_part(const Ui& ui, Session& s, ProposalDesk& desk) {
    title(ui, "Loose pads");
    for (const Diagnostic& finding : desk.findings())
        verdict(ui, Tone::Danger, "Nothing can be proposed yet.", finding.message);
    if (desk.groups().empty()) {
        if (desk.findings().empty()) muted(ui, desk.no_groups_words());
        return;
    }
    const Answer answer = group_list(ui, desk);
    if (answer.refused) desk.refuse_group(*answer.refused);
    if (answer.taken) desk.accept_group(s.editor, *answer.taken);
}

void tidy_part(Ui& ui, Session& s, ProposalDesk& desk) {
    title(ui, "Pads made regular");
    number_field(
        ui, "Moved at most", desk.limit_mm, "mm",
        [&](std::optional<double> typed) {
            if (typed && *typed > 0.0) {
                desk.limit_mm = *typed;
                return;
            }
            keep_pen();
            s.editor.tell(Severity::Warning, "The limit must be above 0 mm.");
        },
        [&s](std::string text) { s.editor.tell(Severity::Warning, std::move(text)); });
    if (desk.offers().empty()) return muted(ui, desk.no_offers_words());
    const Answer answer = offer_list(ui, desk);
    if (answer.refused) desk.refuse_offer(*answer.refused);
    if (answer.taken) desk.accept_offer(s.editor, *answer.taken);
}

void sizes_part(const Ui& ui, Session& s, const ProposalDesk& desk) {
    if (desk.sizes().empty()) return;
    title(ui, "Chips by the size of their body");
    const Diagnostics& sizes = desk.sizes();
    for (std::size_t i = 0; i < std::min(sizes.size(), kMost); ++i) {
        ImGui::PushID(static_cast<int>(2000 + i));
        if (button(ui, "Show", ButtonKind::Plain, ui.px(58))) s.go_to(document::Id{sizes[i].target});
        ImGui::SameLine();
        wrapped(ui, sizes[i].message);
        ImGui::PopID();
    }
    muted(ui, "A suggestion by size, never an identification.");
}

} // namespace

void proposals_panel(Ui& ui, Session& s) {
    ProposalDesk& desk = s.desks.get<ProposalDesk>();
    ProposalsState& state = s.desks.get<ProposalsState>();
    desk.update(s.editor.snapshot());
    begin_body(ui, state.footer);
    heading(ui, "Proposals");
    muted(ui, "Nothing is done unasked. Each says why; accept or refuse it.");
    gap(ui, 4);
    if (desk.is_busy()) muted(ui, "Loose and uneven pads are being looked for ...");
    // What is listed meanwhile speaks of the chart as it was.
    ImGui::BeginDisabled(desk.is_busy());
    groups_part(ui, s, desk);
    rule(ui);
    tidy_part(ui, s, desk);
    rule(ui);
    sizes_part(ui, s, desk);
    ImGui::EndDisabled();
    begin_footer(ui);
    const float third = share_of_line(3);
    if (button(ui, "Back", ButtonKind::Outlined, third)) {
        s.panel = Panel::Stage;
        s.use_tool(s.resting_tool());
    }
    ImGui::SameLine();
    if (button(ui, "Ask again", ButtonKind::Outlined, third, desk.refused() > 0)) desk.forget_refusals();
    ImGui::SameLine();
    desk.update(s.editor.snapshot());
    const bool has_any = !desk.groups().empty() || !desk.offers().empty();
    if (button(ui, "Accept all", ButtonKind::Outlined, third, !desk.is_busy() && has_any)) desk.accept_all(s.editor);
    end_footer(ui, state.footer);
}

void proposals_told(Ui& ui, Session& s) {
    const std::string words = proposal_words(s);
    if (words.empty()) return;
    dot(ui, Tone::Unknown, false);
    ImGui::SameLine(0, ui.px(8));
    wrapped(ui, words);
    gap(ui, 2);
    if (button(ui, "See the proposals", ButtonKind::Outlined, -1)) run(*find_action("proposals"), s);
    gap(ui, 4);
}

} // namespace padchart::app
