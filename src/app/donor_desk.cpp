#include "app/donor_desk.hpp"

#include <cassert>
#include <filesystem>

#include "app/today.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {

Result<void> DonorDesk::open(const std::string& path) {
    Result<document::Chart> chart = json::load_chart(path);
    if (!chart) return chart.error();
    if (chart->parts.empty()) return Error{"No part is on this chart; a donor's chart shows the same part.", path};
    donor_ = std::make_shared<const document::Chart>(std::move(*chart));
    file_name_ = std::filesystem::path(path).filename().string();
    part_ = donor_part_ = {};
    same_kind_of_board = false; // said of the last donor
    return {};
}

void DonorDesk::ask_for(const document::Footprint& part) {
    if (part_ == part.id || !donor_) return;
    part_ = part.id;
    donor_part_ = {};
    if (part.name.empty()) return;
    if (const auto at = document::find_part_named(*donor_, part.name)) donor_part_ = donor_->parts[*at].id;
}

const Result<analysis::DonorTransfer>& DonorDesk::answer(const std::shared_ptr<const document::Chart>& here) {
    assert(donor_);
    const std::string day = date.empty() ? today() : date;
    Asked now{here, part_, donor_part_, same_kind_of_board, by, day};
    if (asked_ == now) return *answer_;
    asked_ = std::move(now);
    if (donor_part_.text.empty())
        answer_ = Error{"No part of the donor is chosen yet.", ""};
    else
        answer_ = analysis::transfer_from_donor(*donor_, donor_part_, *here, part_, {same_kind_of_board, by, day});
    return *answer_;
}

bool DonorDesk::use(Editor& editor) {
    if (!donor_) return false;
    const Result<analysis::DonorTransfer> transfer = answer(editor.snapshot());
    if (!transfer || !transfer->is_certain) {
        editor.tell(Severity::Warning,
                    transfer ? "The donor does not settle which way round it sits." : describe(transfer.error()));
        return false;
    }
    return editor.commit(document::set_orientation(editor.chart(), part_, transfer->orientation),
                         "Take the record of " + name_of(editor.chart(), std::span(&part_, 1)) + " from the donor");
}

} // namespace padchart::app
