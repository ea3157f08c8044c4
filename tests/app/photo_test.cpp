#include <chrono>
#include <cmath>
#include <fstream>
#include <thread>

#include <doctest/doctest.h>

#include "analysis/photo_doubts.hpp"
#include "app/actions.hpp"
#include "app/evidence_photo.hpp"
#include "app/orient_desk.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"
#include "app/photo_place.hpp"
#include "app/photo_store.hpp"
#include "app/scale_desk.hpp"
#include "app/tools/tool.hpp"
#include "scene/text_width.hpp"
#include "support.hpp"
#include "support/photo_maker.hpp"

using namespace padchart;
using namespace padchart::app;
using document::Photo;
using document::PhotoPoint;
using document::Side;
using geometry::Box;
using geometry::Homography;
using geometry::Vec2;
namespace fs = std::filesystem;

namespace {

/// Twelve round lands of 1.2 mm in a lattice of 12 x 8 mm, each a part of its own, on a bare board.
document::Chart lattice() {
    document::Chart chart = new_chart();
    chart.board.outline = geometry::Polygon{{{-4, -4}, {40, -4}, {40, 20}, {-4, 20}}, {}};
    for (int i = 0; i < 12; ++i) {
        document::Footprint part;
        part.name = "TP" + std::to_string(i + 1);
        part.id = document::Id{"tp" + std::to_string(i + 1)};
        part.placement.at = {12.0 * (i % 4), 8.0 * (i / 4)};
        document::Pad pad;
        pad.shape = {.kind = document::ShapeKind::Round, .width_mm = 1.2, .height_mm = 1.2, .points = {}};
        part.pads.push_back(pad);
        chart = document::add_part(chart, part).value();
    }
    return chart;
}

/// Where the land is in the picture: the middle of the bright pixels round where it must be about.
Vec2 found_near(const paint::Pixels& pixels, Vec2 about) {
    Vec2 sum;
    double count = 0.0;
    for (int y = static_cast<int>(about.y) - 40; y < static_cast<int>(about.y) + 40; ++y)
        for (int x = static_cast<int>(about.x) - 40; x < static_cast<int>(about.x) + 40; ++x) {
            if (x < 0 || y < 0 || x >= pixels.width || y >= pixels.height) continue;
            if (pixels.at(x, y)[0] < 130) continue; // copper is 0xd9, solder mask 0x1f
            sum += Vec2{x + 0.5, y + 0.5};
            ++count;
        }
    REQUIRE(count > 20);
    return sum / count;
}

void write(const fs::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

paint::Pixels plain(int width, int height, std::uint8_t level = 90) {
    return {width, height,
            std::vector<std::uint8_t>(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height), level)};
}

document::Chart with_one_photo(document::Chart chart, const char* path, Side side = Side::Top) {
    Photo photo;
    photo.id = document::Id{"ph"};
    photo.path = path;
    photo.side = side;
    return document::put(chart, photo).value();
}

} // namespace

TEST_CASE("four lands found in a rendered photo place all others within half a percent") {
    // Ground truth: the project's own picture of the chart through a known camera, with noise. Of the twelve lands four
    // place the photo, the other eight are held against where they are on the board.
    document::Chart chart = with_one_photo(lattice(), "shot.jpg");
    for (const bool mirrored : {false, true})
        for (const double tilt_deg : {0.0, 20.0, 35.0}) {
            tests::Shot shot;
            shot.pixel_from_board =
                tests::camera_over(bounds_of(chart), shot.width, shot.height, tilt_deg, 24.0, mirrored);
            const std::string jpeg = tests::jpeg_of(tests::photograph(chart, shot));
            const paint::Pixels pixels = paint::decode_photo(jpeg, std::size_t{64} << 20U).value().pixels;
            std::vector<PhotoPoint> all;
            for (const document::Footprint& part : chart.parts)
                all.push_back({found_near(pixels, shot.pixel_from_board(part.placement.at)), part.placement.at, {}});
            const auto placed = with_points(chart, document::Id{"ph"}, {all[0], all[3], all[11], all[8]});
            REQUIRE(placed);
            const auto map = analysis::placement_of(placed->photos[0]);
            REQUIRE(map);
            double worst = 0.0;
            for (const PhotoPoint& point : all)
                worst = std::max(worst, geometry::distance((*map)(point.pixel), point.at));
            CHECK(worst < 0.005 * bounds_of(chart).width());
            CHECK((map->area_factor(all[5].pixel) < 0.0) == mirrored);
            for (const double off : point_errors(placed->photos[0]))
                CHECK(off < 1e-6); // four points leave nothing over
        }
}

