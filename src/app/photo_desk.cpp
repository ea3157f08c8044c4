#include "app/photo_desk.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/photo_doubts.hpp"
#include "analysis/registration.hpp"
#include "app/actions.hpp"
#include "app/inspect_photos.hpp"
#include "app/photo_edits.hpp"
#include "app/photo_place.hpp"
#include "app/session.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;
using document::Photo;
using geometry::Box;
using geometry::Homography;
using geometry::Vec2;

/// So long a photo is kept for a panel after the panel has asked for it last.
constexpr std::chrono::seconds kKeptFor{3};
} // namespace

void PhotoDesk::forget() {
    placing.reset();
    coming.reset();
    chosen = {};
    asked.clear();
    told.clear();
}

fs::path photo_path(const Session& s, const Photo& photo) {
    std::error_code ignored;
    const fs::path& chart = s.editor.path();
    const fs::path folder = chart.empty() ? fs::current_path(ignored) : fs::absolute(chart, ignored).parent_path();
    return (folder / photo.path).lexically_normal();
}

const Photo* find_photo(const document::Chart& chart, const document::Id& id) {
    for (const Photo& photo : chart.photos)
        if (photo.id == id) return &photo;
    return nullptr;
}

bool is_in_hand(const Session& s, const Photo& photo) {
    const PhotoDesk* desk = s.desks.find<PhotoDesk>();
    return desk != nullptr && desk->placing && desk->placing->photo == photo.id;
}

std::string hidden_words(const Session& s, const Photo& photo) {
    if (!photo.hidden) return {};
    return is_in_hand(s, photo) ? "hidden; shown while it is placed" : "hidden";
}

std::vector<const Photo*> photos_on_show(const Session& s) {
    std::vector<const Photo*> list;
    for (const Photo& photo : s.editor.shown().photos)
        if (photo.side == s.seen_from && (!photo.hidden || is_in_hand(s, photo))) list.push_back(&photo);
    return list;
}

void begin_adding(Session& s, const std::string& path, const document::Id& replaces) {
    std::error_code ignored;
    s.desks.get<PhotoDesk>().coming = PhotoComing{fs::absolute(path, ignored).lexically_normal(), replaces};
    s.panel = Panel::Photos;
}

namespace {

/// As a chart beside it names the file.
std::string way_to(const Session& s, const fs::path& file) {
    const fs::path folder = photo_path(s, Photo{}).parent_path();
    const fs::path way = file.lexically_relative(folder);
    return (way.empty() ? file : way).generic_string();
}

void take_in(Session& s, PhotoDesk& desk, const PhotoComing& coming, const LoadedPhoto& loaded) {
    const std::string name = coming.path.filename().string();
    if (!loaded.has_picture()) return s.editor.tell(Severity::Fault, name + " " + loaded.trouble + ".");
    Photo photo;
    if (const Photo* old = find_photo(s.editor.chart(), coming.replaces)) photo = *old;
    const bool is_new = photo.id.text.empty();
    const bool is_same = !is_new && photo.checksum == loaded.facts.checksum;
    photo.path = way_to(s, coming.path);
    photo.checksum = loaded.facts.checksum;
    if (is_new) {
        photo.id = document::free_id(s.editor.chart(), "photo", photo.path);
        photo.side = s.seen_from;
    }
    const document::Id id = photo.id;
    const bool is_ground = is_new && is_bare(s.editor.chart());
    if (is_new) photo.board_from_pixel = analysis::numbers_of(first_place_now(s, photo, loaded));
    const document::Chart& chart = s.editor.chart();
    if (!s.editor.commit(is_new    ? with_new_photo(chart, std::move(photo))
                         : is_same ? document::put(chart, std::move(photo))
                                   : with_other_picture(chart, std::move(photo)),
                         (is_new ? "Add photo " : "Take the file ") + name))
        return;
    desk.chosen = id;
    if (!is_new && !is_same)
        s.editor.tell(Severity::Warning, name + " is another picture: lay it down anew. Records that showed a piece of "
                                                "the old one show none now; Ctrl+Z brings it back.");
    if (!loaded.trouble.empty()) s.editor.tell(Severity::Warning, name + " " + loaded.trouble + ".");
    if (!is_new) return;
    if (!is_ground) return begin_placing(s, id);
    // Nothing is drawn yet that the photo could be laid on: how long a millimetre is comes first.
    trace("photo-lies", fmt::format("{:.9g}", fmt::join(find_photo(s.editor.chart(), id)->board_from_pixel, " ")));
    s.wants_fit = true;
    run(*find_action("scale"), s);
}

/// True where it has come.
bool update_coming(Session& s, PhotoDesk& desk) {
    if (!desk.coming) return false;
    const std::shared_ptr<const LoadedPhoto> loaded = desk.store.find(desk.coming->path);
    if (!loaded) return false;
    const PhotoComing coming = *std::exchange(desk.coming, std::nullopt);
    take_in(s, desk, coming, *loaded);
    return true;
}

/// Each photo on show once: a chart made over another picture must not pass unnoticed. What was told of the others is
/// told again with it, since there is one notice only.
void tell_troubles(Session& s, PhotoDesk& desk) {
    Diagnostics all;
    bool is_new = false;
    for (const Photo* photo : photos_on_show(s)) {
        const std::shared_ptr<const LoadedPhoto> loaded = loaded_photo(s, *photo);
        if (!loaded || (desk.placing && desk.placing->photo == photo->id)) continue;
        for (const Diagnostic& finding : analysis::photo_findings(*photo, loaded->facts)) {
            // A chart that was never saved names photos from where the program was started: saving puts that right.
            const bool comes_right = finding.code == "photo-elsewhere" && s.editor.path().empty();
            if (finding.severity == Severity::Note || comes_right) continue;
            all.push_back(finding);
            is_new = desk.told.insert(photo->id).second || is_new;
        }
    }
    if (!is_new) return;
    std::string text = "Photo " + all[0].message + ".";
    if (all.size() == 2) text += " Photo " + all[1].message + ".";
    if (all.size() > 2) text += fmt::format(" {} more about photos: see the findings.", all.size() - 1);
    const bool has_fault =
        std::any_of(all.begin(), all.end(), [](const auto& f) { return f.severity == Severity::Fault; });
    s.editor.tell(has_fault ? Severity::Fault : Severity::Warning, std::move(text));
}

void update_placing(Session& s, PhotoDesk& desk) {
    if (!desk.placing) return;
    const Photo* photo = find_photo(s.editor.chart(), desk.placing->photo);
    if (desk.placing->tool.expired()) return desk.placing.reset();
    if (photo == nullptr || photo->side != s.seen_from || photo->locked || s.panel != Panel::Photos) {
        desk.placing.reset();
        return s.use_tool(s.resting_tool());
    }
    const std::shared_ptr<const LoadedPhoto> loaded = loaded_photo(s, *photo);
    if (!loaded || !loaded->has_picture()) return;
    const Homography map = board_from_pixel(s, *photo, *loaded);
    if (desk.placing->map != map) trace("photo-map", fmt::format("{:.9g}", fmt::join(map.h, " ")));
    desk.placing->map = map;
    desk.placing->size = loaded->full;
    desk.placing->board_is_empty = !has_place_to_click(s.editor.chart(), *photo);
}

/// A chart of which only a photo is to be seen is fitted into the window when the photo has come.
void show_all_once(Session& s) {
    FirstPlaces& places = s.desks.get<FirstPlaces>();
    if (places.showed_all || !is_empty(s.editor.chart()) || bounds_of_photos(s).is_empty()) return;
    places.showed_all = true;
    s.wants_fit = true;
}

} // namespace

