#include "app/heat_standing.hpp"

#include <string_view>

namespace padchart::app {
namespace {

/// Names and notes change no number.
document::HeatPlan without_words(document::HeatPlan plan) {
    plan.name.clear();
    plan.note.clear();
    plan.id = {};
    return plan;
}

} // namespace

Standing standing_of(const HeatDesk& desk, const std::shared_ptr<const document::Chart>& chart) {
    if (!desk.has_plan() || !desk.estimate()) return Standing::Final;
    if (desk.is_stale()) return Standing::Older;
    const Estimate& shown = *desk.estimate();
    const bool is_of_this = shown.question == HeatQuestion{chart, without_words(desk.plan())};
    return shown.is_quick || !is_of_this ? Standing::First : Standing::Final;
}

std::string in_words(Standing standing) {
    switch (standing) {
    case Standing::First: return "First estimate, being refined";
    case Standing::Older: return "From before the change, being worked out anew";
    case Standing::Final: break;
    }
    return {};
}

const char* sign_of(Standing standing) {
    return standing == Standing::Final ? "" : "≈ ";
}

std::string with_signs(std::string sentence, Standing standing) {
    const std::string sign = sign_of(standing);
    const auto is_digit = [&sentence](std::size_t at) {
        return at < sentence.size() && sentence[at] >= '0' && sentence[at] <= '9';
    };
    constexpr std::string_view kTo = " to ";
    for (std::size_t to = sentence.find(kTo); to != std::string::npos; to = sentence.find(kTo, to + kTo.size())) {
        if (to == 0 || !is_digit(to - 1) || !is_digit(to + kTo.size())) continue;
        const std::size_t before = sentence.rfind(' ', to - 1);
        sentence.insert(before == std::string::npos ? 0 : before + 1, sign);
        to += sign.size();
    }
    return sentence;
}

} // namespace padchart::app
