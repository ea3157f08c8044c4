// A frame of the whole window, panels included, with a photo of 8000 x 6000 px under the demo chart, beside the same
// frame with the photo hidden, at 1600 x 1000: panned, and zoomed from the whole chart to 20 times as near. Lower
// quartiles of many frames and the slowest of ten, display and glFinish included. Needs a display.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <vector>

#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/OpenGL.hpp>
#include <sys/resource.h>

#include "app/documents.hpp"
#include "app/frame_watch.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"
#include "app/shell.hpp"
#include "scene/chart_scene.hpp"
#include "support/photo_maker.hpp"
#include "support/places.hpp"
#include "json/chart_file.hpp"

namespace {

using namespace padchart;
using geometry::Vec2;
namespace fs = std::filesystem;

constexpr unsigned kWidth = 1600, kHeight = 1000;
constexpr int kFrames = 60;

double ms_since(std::chrono::steady_clock::time_point began) {
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - began).count();
}

/// The demo chart with a photo of it, taken through a tilted camera, beside it.
Result<fs::path> chart_with_photo(const fs::path& folder) {
    Result<document::Chart> chart = json::load_chart(tests::source_folder() / "demo/river-logger.chart.json");
    if (!chart) return chart.error();
    scene::ViewOptions options;
    options.show_zones = false;
    tests::Shot shot;
    shot.width = 8000;
    shot.height = 6000;
    shot.pixel_from_board =
        tests::camera_over(scene::chart_scene(*chart, {}, options).bounds, shot.width, shot.height, 12, 5, false);
    std::ofstream(folder / "top.jpg", std::ios::binary) << tests::jpeg_of(tests::photograph(*chart, shot));
    document::Photo photo;
    photo.id = document::Id{"photo"};
    photo.path = "top.jpg";
    const auto& h = shot.pixel_from_board.inverse().h;
    photo.board_from_pixel.assign(h.begin(), h.end());
    chart->photos.add(std::move(photo));
    const fs::path path = folder / "board.chart.json";
    if (Result<void> saved = json::save_chart(*chart, path); !saved) return saved.error();
    return path;
}

struct Times {
    double typical = 0.0, slow = 0.0; ///< ms
};

Times times_of(std::vector<double> frames) {
    std::sort(frames.begin(), frames.end());
    return {frames[frames.size() / 4], frames[frames.size() * 9 / 10]};
}

class Bench {
public:
    explicit Bench(sf::RenderWindow& window) : window_(window) {}

    Result<void> set_up(const fs::path& chart) {
        if (Result<void> ready = shell_.set_up("paper", 1.0); !ready) return ready;
        if (Result<void> opened = app::open_chart(session(), chart.string()); !opened) return opened;
        session().wants_fit = true;
        const auto began = std::chrono::steady_clock::now();
        app::PhotoDesk& photos = session().desks.get<app::PhotoDesk>();
        do
            frame();
        while (photos.store.is_busy());
        const auto loaded = app::loaded_photo(session(), session().editor.chart().photos[0]);
        if (!loaded || !loaded->has_picture()) return Error{"the photo is not read", ""};
        std::printf("read within %.0f ms; %d x %d px kept at 1/%d as %.0f MB of pixels\n", ms_since(began),
                    loaded->full.width, loaded->full.height, 1 << loaded->reduced_by,
                    static_cast<double>(photos.store.bytes()) / 1e6);
        return {};
    }

    app::Session& session() { return shell_.session(); }

    double frame() {
        const auto began = std::chrono::steady_clock::now();
        window_.setActive(true);
        (void)shell_.wants_frame(); // what the window does between frames belongs to them
        shell_.frame(window_, watch_);
        window_.display();
        glFinish();
        return ms_since(began);
    }

    void show_photo(bool shown) {
        auto next = app::with_photo(session().editor.chart(), document::Id{"photo"},
                                    [&](document::Photo& photo) { photo.hidden = !shown; });
        session().editor.commit(std::move(next), "Show or hide");
        look(1.0);
    }

    /// From the whole chart so many times nearer, and what is to be made once made.
    void look(double nearer) {
        session().wants_fit = true;
        for (int i = 0; i < 4; ++i)
            frame();
        session().camera.zoom_at(session().camera.viewport().centre(), nearer);
        for (int i = 0; i < 20; ++i)
            frame();
    }

    Times pan(double nearer) {
        look(nearer);
        std::vector<double> times;
        for (int i = 0; i < kFrames; ++i) {
            session().camera.pan(i < kFrames / 2 ? Vec2{5, 3} : Vec2{-5, -3});
            times.push_back(frame());
        }
        return times_of(std::move(times));
    }

    Times zoom() {
        look(1.0);
        std::vector<double> times;
        for (int i = 0; i < kFrames; ++i) {
            session().camera.zoom_at(session().camera.viewport().centre(), 1.05);
            times.push_back(frame());
        }
        return times_of(std::move(times));
    }

private:
    sf::RenderWindow& window_;
    app::Shell shell_;
    app::FrameWatch watch_;
};

template <class Move>
void compare(Bench& bench, const char* name, Move move) {
    bench.show_photo(false);
    const Times without = move();
    bench.show_photo(true);
    const Times with = move();
    std::printf("%-24s without %6.2f ms (slow ones %6.2f)  with %6.2f ms (slow ones %6.2f)  x %.2f\n", name,
                without.typical, without.slow, with.typical, with.slow, with.typical / without.typical);
}

int run(const fs::path& folder) {
    const Result<fs::path> chart = chart_with_photo(folder);
    if (!chart) return std::printf("%s\n", describe(chart.error()).c_str()), 2;
    sf::RenderWindow window(sf::VideoMode(kWidth, kHeight), "photo benchmark", sf::Style::None);
    Bench bench(window);
    if (const Result<void> ready = bench.set_up(*chart); !ready)
        return std::printf("%s\n", describe(ready.error()).c_str()), 2;
    std::puts("a frame of the window, photo of 8000 x 6000 px under the demo chart, beside the photo hidden");
    for (const double nearer : {1.0, 4.0, 16.0}) {
        char name[32];
        std::snprintf(name, sizeof name, "panned, zoom %.0f", nearer);
        compare(bench, name, [&] { return bench.pan(nearer); });
    }
    compare(bench, "zoomed in by 5 % a frame", [&] { return bench.zoom(); });
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("most memory of the process: %.0f MB, making the photo included\n",
                static_cast<double>(usage.ru_maxrss) / 1024.0);
    return 0;
}

} // namespace

int main() {
    std::string name = (fs::temp_directory_path() / "padchart-photo-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) return 2;
    setenv("XDG_CONFIG_HOME", name.c_str(), 1);
    const int status = run(name);
    std::error_code ignored;
    fs::remove_all(name, ignored);
    return status;
}