TEST_CASE("points are added one by one and each is an undo step") {
    Editor editor;
    editor.start_new(with_one_photo(new_chart(), "a.png"));
    const document::Id id{"ph"};
    const Homography truth{{0.05, 0.01, 2, -0.01, 0.05, 3, 0, 0, 1}};
    std::vector<PhotoPoint> points;
    for (const Vec2 pixel : {Vec2{10, 20}, {400, 30}, {380, 300}, {30, 310}, {200, 150}}) {
        points.push_back({pixel, truth(pixel), {}});
        REQUIRE(editor.commit(with_points(editor.chart(), id, points), "Point"));
        const auto map = analysis::placement_of(editor.chart().photos[0]);
        CHECK(map.has_value() == (points.size() >= 2));
        if (map)
            for (const PhotoPoint& point : points)
                CHECK(geometry::distance((*map)(point.pixel), point.at) < 1e-6);
    }
    CHECK(place_of(editor.chart().photos[0]).words.find("placed by 5 points") == 0);
    CHECK(*place_of(editor.chart().photos[0]).px_per_mm == doctest::Approx(1.0 / std::hypot(0.05, 0.01)));
    CHECK(editor.undo());
    CHECK(editor.chart().photos[0].points.size() == 4);
    while (editor.undo()) {
    }
    CHECK(editor.chart().photos[0].points.empty());
    CHECK(place_of(editor.chart().photos[0]).words == "not placed yet");
}

TEST_CASE("one point moves a placed photo and keeps its turn and size") {
    document::Chart chart = with_one_photo(new_chart(), "a.png");
    chart = with_photo(chart, document::Id{"ph"}, [](Photo& p) {
                p.board_from_pixel = {0.02, 0, 5, 0, 0.02, 6, 0, 0, 1};
            }).value();
    const auto moved = with_points(chart, document::Id{"ph"}, {{{100, 100}, {10, 10}, {}}});
    REQUIRE(moved);
    CHECK(moved->photos[0].board_from_pixel == std::vector<double>{0.02, 0, 8, 0, 0.02, 8, 0, 0, 1});
}

TEST_CASE("a locked photo keeps its points and points in a line are refused") {
    document::Chart chart = with_one_photo(new_chart(), "a.png");
    const document::Id id{"ph"};
    const std::vector<PhotoPoint> line{
        {{0, 0}, {0, 0}, {}}, {{10, 0}, {1, 0}, {}}, {{20, 0}, {2, 0}, {}}, {{30, 0}, {3, 0}, {}}};
    const auto refused = with_points(chart, id, line);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().message.find("nearly in a line") != std::string::npos);
    chart = with_photo(chart, id, [](Photo& p) { p.locked = true; }).value();
    const auto locked = with_points(chart, id, {});
    REQUIRE_FALSE(locked);
    CHECK(locked.error().message == "a.png is locked in its place");
}

TEST_CASE("photos are read on a thread within the memory stated and again when the file changes") {
    const ScratchFolder folder;
    const fs::path a = folder.path() / "a.png", b = folder.path() / "b.jpg", none = folder.path() / "none.png";
    write(a, tests::png_of(plain(900, 700)));
    write(b, tests::jpeg_of(plain(640, 480)));
    PhotoStore store;
    const std::vector<fs::path> wanted{a, b, none};
    store.update(wanted);
    store.wait();
    REQUIRE(store.find(a));
    CHECK(store.find(a)->full.width == 900);
    CHECK(store.find(a)->levels.size() == 2);
    CHECK(store.find(a)->facts.checksum.starts_with("fnv1a64:"));
    REQUIRE(store.find(b));
    CHECK(store.find(b)->has_picture());
    REQUIRE(store.find(none));
    CHECK(store.find(none)->trouble == "is not there");
    CHECK(store.bytes() == store.find(a)->bytes() + store.find(b)->bytes());
    const std::uint64_t before = store.find(a)->serial;
    write(a, tests::png_of(plain(90, 70)));
    write(none, "text");
    store.update(wanted);
    store.wait();
    CHECK(store.find(a)->serial != before);
    CHECK(store.find(a)->full.width == 90);
    CHECK(store.find(none)->trouble == "is neither a JPEG nor a PNG picture");
    // What nobody wants any more goes when another one needs room.
    const std::vector<fs::path> fewer{b, folder.path() / "c.png"};
    write(fewer[1], tests::png_of(plain(20, 10)));
    store.update(fewer);
    store.wait();
    CHECK_FALSE(store.find(a));
}

TEST_CASE("a photo that finds no room is kept smaller and a crop of it still tells its own pixels") {
    const ScratchFolder folder;
    const fs::path path = folder.path() / "a.png";
    paint::Pixels pixels = plain(800, 600);
    for (int y = 200; y < 300; ++y)
        for (int x = 400; x < 500; ++x)
            pixels.rgb[3 * (static_cast<std::size_t>(y) * 800 + static_cast<std::size_t>(x))] = 250;
    write(path, tests::png_of(pixels));
    for (const std::size_t most : {std::size_t{64} << 20U, paint::bytes_with_levels({200, 150})}) {
        const auto loaded = load_photo(path, most);
        CHECK(loaded->bytes() <= most);
        const auto crop = photo_crop(*loaded, {{400, 200}, {500, 300}}, 60);
        REQUIRE(crop);
        CHECK(crop->px == Box{{400, 200}, {500, 300}});
        CHECK(std::max(crop->pixels.width, crop->pixels.height) <= 100);
        CHECK(static_cast<int>(crop->pixels.at(crop->pixels.width / 2, crop->pixels.height / 2)[0]) == 250);
        CHECK_FALSE(photo_crop(*loaded, {{900, 0}, {950, 50}}, 60));
        const auto edge = photo_crop(*loaded, {{750, 550}, {900, 900}}, 1000);
        REQUIRE(edge);
        CHECK(edge->px.max == Vec2{800, 600});
    }
}

