#include "app/part_actions.hpp"

#include "app/common_needs.hpp"
#include "app/documents.hpp"
#include "app/pad_numbering.hpp"
#include "app/panels/panels.hpp"
#include "app/part_files.hpp"

namespace padchart::app {
namespace {

const Need can_use_record = has_one_part.and_then(
    {[](const Session& s) { return s.panel == Panel::Donor && s.donor.has_donor(); }, "take the part from a donor"});

void use_record(Session& s) {
    s.donor.ask_for(*s.editor.selected_part());
    if (!s.donor.use(s.editor)) return;
    s.orient = {};
    s.panel = Panel::Stage;
}

} // namespace

void add_one_part_actions(std::vector<Action>& list) {
    const auto ask = [](FileTask task) { return [task](Session& s) { show_file_dialog(s, task); }; };
    list.push_back({"refit", "Find the families that fit its pads", "One part", {}, has_pads, compare_with_families});
    list.push_back({"number-pads", "Number the pads by rule", "One part", {}, has_pads, [](Session& s) {
                        number_selected_pads(s.editor);
                    }});
    list.push_back(
        {"load-pattern", "Add part from a pattern file", "One part", {}, always, ask(FileTask::LoadPattern)});
    list.push_back({"save-pattern", "Save as pattern", "One part", {}, has_one_part, ask(FileTask::SavePattern)});
    list.push_back(
        {"keep-pattern", "Keep among your own families", "One part", {}, has_one_part, keep_among_own_families});
    list.push_back({"donor", "Take from donor", "One part", {}, has_one_part, ask(FileTask::OpenDonor)});
    list.push_back({"use-donor-record", "Use the donor's record", "One part", {}, can_use_record, use_record});
    list.push_back({"write-card", "Write card", "One part", {}, has_one_part, ask(FileTask::WriteCard)});
}

} // namespace padchart::app
