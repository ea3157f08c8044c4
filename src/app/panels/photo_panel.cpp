// The photos of the side that is looked at: which there are, how they are shown, whether their files are still there.

#include "app/panels/photo_panel.hpp"

#include <array>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/panels/panels.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"
#include "app/photo_place.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

using document::Photo;

std::string side_words(const Session& s) {
    return s.seen_from == document::Side::Top ? "top side" : "bottom side";
}

std::vector<Photo> photos_of_side(const Session& s, document::Side side) {
    std::vector<Photo> list;
    for (const Photo& photo : s.editor.shown().photos) // while the slider moves too
        if (photo.side == side) list.push_back(photo);
    return list;
}

/// What a row says under the name, and how bad that is.
struct RowWords {
    std::string text;
    Tone tone = Tone::Plain;
};

RowWords row_words(const Session& s, const Photo& photo) {
    const auto loaded = loaded_photo(s, photo);
    if (loaded && !loaded->has_picture()) return {loaded->trouble, Tone::Danger};
    if (loaded && !photo.checksum.empty() && photo.checksum != loaded->facts.checksum)
        return {"another file than the one it was placed with", Tone::Danger};
    std::string text = photo.board == document::WhichBoard::Donor       ? "donor board, "
                       : photo.board == document::WhichBoard::KnownGood ? "known good board, "
                                                                        : "";
    if (!loaded) return {text + "being read", Tone::Plain};
    const PhotoPlace place = place_of(photo, s.editor.chart().scale.has_value());
    text += photo.hidden ? hidden_words(s, photo) : place.words;
    if (place.is_doubtful) return {text, Tone::Danger};
    // A chart that was never saved names photos from where the program was started: saving puts that right.
    if (!s.editor.path().empty() && analysis::lies_elsewhere(photo))
        return {text + "; not in the chart's folder", Tone::Unknown};
    return {text, Tone::Plain};
}

paint::Colour ink_of(const Ui& ui, Tone tone) {
    const paint::Palette& c = ui.colours();
    return tone == Tone::Danger ? c.danger_text : tone == Tone::Unknown ? c.unknown_text : c.muted;
}

/// As high as its words need: what is wrong with a photo must not be cut off.
void photo_row(const Ui& ui, const Session& s, PhotoDesk& desk, const Photo& photo) {
    ImGui::PushID(photo.id.text.c_str());
    const RowWords words = row_words(s, photo);
    const float width = ImGui::GetContentRegionAvail().x, room = width - ui.px(12);
    const float height = ui.px(26) + ImGui::CalcTextSize(words.text.c_str(), nullptr, false, room).y;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    if (ImGui::Selectable("##photo", desk.chosen == photo.id, 0, {width, height})) {
        desk.chosen = photo.id;
        if (desk.placing && desk.placing->photo != photo.id) desk.placing.reset();
    }
    ImDrawList* list = ImGui::GetWindowDrawList();
    ImGui::PushFont(ui.fonts().strong);
    list->AddText({at.x + ui.px(6), at.y + ui.px(4)}, packed(ui.colours().ink),
                  fitted(photo_name(photo), room).c_str());
    ImGui::PopFont();
    list->AddText(ImGui::GetFont(), ImGui::GetFontSize(), {at.x + ui.px(6), at.y + ui.px(22)},
                  packed(ink_of(ui, words.tone)), words.text.c_str(), nullptr, room);
    ImGui::PopID();
}

void how_it_looks(Ui& ui, Session& s, const Photo& photo) {
    const std::string label = "Opacity of " + photo_name(photo);
    const document::Id id = photo.id;
    const auto change = [&s, id, label](double percent, bool moving) {
        const double opacity = std::clamp(percent / 100.0, 0.0, 1.0);
        auto next = with_photo(s.editor.chart(), id, [&](Photo& p) { p.opacity = opacity; });
        if (moving)
            s.editor.preview(std::move(next));
        else
            s.editor.commit_repeated(std::move(next), label);
    };
    slider_field(ui, "Opacity", photo.opacity * 100.0, {0, 100, 1, 0, "%"},
                 {change,
                  [&s, label] {
                      if (s.editor.has_preview()) s.editor.commit_preview(label);
                  },
                  [&s](std::string text) { s.editor.tell(Severity::Warning, std::move(text)); }});
    const float half = share_of_line(2);
    const char* label_of_hiding = !photo.hidden ? "Hide" : is_in_hand(s, photo) ? "Keep it shown" : "Show";
    if (button(ui, label_of_hiding, ButtonKind::Outlined, half)) run(*find_action("hide-photo"), s);
    ImGui::SameLine();
    if (button(ui, photo.locked ? "Unlock" : "Lock", ButtonKind::Outlined, half)) run(*find_action("lock-photo"), s);
}

