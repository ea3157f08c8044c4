// Writes a photograph of a chart as a file, and where it was taken from.
// Usage: make_photo CHART FILE.jpg|png WIDTH HEIGHT TILT_DEG TURN_DEG [mirrored] [bottom]
// Prints the nine numbers of the map from the board, mm, to the picture's pixels.

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>
#include <vector>

#include "scene/chart_scene.hpp"
#include "support/photo_maker.hpp"
#include "json/chart_file.hpp"

using namespace padchart;

int main(int count, char** words) {
    const std::vector<std::string> word(words, words + count);
    if (count < 7) return 2;
    const auto chart = json::load_chart(word[1]);
    if (!chart) {
        std::fprintf(stderr, "%s\n", describe(chart.error()).c_str());
        return 2;
    }
    const auto says = [&](const char* what) { return std::find(word.begin() + 7, word.end(), what) != word.end(); };
    tests::Shot shot;
    shot.width = std::atoi(words[3]);
    shot.height = std::atoi(words[4]);
    shot.side = says("bottom") ? document::Side::Bottom : document::Side::Top;
    scene::ViewOptions options;
    options.show_zones = false;
    const geometry::Box board = scene::chart_scene(*chart, {}, options).bounds;
    shot.pixel_from_board = tests::camera_over(board, shot.width, shot.height, std::atof(words[5]), std::atof(words[6]),
                                               says("mirrored") != says("bottom"));
    const paint::Pixels pixels = tests::photograph(*chart, shot);
    const std::string bytes = word[2].ends_with(".png") ? tests::png_of(pixels) : tests::jpeg_of(pixels);
    std::ofstream(word[2], std::ios::binary) << bytes;
    for (const double h : shot.pixel_from_board.h)
        std::printf("%.12g ", h);
    std::printf("\n");
    return 0;
}
