#include "analysis/compare_keep_outs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "geometry/box_overlap.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::KeepOut;
using document::Measure;
using document::Side;

/// Of both boxes' joint area: two outlines by hand of one thing cover each other better (common practice, no source).
constexpr double kSamePlace = 0.6;

std::string spoken_name(const KeepOut& keep_out) {
    return keep_out.name.empty() ? "Keep-out without name" : "Keep-out " + keep_out.name;
}

std::string_view in_words(Measure measure) {
    return measure == Measure::None ? "bare" : document::to_text(measure);
}

double shared_part(const geometry::Box& a, const geometry::Box& b) {
    const double both = geometry::common_area(a, b);
    if (both <= 0.0) return 0.0;
    return both / (a.width() * a.height() + b.width() * b.height() - both);
}

class KeepOutMatcher {
public:
    KeepOutMatcher(const Chart& before, const Chart& after, const CompareReport& report)
        : before_(before), after_(after), report_(report), partner_(before.keep_outs.size()),
          taken_(after.keep_outs.size()) {
        match([](const KeepOut& was, const KeepOut& is) { return was.id == is.id; });
        match([this](const KeepOut& was, const KeepOut& is) { return same_name(was, is) && same_side(was, is); });
        match(&KeepOutMatcher::same_name);
        if (!report.places_compared) return;
        match([this](const KeepOut& was, const KeepOut& is) { return same_side(was, is) && same_place(was, is); });
    }

    [[nodiscard]] const KeepOut* partner_of(std::size_t before) const {
        return partner_[before] ? &after_.keep_outs[*partner_[before]] : nullptr;
    }
    [[nodiscard]] bool is_new(std::size_t after) const { return !taken_[after]; }

private:
    template <class Same>
    void match(Same same) {
        for (std::size_t i = 0; i < partner_.size(); ++i)
            for (std::size_t k = 0; k < taken_.size() && !partner_[i]; ++k) {
                if (taken_[k] || !same(before_.keep_outs[i], after_.keep_outs[k])) continue;
                partner_[i] = k;
                taken_[k] = true;
            }
    }

    [[nodiscard]] static bool same_name(const KeepOut& was, const KeepOut& is) {
        return !was.name.empty() && was.name == is.name;
    }
    [[nodiscard]] bool same_side(const KeepOut& was, const KeepOut& is) const {
        return (was.side == is.side) != report_.registration.sides_swapped;
    }
    [[nodiscard]] bool same_place(const KeepOut& was, const KeepOut& is) const {
        const geometry::Polygon there = geometry::transformed(is.outline, report_.registration.before_from_after);
        return shared_part(geometry::bounds(was.outline), geometry::bounds(there)) >= kSamePlace;
    }

    const Chart& before_;
    const Chart& after_;
    const CompareReport& report_;
    std::vector<std::optional<std::size_t>> partner_;
    std::vector<bool> taken_;
};

Change keep_out_change(const KeepOut& keep_out, std::string message) {
    Change change;
    change.kind = ChangeKind::KeepOut;
    change.name = keep_out.name;
    change.message = spoken_name(keep_out) + ' ' + std::move(message);
    return change;
}

Change missing(const KeepOut& was) {
    Change change = keep_out_change(was, "is not on the second chart.");
    change.before_id = was.id;
    return change;
}

Change added(const KeepOut& is) {
    Change change = keep_out_change(is, "is on the second chart only.");
    change.after_id = is.id;
    return change;
}

Change other_measure(const KeepOut& was, const KeepOut& is) {
    Change change =
        keep_out_change(was, fmt::format("was {} before and is {} now.", in_words(was.measure), in_words(is.measure)));
    change.before_id = was.id;
    change.after_id = is.id;
    change.field = "measure";
    change.before = document::to_text(was.measure);
    change.after = document::to_text(is.measure);
    return change;
}

} // namespace

void compare_keep_outs(const Chart& before, const Chart& after, CompareReport& report) {
    const KeepOutMatcher matcher(before, after, report);
    for (std::size_t i = 0; i < before.keep_outs.size(); ++i) {
        const KeepOut& was = before.keep_outs[i];
        const KeepOut* is = matcher.partner_of(i);
        if (is == nullptr)
            report.changes.push_back(missing(was));
        else if (is->measure != was.measure)
            report.changes.push_back(other_measure(was, *is));
    }
    for (std::size_t k = 0; k < after.keep_outs.size(); ++k)
        if (matcher.is_new(k)) report.changes.push_back(added(after.keep_outs[k]));
}

void list_left_in_place(const Chart& after, CompareReport& report) {
    for (const KeepOut& keep_out : after.keep_outs) {
        if (keep_out.measure == Measure::Shielded)
            report.left_in_place.push_back(
                {keep_out.id, keep_out.name, spoken_name(keep_out) + " is still marked as shielded: is the tape off?"});
        if (keep_out.measure == Measure::Removed)
            report.left_in_place.push_back(
                {keep_out.id, keep_out.name,
                 spoken_name(keep_out) + " is still marked as removed: has it gone back where it belongs?"});
    }
    for (const document::Shield& shield : after.shields)
        report.left_in_place.push_back(
            {shield.id, shield.name,
             fmt::format("Shield {} ({}) is still on the chart: is it off the board?",
                         shield.name.empty() ? "without name" : shield.name, document::to_text(shield.kind))});
}

} // namespace padchart::analysis
