// The closed word lists of assets/chart.schema.json are those of the document, word for word and in the same order.

#include <doctest/doctest.h>

#include <vector>

#include "document/vocabulary.hpp"
#include "json/chart_file.hpp"
#include "json/golden.hpp"
#include "json/tree.hpp"

using namespace padchart;
using namespace padchart::document;

namespace {

const json::Tree& schema() {
    static const Result<json::Tree> tree = json::parse_tree(json::text_of_file("assets/chart.schema.json"));
    REQUIRE(tree);
    return *tree;
}

std::vector<std::string> words_in_schema(const std::string& pointer) {
    const json::Tree& tree = schema();
    const std::size_t list = json::node_at(tree, pointer);
    REQUIRE(json::pointer_to(tree, list) == pointer);
    std::vector<std::string> out;
    for (std::size_t i = list + 1; i < tree.nodes[list].end; i = tree.nodes[i].end)
        out.emplace_back(tree.text(i));
    return out;
}

template <class Enum>
std::vector<std::string> words_of_document() {
    std::vector<std::string> out;
    for (const Word<Enum>& word : words<Enum>())
        out.emplace_back(word.text);
    return out;
}

template <class Enum>
void check_words(const std::string& name) {
    CAPTURE(name);
    CHECK(words_in_schema("/$defs/" + name + "/enum") == words_of_document<Enum>());
}

} // namespace

TEST_CASE("the schema lists the words of the document") {
    check_words<Side>("side");
    check_words<ShapeKind>("shape_kind");
    check_words<PartClass>("part_class");
    check_words<MarkKind>("mark_kind");
    check_words<Meaning>("meaning");
    check_words<EvidenceKind>("evidence_kind");
    check_words<RecordState>("record_state");
    check_words<Presence>("presence");
    check_words<Seating>("seating");
    check_words<JointState>("joint_state");
    check_words<BodyState>("body_state");
    check_words<LandState>("land_state");
    check_words<KeepOutReason>("keep_out_reason");
    check_words<Measure>("measure");
    check_words<ShieldKind>("shield_kind");
    check_words<Quantity>("quantity");
    check_words<SpecialValue>("special_value");
    check_words<PowerState>("power_state");
    check_words<Leads>("leads");
    check_words<WhichBoard>("which_board");
    check_words<ScaleSource>("scale_source");
}

TEST_CASE("the schema speaks of the version that the program reads") {
    const json::Tree& tree = schema();
    CHECK(tree.text(json::node_at(tree, "/properties/format/const")) == json::kFormatName);
    CHECK(tree.nodes[json::node_at(tree, "/properties/version/const")].integer == json::kFormatVersion);
}

TEST_CASE("the defaults of the schema are those of the document") {
    const json::Tree& tree = schema();
    const auto number = [&tree](const std::string& pointer) {
        return tree.nodes[json::node_at(tree, pointer + "/default")].number;
    };
    const std::string rules = "/$defs/rules/properties/";
    CHECK(number(rules + "nozzle_bore_mm") == Rules{}.nozzle_bore_mm);
    CHECK(number(rules + "nozzle_margin_mm") == Rules{}.nozzle_margin_mm);
    CHECK(number(rules + "body_gap_mm") == Rules{}.body_gap_mm);
    CHECK(number(rules + "pad_gap_mm") == Rules{}.pad_gap_mm);
    CHECK(number(rules + "edge_gap_mm") == Rules{}.edge_gap_mm);
    const std::string plan = "/$defs/heat_plan/properties/";
    CHECK(number(plan + "set_point_c") == HeatPlan{}.set_point_c);
    CHECK(number(plan + "flow_l_per_min") == HeatPlan{}.flow_l_per_min);
    CHECK(number(plan + "nozzle_bore_mm") == HeatPlan{}.nozzle_bore_mm);
    CHECK(number(plan + "stand_off_mm") == HeatPlan{}.stand_off_mm);
    CHECK(number(plan + "dwell_s") == HeatPlan{}.dwell_s);
    CHECK(number(plan + "low_melt_fraction") == HeatPlan{}.low_melt_fraction);
    CHECK(number("/$defs/photo/properties/opacity") == Photo{}.opacity);
    CHECK(tree.text(json::node_at(tree, plan + "alloy/default")) == HeatPlan{}.alloy);
    CHECK(tree.text(json::node_at(tree, "/$defs/reading/properties/reference/default")) == Reading{}.reference);
}
