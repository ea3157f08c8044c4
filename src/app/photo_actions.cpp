#include "app/photo_actions.hpp"

#include <fmt/format.h>

#include "app/documents.hpp"
#include "app/evidence_photo.hpp"
#include "app/orient_desk.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"

namespace padchart::app {
namespace {

const document::Photo* chosen_photo(const Session& s) {
    const PhotoDesk* desk = s.desks.find<PhotoDesk>();
    return desk == nullptr ? nullptr : find_photo(s.editor.chart(), desk->chosen);
}

const Need has_chosen{[](const Session& s) { return s.panel == Panel::Photos && chosen_photo(s) != nullptr; },
                      "choose a photo in the list of photos"};

const Need can_move =
    has_chosen.and_then({[](const Session& s) { return !chosen_photo(s)->locked; }, "unlock the photo"});

/// One yes or no of the chosen photo the other way.
void toggle(Session& s, bool document::Photo::*field, const char* on, const char* off) {
    const document::Photo& photo = *chosen_photo(s);
    const std::string label = (photo.*field ? off : on) + photo_name(photo);
    s.editor.commit(with_photo(s.editor.chart(), photo.id, [&](document::Photo& p) { p.*field = !(p.*field); }), label);
}

/// One that is laid down is seen while it is: to hide it is to be done with it.
void hide_or_show(Session& s) {
    const bool ends_placing = is_in_hand(s, *chosen_photo(s)) && !chosen_photo(s)->hidden;
    toggle(s, &document::Photo::hidden, "Hide photo ", "Show photo ");
    if (!ends_placing) return;
    s.desks.get<PhotoDesk>().placing.reset();
    s.use_tool(s.resting_tool());
}

void remove_photo(Session& s) {
    const document::Photo photo = *chosen_photo(s);
    const std::vector<document::Id> shown = parts_shown_on(s.editor.chart(), photo.id);
    const std::string whose = name_of(s.editor.chart(), shown);
    if (!s.editor.commit(without_photo(s.editor.chart(), photo.id), "Remove photo " + photo_name(photo))) return;
    if (!shown.empty())
        s.editor.tell(Severity::Warning, fmt::format("The {} of {} no longer {} this photo; Ctrl+Z brings it back.",
                                                     shown.size() == 1 ? "record" : "records", whose,
                                                     shown.size() == 1 ? "shows" : "show"));
}

void show_photos(Session& s) {
    s.panel = Panel::Photos;
    PhotoDesk& desk = s.desks.get<PhotoDesk>();
    if (chosen_photo(s) != nullptr) return;
    for (const document::Photo& photo : s.editor.chart().photos)
        if (photo.side == s.seen_from) desk.chosen = photo.id;
}

/// A donor's photo on show tells which way its part sat: goes to the record with that said.
const Need can_record_from_photo =
    has_chosen.and_then({[](const Session& s) { return s.editor.selected_part() != nullptr; }, "select one part"})
        .and_then({[](const Session& s) { return is_readable(s, *chosen_photo(s)); },
                   "lay the photo down so that it can be believed"})
        .and_then({[](const Session& s) { return file_doubt(s, *chosen_photo(s)).empty(); },
                   "bring back the file that was placed, or say that the new one is right"});

void record_from_photo(Session& s) {
    const document::Photo photo = *chosen_photo(s);
    const document::Footprint part = *s.editor.selected_part();
    s.show_stage(scene::Stage::Orient);
    choose_evidence_photo(s, part, photo.id);
    document::Evidence& evidence = orient_draft(s, part).orientation.evidence;
    evidence.note = photo_name(photo);
    if (photo.board == document::WhichBoard::KnownGood) evidence.note += ", a known good board";
}

} // namespace

void add_photo_actions(std::vector<Action>& list) {
    const auto ask = [](FileTask task) { return [task](Session& s) { show_file_dialog(s, task); }; };
    list.push_back({"photos", "Photos", "Photos", {}, always, show_photos});
    list.push_back({"add-photo", "Bring in a photo", "Photos", {}, always, ask(FileTask::AddPhoto)});
    list.push_back({"lay-photo", "Lay the photo down by points", "Photos", {}, can_move, [](Session& s) {
                        begin_placing(s, chosen_photo(s)->id);
                    }});
    list.push_back({"photo-file", "Another file for the photo", "Photos", {}, has_chosen, ask(FileTask::ReplacePhoto)});
    list.push_back({"hide-photo", "Hide or show the photo", "Photos", {}, has_chosen, hide_or_show});
    list.push_back({"lock-photo", "Lock or unlock the photo", "Photos", {}, has_chosen, [](Session& s) {
                        toggle(s, &document::Photo::locked, "Lock photo ", "Unlock photo ");
                    }});
    list.push_back({"drop-photo", "Take the photo off the chart", "Photos", {}, can_move, remove_photo});
    list.push_back(
        {"photo-record", "Put down what the photo shows", "Photos", {}, can_record_from_photo, record_from_photo});
}

} // namespace padchart::app