TEST_CASE("a photo without a place lies upright over the chart and mirrored for the bottom") {
    Session s;
    s.editor.start_new(lattice());
    const Box drawn = bounds_of(s.editor.chart());
    LoadedPhoto loaded;
    loaded.full = {400, 300};
    Photo photo;
    const auto turns = [&](Vec2 a, Vec2 b) {
        const Homography map = first_place(photo, loaded, drawn);
        const Vec2 way = map(b) - map(a);
        return way / geometry::length(way);
    };
    CHECK(geometry::distance(turns({0, 0}, {10, 0}), {1, 0}) < 1e-9);
    CHECK(geometry::distance(first_place(photo, loaded, drawn)({200, 150}), drawn.centre()) < 1e-9);
    loaded.facts.orientation = 6; // shown turned a quarter clockwise: the picture's left edge is its top
    CHECK(geometry::distance(turns({0, 0}, {10, 0}), {0, 1}) < 1e-9);
    CHECK(geometry::distance(turns({0, 10}, {0, 0}), {1, 0}) < 1e-9);
    loaded.facts.orientation = 1;
    photo.side = Side::Bottom;
    CHECK(geometry::distance(turns({0, 0}, {10, 0}), {-1, 0}) < 1e-9);
    photo.mirrored = true;
    CHECK(geometry::distance(turns({0, 0}, {10, 0}), {1, 0}) < 1e-9);
    photo.points.push_back({{40, 50}, {7, 8}, {}});
    CHECK(geometry::distance(board_from_pixel(s, photo, loaded)({40, 50}), {7, 8}) < 1e-9);
}

TEST_CASE("a photo chosen in the dialog is added when it has been read and a broken one is told") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));
    write(folder.path() / "top.jpg", tests::jpeg_of(plain(320, 240)));
    write(folder.path() / "broken.png", "\x89PNG\r\n\x1a\nnothing more");
    const auto read = [&] {
        update_photos(s);
        s.desks.get<PhotoDesk>().store.wait();
        update_photos(s);
    };
    begin_adding(s, (folder.path() / "top.jpg").string());
    read();
    REQUIRE(s.editor.chart().photos.size() == 1);
    const Photo photo = s.editor.chart().photos[0];
    CHECK(photo.path == "top.jpg");
    CHECK(photo.checksum.starts_with("fnv1a64:"));
    CHECK(s.desks.get<PhotoDesk>().placing.has_value());
    CHECK(photo_findings(s).size() == 1); // not placed yet
    begin_adding(s, (folder.path() / "broken.png").string());
    read();
    CHECK(s.editor.chart().photos.size() == 1);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text.find("broken.png is a PNG") == 0);
    // The file goes, another one takes its place in the chart.
    fs::rename(folder.path() / "top.jpg", folder.path() / "moved.jpg");
    read();
    REQUIRE(photo_findings(s).size() == 2);
    CHECK(photo_findings(s)[1].code == "photo-missing");
    begin_adding(s, (folder.path() / "moved.jpg").string(), photo.id);
    read();
    CHECK(s.editor.chart().photos[0].path == "moved.jpg");
    CHECK(s.editor.chart().photos[0].id == photo.id);
    CHECK(photo_findings(s).size() == 1);
}

namespace {

/// Reads and adds `name`, 400 x 300 px, as the window does.
void add_photo(Session& s, const ScratchFolder& folder, const char* name) {
    write(folder.path() / name, tests::png_of(plain(400, 300)));
    begin_adding(s, (folder.path() / name).string());
    update_photos(s);
    s.desks.get<PhotoDesk>().store.wait();
    update_photos(s);
}

document::Footprint body_over(const Homography& map, Vec2 from_px, Vec2 to_px) {
    const Vec2 a = map(from_px), b = map(to_px);
    document::Footprint part;
    part.id = document::Id{"u1"};
    part.name = "U1";
    part.placement.at = (a + b) / 2.0;
    document::Body body;
    body.shape = {.kind = document::ShapeKind::Rectangle,
                  .width_mm = std::abs(b.x - a.x),
                  .height_mm = std::abs(b.y - a.y),
                  .points = {}};
    part.body = body;
    return part;
}

} // namespace

TEST_CASE("a chart drawn over a photo has no scale until one is measured, and then every shape and the photo follow") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(new_chart());
    add_photo(s, folder, "top.png");
    REQUIRE(s.editor.chart().photos.size() == 1);
    CHECK_FALSE(s.editor.chart().scale);
    CHECK(s.panel == Panel::Scale); // two points and the millimetres between them are asked for
    CHECK(s.wants_fit);
    const auto map_now = [&] { return *analysis::placement_of(s.editor.chart().photos[0]); };
    const Homography first = map_now();
    REQUIRE(s.editor.commit(document::add_part(s.editor.chart(), body_over(first, {100, 100}, {180, 140})), "Draw"));
    update_photos(s);
    CHECK(map_now().h == first.h); // what is drawn does not move it
    // 80 px of the picture are 4 mm of the board: so a body of 80 x 40 px is 4 x 2 mm.
    ScaleDesk& desk = s.desks.get<ScaleDesk>();
    desk.pick({first({100, 50}), ""});
    desk.pick({first({180, 50}), ""});
    desk.distance_mm = 4.0;
    REQUIRE(desk.apply(s.editor));
    const document::Footprint& part = s.editor.chart().parts[0];
    CHECK(part.body->shape.width_mm == doctest::Approx(4.0));
    CHECK(part.body->shape.height_mm == doctest::Approx(2.0));
    CHECK(geometry::distance(map_now()({140, 120}), part.placement.at) <
          1e-6); // what is drawn is written to a millionth
    CHECK(s.editor.chart().scale->source == document::ScaleSource::TwoPoints);
    CHECK(s.editor.undo());
    CHECK_FALSE(s.editor.chart().scale);
    CHECK(map_now().h == first.h);
}

