#include "app/part_rows.hpp"

#include <algorithm>
#include <cstdlib>
#include <unordered_set>

#include "analysis/clearance.hpp"
#include "analysis/coverage.hpp"
#include "app/widgets.hpp"
#include "patterns/labels.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;
using document::Presence;

bool is_open(const Footprint& part) {
    return part.condition.presence == Presence::NotChecked || part.name.empty() ||
           part.part_class == document::PartClass::Unknown;
}

bool has_state(const Footprint& part, StateFilter wanted) {
    switch (wanted) {
    case StateFilter::Any: return true;
    case StateFilter::NotChecked: return part.condition.presence == Presence::NotChecked;
    case StateFilter::Present: return part.condition.presence == Presence::Present;
    case StateFilter::Absent: return scene::is_absent(part);
    case StateFilter::Faulty: return scene::has_fault(part);
    case StateFilter::Open: return is_open(part);
    }
    return true;
}

std::unordered_set<Id> unrecorded_of(const Computed* reports) {
    std::unordered_set<Id> ids;
    if (reports == nullptr) return ids;
    for (const analysis::PartFit& fit : reports->fit.parts)
        if (fit.needs_record && !fit.has_record) ids.insert(fit.part);
    return ids;
}

std::string searched_text(const Footprint& part) {
    return part.name + " " + what_of(part) + " " + std::string(patterns::label_of(part.part_class)) + " " + part.value +
           " " + scene::condition_in_words(part) + " " + part.family + " " + part.comment;
}

/// What a row is sorted by, worked out once a row.
struct Row {
    std::size_t part = 0;
    std::string what; ///< where that is sorted by
};

class Order {
public:
    Order(const Chart& chart, PartColumn column) : chart_(chart), column_(column) {}
    bool operator()(const Row& a, const Row& b) const {
        const Footprint& p = chart_.parts[a.part];
        const Footprint& q = chart_.parts[b.part];
        if (column_ == PartColumn::What && a.what != b.what) return a.what < b.what;
        if (column_ == PartColumn::State && p.condition.presence != q.condition.presence)
            return p.condition.presence < q.condition.presence;
        return natural_less(p.name, q.name);
    }

private:
    const Chart& chart_;
    PartColumn column_;
};

} // namespace

std::string what_of(const Footprint& part) {
    if (!part.role.empty()) return part.role;
    if (part.part_class != document::PartClass::Unknown) return std::string(patterns::label_of(part.part_class));
    return "not told";
}

void sort_by(PartWishes& wishes, PartColumn column) {
    wishes.descending = wishes.sort == column && !wishes.descending;
    wishes.sort = column;
}

bool natural_less(std::string_view a, std::string_view b) {
    const auto split = [](std::string_view text) {
        const std::size_t digits = text.find_first_of("0123456789");
        const std::string_view letters = text.substr(0, digits);
        long number = -1;
        if (digits != std::string_view::npos)
            number = std::strtol(std::string(text.substr(digits)).c_str(), nullptr, 10);
        return std::pair(letters, number);
    };
    const auto left = split(a);
    const auto right = split(b);
    return left != right ? left < right : a < b;
}

const std::vector<std::size_t>& PartRows::of(const std::shared_ptr<const Chart>& chart,
                                             const std::shared_ptr<const Computed>& reports, const PartWishes& wishes) {
    if (chart == chart_ && reports == reports_ && wishes_ == wishes) return rows_;
    chart_ = chart;
    reports_ = reports;
    wishes_ = wishes;
    rows_.clear();
    const std::unordered_set<Id> unrecorded =
        wishes.unrecorded ? unrecorded_of(reports.get()) : std::unordered_set<Id>();
    std::unordered_set<Id> unmentioned;
    if (wishes.unmentioned)
        for (Id& id : analysis::coverage(*chart).not_mentioned)
            unmentioned.insert(std::move(id));
    std::vector<Row> rows;
    for (std::size_t i = 0; i < chart->parts.size(); ++i) {
        const Footprint& part = chart->parts[i];
        const bool fits = has_state(part, wishes.state) && (!wishes.side || part.placement.side == *wishes.side) &&
                          (!wishes.part_class || part.part_class == *wishes.part_class) &&
                          (!wishes.unrecorded || unrecorded.count(part.id) > 0) &&
                          (!wishes.unmentioned || unmentioned.count(part.id) > 0) &&
                          (!wishes.sensitive || analysis::is_heat_sensitive(part)) &&
                          (wishes.text.empty() || matches(searched_text(part), wishes.text));
        if (fits) rows.push_back({i, wishes.sort == PartColumn::What ? what_of(part) : std::string()});
    }
    std::stable_sort(rows.begin(), rows.end(), Order(*chart, wishes.sort));
    if (wishes.descending) std::reverse(rows.begin(), rows.end());
    for (const Row& row : rows)
        rows_.push_back(row.part);
    return rows_;
}

} // namespace padchart::app
