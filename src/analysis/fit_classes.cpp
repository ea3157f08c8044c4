// What a class of part makes of a wrong turn: assets/tables/part_classes.tsv.

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <map>
#include <string_view>

#include "analysis/fit.hpp"
#include "patterns/table.hpp"

namespace padchart::analysis {

using document::PartClass;

namespace {

struct ClassRow {
    std::vector<double> harmless;
    Consequence consequence = Consequence::Damage;
};

constexpr std::array<std::pair<std::string_view, Consequence>, 5> kConsequences{{
    {"no-effect", Consequence::NoEffect},
    {"works-less-well", Consequence::WorksLessWell},
    {"does-not-work", Consequence::DoesNotWork},
    {"damage", Consequence::Damage},
    {"hazard", Consequence::Hazard},
}};

/// "0 180" as numbers.
std::vector<double> turns_in(std::string_view text) {
    std::vector<double> turns;
    const char* at = text.data();
    const char* const end = at + text.size();
    while (at != end) {
        if (*at == ' ') {
            ++at;
            continue;
        }
        double turn = 0.0;
        const auto [after, fault] = std::from_chars(at, end, turn);
        assert(fault == std::errc{});
        if (fault != std::errc{}) break;
        turns.push_back(turn);
        at = after;
    }
    return turns;
}

std::map<PartClass, ClassRow> read_classes() {
    const patterns::Table& table = patterns::table("part_classes");
    std::map<PartClass, ClassRow> rows;
    for (std::size_t i = 0; i < table.size(); ++i) {
        const auto part_class = document::from_text<PartClass>(table.text(i, "part_class"));
        const auto grade = std::find_if(kConsequences.begin(), kConsequences.end(),
                                        [&](const auto& word) { return word.first == table.text(i, "consequence"); });
        assert(part_class && grade != kConsequences.end());
        if (part_class && grade != kConsequences.end())
            rows[*part_class] = {turns_in(table.text(i, "harmless_deg")), grade->second};
    }
    return rows;
}

const ClassRow& row_of(PartClass part_class) {
    static const std::map<PartClass, ClassRow> kRows = read_classes();
    static const ClassRow kUnlisted{{0.0}, Consequence::Damage};
    const auto found = kRows.find(part_class);
    return found == kRows.end() ? kUnlisted : found->second;
}

/// In [0, 360), rising, each once, 0 among them.
std::vector<double> tidied(std::vector<double> turns) {
    std::erase_if(turns, [](double turn) { return !std::isfinite(turn); });
    for (double& turn : turns)
        turn = Angle::degrees(turn).wrapped().degrees();
    turns.push_back(0.0);
    std::sort(turns.begin(), turns.end());
    turns.erase(std::unique(turns.begin(), turns.end()), turns.end());
    return turns;
}

} // namespace

std::vector<double> harmless_turns(const document::Footprint& part) {
    return tidied(part.harmless_turns_deg.empty() ? row_of(part.part_class).harmless : part.harmless_turns_deg);
}

Consequence consequence_of(PartClass part_class) {
    return row_of(part_class).consequence;
}

} // namespace padchart::analysis
