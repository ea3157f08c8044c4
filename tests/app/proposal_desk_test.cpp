#include "support.hpp"

#include "app/proposal_desk.hpp"
#include "app/proposal_watch.hpp"
#include "app/traced_shape.hpp"
#include "geometry/deviation.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using geometry::Vec2;

/// Loose pads of two chips, drawn one by one and a little off.
Chart loose_pads() {
    Chart chart = new_chart();
    for (const Vec2 at : {Vec2{0, 0}, {1.5, 0.01}, {0, 6}, {1.5, 6}}) {
        const auto shape = traced_shape(TraceHow::Rectangle, std::vector<Vec2>{at, at + Vec2{0.6, 0.9 + 0.01 * at.x}});
        chart = with_traced(chart, TraceWhat::Pad, *shape, document::Side::Top)->chart;
    }
    return chart;
}

TEST_CASE("each proposal is accepted by itself and becomes a named part in one step") {
    Editor editor;
    editor.start_new(loose_pads());
    ProposalDesk desk;
    desk.update(editor.snapshot());
    REQUIRE(desk.groups().size() == 2);
    CHECK_FALSE(desk.groups()[0].why.empty());
    CHECK(title_of(desk.groups()[0]).starts_with("Two-terminal part of 2 pads"));
    REQUIRE(desk.accept_group(editor, 0));
    CHECK(editor.history().steps().size() == 2);
    CHECK(editor.chart().parts.size() == 3);
    const document::Footprint* made = editor.selected_part();
    REQUIRE(made != nullptr);
    CHECK(made->pads.size() == 2);
    CHECK_FALSE(made->name.empty());
    desk.update(editor.snapshot());
    CHECK(desk.groups().size() == 1); // the accepted one is not proposed again
    CHECK(editor.undo());
    CHECK(editor.chart() == loose_pads());
}

TEST_CASE("that loose pads could be parts is told in the report of an import and in Survey, and nowhere else") {
    Session s;
    s.editor.start_new(loose_pads());
    s.editor.select({});
    s.stage = scene::Stage::Survey;
    s.panel = Panel::Stage;
    CHECK(update_proposals(s));
    CHECK(proposal_words(s) == "2 groups of loose pads could be parts.");
    s.findings_title = "loose.svg";
    s.panel = Panel::Findings;
    CHECK(proposal_words(s) == "2 groups of loose pads could be parts.");
    s.panel = Panel::Stage;
    s.stage = scene::Stage::Heat;
    CHECK(proposal_words(s).empty());
    s.stage = scene::Stage::Survey;
    REQUIRE(s.desks.get<ProposalDesk>().accept_all_groups(s.editor));
    s.editor.select({});
    CHECK_FALSE(update_proposals(s)); // no pad is loose any more
    CHECK(proposal_words(s).empty());
}

TEST_CASE("proposals of a large chart come later and until then nothing can be accepted") {
    Editor editor;
    Chart chart = loose_pads();
    for (int i = 0; i < 200; ++i) {
        const Vec2 at{30.0 + 6.0 * (i % 20), 6.0 * (i / 20)};
        chart = document::add_part(chart, part_of("chip-1608M", ("R" + std::to_string(i)).c_str(), at)).value();
    }
    editor.start_new(chart);
    ProposalDesk desk;
    CHECK_FALSE(desk.update(editor.snapshot()));
    CHECK(desk.is_busy());
    CHECK_FALSE(desk.accept_all_groups(editor));
    desk.wait();
    CHECK_FALSE(desk.is_busy());
    REQUIRE(desk.groups().size() == 2);
    CHECK(desk.accept_all_groups(editor));
    CHECK(editor.chart().parts.size() == chart.parts.size() - 2); // four loose pads have become two parts
}

TEST_CASE("a refused proposal stays away while its pads lie where they lie") {
    Editor editor;
    editor.start_new(loose_pads());
    ProposalDesk desk;
    desk.update(editor.snapshot());
    desk.refuse_group(0);
    CHECK(desk.groups().size() == 1);
    Chart noted = editor.chart();
    noted.title.title = "edited";
    editor.commit(noted, "Title");
    desk.update(editor.snapshot());
    CHECK(desk.groups().size() == 1);
    CHECK(desk.refused() == 1);
    desk.forget_refusals();
    desk.update(editor.snapshot());
    CHECK(desk.groups().size() == 2);
}