void what_it_shows(Ui& ui, Session& s, const Photo& photo) {
    const document::Id id = photo.id;
    const auto change = [&s, id](const char* label, auto edit) {
        s.editor.commit(with_photo(s.editor.chart(), id, edit), label);
    };
    constexpr std::array kBoards = {document::WhichBoard::ThisBoard, document::WhichBoard::KnownGood,
                                    document::WhichBoard::Donor};
    const std::array<std::string, 3> words{"this board", "a known good board", "a donor board"};
    choice_field(ui, "It shows", words, static_cast<std::size_t>(photo.board), [&](std::size_t i) {
        change("Say which board the photo shows", [&](Photo& p) { p.board = kBoards[i]; });
    });
    choice_field(ui, "The picture is", std::array<std::string, 2>{"as the eye sees it", "a mirror image"},
                 photo.mirrored ? 1 : 0, [&](std::size_t i) {
                     const bool is_drawn_over = is_ground(photo) && !is_empty(s.editor.chart());
                     const bool is_said = s.editor.commit(with_photo_mirrored(s, photo, i == 1),
                                                          "Say whether the photo is a mirror image");
                     if (is_said && is_drawn_over)
                         s.editor.tell(Severity::Warning,
                                       "The photo stays where the chart was drawn over it: what is drawn is mirrored "
                                       "as the photo is.");
                 });
    note_field(
        ui, "Note", photo.note,
        [&](const std::string& text) { change("Note of the photo", [&](Photo& p) { p.note = text; }); },
        "before the heat");
}

void its_file(Ui& ui, Session& s, const Photo& photo) {
    const auto loaded = loaded_photo(s, photo);
    if (loaded && loaded->has_picture()) {
        fact(ui, "Picture", fmt::format("{} x {} px", loaded->full.width, loaded->full.height));
        if (loaded->reduced_by > 0)
            muted(ui, fmt::format("Shown at 1/{} of its size, for want of memory beside the others.",
                                  1 << loaded->reduced_by));
        const bool in_mm = s.editor.chart().scale.has_value();
        const PhotoPlace place = place_of(photo, in_mm);
        if (place.px_per_mm && in_mm && !place.is_doubtful)
            fact(ui, "Sharpness", fmt::format("{:.0f} px a mm", *place.px_per_mm));
        if (const std::string taken = tilt_words(photo, place); !taken.empty())
            fact(ui, "Taken", taken);
        else if (photo.points.size() == 2 || photo.points.size() == 3)
            muted(ui, "As if taken straight from above: fewer than four points cannot tell how far off it was.");
    }
    if (loaded) {
        for (const Diagnostic& finding : analysis::photo_findings(photo, loaded->facts)) {
            if (finding.code == "photo-not-placed") continue;
            if (finding.code == "photo-elsewhere" && s.editor.path().empty()) continue;
            dot(ui, finding.severity == Severity::Note ? Tone::Plain : Tone::Danger, false);
            ImGui::SameLine(ui.px(40));
            wrapped(ui, finding.message);
        }
        const bool is_changed = loaded->has_picture() && photo.checksum != loaded->facts.checksum;
        if (is_changed && button(ui, "The new file is right", ButtonKind::Outlined, -1)) {
            const std::string checksum = loaded->facts.checksum;
            s.editor.commit(with_photo(s.editor.chart(), photo.id, [&](Photo& p) { p.checksum = checksum; }),
                            "Accept the changed file of " + photo_name(photo));
        }
    }
    const float half = share_of_line(2);
    if (button(ui, "Another file", ButtonKind::Outlined, half)) run(*find_action("photo-file"), s);
    ImGui::SameLine();
    const Action& drop = *find_action("drop-photo");
    if (button(ui, "Remove", ButtonKind::Outlined, half, drop.enabled(s))) run(drop, s);
}