TEST_CASE("a photo said to be a mirror image turns over where it lies, unless something was drawn over it") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(new_chart());
    add_photo(s, folder, "top.png");
    const auto map_now = [&] { return *analysis::placement_of(s.editor.chart().photos[0]); };
    const Homography first = map_now();
    const auto say = [&](bool mirrored) {
        return s.editor.commit(with_photo_mirrored(s, s.editor.chart().photos[0], mirrored), "Mirror");
    };
    REQUIRE(say(true));
    CHECK(s.editor.chart().photos[0].mirrored);
    CHECK(geometry::distance(map_now()({400, 300}), first({0, 300})) < 1e-9); // right is left, up stays up
    CHECK(geometry::distance(map_now()({200, 150}), first({200, 150})) < 1e-9);
    REQUIRE(say(false));
    CHECK(geometry::distance(map_now()({400, 300}), first({400, 300})) < 1e-9);
    REQUIRE(s.editor.commit(document::add_part(s.editor.chart(), body_over(first, {100, 100}, {180, 140})), "Draw"));
    const Homography drawn_over = map_now();
    REQUIRE(say(true));
    CHECK(map_now().h == drawn_over.h);
}

TEST_CASE("a photo that is not placed yet turns over too") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    add_photo(s, folder, "top.png");
    const auto map_now = [&] {
        settle_places(s);
        const Photo& photo = s.editor.chart().photos[0];
        return board_from_pixel(s, photo, *loaded_photo(s, photo));
    };
    const Homography first = map_now();
    REQUIRE(s.editor.commit(with_photo_mirrored(s, s.editor.chart().photos[0], true), "Mirror"));
    CHECK(geometry::distance(map_now()({400, 300}), first({0, 300})) < 1e-9);
}

TEST_CASE("a photo added to a chart that is drawn already stays where it is painted first and is not placed until two "
          "points do it") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    add_photo(s, folder, "top.png");
    const Photo added = s.editor.chart().photos[0];
    CHECK(s.editor.chart().scale);
    CHECK_FALSE(analysis::placement_of(added));
    CHECK_FALSE(pixel_from_board(added));
    CHECK(place_of(added).words == "not placed yet");
    scene::Scene words;
    add_photo_words(s, words);
    REQUIRE(words.texts.size() == 1);
    CHECK(words.texts[0].text.find("top.png is not placed") == 0);
    // Where a strip of the photo is all that is seen the words are seen whole.
    s.camera.set_viewport({{0, 0}, {800, 600}});
    const double half = scene::text_width_em(words.texts[0].text, true) * words.texts[0].height_px * s.ui_scale /
                        s.camera.px_per_mm() / 2;
    for (const double beside : {-1.0, 1.0}) {
        const Box photo = bounds_of_photos(s);
        const double edge = beside < 0 ? photo.max.x : photo.min.x;
        s.camera.look_at({edge - beside * (s.camera.visible().width() / 2 - 1.0), photo.centre().y},
                         s.camera.px_per_mm());
        scene::Scene strip;
        add_photo_words(s, strip);
        REQUIRE(strip.texts.size() == 1);
        CHECK(strip.texts[0].at.x - half >= s.camera.visible().min.x - 1e-9);
        CHECK(strip.texts[0].at.x + half <= s.camera.visible().max.x + 1e-9);
    }
    // It stays where it is when the board grows under it.
    const Homography first = *s.desks.get<PhotoDesk>().placing->map;
    document::Footprint far;
    far.id = document::Id{"far"};
    far.placement.at = {200, 200};
    far.pads.emplace_back();
    far.pads[0].shape = {.kind = document::ShapeKind::Round, .width_mm = 1, .height_mm = 1, .points = {}};
    REQUIRE(s.editor.commit(document::add_part(s.editor.chart(), far), "Far"));
    update_photos(s);
    CHECK(s.desks.get<PhotoDesk>().placing->map->h == first.h);
    const auto placed = with_points(s.editor.chart(), added.id, {{{0, 0}, {0, 0}, {}}, {{400, 0}, {36, 0}, {}}});
    REQUIRE(placed);
    CHECK(analysis::placement_of(placed->photos[0]));
}

