#include "app/photo_place.hpp"

#include <algorithm>
#include <array>

#include "analysis/photo_doubts.hpp"
#include "analysis/registration.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"
#include "app/session.hpp"
#include "scene/text_width.hpp"

namespace padchart::app {
namespace {

using document::Photo;
using geometry::Affine;
using geometry::Box;
using geometry::Homography;
using geometry::Ring;
using geometry::Vec2;

constexpr double kFirstWidth_mm = 30.0;
constexpr double kFirstMargin = 1.1;
constexpr double kWordsBelow_px = 16.0; ///< the upper edge of the photo
constexpr double kWords_px = 12.0;      ///< of the font
constexpr double kWordsLine_px = 16.0;  ///< from one line to the next

/// Stored pixels to those a viewer shows. Source: Exif 2.3, tag 274 (from memory).
Affine upright_from_stored(int orientation, paint::PhotoSize size) {
    const double w = size.width, h = size.height;
    switch (orientation) {
    case 2: return {-1, 0, 0, 1, w, 0};
    case 3: return {-1, 0, 0, -1, w, h};
    case 4: return {1, 0, 0, -1, 0, h};
    case 5: return {0, 1, 1, 0, 0, 0};
    case 6: return {0, 1, -1, 0, h, 0};
    case 7: return {0, -1, -1, 0, h, w};
    case 8: return {0, -1, 1, 0, 0, w};
    default: return {};
    }
}

/// Its corners on the board; empty where one lies beyond the horizon.
Ring corners_of(const Homography& map, paint::PhotoSize size) {
    const double w = size.width, h = size.height;
    Ring ring;
    for (const Vec2 pixel : {Vec2{0, 0}, Vec2{w, 0}, Vec2{w, h}, Vec2{0, h}}) {
        if (!(map.weight(pixel) > 0.0)) return {};
        ring.push_back(map(pixel));
    }
    return ring;
}

std::optional<Homography> settled_place(const Session& s, const Photo& photo) {
    const FirstPlaces* desk = s.desks.find<FirstPlaces>();
    if (desk == nullptr) return std::nullopt;
    const auto at = desk->of.find(photo.id);
    return at == desk->of.end() ? std::nullopt : std::optional(at->second.board_from_pixel);
}

Box drawn_box(const Session& s) {
    const Box drawn = bounds_of(s.editor.chart());
    return drawn.is_empty() ? bounds_of_photos(s) : drawn;
}

} // namespace

Homography first_place(const Photo& photo, const LoadedPhoto& loaded, const Box& drawn) {
    const Affine upright = upright_from_stored(loaded.facts.orientation, loaded.full);
    Box shown;
    shown.add(upright({0, 0}));
    shown.add(upright({1.0 * loaded.full.width, 1.0 * loaded.full.height}));
    Box board = drawn;
    if (board.is_empty()) board = {{0, 0}, {kFirstWidth_mm, kFirstWidth_mm * shown.height() / shown.width()}};
    const double scale = std::max(board.width() / shown.width(), board.height() / shown.height()) * kFirstMargin;
    const bool mirrors = (photo.side == document::Side::Bottom) != photo.mirrored;
    const Affine place = Affine::translation(board.centre()) * Affine::scaling(mirrors ? -scale : scale, scale) *
                         Affine::translation(-shown.centre());
    return Homography::of(place * upright);
}

Homography first_place_now(const Session& s, const Photo& photo, const LoadedPhoto& loaded) {
    return first_place(photo, loaded, drawn_box(s));
}

void settle_places(Session& s) {
    auto& places = s.desks.get<FirstPlaces>().of;
    for (const Photo* photo : photos_on_show(s)) {
        const auto settled = places.find(photo->id);
        const bool is_settled = settled != places.end() && settled->second.mirrored == photo->mirrored;
        if (analysis::placement_of(*photo) || is_settled) continue;
        const auto loaded = loaded_photo(s, *photo);
        if (loaded && loaded->has_picture())
            places.insert_or_assign(photo->id,
                                    FirstPlaces::Place{first_place_now(s, *photo, *loaded), photo->mirrored});
    }
}

Homography board_from_pixel(const Session& s, const Photo& photo, const LoadedPhoto& loaded) {
    if (const auto painted = analysis::placement_of(photo)) return *painted;
    const auto settled = settled_place(s, photo);
    const Homography map = settled ? *settled : first_place_now(s, photo, loaded);
    if (photo.points.size() != 1) return map;
    const Vec2 by = photo.points[0].at - map(photo.points[0].pixel);
    return Homography::of(Affine::translation(by)) * map;
}

Result<document::Chart> with_photo_mirrored(const Session& s, const Photo& photo, bool is_mirrored) {
    Result<document::Chart> next = with_mirror(s.editor.chart(), photo.id, is_mirrored);
    const auto place = analysis::placement_of(photo);
    const auto loaded = loaded_photo(s, photo);
    const bool is_free = photo.points.size() < 2 && is_empty(s.editor.chart());
    if (!next || !place || !loaded || !is_free || is_mirrored == photo.mirrored) return next;
    // A point that is known stays where it is.
    const Vec2 pixel =
        photo.points.empty() ? Vec2{loaded->full.width / 2.0, loaded->full.height / 2.0} : photo.points.front().pixel;
    const Vec2 centre = (*place)(pixel);
    const Affine over = Affine::translation(centre) * Affine::scaling(-1, 1) * Affine::translation(-centre);
    return with_photo(*next, photo.id, [&](Photo& changed) {
        changed.board_from_pixel = analysis::numbers_of(Homography::of(over) * *place);
    });
}

std::optional<Homography> pixel_from_board(const Photo& photo) {
    const auto placed = analysis::placement_of(photo);
    if (!placed || placed->determinant() == 0.0) return std::nullopt;
    return placed->inverse();
}

Box bounds_of_photos(const Session& s) {
    Box box;
    for (const Photo* photo : photos_on_show(s)) {
        const auto loaded = loaded_photo(s, *photo);
        if (!loaded || !loaded->has_picture() || (!analysis::placement_of(*photo) && !settled_place(s, *photo)))
            continue;
        for (const Vec2 corner : corners_of(board_from_pixel(s, *photo, *loaded), loaded->full))
            box.add(corner);
    }
    return box;
}

namespace {

/// Two points place a photo; on a chart without a scale nothing drawn over it is in true mm either.
std::string not_placed_words(const Photo& photo, bool in_mm) {
    const std::string name = photo_name(photo) + " is not placed: ";
    if (!in_mm) return name + "what is drawn over it is not in true mm";
    return name + (photo.points.empty() ? "two points must be given" : "a second point must be given");
}

std::string doubtful_words(const Photo& photo, bool in_mm) {
    const Diagnostics doubts = analysis::placement_doubts(photo, in_mm);
    const bool is_off = std::any_of(doubts.begin(), doubts.end(),
                                    [](const Diagnostic& finding) { return finding.code != "photo-mirrored"; });
    return photo_name(photo) + (is_off ? " does not lie where its points say" : " lies the wrong way round") +
           ": nothing may be read off it";
}

/// Nothing where there is nothing to warn of. The panel says it of the photo in hand.
std::string warning_of(const Session& s, const Photo& photo) {
    if (!analysis::placement_of(photo)) return not_placed_words(photo, s.editor.chart().scale.has_value());
    return is_in_hand(s, photo) ? "" : doubt_words(s, photo);
}

std::string donor_words(const Photo& photo) {
    return photo.board == document::WhichBoard::Donor ? photo_name(photo) + " shows a donor board, not this one" : "";
}

} // namespace

std::string doubt_words(const Session& s, const Photo& photo) {
    if (!analysis::placement_of(photo) || is_readable(s, photo)) return "";
    return doubtful_words(photo, s.editor.chart().scale.has_value());
}

namespace {

/// At the photo's upper edge, or where that is not seen, at the canvas'; one below the other.
void add_words(const Session& s, const Box& box, const std::string& words, scene::Role role, int line,
               scene::Scene& overlay) {
    if (words.empty()) return;
    // Where it is seen, however near the eye is.
    const Box seen = s.camera.visible();
    const double left = std::max(box.min.x, seen.min.x), right = std::min(box.max.x, seen.max.x);
    const double below_px = kWordsBelow_px + line * kWordsLine_px;
    const double top = std::max(box.min.y, seen.min.y) + below_px * s.ui_scale / s.camera.px_per_mm();
    if (left >= right || top >= std::min(box.max.y, seen.max.y)) return;
    // In the middle of what is seen of the photo, but whole: words may be wider than that.
    const double half = scene::text_width_em(words, true) * kWords_px * s.ui_scale / s.camera.px_per_mm() / 2;
    const double room = std::max(seen.width() / 2 - half, 0.0), middle = seen.centre().x;
    const double at = std::clamp((left + right) / 2, middle - room, middle + room);
    overlay.add(role,
                scene::Text{.at = {at, top}, .text = words, .height_px = kWords_px, .strong = true, .halo = true});
}

} // namespace

void add_photo_words(const Session& s, scene::Scene& overlay) {
    for (const Photo* photo : photos_on_show(s)) {
        const std::string warning = warning_of(s, *photo), donor = donor_words(*photo);
        const auto loaded = loaded_photo(s, *photo);
        if ((warning.empty() && donor.empty()) || !loaded || !loaded->has_picture()) continue;
        Ring ring = corners_of(board_from_pixel(s, *photo, *loaded), loaded->full);
        if (ring.empty()) continue;
        ring = geometry::transformed(ring, scene::scene_from_board(s.seen_from));
        if (!warning.empty() && analysis::placement_of(*photo))
            overlay.add(scene::Role::UnknownEdge, scene::Line{ring, true, scene::Weight::Bold});
        const Box box = geometry::bounds(ring);
        add_words(s, box, warning, scene::Role::LabelDanger, 0, overlay);
        add_words(s, box, donor, scene::Role::LabelMeasure, warning.empty() ? 0 : 1, overlay);
    }
}

} // namespace padchart::app