TEST_CASE("a list that is empty because all was refused says so and what offers it anew") {
    Editor editor;
    editor.start_new(loose_pads());
    ProposalDesk desk;
    desk.update(editor.snapshot());
    REQUIRE(desk.groups().size() == 2);
    desk.refuse_group(0);
    desk.refuse_group(0);
    CHECK(desk.no_groups_words() == "All 2 that were found were refused; Ask again offers them anew.");
    Chart noted = editor.chart();
    noted.title.title = "edited";
    editor.commit(noted, "Title");
    desk.update(editor.snapshot());
    CHECK(desk.no_groups_words() == "All 2 that were found were refused; Ask again offers them anew.");
    desk.forget_refusals();
    desk.update(editor.snapshot());
    CHECK(desk.groups().size() == 2);
    editor.start_new(Chart{});
    desk.update(editor.snapshot());
    CHECK(desk.no_groups_words() == "No loose pads that could be one part.");
}

TEST_CASE("all proposals are accepted in one step under names of their own") {
    Editor editor;
    editor.start_new(loose_pads());
    ProposalDesk desk;
    desk.update(editor.snapshot());
    REQUIRE(desk.accept_all_groups(editor));
    REQUIRE(editor.chart().parts.size() == 2);
    CHECK(editor.chart().parts[0].name != editor.chart().parts[1].name);
    CHECK(editor.history().steps().size() == 2);
    desk.update(editor.snapshot());
    CHECK_FALSE(desk.accept_all_groups(editor));
}

TEST_CASE("all that is proposed is accepted at once, tidying as well, in one step") {
    Editor editor;
    editor.start_new(loose_pads());
    ProposalDesk desk;
    desk.update(editor.snapshot());
    REQUIRE(desk.accept_group(editor, 0));
    desk.update(editor.snapshot());
    REQUIRE(desk.groups().size() == 1);
    REQUIRE_FALSE(desk.offers().empty());
    const std::size_t before = editor.history().steps().size();
    REQUIRE(desk.accept_all(editor));
    CHECK(editor.history().steps().size() == before + 1);
    CHECK(editor.chart().parts.size() == 2);
    desk.update(editor.snapshot());
    CHECK(desk.groups().empty());
    while (!desk.offers().empty()) { // of the part that was put together last
        REQUIRE(desk.accept_all(editor));
        desk.update(editor.snapshot());
        REQUIRE(editor.history().steps().size() < before + 4);
    }
    CHECK_FALSE(desk.accept_all(editor));
}

TEST_CASE("a part like another is told with the article as it is spoken") {
    analysis::GroupProposal proposal;
    proposal.kind = analysis::GroupKind::Row;
    proposal.pads.resize(3);
    for (const auto& [like, title] :
         {std::pair{"SOT-23", "like an SOT-23"}, {"QFN-16", "like a QFN-16"}, {"Oscillator", "like an Oscillator"}}) {
        proposal.like = like;
        CHECK(title_of(proposal).ends_with(title));
    }
}

TEST_CASE("tidying tells how far it moves before it is accepted") {
    Editor editor;
    editor.start_new(loose_pads());
    ProposalDesk desk;
    desk.update(editor.snapshot());
    REQUIRE(desk.accept_all_groups(editor));
    desk.update(editor.snapshot());
    REQUIRE_FALSE(desk.offers().empty());
    const TidyOffer offer = desk.offers()[0];
    CHECK(offer.deviation_mm > 0.0);
    CHECK(offer.deviation_mm <= desk.limit_mm);
    desk.shown_kind = ProposalDesk::ShownKind::Offer;
    desk.shown = 0;
    const ProposalDesk::Picture picture = desk.picture();
    REQUIRE(picture.now.size() == picture.then.size());
    double farthest = 0.0;
    for (std::size_t i = 0; i < picture.now.size(); ++i)
        farthest = std::max(farthest, geometry::outline_deviation(picture.now[i], picture.then[i]));
    CHECK(farthest <= offer.deviation_mm + 1e-9);
    REQUIRE(desk.accept_offer(editor, 0));
    desk.update(editor.snapshot());
    for (const TidyOffer& left : desk.offers())
        CHECK((left.part != offer.part || left.deviation_mm < 1e-6));
}

TEST_CASE("without a scale nothing is proposed and it says why") {
    Chart chart = loose_pads();
    chart.scale.reset();
    ProposalDesk desk;
    desk.update(std::make_shared<const Chart>(chart));
    CHECK(desk.groups().empty());
    REQUIRE_FALSE(desk.findings().empty());
    CHECK(desk.findings()[0].code == "no-scale");
}

} // namespace
} // namespace padchart::app