TEST_CASE("a photo that a file gives no place stays where it was first painted") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(with_one_photo(new_chart(), "top.png"));
    REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));
    write(folder.path() / "top.png", tests::png_of(plain(400, 300)));
    update_photos(s);
    s.desks.get<PhotoDesk>().store.wait();
    update_photos(s);
    const auto loaded = loaded_photo(s, s.editor.chart().photos[0]);
    REQUIRE(loaded);
    const Homography first = board_from_pixel(s, s.editor.chart().photos[0], *loaded);
    CHECK(s.wants_fit);
    CHECK(bounds_of_photos(s).width() == doctest::Approx(33.0)); // 30 mm and a margin
    REQUIRE(s.editor.commit(document::add_part(s.editor.chart(), body_over(first, {100, 100}, {180, 140})), "Draw"));
    update_photos(s);
    CHECK(board_from_pixel(s, s.editor.chart().photos[0], *loaded).h == first.h);
}

TEST_CASE("places typed in mm for two spots of the only photo are a measurement") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(new_chart());
    add_photo(s, folder, "top.png");
    const document::Id id = s.editor.chart().photos[0].id;
    s.panel = Panel::Photos;
    begin_placing(s, id);
    update_photos(s);
    PhotoDesk& desk = s.desks.get<PhotoDesk>();
    REQUIRE(desk.placing);
    CHECK(desk.placing->board_is_empty);
    desk.placing->pixel = Vec2{10, 10};
    put_photo_point(desk, s.editor, {0, 0});
    CHECK_FALSE(s.editor.chart().scale);
    desk.placing->pixel = Vec2{390, 10};
    put_photo_point(desk, s.editor, {38, 0});
    REQUIRE(s.editor.chart().scale);
    CHECK(s.editor.chart().scale->source == document::ScaleSource::TwoPoints);
    CHECK(s.editor.chart().scale->mm_per_unit == doctest::Approx(1.0));
    const Homography map = *analysis::placement_of(s.editor.chart().photos[0]);
    CHECK(geometry::distance(map({110, 10}), map({210, 10})) == doctest::Approx(10.0));
}

TEST_CASE("what is drawn on a photo without a scale keeps it from being moved away under it") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(new_chart());
    add_photo(s, folder, "top.png");
    const Photo photo = s.editor.chart().photos[0];
    const Homography map = *analysis::placement_of(photo);
    REQUIRE(s.editor.commit(document::add_part(s.editor.chart(), body_over(map, {100, 100}, {180, 140})), "Draw"));
    begin_placing(s, photo.id);
    CHECK_FALSE(s.desks.get<PhotoDesk>().placing);
    CHECK(s.editor.notice()->text.find("set the scale by two points first") != std::string::npos);
}

TEST_CASE("a chart from which the only photo is taken away before anything was drawn is drawn in mm again") {
    document::Chart chart = new_chart();
    Photo photo;
    photo.id = document::Id{"ph"};
    photo.path = "a.png";
    photo.board_from_pixel = {0.1, 0, 0, 0, 0.1, 0, 0, 0, 1};
    chart = with_new_photo(chart, photo).value();
    CHECK_FALSE(chart.scale);
    CHECK(without_photo(chart, photo.id).value() == new_chart());
}

TEST_CASE("a spot clicked in the photo and its place on the board make a point") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));
    write(folder.path() / "top.png", tests::png_of(plain(400, 300)));
    begin_adding(s, (folder.path() / "top.png").string());
    update_photos(s);
    PhotoDesk& desk = s.desks.get<PhotoDesk>();
    desk.store.wait();
    update_photos(s);
    REQUIRE(desk.placing);
    REQUIRE(desk.placing->map);
    const Homography map = *desk.placing->map;
    const scene::Scene scene;
    const scene::HitTest hits(scene);
    const ToolContext context{s.editor, Side::Top, scene, hits};
    const auto click = [&](Vec2 at) {
        const Pointer pointer{at, 20.0, 1.0, false, false};
        s.tool->press(context, pointer);
        s.tool->release(context, pointer);
    };
    click(map({100, 80}));
    REQUIRE(desk.placing->pixel);
    CHECK(geometry::distance(*desk.placing->pixel, {100, 80}) < 1e-9);
    s.tool->key(context, {Key::Right});
    click({12.1, 8.05}); // near the middle of a land
    const Photo& photo = s.editor.chart().photos[0];
    REQUIRE(photo.points.size() == 1);
    CHECK(photo.points[0].at == Vec2{12, 8});
    CHECK(geometry::distance(photo.points[0].pixel, {101, 80}) < 1e-9);
    click({-500, 0});
    CHECK_FALSE(desk.placing->pixel);
    CHECK(s.editor.notice()->text.find("beside the photo") != std::string::npos);
    s.tool->cancel(context);
    CHECK(s.tool->is_done());
}

