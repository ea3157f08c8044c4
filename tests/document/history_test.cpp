#include "document/history.hpp"

#include <doctest/doctest.h>

#include <random>

#include "document/edits.hpp"

using namespace padchart;
using namespace padchart::document;

namespace {

Chart titled(const std::string& title) {
    Chart chart;
    chart.title.title = title;
    return chart;
}

} // namespace

TEST_SUITE("history") {
    TEST_CASE("undo and redo walk over the steps") {
        History history(titled("0"));
        CHECK(history.commit(titled("1"), "Name it"));
        CHECK(history.commit(titled("2"), "Name it again"));
        CHECK(history.undo());
        CHECK(history.chart().title.title == "1");
        CHECK(history.undo());
        CHECK_FALSE(history.undo());
        CHECK(history.redo());
        CHECK(history.redo());
        CHECK_FALSE(history.redo());
        CHECK(history.chart().title.title == "2");
    }

    TEST_CASE("an edit that changes nothing makes no step") {
        History history(titled("0"));
        CHECK_FALSE(history.commit(titled("0"), "Nothing"));
        CHECK(history.steps().size() == 1);
    }

    TEST_CASE("a new edit after an undo drops what could be redone") {
        History history(titled("0"));
        history.commit(titled("1"), "a");
        history.undo();
        history.commit(titled("2"), "b");
        CHECK_FALSE(history.can_redo());
        CHECK(history.steps().size() == 2);
    }

    TEST_CASE("repeated nudges are one step and one undo") {
        History history(titled("0"));
        for (int i = 1; i <= 5; ++i)
            history.commit_repeated(titled(std::to_string(i)), "Nudge");
        CHECK(history.steps().size() == 2);
        history.undo();
        CHECK(history.chart().title.title == "0");
    }

    TEST_CASE("a nudge after saving does not change the saved snapshot") {
        History history(titled("0"));
        history.commit_repeated(titled("1"), "Nudge");
        history.mark_saved();
        history.commit_repeated(titled("2"), "Nudge");
        CHECK_FALSE(history.is_saved());
        history.undo();
        CHECK(history.is_saved());
        CHECK(history.chart().title.title == "1");
    }

    TEST_CASE("a thousand random edits undone to the start are the start") {
        std::mt19937 random(20260301);
        Chart start;
        for (int i = 0; i < 10; ++i) {
            Footprint part;
            part.id = {"p" + std::to_string(i)};
            part.placement.at = {static_cast<double>(i), 0};
            start.parts.add(part);
        }
        History history(start);
        for (int i = 0; i < 1000; ++i) {
            const std::vector<Id> one{{"p" + std::to_string(random() % 10)}};
            const Angle turn = Angle::degrees(15.0 * static_cast<double>(random() % 24));
            const Result<Chart> next = random() % 2 == 0 ? move_parts(history.chart(), one, {0.1, -0.2})
                                                         : turn_parts(history.chart(), one, turn, {2, 3}, Side::Top);
            REQUIRE(next);
            history.commit(*next, "Edit", one);
        }
        while (history.undo()) {
        }
        CHECK(history.chart() == start);
    }

    TEST_CASE("the saved step is known until it is dropped") {
        History history(titled("0"));
        CHECK(history.saved_position() == 0);
        history.commit(titled("1"), "Name it");
        history.mark_saved();
        history.commit(titled("2"), "Name it again");
        CHECK(history.saved_position() == 1);
        history.undo();
        history.undo();
        CHECK(history.saved_position() == 1);
        history.commit(titled("3"), "Name it otherwise"); // drops the saved one
        CHECK_FALSE(history.saved_position());
    }
}
