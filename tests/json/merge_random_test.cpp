// What holds for the merge of any charts.

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <set>

#include "document/chart_lists.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"
#include "json/merge.hpp"
#include "json/random_chart.hpp"
#include "json/random_edit.hpp"

using namespace padchart;
using namespace padchart::document;
using json::merge;
using json::random_chart;
using json::randomly_edited;

namespace {

json::MergeResult merged(const Chart& base, const Chart& ours, const Chart& theirs) {
    const Result<json::MergeResult> result = merge(base, ours, theirs);
    if (!result) RC_FAIL(describe(result.error()));
    RC_ASSERT(!document::fault_of(result->chart));
    return *result;
}

using Said = std::multiset<std::array<std::string, 5>>;

Said said(const std::vector<Conflict>& conflicts, bool swapped) {
    Said out;
    for (const Conflict& c : conflicts)
        out.insert({c.thing.text, c.field, c.base, swapped ? c.theirs : c.ours, swapped ? c.ours : c.theirs});
    return out;
}

template <class T>
const T* find(const Items<T>& list, const Id& id) {
    for (const T& thing : list)
        if (thing.id == id) return &thing;
    return nullptr;
}

bool speaks_of(const std::vector<Conflict>& conflicts, const Id& thing) {
    return std::any_of(conflicts.begin(), conflicts.end(), [&](const Conflict& c) { return c.thing == thing; });
}

std::vector<std::string> ids_in_order(const Chart& chart) {
    std::vector<std::string> out;
    document::each_list(chart, chart, [&](std::string_view key, const auto& list, const auto&) {
        out.emplace_back(key);
        for (const auto& thing : list)
            out.push_back(thing.id.text);
    });
    return out;
}

/// Sometimes the parts in another order.
Chart shuffled(const Chart& chart) {
    Chart out = chart;
    if (*rc::gen::inRange(0, 2) == 0) return out;
    for (std::size_t i = out.parts.size(); i-- > 1;) {
        const auto k = static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(i) + 1));
        const Footprint there = out.parts[k];
        out.parts.replace(k, out.parts[i]);
        out.parts.replace(i, there);
    }
    return out;
}

/// The slow twin for one field of a thing that all three charts have.
template <class T>
void check_field(const T& base, const T& ours, const T& theirs, const T& result) {
    if (ours == base)
        RC_ASSERT(result == theirs);
    else
        RC_ASSERT(result == ours); // the only edit, the same edit, or the conflict's winner
}

} // namespace

TEST_CASE("merging with a chart that nobody edited gives the other") {
    CHECK(rc::check([] {
        const Chart a = random_chart();
        const Chart b = randomly_edited(a, "b-", 3);
        RC_ASSERT(merged(a, a, a).chart == a);
        RC_ASSERT(merged(a, b, a).chart == b);
        RC_ASSERT(merged(a, a, b).chart == b);
        RC_ASSERT(merged(a, b, b).chart == b);
        RC_ASSERT(merged(a, b, a).conflicts.empty());
    }));
}

TEST_CASE("an edit of the title alone combines with any edit of the rest") {
    CHECK(rc::check([] { // through every field of every thing, since neither chart is the base
        const Chart a = random_chart();
        Chart b = randomly_edited(a, "b-", 3);
        b.title = a.title;
        Chart c = a;
        c.title.serial += "x";
        Chart expected = b;
        expected.title = c.title;
        const json::MergeResult result = merged(a, b, c);
        RC_ASSERT(result.conflicts.empty());
        RC_ASSERT(result.chart == expected);
        RC_ASSERT(merged(a, c, b).chart == expected);
    }));
}

TEST_CASE("the answer does not depend on whose chart is called ours") {
    CHECK(rc::check([] {
        const Chart base = random_chart();
        const Chart one = randomly_edited(base, "one-", 4);
        const Chart other = randomly_edited(base, "two-", 4);
        const json::MergeResult a = merged(base, one, other);
        const json::MergeResult b = merged(base, other, one);
        RC_ASSERT(said(a.conflicts, false) == said(b.conflicts, true));
        if (a.conflicts.empty()) RC_ASSERT(a.chart == b.chart);
    }));
}

TEST_CASE("ids and the order of every list and of the conflicts are the same whoever is called ours") {
    std::size_t conflicts = 0;
    CHECK(rc::check([&] {
        const Chart base = random_chart();
        const Chart one = shuffled(randomly_edited(base, "same-", 3));
        const Chart other = shuffled(randomly_edited(base, "same-", 3)); // both give new things the same ids
        const json::MergeResult a = merged(base, one, other);
        const json::MergeResult b = merged(base, other, one);
        RC_ASSERT(ids_in_order(a.chart) == ids_in_order(b.chart));
        RC_ASSERT(a.conflicts.size() == b.conflicts.size());
        for (std::size_t i = 0; i < a.conflicts.size(); ++i) {
            RC_ASSERT(a.conflicts[i].thing == b.conflicts[i].thing);
            RC_ASSERT(a.conflicts[i].field == b.conflicts[i].field);
            RC_ASSERT(a.conflicts[i].ours == b.conflicts[i].theirs);
        }
        conflicts += a.conflicts.size();
    }));
    CHECK(conflicts > 100); // else the test says little
}