void begin_placing(Session& s, const document::Id& id) {
    PhotoDesk& desk = s.desks.get<PhotoDesk>();
    const Photo* photo = find_photo(s.editor.chart(), id);
    if (photo == nullptr) return;
    if (photo->locked)
        return s.editor.tell(Severity::Warning, photo_name(*photo) + " is locked in its place; unlock it first.");
    if (!s.editor.chart().scale && is_ground(*photo) && !is_empty(s.editor.chart()))
        return s.editor.tell(Severity::Warning, "What is drawn lies on " + photo_name(*photo) +
                                                    ": set the scale by two points first (G), both follow.");
    desk.placing = PhotoPlacing{.photo = id};
    s.editor.select({});
    s.use_tool(make_photo_tool(desk));
    update_placing(s, desk);
}

void put_photo_point(PhotoDesk& desk, Editor& editor, Vec2 at) {
    assert(desk.placing && desk.placing->pixel);
    PhotoPlacing& placing = *desk.placing;
    const Photo* photo = find_photo(editor.chart(), placing.photo);
    if (photo == nullptr) return;
    std::vector<document::PhotoPoint> points = photo->points;
    points.push_back({*placing.pixel, at, {}});
    const std::string label = fmt::format("Point {} of photo {}", points.size(), photo_name(*photo));
    Result<document::Chart> next = with_points(editor.chart(), placing.photo, std::move(points));
    if (next) next = scaled_by_typed_points(*next, placing.photo);
    if (!editor.commit(std::move(next), label)) return;
    trace("photo-point", fmt::format("board {:.3f} {:.3f}", at.x, at.y));
    placing.pixel.reset();
    placing.typed_x.reset();
    placing.typed_y.reset();
}

bool update_photos(Session& s) {
    PhotoDesk& desk = s.desks.get<PhotoDesk>();
    const auto now = std::chrono::steady_clock::now();
    std::erase_if(desk.asked, [&](const auto& entry) { return now - entry.second > kKeptFor; });
    std::vector<fs::path> wanted;
    for (const Photo& photo : s.editor.shown().photos)
        if (photo.side == s.seen_from && (!photo.hidden || s.panel == Panel::Photos))
            wanted.push_back(photo_path(s, photo));
    for (const auto& [path, when] : desk.asked)
        wanted.push_back(path);
    if (desk.coming) wanted.push_back(desk.coming->path);
    if (const auto pair = inspected_photos(s)) {
        wanted.push_back(pair->before_file);
        wanted.push_back(pair->after_file);
    }
    std::sort(wanted.begin(), wanted.end());
    wanted.erase(std::unique(wanted.begin(), wanted.end()), wanted.end());
    const bool arrived = desk.store.update(wanted);
    const bool came = update_coming(s, desk);
    if (arrived) tell_troubles(s, desk);
    settle_places(s);
    show_all_once(s);
    update_placing(s, desk);
    return arrived || came;
}

