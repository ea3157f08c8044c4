#pragma once
// Which parts the list shows and in what order. Made anew only when chart, reports or wishes are others: a list of
// thousands costs nothing between two edits.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/background.hpp"

namespace padchart::app {

enum class StateFilter {
    Any,
    NotChecked,
    Present,
    Absent, ///< missing, removed, lost, not fitted
    Faulty, ///< something is not as it should be
    Open    ///< state, name or kind is still to be told
};
enum class PartColumn { Name, What, State };

struct PartWishes {
    std::string text; ///< every word of it must occur, capitals do not matter
    StateFilter state = StateFilter::Any;
    std::optional<document::Side> side;
    std::optional<document::PartClass> part_class;
    bool unrecorded = false;  ///< could go back wrong, not on record
    bool sensitive = false;   ///< to heat
    bool unmentioned = false; ///< nobody has said a word of it
    PartColumn sort = PartColumn::Name;
    bool descending = false;

    bool operator==(const PartWishes&) const = default;
    [[nodiscard]] bool narrows() const {
        return !text.empty() || state != StateFilter::Any || side || part_class || unrecorded || sensitive ||
               unmentioned;
    }
};

/// A second time turns the order round.
void sort_by(PartWishes& wishes, PartColumn column);
/// "buck converter", "ceramic capacitor", "not told": what the list says of it.
[[nodiscard]] std::string what_of(const document::Footprint& part);
/// C2 before C10.
[[nodiscard]] bool natural_less(std::string_view a, std::string_view b);

class PartRows {
public:
    /// Positions in the chart's parts.
    [[nodiscard]] const std::vector<std::size_t>& of(const std::shared_ptr<const document::Chart>& chart,
                                                     const std::shared_ptr<const Computed>& reports,
                                                     const PartWishes& wishes);

private:
    std::shared_ptr<const document::Chart> chart_;
    std::shared_ptr<const Computed> reports_;
    std::optional<PartWishes> wishes_;
    std::vector<std::size_t> rows_;
};

} // namespace padchart::app