TEST_CASE("what both began with keeps its order unless one side alone changed it") {
    CHECK(rc::check([] {
        const Chart base = random_chart();
        const Chart one = randomly_edited(base, "one-", 4);
        const Chart other = randomly_edited(base, "two-", 4);
        const Chart result = merged(base, one, other).chart;
        std::vector<std::string> expected;
        for (const Footprint& part : base.parts)
            if (find(result.parts, part.id) != nullptr) expected.push_back(part.id.text);
        std::vector<std::string> kept;
        for (const Footprint& part : result.parts)
            if (find(base.parts, part.id) != nullptr) kept.push_back(part.id.text);
        RC_ASSERT(kept == expected);
    }));
}

TEST_CASE("without a conflict it does not matter which two of three are merged first") {
    std::size_t without_conflict = 0;
    CHECK(rc::check([&] {
        const Chart base = random_chart();
        const Chart a = randomly_edited(base, "a-", 25);
        const Chart b = randomly_edited(base, "b-", 25);
        const Chart c = randomly_edited(base, "c-", 25);
        const json::MergeResult ab = merged(base, a, b);
        const json::MergeResult bc = merged(base, b, c);
        const json::MergeResult ab_c = merged(base, ab.chart, c);
        const json::MergeResult a_bc = merged(base, a, bc.chart);
        if (!ab.conflicts.empty() || !bc.conflicts.empty() || !ab_c.conflicts.empty() || !a_bc.conflicts.empty())
            return;
        ++without_conflict;
        RC_ASSERT(ab_c.chart == a_bc.chart);
    }));
    CHECK(without_conflict > 10);
}

TEST_CASE("each field of each part is what the slow rule says") {
    CHECK(rc::check([] {
        const Chart base = random_chart();
        const Chart ours = randomly_edited(base, "ours-", 4);
        const Chart theirs = randomly_edited(base, "theirs-", 4);
        const Chart result = merged(base, ours, theirs).chart;
        for (const Footprint& b : base.parts) {
            const Footprint* o = find(ours.parts, b.id);
            const Footprint* t = find(theirs.parts, b.id);
            const Footprint* r = find(result.parts, b.id);
            if (o == nullptr || t == nullptr) continue;
            RC_ASSERT(r != nullptr);
            check_field(b.name, o->name, t->name, r->name);
            check_field(b.value, o->value, t->value, r->value);
            check_field(b.role, o->role, t->role, r->role);
            check_field(b.part_class, o->part_class, t->part_class, r->part_class);
            check_field(b.placement.at, o->placement.at, t->placement.at, r->placement.at);
            check_field(b.placement.turn, o->placement.turn, t->placement.turn, r->placement.turn);
            check_field(b.condition.joint, o->condition.joint, t->condition.joint, r->condition.joint);
            check_field(b.condition.note, o->condition.note, t->condition.note, r->condition.note);
            check_field(b.locked, o->locked, t->locked, r->locked);
        }
    }));
}

TEST_CASE("no note and no reading is lost that somebody wrote or edited") {
    CHECK(rc::check([] {
        const Chart base = random_chart();
        const Chart ours = randomly_edited(base, "ours-", 3);
        const Chart theirs = randomly_edited(base, "theirs-", 3);
        const json::MergeResult result = merged(base, ours, theirs);
        for (const Chart* side : {&ours, &theirs}) {
            const Chart& other = side == &ours ? theirs : ours;
            for (const Note& note : side->notes) {
                const Note* before = find(base.notes, note.id);
                if (before != nullptr && *before == note) continue;
                RC_ASSERT(find(result.chart.notes, note.id) != nullptr);
                if (before != nullptr && find(other.notes, note.id) == nullptr)
                    RC_ASSERT(speaks_of(result.conflicts, note.id));
            }
            for (const Reading& reading : side->readings) {
                const Reading* before = find(base.readings, reading.id);
                if (before != nullptr && *before == reading) continue;
                RC_ASSERT(find(result.chart.readings, reading.id) != nullptr);
            }
        }
    }));
}

TEST_CASE("a merged chart reads back equal with its conflicts") {
    CHECK(rc::check([] {
        const Chart base = random_chart();
        const Chart result = merged(base, randomly_edited(base, "ours-", 3), randomly_edited(base, "theirs-", 3)).chart;
        const Result<Chart> back = json::read_chart(json::write_chart(result));
        RC_ASSERT(back.has_value());
        RC_ASSERT(*back == result);
    }));
}
