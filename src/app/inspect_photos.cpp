#include "app/inspect_photos.hpp"

#include <vector>

#include "analysis/registration.hpp"
#include "app/inspect_desk.hpp"
#include "app/photo_desk.hpp"
#include "scene/inspect_overlay.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;
using document::Chart;
using document::Photo;
using document::Side;
using geometry::Homography;

std::vector<const Photo*> usable(const Chart& chart, Side side) {
    std::vector<const Photo*> out;
    for (const Photo& photo : chart.photos)
        if (photo.side == side && photo.board == document::WhichBoard::ThisBoard && !photo.hidden &&
            analysis::placement_of(photo))
            out.push_back(&photo);
    return out;
}

/// The same picture: a copy of the chart keeps its photos.
bool is_same_file(const Photo& a, const Photo& b) {
    if (!a.checksum.empty() && !b.checksum.empty()) return a.checksum == b.checksum;
    return a.path == b.path;
}

const InspectDesk* desk_of(const Session& s) {
    const InspectDesk* desk = s.desks.find<InspectDesk>();
    return s.stage == scene::Stage::Inspect && desk != nullptr && desk->has_before() ? desk : nullptr;
}

fs::path file_from_before(const Session& s, const InspectDesk& desk, const Photo& photo) {
    std::error_code fault;
    const fs::path beside = (desk.before_folder() / photo.path).lexically_normal();
    return !desk.before_folder().empty() && fs::exists(beside, fault) ? beside : photo_path(s, photo);
}

} // namespace

std::optional<PhotoPair> photos_of_both(const Chart& before, Side side_before, const Chart& after, Side side) {
    const std::vector<const Photo*> was = usable(before, side_before);
    const std::vector<const Photo*> is = usable(after, side);
    if (is.empty()) return std::nullopt;
    const Photo& first = was.empty() ? *is.front() : *was.back();
    for (auto last = is.rbegin(); last != is.rend(); ++last)
        if (!is_same_file(**last, first)) return PhotoPair{first, **last};
    return std::nullopt;
}

std::optional<PhotosInspected> inspected_photos(const Session& s) {
    const InspectDesk* desk = desk_of(s);
    if (desk == nullptr) return std::nullopt;
    const Inspection& answer = *desk->answer();
    const Chart& now = s.editor.shown();
    const scene::BeforeAfter pair{*answer.before, now, answer.report};
    const Side side_before = scene::side_before(pair, s.seen_from);
    std::optional<PhotoPair> photos = photos_of_both(*answer.before, side_before, now, s.seen_from);
    if (!photos) return std::nullopt;
    const bool of_the_chart = find_photo(*answer.before, photos->before.id) == nullptr;
    const Homography board_now = Homography::of(scene::scene_from_board(s.seen_from));
    const Homography board_before =
        Homography::of(scene::after_scene_from_before_scene(pair, s.seen_from) * scene::scene_from_board(side_before));
    PhotosInspected out;
    out.before_file = of_the_chart ? photo_path(s, photos->before) : file_from_before(s, *desk, photos->before);
    out.after_file = photo_path(s, photos->after);
    out.scene_from_before = (of_the_chart ? board_now : board_before) * *analysis::placement_of(photos->before);
    out.scene_from_after = board_now * *analysis::placement_of(photos->after);
    out.photos = std::move(*photos);
    return out;
}

PhotosShown photos_shown(const Session& s) {
    const InspectDesk* desk = desk_of(s);
    if (desk == nullptr || desk->view() == InspectView::Changes || !inspected_photos(s)) return PhotosShown::AsUsual;
    if (desk->view() == InspectView::Difference) return PhotosShown::Difference;
    return desk->shows_before() ? PhotosShown::Before : PhotosShown::After;
}

} // namespace padchart::app