TEST_CASE("arrows move the picked spot along the screen however the photo lies, and not out of the picture") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    const scene::Scene scene;
    const scene::HitTest hits(scene);
    // Upright, turned by half and by a quarter, mirrored; seen from the top and, mirrored once more, from the bottom.
    for (const std::vector<double>& map :
         {std::vector<double>{0.1, 0, 0, 0, 0.1, 0, 0, 0, 1}, std::vector<double>{-0.1, 0, 40, 0, -0.1, 30, 0, 0, 1},
          std::vector<double>{0, -0.1, 30, 0.1, 0, 0, 0, 0, 1}, std::vector<double>{-0.1, 0, 40, 0, 0.1, 0, 0, 0, 1}})
        for (const Side side : {Side::Top, Side::Bottom}) {
            PhotoDesk desk;
            Homography board;
            std::copy(map.begin(), map.end(), board.h.begin());
            desk.placing =
                PhotoPlacing{.photo = document::Id{"ph"}, .pixel = Vec2{200, 150}, .map = board, .size = {400, 300}};
            const std::unique_ptr<Tool> tool = make_photo_tool(desk);
            const ToolContext context{s.editor, side, scene, hits};
            const auto seen = [&] { return context.board(board(*desk.placing->pixel)); };
            for (const auto& [key, way] : {std::pair{Key::Right, Vec2{1, 0}}, std::pair{Key::Left, Vec2{-1, 0}},
                                           std::pair{Key::Up, Vec2{0, -1}}, std::pair{Key::Down, Vec2{0, 1}}}) {
                const Vec2 was = seen();
                CHECK(tool->key(context, {.key = key, .shift = true}));
                CHECK(geometry::distance(seen() - was, way) < 1e-9); // ten pixels of a tenth of a millimetre
                desk.placing->pixel = Vec2{200, 150};
            }
            for (int i = 0; i < 60; ++i)
                tool->key(context, {.key = Key::Right, .shift = true});
            const Vec2 end = *desk.placing->pixel;
            CHECK((end.x >= 0 && end.x <= 400 && end.y >= 0 && end.y <= 300));
        }
}

TEST_CASE("no record of which way a part sat comes from a photo that lies far off, and the mirror puts it right") {
    Session s;
    document::Chart chart = with_one_photo(lattice(), "a.png");
    const document::Id id{"ph"};
    // A mirrored picture taken for one that is not: three points, x the wrong way.
    chart = with_points(chart, id, {{{0, 0}, {30, 0}, {}}, {{300, 0}, {0, 0}, {}}, {{0, 100}, {30, 10}, {}}}).value();
    s.editor.start_new(chart);
    s.desks.get<PhotoDesk>().chosen = id;
    s.panel = Panel::Photos;
    s.editor.select({document::Id{"tp1"}});
    const Action& record = *find_action("photo-record");
    CHECK_FALSE(is_readable(s, s.editor.chart().photos[0]));
    CHECK_FALSE(record.enabled(s));
    CHECK(place_of(s.editor.chart().photos[0]).is_doubtful);
    REQUIRE(s.editor.commit(with_mirror(s.editor.chart(), id, true), "Mirror"));
    CHECK(is_readable(s, s.editor.chart().photos[0]));
    CHECK(record.enabled(s));
    CHECK(*place_of(s.editor.chart().photos[0]).worst_mm < 1e-9);
}

TEST_CASE("no record rests on a photo whose file is missing or another one until the person says that it is right") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));
    add_photo(s, folder, "a.png");
    const document::Id id = s.editor.chart().photos[0].id, tp1{"tp1"};
    REQUIRE(s.editor.commit(with_points(s.editor.chart(), id, {{{0, 0}, {0, 0}, {}}, {{300, 0}, {30, 0}, {}}}), "Lay"));
    s.desks.get<PhotoDesk>().chosen = id;
    s.panel = Panel::Photos;
    s.use_tool(s.resting_tool());
    s.editor.select({tp1});
    const auto read = [&] {
        update_photos(s);
        s.desks.get<PhotoDesk>().store.wait();
        update_photos(s);
    };
    const Action& record = *find_action("photo-record");
    const auto part = [&]() -> const document::Footprint& { return s.editor.chart().parts[0]; };
    REQUIRE(record.enabled(s));
    run(record, s);
    draft_place(s, part(), 7);
    REQUIRE(record_mark(s));
    const document::Orientation first = part().orientation;
    CHECK(first.evidence.photo == id);
    for (const bool missing : {true, false}) {
        CAPTURE(missing);
        if (missing)
            fs::remove(folder.path() / "a.png");
        else
            write(folder.path() / "a.png", tests::png_of(plain(400, 301)));
        s.panel = Panel::Photos;
        s.editor.select({tp1});
        read();
        CHECK_FALSE(record.enabled(s));
        // Nor does one that was begun before; what is on record stays as it is.
        s.show_stage(scene::Stage::Orient);
        s.editor.select({tp1});
        draft_place(s, part(), 3);
        CHECK_FALSE(record_mark(s));
        REQUIRE(s.editor.notice());
        CHECK(s.editor.notice()->text.find(missing ? "a.png is not there" : "a.png is not the file it was") == 0);
        CHECK(part().orientation == first);
        CHECK(record_doubt(s, part()).find("rests on a photo that is lost") != std::string::npos);
        s.orient = {};
    }
    // Without the photo it is taken.
    draft_place(s, part(), 3);
    choose_evidence_photo(s, part(), {});
    CHECK(record_mark(s));
}

