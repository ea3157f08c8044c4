#pragma once
// A donor's chart beside the chart in hand, and what its record says of one part here. Knows no panel.

#include <memory>
#include <optional>
#include <string>

#include "analysis/donor.hpp"
#include "app/editor.hpp"

namespace padchart::app {

class DonorDesk {
public:
    [[nodiscard]] bool has_donor() const { return donor_ != nullptr; }
    /// Requires: has_donor().
    [[nodiscard]] const document::Chart& donor() const { return *donor_; }
    [[nodiscard]] const std::string& file_name() const { return file_name_; }

    /// Errors: as loading a chart, a chart without parts; then the last donor stays.
    [[nodiscard]] Result<void> open(const std::string& path);
    void forget() { *this = {}; }

    /// The part here that the question is about. Its namesake on the donor is proposed; where there is none, nothing.
    void ask_for(const document::Footprint& part);
    [[nodiscard]] const document::Id& part() const { return part_; }
    [[nodiscard]] const document::Id& donor_part() const { return donor_part_; }
    void choose(document::Id donor_part) { donor_part_ = std::move(donor_part); }

    bool same_kind_of_board = false; ///< somebody says so
    std::string by;                  ///< who looked
    std::string date;                ///< when, ISO 8601 day; empty: today

    /// What follows for the part here; kept until the question is another. Errors: as analysis::transfer_from_donor,
    /// and no part of the donor chosen. Requires: has_donor().
    [[nodiscard]] const Result<analysis::DonorTransfer>& answer(const std::shared_ptr<const document::Chart>& here);
    /// The record put down as one step. False, and a notice, where the answer is not certain.
    bool use(Editor& editor);

private:
    std::shared_ptr<const document::Chart> donor_;
    std::string file_name_;
    document::Id part_, donor_part_;

    struct Asked {
        std::shared_ptr<const document::Chart> here;
        document::Id part, donor_part;
        bool same_kind = false;
        std::string by, date;
        bool operator==(const Asked&) const = default;
    };
    std::optional<Asked> asked_;
    std::optional<Result<analysis::DonorTransfer>> answer_;
};

} // namespace padchart::app