/// What the technician came for with a donor's photo.
void selected_part(Ui& ui, Session& s, const Photo& photo) {
    const document::Footprint* part = s.editor.selected_part();
    const bool is_donor = photo.board == document::WhichBoard::Donor;
    if (!is_donor && part == nullptr) return;
    if (part == nullptr) return muted(ui, "Select a part: its frame shows which one to lift off the donor.");
    const std::string name = part->name.empty() ? "this part" : part->name;
    if (!is_readable(s, photo))
        return verdict(ui, Tone::Danger, fmt::format("Which way {} sat cannot be read off this photo.", name),
                       analysis::placement_of(photo) ? "It does not lie where its points say: put them right first."
                                                     : "It is not placed: lay it down by points first.");
    if (const std::string doubt = file_doubt(s, photo); !doubt.empty())
        return verdict(ui, Tone::Danger, fmt::format("Which way {} sat cannot be read off this photo.", name),
                       doubt + ". Bring that file back, or say below that the new one is right.");
    muted(ui, is_donor ? fmt::format("{} on the donor, as the picture was taken: lift this one.", name)
                       : fmt::format("{}, as the picture was taken.", name));
    photo_closeup(ui, s, photo, *part);
    if (button(ui, fmt::format("Put down which way {} sat", name).c_str(), ButtonKind::Outlined, -1))
        run(*find_action("photo-record"), s);
}

void over_the_photo(Ui& ui, PhotoDesk& desk) {
    const std::array<std::string, 3> words{"outlines", "see-through", "solid"};
    choice_field(ui, "Parts over photos", words, static_cast<std::size_t>(desk.parts),
                 [&](std::size_t i) { desk.parts = static_cast<PartsOver>(i); });
}

void chosen(Ui& ui, Session& s, const Photo& photo) {
    rule(ui);
    ImGui::PushFont(ui.fonts().strong);
    wrapped(ui, photo_name(photo)); // long ones tell what they show
    ImGui::PopFont();
    photo_points(ui, s, photo);
    gap(ui, 4);
    how_it_looks(ui, s, photo);
    gap(ui, 4);
    selected_part(ui, s, photo);
    what_it_shows(ui, s, photo);
    gap(ui, 2);
    its_file(ui, s, photo);
}

void first_words(Ui& ui, const Session& s, const PhotoDesk& desk, std::size_t here, std::size_t there) {
    muted(ui, side_words(s));
    if (desk.coming) verdict(ui, Tone::Plain, "Reading " + desk.coming->path.filename().string() + ".", "");
    if (here == 0 && !desk.coming)
        verdict(ui, Tone::Plain, "No photo of this side yet.",
                "A picture taken straight from above, sharp to its corners, serves best. JPEG or PNG.");
    if (there > 0)
        muted(ui, fmt::format("{} more of the other side; Flip side shows {}.", there, there == 1 ? "it" : "them"));
}

} // namespace

void photo_panel(Ui& ui, Session& s) {
    PhotoDesk& desk = s.desks.get<PhotoDesk>();
    const std::vector<Photo> here = photos_of_side(s, s.seen_from);
    const std::size_t there = s.editor.chart().photos.size() - here.size();
    heading(ui, "Photos");
    first_words(ui, s, desk, here.size(), there);
    const float half = share_of_line(2);
    if (button(ui, "Add a photo", here.empty() ? ButtonKind::Filled : ButtonKind::Outlined, half))
        run(*find_action("add-photo"), s);
    ImGui::SameLine();
    if (button(ui, "Back", ButtonKind::Outlined, half)) s.panel = Panel::Stage;
    for (const Photo& photo : here)
        photo_row(ui, s, desk, photo);
    if (!here.empty()) over_the_photo(ui, desk);
    for (const Photo& photo : here)
        if (photo.id == desk.chosen) chosen(ui, s, photo);
}

} // namespace padchart::app
