#include "app/evidence_photo.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include <fmt/format.h>

#include "analysis/photo_doubts.hpp"
#include "app/orient_desk.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_place.hpp"

namespace padchart::app {

using document::Footprint;
using document::Photo;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kLeastSide_px = 8.0;

Box whole_pixels(const Box& box) {
    return {{std::floor(box.min.x), std::floor(box.min.y)}, {std::ceil(box.max.x), std::ceil(box.max.y)}};
}

} // namespace

std::optional<Box> surroundings_on(const Photo& photo, const Footprint& part) {
    const auto map = pixel_from_board(photo);
    if (!map) return std::nullopt;
    geometry::Ring ring = document::extent_on_board(part);
    for (const document::Pad& pad : part.pads)
        for (const Vec2 p : document::outline_on_board(part, pad))
            ring.push_back(p);
    Box box;
    for (const Vec2 p : ring)
        if (map->weight(p) != 0.0) box.add((*map)(p));
    if (box.is_empty()) return std::nullopt;
    return whole_pixels(box.grown(std::max({box.width(), box.height(), kLeastSide_px})));
}

std::vector<double> crop_of(const Box& px) {
    return {px.min.x, px.min.y, px.width(), px.height()};
}

std::optional<Box> box_of(const std::vector<double>& crop_px) {
    if (crop_px.size() != 4) return std::nullopt;
    const Vec2 corner{crop_px[0], crop_px[1]};
    return Box{corner, corner + Vec2{crop_px[2], crop_px[3]}};
}

Box zoomed(const Box& px, double factor) {
    const Vec2 half{std::max(px.width() * factor, kLeastSide_px) / 2.0,
                    std::max(px.height() * factor, kLeastSide_px) / 2.0};
    return whole_pixels({px.centre() - half, px.centre() + half});
}

void choose_evidence_photo(Session& s, const Footprint& part, const document::Id& photo) {
    document::Evidence& evidence = orient_draft(s, part).orientation.evidence;
    evidence.photo = photo;
    evidence.crop_px.clear();
    const Photo* found = find_photo(s.editor.chart(), photo);
    if (found == nullptr) return;
    evidence.kind = found->board == document::WhichBoard::Donor ? document::EvidenceKind::SeenOnDonor
                                                                : document::EvidenceKind::Photo;
    if (!is_readable(s, *found) || !file_doubt(s, *found).empty())
        return; // it would show another place of the board: the hand chooses the piece
    if (const auto box = surroundings_on(*found, part)) evidence.crop_px = crop_of(*box);
}

std::string photo_label(const document::Chart& chart, const document::Id& photo) {
    std::size_t number = 0;
    for (const Photo& known : chart.photos) {
        ++number;
        if (known.id != photo) continue;
        const std::string name = std::filesystem::path(known.path).filename().string();
        return name.empty() ? "photo " + std::to_string(number) : name;
    }
    return "none";
}

std::string photo_choice_words(const Session& s, const Photo& photo) {
    const std::string label = photo_label(s.editor.chart(), photo.id);
    if (!file_doubt(s, photo).empty()) return label + " (not the file that was placed)";
    return doubt_words(s, photo).empty() ? label : label + " (doubtful)";
}

std::string evidence_refusal(const Session& s, const document::Id& photo) {
    const Photo* found = find_photo(s.editor.chart(), photo);
    const std::string doubt = found != nullptr ? file_doubt(s, *found) : "";
    return doubt.empty() ? "" : doubt + ": bring that file back, or choose \"none\" as the photo of this record.";
}

std::string evidence_doubt(const Session& s, const document::Id& photo) {
    if (std::string refusal = evidence_refusal(s, photo); !refusal.empty()) return refusal;
    const Photo* found = find_photo(s.editor.chart(), photo);
    const std::string doubt = found != nullptr ? doubt_words(s, *found) : "";
    return doubt.empty() ? "" : doubt + ". Whose mark this is, is not sure: look at the board itself.";
}

namespace {

std::string lost_photo_words(const Session& s, const Footprint& part) {
    if (part.orientation.state == document::RecordState::NotRecorded) return "";
    const Photo* photo = find_photo(s.editor.chart(), part.orientation.evidence.photo);
    const std::string doubt = photo != nullptr ? file_doubt(s, *photo) : "";
    return doubt.empty() ? "" : fmt::format("The record of {} rests on a photo that is lost: {}.", part.name, doubt);
}

} // namespace

std::string record_doubt(const Session& s, const Footprint& part) {
    const Photo* photo = analysis::doubtful_evidence(s.editor.chart(), part);
    if (photo == nullptr) return lost_photo_words(s, part);
    return fmt::format("The record of {} rests on a doubtful photo: {}.", part.name, doubt_words(s, *photo));
}

} // namespace padchart::app
