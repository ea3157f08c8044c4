// The piece of a photo that shows the mark: chosen, moved and kept with the record.

#include <algorithm>
#include <cmath>
#include <cstdint>

#include <fmt/format.h>

#include <SFML/Graphics/Texture.hpp>

#include "app/evidence_photo.hpp"
#include "app/panels/orient_parts.hpp"
#include "app/photo_desk.hpp"
#include "app/widgets.hpp"
#include "paint/sfml_photo.hpp"

namespace padchart::app {
namespace {

using document::Evidence;
using document::Footprint;
using document::Id;
using geometry::Box;
using geometry::Vec2;

/// The piece that lies in graphics memory.
struct EvidencePicture {
    std::uint64_t serial = 0;
    Box wanted, px;
    sf::Texture texture;
    bool is_ready = false;
};

void photo_choice(Ui& ui, Session& s, const Footprint& part, const Evidence& evidence) {
    const document::Chart& chart = s.editor.chart();
    std::vector<std::string> words{"none"};
    std::vector<Id> ids{Id{}};
    std::size_t chosen = 0;
    for (const document::Photo& photo : chart.photos) {
        if (photo.id == evidence.photo) chosen = words.size();
        words.push_back(photo_choice_words(s, photo));
        ids.push_back(photo.id);
    }
    choice_field(ui, "On photo", words, chosen, [&](std::size_t i) { choose_evidence_photo(s, part, ids[i]); });
}

/// Loads the piece where it is another; false until it can be shown.
bool refresh(Session& s, EvidencePicture& picture, const document::Photo& photo, const Box& wanted, int longest_side) {
    const auto loaded = ask_for_photo(s, photo);
    if (!loaded || !loaded->has_picture()) return false;
    if (picture.is_ready && picture.serial == loaded->serial && picture.wanted == wanted) return true;
    const auto crop = photo_crop(*loaded, wanted, longest_side);
    picture.is_ready = crop && paint::load(picture.texture, crop->pixels);
    if (!picture.is_ready) return false;
    picture.serial = loaded->serial;
    picture.wanted = wanted;
    picture.px = crop->px;
    return true;
}

/// As large as the photo where no crop is stated.
std::optional<Box> shown_box(Session& s, const document::Photo& photo, const Evidence& evidence) {
    if (const auto box = box_of(evidence.crop_px)) return box;
    const auto loaded = ask_for_photo(s, photo);
    if (!loaded || !loaded->has_picture()) return std::nullopt;
    return Box{{0, 0}, {static_cast<double>(loaded->full.width), static_cast<double>(loaded->full.height)}};
}

/// The drawing; a drag moves the piece, whole pixels at a time.
void piece(const Ui& ui, Session& s, const Footprint& part, const document::Photo& photo, const Box& box) {
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(180);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const double k = std::min(static_cast<double>(width) / box.width(), static_cast<double>(height) / box.height());
    const Vec2 corner{static_cast<double>(at.x) + (static_cast<double>(width) - box.width() * k) / 2.0,
                      static_cast<double>(at.y) + (static_cast<double>(height) - box.height() * k) / 2.0};
    const auto px = [&](Vec2 p) {
        const Vec2 screen = corner + (p - box.min) * k;
        return ImVec2{static_cast<float>(screen.x), static_cast<float>(screen.y)};
    };
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + width, at.y + height}, packed(ui.colours().paper), ui.px(8));
    auto& picture = s.desks.get<EvidencePicture>();
    if (refresh(s, picture, photo, box, static_cast<int>(std::max(width, height)))) {
        const auto texture = static_cast<std::uintptr_t>(picture.texture.getNativeHandle());
        list->AddImage(reinterpret_cast<ImTextureID>(texture), px(picture.px.min), px(picture.px.max)); // NOLINT
    }
    list->AddRect(at, {at.x + width, at.y + height}, packed(ui.colours().rule), ui.px(8));
    ImGui::InvisibleButton("##piece", {width, height});
    if (!ImGui::IsItemActive()) return;
    const ImVec2 moved = ImGui::GetIO().MouseDelta;
    const Vec2 by{std::round(-static_cast<double>(moved.x) / k), std::round(-static_cast<double>(moved.y) / k)};
    if (by == Vec2{}) return;
    orient_draft(s, part).orientation.evidence.crop_px = crop_of({box.min + by, box.max + by});
}

void piece_buttons(const Ui& ui, Session& s, const Footprint& part, const document::Photo& photo, const Box& box) {
    std::vector<double>& crop = orient_draft(s, part).orientation.evidence.crop_px;
    const float third = share_of_line(3);
    if (button(ui, "Closer", ButtonKind::Plain, third)) crop = crop_of(zoomed(box, 0.8));
    ImGui::SameLine();
    if (button(ui, "Wider", ButtonKind::Plain, third)) crop = crop_of(zoomed(box, 1.25));
    ImGui::SameLine();
    const auto around = surroundings_on(photo, part);
    if (button(ui, "The part", ButtonKind::Plain, third, around.has_value())) crop = crop_of(*around);
    muted(ui, fmt::format("{:.0f} x {:.0f} px from {:.0f}, {:.0f}. Drag the picture to move it.", box.width(),
                          box.height(), box.min.x, box.min.y));
}

} // namespace

void evidence_photo(Ui& ui, Session& s, const Footprint& part) {
    const document::Chart& chart = s.editor.chart();
    const Evidence evidence = orient_draft(s, part).orientation.evidence;
    if (chart.photos.empty() && evidence.photo.is_empty()) {
        if (evidence.kind == document::EvidenceKind::Photo)
            muted(ui, "The chart has no photo yet; lay one on the board.");
        return;
    }
    photo_choice(ui, s, part, evidence);
    if (const std::string doubt = evidence_doubt(s, evidence.photo); !doubt.empty())
        verdict(ui, Tone::Danger, "Nothing may be read off this photo.", doubt);
    const document::Photo* photo = find_photo(chart, evidence.photo);
    if (photo == nullptr) return;
    const auto box = shown_box(s, *photo, evidence);
    if (!box) return muted(ui, "The photo is being read, or its file is not there.");
    const document::Photo shown = *photo;
    piece(ui, s, part, shown, *box);
    if (shown.mirrored) {
        dot(ui, Tone::Danger, false);
        ImGui::SameLine(ui.px(40));
        wrapped(ui, "This photo is a mirror image: left and right are exchanged in it. Record what the board shows.");
    }
    piece_buttons(ui, s, part, shown, *box);
}

} // namespace padchart::app