TEST_CASE("a photo whose points are taken back is not placed any longer and says so") {
    const document::Id id{"ph"};
    document::Chart chart = with_one_photo(lattice(), "a.png");
    const std::vector<PhotoPoint> two{{{0, 0}, {0, 0}, {}}, {{300, 0}, {30, 0}, {}}};
    chart = with_points(chart, id, two).value();
    CHECK(analysis::placement_of(chart.photos[0]));
    chart = with_points(chart, id, {two[0]}).value();
    CHECK_FALSE(analysis::placement_of(chart.photos[0]));
    CHECK(place_of(chart.photos[0]).words == "one point so far, a second one is needed");
    chart = with_points(chart, id, {}).value();
    CHECK_FALSE(is_ground(chart.photos[0]));
    CHECK(place_of(chart.photos[0]).words == "not placed yet");
    // The ground of a chart stays where it was laid, with one point and without.
    document::Chart bare = new_chart();
    Photo ground;
    ground.id = id;
    ground.path = "a.png";
    ground.board_from_pixel = {0.1, 0, 0, 0, 0.1, 0, 0, 0, 1};
    bare = with_new_photo(bare, ground).value();
    bare = with_points(bare, id, {{{0, 0}, {5, 5}, {}}}).value();
    CHECK((*analysis::placement_of(bare.photos[0]))({0, 0}) == Vec2{5, 5});
    bare = with_points(bare, id, {}).value();
    CHECK(is_ground(bare.photos[0]));
}

TEST_CASE("another picture takes neither the place of the old one nor the pieces that were evidence") {
    const document::Id id{"ph"};
    document::Chart chart = with_one_photo(lattice(), "a.png");
    chart = with_points(chart, id, {{{0, 0}, {0, 0}, {}}, {{300, 0}, {30, 0}, {}}}).value();
    chart = document::change_part(chart, document::Id{"tp1"}, [&](document::Footprint& part) {
                part.orientation.evidence.photo = id;
                part.orientation.evidence.crop_px = {1, 2, 30, 40};
            }).value();
    Photo other = chart.photos[0];
    other.path = "b.png";
    const auto next = with_other_picture(chart, other);
    REQUIRE(next);
    CHECK(next->photos[0].path == "b.png");
    CHECK(next->photos[0].points.empty());
    CHECK_FALSE(analysis::placement_of(next->photos[0]));
    const document::Evidence& evidence =
        next->parts[*document::find_part(*next, document::Id{"tp1"})].orientation.evidence;
    CHECK(evidence.photo.is_empty());
    CHECK(evidence.crop_px.empty());
    other.locked = true;
    CHECK_FALSE(with_other_picture(chart, other));
}

TEST_CASE("a locked photo is not turned over, and one that lies the other way round than it says is doubtful") {
    const document::Id id{"ph"};
    document::Chart chart = with_one_photo(lattice(), "a.png");
    chart = with_points(chart, id, {{{0, 0}, {0, 0}, {}}, {{300, 0}, {30, 0}, {}}}).value();
    chart = with_photo(chart, id, [](Photo& photo) { photo.locked = true; }).value();
    const auto over = with_mirror(chart, id, true);
    REQUIRE_FALSE(over);
    CHECK(over.error().message.find("is locked in its place") != std::string::npos);
    // A file that says so all the same.
    chart = with_photo(chart, id, [](Photo& photo) { photo.mirrored = true; }).value();
    CHECK(place_of(chart.photos[0]).is_doubtful);
    const Diagnostics doubts = analysis::placement_doubts(chart.photos[0], true);
    REQUIRE(doubts.size() == 1);
    CHECK(doubts[0].code == "photo-mirrored");
}

TEST_CASE("two points and four have no spare one that could show how far off they are") {
    document::Chart chart = with_one_photo(new_chart(), "a.png");
    const document::Id id{"ph"};
    const std::vector<PhotoPoint> all{{{0, 0}, {0, 0}, {}},
                                      {{100, 0}, {10, 0}, {}},
                                      {{100, 100}, {10, 10}, {}},
                                      {{0, 100}, {0, 10}, {}},
                                      {{50, 30}, {5, 3}, {}}};
    for (const std::size_t count : {2U, 3U, 4U, 5U}) {
        const auto placed = with_points(chart, id, {all.begin(), all.begin() + static_cast<std::ptrdiff_t>(count)});
        const PhotoPlace place = place_of(placed->photos[0]);
        CHECK(place.worst_mm.has_value() == (count == 3 || count == 5));
        CHECK(place.tilt_deg.has_value() == (count >= 4));
    }
}

TEST_CASE("all photos that need a look are told of when a chart is opened") {
    const ScratchFolder folder;
    Session s;
    document::Chart chart = with_one_photo(new_chart(), "gone.png");
    Photo other;
    other.id = document::Id{"ph2"};
    other.path = "lost.png";
    chart = document::put(chart, other).value();
    for (const document::Id& id : {document::Id{"ph"}, document::Id{"ph2"}})
        chart = with_points(chart, id, {{{0, 0}, {0, 0}, {}}, {{100, 0}, {10, 0}, {}}}).value();
    s.editor.start_new(chart);
    REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));
    const PhotoStore& store = s.desks.get<PhotoDesk>().store;
    do { // frame by frame, as the window does: they come one after the other
        update_photos(s);
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    } while (store.is_busy());
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text.find("gone.png") != std::string::npos);
    CHECK(s.editor.notice()->text.find("lost.png") != std::string::npos);
}

