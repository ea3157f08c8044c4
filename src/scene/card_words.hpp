#pragma once
// What an orientation card says, sentence by sentence, on paper or in a page.

#include <optional>
#include <string>
#include <vector>

#include "analysis/fit.hpp"
#include "document/chart.hpp"

namespace padchart::scene {

/// One line of the card: "Mark: bar, left, at pad 1".
struct CardLine {
    std::string label;
    std::string text;
    bool urgent = false;
    std::string brief{}; ///< where there is little room; empty: the text itself
};

struct CardWords {
    std::string name;
    std::string kind;            ///< "tantalum capacitor 100u 6V3, 2 pads"
    std::string seen;            ///< "seen from the bottom"
    std::string up;              ///< "up: cable edge"
    std::string status;          ///< "recorded", "NOT RECORDED", "no mark"
    std::string wrong_turns;     ///< over the small pictures: "sits too, wrong:"
    bool is_open = false;        ///< the status needs attention
    std::vector<CardLine> lines; ///< mark, meaning, consequence
    std::optional<CardLine> evidence;
    std::vector<std::string> confusions; ///< most urgent first; as many as there is room for
    std::string identification;          ///< which board and chart, on a card of its own
};

[[nodiscard]] CardWords card_words(const document::Chart& chart, const document::Footprint& part,
                                   const analysis::PartFit& fit);

/// What the mark of such a part must not be confused with (assets/tables/confusions.tsv), most urgent first.
[[nodiscard]] std::vector<std::string> confusions_of(document::PartClass part_class, document::MarkKind mark);

} // namespace padchart::scene
