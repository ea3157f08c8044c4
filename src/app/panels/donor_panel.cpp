// The part here beside the same part of a donor board, and what the donor's record says of it.

#include <array>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/orientation.hpp"
#include "app/panels/side_by_side.hpp"
#include "app/today.hpp"
#include "app/widgets.hpp"
#include "base/day.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using analysis::DonorTransfer;
using analysis::DonorTurn;
using document::Footprint;

/// Null where none is chosen.
const Footprint* donor_part(const DonorDesk& desk) {
    const auto at = document::find_part(desk.donor(), desk.donor_part());
    return at ? &desk.donor().parts[*at] : nullptr;
}

void donor_choice(Ui& ui, DonorDesk& desk) {
    std::vector<std::string> words;
    std::size_t chosen = desk.donor().parts.size();
    for (const Footprint& part : desk.donor().parts) {
        if (part.id == desk.donor_part()) chosen = words.size();
        const std::string name = part.name.empty() ? "without a name" : part.name;
        words.push_back(fmt::format("{}, {}", name, scene::mark_and_meaning(part.orientation)));
    }
    choice_field(ui, "Part there", words, chosen, [&](std::size_t i) { desk.choose(desk.donor().parts[i].id); });
}

std::string label_of(const Footprint* part, const char* where) {
    return fmt::format("{} {}", part == nullptr || part->name.empty() ? "part" : part->name, where);
}

std::string turn_in_words(const DonorTurn& turn) {
    std::string text = turn.matches ? "lands match" : "lands only near";
    if (turn.numbers_compared > 0)
        text += fmt::format(", {} of {} pad numbers agree", turn.numbers_agreeing, turn.numbers_compared);
    if (turn.same_place) text += ", the same place says so";
    return text;
}

/// The part here with the mark where one of the turns would put it.
Footprint with_mark(const Footprint& part, const document::Orientation& there, Angle bearing) {
    Footprint marked = part;
    marked.orientation = there;
    marked.orientation.bearing = bearing;
    return marked;
}

void possible_turns(const Ui& ui, const Footprint& here, const Footprint& there, const DonorTransfer& transfer) {
    title(ui, "What is possible");
    for (const DonorTurn& turn : transfer.possible) {
        const std::string place = scene::mark_place(with_mark(here, there.orientation, turn.bearing));
        fact(ui, fmt::format("Turned {:.0f}°", turn.turn_deg).c_str(), fmt::format("mark {}", place));
        muted(ui, turn_in_words(turn) + ".");
    }
}

void options(Ui& ui, DonorDesk& desk) {
    choice_field(ui, "The donor is", std::array<std::string, 2>{"perhaps another kind", "same board and revision"},
                 desk.same_kind_of_board ? 1 : 0, [&](std::size_t i) { desk.same_kind_of_board = i == 1; });
    text_field(ui, "Who looked", desk.by, [&desk](const std::string& text) { desk.by = text; });
    const std::string day = desk.date.empty() ? today() : desk.date;
    text_field(ui, "When, as 2031-05-01", day, [&desk](const std::string& text) {
        if (text.empty() || is_day(text)) desk.date = text;
    });
}

void answer_of(Ui& ui, Session& s, const Footprint& here, const Footprint* there) {
    const Result<DonorTransfer> transfer = s.donor.answer(s.editor.snapshot());
    if (!transfer) {
        side_by_side(
            ui,
            {there, label_of(there, "there"), {there == nullptr ? "" : scene::mark_and_meaning(there->orientation)}},
            {&here, label_of(&here, "here"), {scene::mark_and_meaning(here.orientation)}});
        return verdict(ui, Tone::Unknown, "This record cannot be taken.", describe(transfer.error()));
    }
    const bool certain = transfer->is_certain;
    Footprint shown = here;
    if (certain) shown.orientation = transfer->orientation;
    side_by_side(ui, {there, label_of(there, "there"), {"mark " + scene::mark_place(*there)}},
                 {&shown, label_of(&here, "here"), {certain ? "mark " + scene::mark_place(shown) : "not settled"}});
    gap(ui, 4);
    if (certain) {
        verdict(ui, Tone::Fine, "The donor settles it.", transfer->sentence);
        fact(ui, "Mark", scene::mark_and_meaning(transfer->orientation));
        if (here.orientation.state == document::RecordState::Recorded)
            muted(ui, fmt::format("It takes the place of the record here: {}, {}.",
                                  scene::mark_and_meaning(here.orientation), scene::mark_place(here)));
        return;
    }
    const char* sentence = transfer->is_harmless ? "Either way will do." : "The donor does not settle it.";
    verdict(ui, transfer->is_harmless ? Tone::Plain : Tone::Unknown, sentence, transfer->sentence);
    possible_turns(ui, here, *there, *transfer);
}

} // namespace

void donor_panel(Ui& ui, Session& s) {
    const Footprint* selected = s.editor.selected_part();
    heading(ui, "From a donor board");
    if (!s.donor.has_donor() || selected == nullptr) {
        muted(ui, "Select one part on the board.");
        if (button(ui, "Back", ButtonKind::Outlined, -1)) s.panel = Panel::Stage;
        return;
    }
    const Footprint here = *selected; // using the record replaces the chart
    s.donor.ask_for(here);
    muted(ui, s.donor.file_name());
    gap(ui, 4);
    donor_choice(ui, s.donor);
    options(ui, s.donor);
    gap(ui, 4);
    answer_of(ui, s, here, donor_part(s.donor));
    gap(ui, 4);
    const Result<DonorTransfer>& transfer = s.donor.answer(s.editor.snapshot());
    const bool usable = transfer && transfer->is_certain;
    const float half = share_of_line(2);
    if (button(ui, "Back", ButtonKind::Outlined, half)) s.panel = Panel::Stage;
    ImGui::SameLine();
    if (button(ui, "Use this record", ButtonKind::Filled, half, usable)) run(*find_action("use-donor-record"), s);
    muted(ui, "A donor shows how that board was made. Look here too where anything can be seen.");
}

} // namespace padchart::app