TEST_CASE("a photo that is locked while it is laid down asks for no more points") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    add_photo(s, folder, "top.png");
    REQUIRE(s.desks.get<PhotoDesk>().placing);
    run(*find_action("lock-photo"), s);
    update_photos(s);
    CHECK_FALSE(s.desks.get<PhotoDesk>().placing);
    CHECK(s.tool->is_selecting());
}

TEST_CASE("a chart saved in another folder still names its photos") {
    const document::Chart chart = with_one_photo(new_chart(), "photos/a.png");
    CHECK(with_photos_seen_from(chart, "/bench/one", "/bench/two").photos[0].path == "../one/photos/a.png");
    CHECK(with_photos_seen_from(chart, "/bench/one", "/bench/one/photos").photos[0].path == "a.png");
}

TEST_CASE("a hidden photo is seen while it is laid down, says so, and to hide it then is to be done with it") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    add_photo(s, folder, "top.png");
    const auto photo = [&]() -> const Photo& { return s.editor.chart().photos[0]; };
    s.desks.get<PhotoDesk>().chosen = photo().id;
    REQUIRE(is_in_hand(s, photo()));
    run(*find_action("hide-photo"), s);
    update_photos(s);
    CHECK(photo().hidden);
    CHECK_FALSE(is_in_hand(s, photo()));
    CHECK(s.tool->is_selecting());
    CHECK(photos_on_show(s).empty());
    CHECK(hidden_words(s, photo()) == "hidden");
    begin_placing(s, photo().id);
    CHECK(photos_on_show(s).size() == 1);
    CHECK(hidden_words(s, photo()) == "hidden; shown while it is placed");
    run(*find_action("hide-photo"), s); // the other way round it stays in hand
    CHECK_FALSE(photo().hidden);
    CHECK(is_in_hand(s, photo()));
    CHECK(hidden_words(s, photo()).empty());
}

namespace {

/// Five points on a flat map of 10 px to the millimetre, the last of them off by so much.
std::vector<PhotoPoint> five_points(double off_mm) {
    return {{{0, 0}, {0, 0}, {}},
            {{300, 0}, {30, 0}, {}},
            {{300, 150}, {30, 15}, {}},
            {{0, 150}, {0, 15}, {}},
            {{150, 75}, {15, 7.5 + off_mm}, {}}};
}

} // namespace

TEST_CASE("a photo that does not lie where its points say has words on the board, an edge, and counts as doubtful") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    add_photo(s, folder, "top.png");
    const document::Id id = s.editor.chart().photos[0].id;
    const auto place = [&](double off_mm) {
        REQUIRE(s.editor.commit(with_points(s.editor.chart(), id, five_points(off_mm)), "Place"));
        s.panel = Panel::Stage; // the panel of photos is shut
        update_photos(s);
        scene::Scene words;
        add_photo_words(s, words);
        return words;
    };
    const scene::Scene doubtful = place(3.0);
    REQUIRE(doubtful.texts.size() == 1);
    CHECK(doubtful.texts[0].text == "top.png does not lie where its points say: nothing may be read off it");
    CHECK(doubtful.lines.size() == 1);
    CHECK(doubtful_photos(s) == 1);
    CHECK(place(0.0).texts.empty());
    CHECK(doubtful_photos(s) == 0);
    REQUIRE(s.editor.commit(with_points(s.editor.chart(), id, five_points(3.0)), "Place"));
    run(*find_action("photos"), s);
    s.desks.get<PhotoDesk>().chosen = id;
    run(*find_action("hide-photo"), s);
    CHECK(doubtful_photos(s) == 0); // nobody sees it
}

TEST_CASE("a photo that is not placed says what is missing: points on a chart with a scale, the scale on one without") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(lattice());
    add_photo(s, folder, "top.png");
    const auto words = [&] {
        scene::Scene overlay;
        add_photo_words(s, overlay);
        REQUIRE(overlay.texts.size() == 1);
        return overlay.texts[0].text;
    };
    CHECK(words() == "top.png is not placed: two points must be given");
    const document::Id id = s.editor.chart().photos[0].id;
    REQUIRE(s.editor.commit(with_points(s.editor.chart(), id, {{{0, 0}, {0, 0}, {}}}), "Point"));
    CHECK(words() == "top.png is not placed: a second point must be given");
    document::Chart bare = s.editor.chart();
    bare.scale.reset();
    REQUIRE(s.editor.commit(bare, "No scale"));
    CHECK(words() == "top.png is not placed: what is drawn over it is not in true mm");
}

TEST_CASE("how far off straight a photo was taken is told as surely as its points fit") {
    document::Chart chart = with_one_photo(new_chart(), "a.png");
    chart.scale = document::Scale{};
    const auto words = [&](std::vector<PhotoPoint> points) {
        const Photo photo = with_points(chart, document::Id{"ph"}, std::move(points))->photos[0];
        return tilt_words(photo, place_of(photo));
    };
    std::vector<PhotoPoint> four = five_points(0.0);
    four.pop_back();
    CHECK(words(five_points(0.0)) == "about 0° off straight above");
    CHECK(words(four) == "about 0° off, if the points are right");
    CHECK(words(five_points(3.0)).empty());
    four.pop_back();
    CHECK(words(four).empty());
}
