#include "document/vocabulary.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

#include "document/chart.hpp"

using namespace padchart::document;

namespace {

/// Every word comes back as the value it was made of, no two alike, in the order of the enum.
template <class Enum>
void check_words() {
    std::set<std::string> seen;
    int position = 0;
    for (const Word<Enum>& word : words<Enum>()) {
        CHECK(static_cast<int>(word.value) == position++);
        CHECK(from_text<Enum>(to_text(word.value)) == word.value);
        CHECK(seen.insert(std::string(word.text)).second);
    }
    CHECK(seen.size() > 1);
    CHECK_FALSE(from_text<Enum>("no such word"));
}

} // namespace

TEST_CASE("every word of the chart is read back as what was written") {
    check_words<Side>();
    check_words<ShapeKind>();
    check_words<PartClass>();
    check_words<MarkKind>();
    check_words<Meaning>();
    check_words<EvidenceKind>();
    check_words<RecordState>();
    check_words<Presence>();
    check_words<Seating>();
    check_words<JointState>();
    check_words<BodyState>();
    check_words<LandState>();
    check_words<KeepOutReason>();
    check_words<Measure>();
    check_words<ShieldKind>();
    check_words<Quantity>();
    check_words<SpecialValue>();
    check_words<PowerState>();
    check_words<Leads>();
    check_words<WhichBoard>();
    check_words<ScaleSource>();
}

TEST_CASE("an id is the same for the same seed and another for another") {
    CHECK(id_of("p", "body/U4") == id_of("p", "body/U4"));
    CHECK(id_of("p", "body/U4") != id_of("p", "body/U5"));
    CHECK(is_well_formed(id_of("p", "anything at all")));
    std::set<Id> seen;
    for (int i = 0; i < 20000; ++i)
        seen.insert(id_of("p", "path:" + std::to_string(i)));
    CHECK(seen.size() == 20000);
}

TEST_CASE("ids with capitals or blanks or none at all are not well formed") {
    CHECK(is_well_formed({"u4"}));
    CHECK_FALSE(is_well_formed({"U4"}));
    CHECK_FALSE(is_well_formed({""}));
    CHECK_FALSE(is_well_formed({"-a"}));
    CHECK_FALSE(is_well_formed({std::string(65, 'a')}));
}

TEST_CASE("free_id avoids what the chart already bears") {
    Chart chart;
    Footprint part;
    part.id = id_of("p", "x");
    chart.parts.add(part);
    const Id next = free_id(chart, "p", "x");
    CHECK(next != part.id);
    CHECK(next == id_of("p", "x#2"));
}
