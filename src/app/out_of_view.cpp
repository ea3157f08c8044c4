#include "app/out_of_view.hpp"

#include "app/more_words.hpp"
#include "document/part_finder.hpp"
#include "document/thing_side.hpp"

namespace padchart::app {

using document::Id;
using document::Side;

std::vector<Id> selected_out_of_view(const Editor& editor, Side seen_from) {
    std::vector<Id> away;
    document::PartFinder finder(editor.shown());
    for (const Id& id : editor.selection()) {
        const auto part = finder.find(id);
        const std::optional<Side> side =
            part ? editor.shown().parts[*part].placement.side : document::side_of(editor.shown(), id);
        if (side && *side != seen_from) away.push_back(id);
    }
    return away;
}

bool is_all_out_of_view(const Editor& editor, Side seen_from) {
    return !editor.selection().empty() && selected_out_of_view(editor, seen_from).size() == editor.selection().size();
}

void tell_went_along(Editor& editor, const std::string& names) {
    tell_more(editor, Severity::Warning, names + " on the other side went along.");
}

} // namespace padchart::app
