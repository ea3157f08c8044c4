#include "app/proposal_desk.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "app/trace_log.hpp"
#include "base/counted.hpp"
#include "document/edits.hpp"

namespace padchart::app {

using analysis::GroupProposal;
using document::Chart;
using document::Footprint;

namespace {

geometry::Vec2 place_of(const Chart& chart, analysis::LoosePad pad) {
    const Footprint& part = chart.parts[pad.part];
    return document::board_from_part(part.placement)(part.pads[pad.pad].at);
}

/// Where its pads lie: stays the same when something else is edited.
std::string key_of(const Chart& chart, const GroupProposal& proposal) {
    std::vector<std::string> places;
    for (const analysis::LoosePad pad : proposal.pads) {
        const geometry::Vec2 at = place_of(chart, pad);
        places.push_back(fmt::format("{:.3f},{:.3f}", at.x, at.y));
    }
    std::sort(places.begin(), places.end());
    std::string key = "group";
    for (const std::string& place : places)
        key += " " + place;
    return key;
}

std::string key_of(const TidyOffer& offer, double limit_mm) {
    return fmt::format("tidy {} {:g} {:.4f}", offer.part.text, limit_mm, offer.deviation_mm);
}

std::string called(const Footprint& part) {
    return part.name.empty() ? "a part without a name" : part.name;
}

std::vector<TidyOffer> offers_of(const Chart& chart, const std::vector<analysis::TidyStep>& steps) {
    std::vector<TidyOffer> offers;
    std::map<document::Id, std::size_t> index;
    for (const analysis::TidyStep& step : steps) {
        const auto [found, is_new] = index.try_emplace(step.part, offers.size());
        if (is_new) {
            const auto at = document::find_part(chart, step.part);
            offers.push_back({step.part, at ? called(chart.parts[*at]) : "a part", {}, 0.0});
        }
        TidyOffer& offer = offers[found->second];
        if (step.taken) offer.deviation_mm = std::max(offer.deviation_mm, step.deviation_mm);
        offer.steps.push_back(step);
    }
    // A part of which nothing would be taken, or that lies as it should to a hair, offers nothing.
    std::erase_if(offers, [](const TidyOffer& offer) {
        return std::none_of(offer.steps.begin(), offer.steps.end(), [](const auto& step) { return step.taken; });
    });
    return offers;
}

// Up to here all is worked out within some ten ms.
constexpr std::size_t kPadsAtOnce = 300;

bool is_small(const Chart& chart) {
    std::size_t pads = 0;
    for (const Footprint& part : chart.parts)
        pads += part.pads.size() + 1;
    return pads <= kPadsAtOnce;
}

} // namespace

ProposalDesk::ProposalDesk()
    : job_([](const Order& order, const std::stop_token& stop, const auto& give) {
          Proposals made = work_out(order, stop);
          if (!stop.stop_requested()) give(std::move(made));
      }) {}

ProposalDesk::Proposals ProposalDesk::work_out(const Order& order, const std::stop_token& stop) {
    const Chart& chart = *order.chart;
    Proposals made{
        order, analysis::propose_groups(chart, stop), {}, chart, analysis::size_suggestions(chart, 0.1, stop)};
    if (Result<analysis::TidyResult> result = analysis::tidy(chart, order.limit_mm, {}, stop)) {
        made.offers = offers_of(chart, result->steps);
        made.tidied = std::move(result->chart);
    }
    return made;
}

void ProposalDesk::settle(Proposals proposals) {
    chart_ = std::move(proposals.of.chart);
    limit_of_ = proposals.of.limit_mm;
    findings_ = std::move(proposals.grouping.findings);
    groups_ = std::move(proposals.grouping.proposals);
    std::erase_if(groups_, [](const GroupProposal& proposal) { return proposal.kind == analysis::GroupKind::Single; });
    refused_groups_ = std::erase_if(
        groups_, [&](const GroupProposal& proposal) { return refused_.contains(key_of(*chart_, proposal)); });
    sizes_ = std::move(proposals.sizes);
    offers_ = std::move(proposals.offers);
    tidied_ = std::move(proposals.tidied);
    refused_offers_ =
        std::erase_if(offers_, [&](const TidyOffer& offer) { return refused_.contains(key_of(offer, limit_of_)); });
    shown_kind = ShownKind::None;
}

bool ProposalDesk::update(const std::shared_ptr<const Chart>& chart) {
    bool changed = false;
    if (auto made = job_.take(); made && made->of.chart == wanted_ && made->of.limit_mm == wanted_limit_) {
        settle(std::move(*made));
        changed = true;
    }
    if (wanted_ == chart && wanted_limit_ == limit_mm) return changed;
    wanted_ = chart;
    wanted_limit_ = limit_mm;
    if (!is_small(*chart)) {
        job_.ask({chart, limit_mm});
        return changed;
    }
    job_.drop();
    settle(work_out({chart, limit_mm}));
    return true;
}

void ProposalDesk::wait() {
    if (!is_busy()) return;
    job_.wait();
    update(wanted_);
}

namespace {

struct Made {
    Result<Chart> chart;
    std::vector<document::Id> parts;
};

/// The groups as parts under free names.
Made put_together(const Chart& from, const std::vector<GroupProposal>& groups) {
    Made made{analysis::accept_groups(from, groups), {}};
    if (!made.chart) return made;
    const std::size_t all = made.chart->parts.size();
    for (std::size_t i = all - std::min(groups.size(), all); i < all; ++i)
        made.parts.push_back(made.chart->parts[i].id);
    for (const document::Id& id : made.parts) {
        if (!made.chart) break;
        made.chart = document::rename_part(*made.chart, id, free_name(*made.chart, document::PartClass::Unknown));
    }
    return made;
}

} // namespace

bool ProposalDesk::take(Editor& editor, const std::vector<GroupProposal>& groups, const std::string& label) {
    const std::size_t parts_before = editor.chart().parts.size();
    Made made = put_together(editor.chart(), groups);
    if (!editor.commit(std::move(made.chart), label)) return false;
    trace("grouped", fmt::format("{} parts from {}", editor.chart().parts.size(), parts_before));
    editor.select(std::move(made.parts));
    return true;
}

Result<Chart> ProposalDesk::with_offers(const Chart& chart) const {
    std::vector<document::Id> parts;
    for (const TidyOffer& offer : offers_)
        parts.push_back(offer.part);
    if (parts.empty()) return chart;
    Result<analysis::TidyResult> result = analysis::tidy(chart, limit_mm, parts);
    if (!result) return result.error();
    return std::move(result->chart);
}

bool ProposalDesk::accept_group(Editor& editor, std::size_t index) {
    if (is_busy()) return false;
    const GroupProposal proposal = groups_[index];
    return take(editor, {proposal}, fmt::format("Put {} pads together", proposal.pads.size()));
}

bool ProposalDesk::accept_all_groups(Editor& editor) {
    if (is_busy() || groups_.empty()) return false;
    const std::vector<GroupProposal> all = groups_;
    return take(editor, all, "Put loose pads together to " + counted(all.size(), "part"));
}

bool ProposalDesk::accept_all(Editor& editor) {
    if (is_busy() || (groups_.empty() && offers_.empty())) return false;
    const std::string label =
        fmt::format("Put {} together and tidy {}", counted(groups_.size(), "part"), counted(offers_.size(), "part"));
    // First the offers: they speak of the parts as they are.
    Result<Chart> tidied = with_offers(editor.chart());
    if (!tidied) return editor.commit(std::move(tidied), label);
    Made made = put_together(*tidied, groups_);
    if (!editor.commit(std::move(made.chart), label)) return false;
    if (!made.parts.empty()) editor.select(std::move(made.parts));
    return true;
}

bool ProposalDesk::accept_offer(Editor& editor, std::size_t index) {
    if (is_busy()) return false;
    const TidyOffer offer = offers_[index];
    const Result<analysis::TidyResult> result = analysis::tidy(editor.chart(), limit_mm, std::vector{offer.part});
    if (!result) {
        editor.tell(Severity::Fault, padchart::describe(result.error()));
        return false;
    }
    return editor.commit(result->chart, fmt::format("Tidy {}", offer.name));
}

void ProposalDesk::refuse_group(std::size_t index) {
    refused_.insert(key_of(*chart_, groups_[index]));
    groups_.erase(groups_.begin() + static_cast<std::ptrdiff_t>(index));
    ++refused_groups_;
    shown_kind = ShownKind::None;
}

void ProposalDesk::refuse_offer(std::size_t index) {
    refused_.insert(key_of(offers_[index], limit_mm));
    offers_.erase(offers_.begin() + static_cast<std::ptrdiff_t>(index));
    ++refused_offers_;
    shown_kind = ShownKind::None;
}

namespace {

std::string refused_words(std::size_t count) {
    return count == 1 ? "The one that was found was refused; Ask again offers it anew."
                      : fmt::format("All {} that were found were refused; Ask again offers them anew.", count);
}

} // namespace

std::string ProposalDesk::no_groups_words() const {
    return refused_groups_ > 0 ? refused_words(refused_groups_) : "No loose pads that could be one part.";
}

std::string ProposalDesk::no_offers_words() const {
    return refused_offers_ > 0 ? refused_words(refused_offers_) : "Nothing within this limit could be more regular.";
}

void ProposalDesk::forget_refusals() {
    refused_.clear();
    chart_.reset();
    wanted_.reset();
}

ProposalDesk::Picture ProposalDesk::picture() const {
    Picture picture;
    if (!chart_) return picture;
    if (shown_kind == ShownKind::Group && shown < groups_.size()) {
        picture.side = groups_[shown].side;
        for (const analysis::LoosePad pad : groups_[shown].pads) {
            const Footprint& part = chart_->parts[pad.part];
            picture.now.push_back(document::outline_on_board(part, part.pads[pad.pad]));
        }
    }
    if (shown_kind == ShownKind::Offer && shown < offers_.size()) {
        const auto at = document::find_part(*chart_, offers_[shown].part);
        if (!at) return picture;
        const Footprint &now = chart_->parts[*at], &then = tidied_.parts[*at];
        picture.side = now.placement.side;
        for (const document::Pad& pad : now.pads)
            picture.now.push_back(document::outline_on_board(now, pad));
        for (const document::Pad& pad : then.pads)
            picture.then.push_back(document::outline_on_board(then, pad));
    }
    return picture;
}

namespace {

/// As it is spoken: letters that are read one by one count by their names, "an LGA", "an SOT-23", "a QFN".
std::string_view article_for(std::string_view word) {
    const auto is_capital = [](char c) { return c >= 'A' && c <= 'Z'; };
    const bool is_spelled = word.size() > 1 && is_capital(word[0]) && is_capital(word[1]);
    const std::string_view vowels = is_spelled ? "AEFHILMNORSX8" : "AEIOUaeiou8";
    return !word.empty() && vowels.find(word[0]) != std::string_view::npos ? "an" : "a";
}

} // namespace

std::string title_of(const GroupProposal& proposal) {
    std::string text = fmt::format("{} of {} pads", analysis::to_text(proposal.kind), proposal.pads.size());
    if (!proposal.like.empty()) text += fmt::format(", like {} {}", article_for(proposal.like), proposal.like);
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
    return text;
}

} // namespace padchart::app
