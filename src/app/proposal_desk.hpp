#pragma once
// What the program would do with hand-traced pads, each to be taken or refused by a person: loose pads that could be
// one part, and pads made regular with how far that moves them. Nothing is done unasked.

#include <memory>
#include <set>
#include <string>
#include <vector>

#include "analysis/grouping.hpp"
#include "analysis/tidy.hpp"
#include "app/editor.hpp"
#include "app/latest_job.hpp"

namespace padchart::app {

/// The steps of one part, taken or left together.
struct TidyOffer {
    document::Id part;
    std::string name;
    std::vector<analysis::TidyStep> steps;
    double deviation_mm = 0.0; ///< the largest of the steps that would be taken
};

class ProposalDesk {
public:
    double limit_mm = 0.05; ///< no outline is moved farther

    ProposalDesk();

    /// Works everything out anew where the chart is another than last time: of a small chart at once, of a large one on
    /// a thread. True where the lists have become others. Call once a frame.
    bool update(const std::shared_ptr<const document::Chart>& chart);
    /// The lists still speak of an older chart, and nothing of them can be accepted.
    [[nodiscard]] bool is_busy() const { return chart_ != wanted_ || limit_of_ != wanted_limit_; }
    /// Blocks until they speak of the last update()'s.
    void wait();

    /// Those not refused, without pads that stand alone. Of the chart of the last update() that is not busy.
    [[nodiscard]] const std::vector<analysis::GroupProposal>& groups() const { return groups_; }
    [[nodiscard]] const std::vector<TidyOffer>& offers() const { return offers_; }
    [[nodiscard]] const Diagnostics& sizes() const { return sizes_; }       ///< which chips bodies could be
    [[nodiscard]] const Diagnostics& findings() const { return findings_; } ///< why there is nothing

    /// One step of history each. A part made of loose pads gets a free name, so that it is loose no more, and is
    /// selected. False while busy. Requires: index below the list's size; the editor's chart is that of the last
    /// update().
    bool accept_group(Editor& editor, std::size_t index);
    bool accept_all_groups(Editor& editor);
    /// Loose pads and tidying, all in one step.
    bool accept_all(Editor& editor);
    bool accept_offer(Editor& editor, std::size_t index);
    /// It is not shown again as long as its pads lie where they lie.
    void refuse_group(std::size_t index);
    void refuse_offer(std::size_t index);
    [[nodiscard]] std::size_t refused() const { return refused_.size(); }
    /// Why there is none in the list: none was found, or those that were found have been refused.
    [[nodiscard]] std::string no_groups_words() const;
    [[nodiscard]] std::string no_offers_words() const;
    void forget_refusals();

    enum class ShownKind { None, Group, Offer };
    ShownKind shown_kind = ShownKind::None; ///< what is pointed at on the board
    std::size_t shown = 0;

    /// Outlines of the pads pointed at, board; and of an offer as they would become.
    struct Picture {
        std::vector<geometry::Ring> now, then;
        document::Side side = document::Side::Top;
    };
    [[nodiscard]] Picture picture() const;

private:
    struct Order {
        std::shared_ptr<const document::Chart> chart;
        double limit_mm = 0.0;
    };
    /// All there is to propose, refused or not.
    struct Proposals {
        Order of;
        analysis::Grouping grouping;
        std::vector<TidyOffer> offers;
        document::Chart tidied;
        Diagnostics sizes;
    };

    static Proposals work_out(const Order& order, const std::stop_token& stop = {});
    void settle(Proposals proposals);
    bool take(Editor& editor, const std::vector<analysis::GroupProposal>& groups, const std::string& label);
    /// The parts of the offers made regular. Errors: as analysis::tidy.
    [[nodiscard]] Result<document::Chart> with_offers(const document::Chart& chart) const;

    std::shared_ptr<const document::Chart> chart_, wanted_;
    double limit_of_ = 0.0, wanted_limit_ = 0.0;
    std::set<std::string> refused_;
    std::vector<analysis::GroupProposal> groups_;
    std::vector<TidyOffer> offers_;
    document::Chart tidied_;
    Diagnostics sizes_, findings_;
    std::size_t refused_groups_ = 0, refused_offers_ = 0; ///< of those that could be proposed of this chart
    LatestJob<Order, Proposals> job_;
};

/// "Two-terminal part of 2 pads, like a 1005M (inch 0402)", "..., like an LGA".
[[nodiscard]] std::string title_of(const analysis::GroupProposal& proposal);

} // namespace padchart::app