std::shared_ptr<const LoadedPhoto> loaded_photo(const Session& s, const Photo& photo) {
    const PhotoDesk* desk = s.desks.find<PhotoDesk>();
    return desk == nullptr ? nullptr : desk->store.find(photo_path(s, photo));
}

std::shared_ptr<const LoadedPhoto> ask_for_photo(Session& s, const Photo& photo) {
    s.desks.get<PhotoDesk>().asked[photo_path(s, photo)] = std::chrono::steady_clock::now();
    return loaded_photo(s, photo);
}

std::optional<PhotoCrop> photo_crop(Session& s, const document::Id& id, const Box& px, int longest_side) {
    const Photo* photo = find_photo(s.editor.chart(), id);
    if (photo == nullptr) return std::nullopt;
    const std::shared_ptr<const LoadedPhoto> loaded = ask_for_photo(s, *photo);
    if (!loaded) return std::nullopt;
    return photo_crop(*loaded, px, longest_side);
}

std::optional<PhotoCrop> photo_crop(const LoadedPhoto& photo, const Box& px, int longest_side) {
    if (!photo.has_picture()) return std::nullopt;
    const double full_width = photo.full.width, full_height = photo.full.height;
    const Box cut{{std::clamp(px.min.x, 0.0, full_width), std::clamp(px.min.y, 0.0, full_height)},
                  {std::clamp(px.max.x, 0.0, full_width), std::clamp(px.max.y, 0.0, full_height)}};
    if (!(cut.width() > 0.0 && cut.height() > 0.0)) return std::nullopt;
    std::size_t level = 0;
    const auto step = [&](std::size_t i) { return std::ldexp(1.0, static_cast<int>(i) + photo.reduced_by); };
    while (level + 1 < photo.levels.size() && std::max(cut.width(), cut.height()) / step(level + 1) >= longest_side)
        ++level;
    const paint::Pixels& from = photo.levels[level];
    const auto first = [&](double at) { return static_cast<int>(std::floor(at / step(level))); };
    const auto last = [&](double at, int side) {
        return std::min(static_cast<int>(std::ceil(at / step(level))), side);
    };
    const int left = std::min(first(cut.min.x), from.width - 1), top = std::min(first(cut.min.y), from.height - 1);
    PhotoCrop crop;
    crop.pixels.width = std::max(last(cut.max.x, from.width) - left, 1);
    crop.pixels.height = std::max(last(cut.max.y, from.height) - top, 1);
    crop.px = {Vec2{1.0 * left, 1.0 * top} * step(level),
               {std::min((left + crop.pixels.width) * step(level), full_width),
                std::min((top + crop.pixels.height) * step(level), full_height)}};
    for (int y = top; y < top + crop.pixels.height; ++y) {
        const std::uint8_t* row = from.at(left, y);
        crop.pixels.rgb.insert(crop.pixels.rgb.end(), row, row + 3 * static_cast<std::ptrdiff_t>(crop.pixels.width));
    }
    return crop;
}

bool is_readable(const Session& s, const Photo& photo) {
    return analysis::is_readable(photo, s.editor.chart().scale.has_value());
}

std::string file_doubt(const Session& s, const Photo& photo) {
    const auto loaded = loaded_photo(s, photo);
    const std::string doubt = loaded ? analysis::file_doubt(photo, loaded->facts) : "";
    return doubt.empty() ? "" : photo_name(photo) + " " + doubt;
}

std::size_t doubtful_photos(const Session& s) {
    const auto on_show = photos_on_show(s);
    return static_cast<std::size_t>(std::count_if(on_show.begin(), on_show.end(), [&](const Photo* photo) {
        return analysis::placement_of(*photo) && !is_readable(s, *photo);
    }));
}

Diagnostics photo_findings(const Session& s) {
    Diagnostics findings;
    for (const Photo& photo : s.editor.chart().photos)
        if (const auto loaded = loaded_photo(s, photo)) {
            for (const Diagnostics& own : {analysis::photo_findings(photo, loaded->facts),
                                           analysis::lost_records(s.editor.chart(), photo, loaded->facts)})
                findings.insert(findings.end(), own.begin(), own.end());
        }
    for (const Photo& photo : s.editor.chart().photos)
        for (Diagnostic doubt : analysis::placement_doubts(photo, s.editor.chart().scale.has_value())) {
            doubt.message = photo_name(photo) + ": " + doubt.message;
            findings.push_back(std::move(doubt));
        }
    return findings;
}

} // namespace padchart::app
