#pragma once
// The photos of the chart in hand, as pixels and as places on the board. The one of the session:
// session.desks.get<PhotoDesk>().
//
// For a panel that wants to show a piece of a photo:
//     if (const auto crop = photo_crop(session, photo_id, {{x, y}, {x + w, y + h}}, 600)) ... // crop->pixels
// asked for again in every frame: until the file has been read (on a thread of its own) the answer is nothing, and the
// window draws another frame when it has come. What was asked for stays in memory as long as it is asked for.
// paint::load() (sfml_photo.hpp) makes a texture of the pixels.

#include <chrono>
#include <map>
#include <optional>
#include <set>
#include <string>

#include "app/photo_store.hpp"
#include "geometry/box.hpp"
#include "geometry/homography.hpp"

namespace padchart::app {

struct Session;
class Editor;
class Tool;

/// A photo that is being laid on the board point by point.
struct PhotoPlacing {
    document::Id photo;
    std::optional<geometry::Vec2> pixel = {}; ///< found in the photo; its place on the board is still to come
    std::optional<geometry::Homography> map =
        {}; ///< board from pixel, as the photo is drawn now; nothing: not read yet
    paint::PhotoSize size = {};
    std::optional<double> typed_x = {}, typed_y = {}; ///< of the place on the board, in the panel
    std::weak_ptr<const int> tool = {};               ///< the pointer that works on it; gone: another one was taken up
    bool board_is_empty = false;                      ///< nothing lies there that could be clicked: places are typed
};

/// A file chosen, not read yet: it becomes a photo of the chart, or takes the place of one's file.
struct PhotoComing {
    std::filesystem::path path;
    document::Id replaces; ///< empty: a new photo
};

/// How much of the parts covers a photo.
enum class PartsOver { Outlines, SeeThrough, Solid };

struct PhotoDesk {
    PhotoStore store;
    std::optional<PhotoPlacing> placing;
    std::optional<PhotoComing> coming;
    PartsOver parts = PartsOver::SeeThrough;
    document::Id chosen; ///< in the panel; empty: none
    /// Photos that are asked for beside those on show, and when last.
    std::map<std::filesystem::path, std::chrono::steady_clock::time_point> asked;

    std::set<document::Id> told; ///< photos whose trouble has been told

    /// Another chart has come; pixels stay as long as somebody wants them.
    void forget();
};

/// Where its file lies. A chart without a file of its own counts from the current folder.
[[nodiscard]] std::filesystem::path photo_path(const Session& session, const document::Photo& photo);
/// Null where no photo of the chart bears the id.
[[nodiscard]] const document::Photo* find_photo(const document::Chart& chart, const document::Id& id);

/// Call once a frame. True where something has arrived and is to be drawn.
bool update_photos(Session& session);
/// Null while it is being read or was not asked for.
[[nodiscard]] std::shared_ptr<const LoadedPhoto> loaded_photo(const Session& session, const document::Photo& photo);
/// As above, and has it read where it is not on show.
[[nodiscard]] std::shared_ptr<const LoadedPhoto> ask_for_photo(Session& session, const document::Photo& photo);

/// It is being laid down: shown though it is hidden otherwise.
[[nodiscard]] bool is_in_hand(const Session& session, const document::Photo& photo);
/// "hidden", "hidden; shown while it is placed"; empty of one that is not hidden.
[[nodiscard]] std::string hidden_words(const Session& session, const document::Photo& photo);
/// Photos of the side that is looked at, those that are hidden left out, in chart order: as they are painted.
[[nodiscard]] std::vector<const document::Photo*> photos_on_show(const Session& session);

/// Has the file read; when it has come it is added as one step, or an error is told.
void begin_adding(Session& session, const std::string& path, const document::Id& replaces = {});
/// Begins laying the photo down point by point. A locked one tells that it is locked.
void begin_placing(Session& session, const document::Id& id);
/// The spot under the pen goes to this place on the board, as one step. Requires: a spot has been picked.
void put_photo_point(PhotoDesk& desk, Editor& editor, geometry::Vec2 at_mm);
/// The pointer that picks spots and places. Requires: the desk outlives it.
[[nodiscard]] std::unique_ptr<Tool> make_photo_tool(PhotoDesk& desk);

struct PhotoCrop {
    paint::Pixels pixels;
    geometry::Box px; ///< what of the photo they show, in its own pixels: the box asked for, cut at the photo's edges
};
/// A piece of the picture, from the level that is just larger than `longest_side` pixels. Nothing while the photo is
/// being read, where it cannot be read, and where the box lies outside of it.
[[nodiscard]] std::optional<PhotoCrop> photo_crop(Session& session, const document::Id& id, const geometry::Box& px,
                                                  int longest_side);
[[nodiscard]] std::optional<PhotoCrop> photo_crop(const LoadedPhoto& photo, const geometry::Box& px, int longest_side);

/// The photo is placed and nothing speaks against its place: what lies where may be read off it.
[[nodiscard]] bool is_readable(const Session& session, const document::Photo& photo);

/// "pic.png is not there", "pic.png is not the file it was when it was placed": nothing may be read off it. Empty where
/// nothing speaks against its file, and until it has been read.
[[nodiscard]] std::string file_doubt(const Session& session, const document::Photo& photo);

/// How many photos on show lie where nothing may be read off them.
[[nodiscard]] std::size_t doubtful_photos(const Session& session);

/// What is to be said of the photos' files and places: missing, changed, not readable, far off. Photos that have not
/// been read yet are left out.
[[nodiscard]] Diagnostics photo_findings(const Session& session);

} // namespace padchart::app
