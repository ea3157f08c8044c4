// `padchart photo`: a photograph laid on a chart by points found in both, and a look whether the files are still there.

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <ostream>

#include "analysis/photo_doubts.hpp"
#include "analysis/photo_file.hpp"
#include "analysis/registration.hpp"
#include "base/counted.hpp"
#include "cli/photo_files.hpp"
#include "cli/photo_over.hpp"
#include "cli/scale_options.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

using analysis::PointMatch;

/// "px,py=x,y; px,py=x,y"
Result<std::vector<PointMatch>> points_of(const std::string& text) {
    std::vector<PointMatch> points;
    std::string_view rest = text;
    while (!rest.empty()) {
        std::string_view one = rest.substr(0, rest.find(';'));
        rest.remove_prefix(std::min(rest.size(), one.size() + 1));
        const std::size_t from = one.find_first_not_of(' ');
        if (from == std::string_view::npos) continue;
        one = one.substr(from, one.find_last_not_of(' ') + 1 - from);
        const std::size_t equals = one.find('=');
        if (equals == std::string_view::npos)
            return Error{fmt::format("\"{}\" is not PX,PY=X,Y; right would be one like 812,340=4.3,4.3", one),
                         "--points"};
        const Result<std::vector<double>> pixel = numbers_of(one.substr(0, equals), 2, "--points");
        if (!pixel) return pixel.error();
        const Result<std::vector<double>> board = numbers_of(one.substr(equals + 1), 2, "--points");
        if (!board) return board.error();
        points.push_back({{(*pixel)[0], (*pixel)[1]}, {(*board)[0], (*board)[1]}});
    }
    return points;
}

/// From the chart file to the photo, so that both may move together.
std::string way_to(const std::filesystem::path& photo, const std::filesystem::path& chart) {
    const auto folder = std::filesystem::absolute(chart).parent_path();
    const auto way = std::filesystem::absolute(photo).lexically_relative(folder);
    return (way.empty() ? photo : way).generic_string();
}

document::Id id_for(const document::Chart& chart, const std::string& path) {
    for (const document::Photo& photo : chart.photos)
        if (photo.path == path) return photo.id; // placed anew
    return document::free_id(chart, "photo", path);
}

document::Photo photo_with_id(const document::Chart& chart, const document::Id& id) {
    for (const document::Photo& photo : chart.photos)
        if (photo.id == id) return photo;
    document::Photo photo;
    photo.id = id;
    return photo;
}

void check_inside(const std::vector<PointMatch>& points, const analysis::PhotoHeader& header, Diagnostics& findings) {
    for (std::size_t i = 0; i < points.size(); ++i) {
        const geometry::Vec2 p = points[i].pixel;
        if (p.x >= 0.0 && p.y >= 0.0 && p.x <= header.width && p.y <= header.height) continue;
        findings.push_back({Severity::Warning,
                            "point-outside-photo",
                            fmt::format("point {} at {:g}, {:g} lies outside of the picture, which has {} x {} pixels",
                                        i + 1, p.x, p.y, header.width, header.height),
                            {},
                            {}});
    }
}

/// The points fit, but for the picture being the other way round than was said.
std::string mirror_words(const analysis::PhotoView& view) {
    const std::string other = view.side == document::Side::Top ? "bottom" : "top";
    return fmt::format("; the points {} a mirror image: {}, or --side {} if it shows the other side",
                       view.mirrored ? "do not lie as in" : "lie as in",
                       view.mirrored ? "leave --mirrored out" : "say so with --mirrored", other);
}

/// What the points say of the camera holds no better than they fit.
std::string tilt_words(const analysis::PhotoPlacement& placement, const analysis::PhotoView& view, bool is_checked) {
    if (std::any_of(placement.findings.begin(), placement.findings.end(),
                    [](const Diagnostic& finding) { return finding.code == "photo-mirrored"; }))
        return mirror_words(view);
    if (!placement.tilt_deg) return "; how far off straight it was taken is told by four points only";
    if (std::any_of(placement.findings.begin(), placement.findings.end(), analysis::speaks_against_place))
        return "; how far off straight it was taken cannot be told: the points do not fit";
    return fmt::format("; taken about {:.0f} degrees off straight{}", *placement.tilt_deg,
                       is_checked ? "" : " if the points are right");
}

void print_placement(const analysis::PhotoPlacement& placement, const std::vector<PointMatch>& points,
                     const analysis::PhotoView& view, Streams streams) {
    const char* unit = view.in_mm ? "mm" : "units";
    // Two points and four always fit: that they are off by nothing tells nothing.
    const bool is_checked = points.size() != 2 && points.size() != 4;
    for (std::size_t i = 0; i < points.size(); ++i)
        streams.out << fmt::format("point {}: {:g}, {:g} -> {:g}, {:g} {}{}\n", i + 1, points[i].pixel.x,
                                   points[i].pixel.y, points[i].board.x, points[i].board.y, unit,
                                   is_checked ? fmt::format(", off by {:.3f} {}", placement.residual_mm[i], unit) : "");
    streams.out << (is_checked ? fmt::format("rms {:.3f} {}", placement.rms_mm, unit)
                               : std::string("no spare point to check by"))
                << tilt_words(placement, view, is_checked)
                << (placement.mirrored ? "; mirrored against the board frame\n" : "\n");
}

Result<analysis::PhotoView> view_of(const Arguments& arguments) {
    analysis::PhotoView view;
    const auto side = document::from_text<document::Side>(arguments.text("side", "top"));
    if (!side) return Error{"is no side; right would be top or bottom", "--side"};
    view.side = *side;
    view.mirrored = arguments.has("mirrored");
    return view;
}

int add_photo(const document::Chart& old_chart, const Arguments& arguments, Streams streams) {
    const std::string output = arguments.text("output");
    if (output.empty()) return fail(streams, {"where to write the chart is not said; right would be -o OUT", {}});
    const document::Chart chart = seen_from(old_chart, arguments.text("CHART"), output);
    const std::string file = arguments.text("add");
    const Result<std::string> bytes = read_file(file);
    if (!bytes) return fail(streams, bytes.error());
    const Result<analysis::PhotoHeader> header = analysis::read_photo_header(*bytes);
    if (!header) return fail(streams, {header.error().message, file});
    const Result<analysis::PhotoView> view = view_of(arguments);
    if (!view) return fail(streams, view.error());
    const std::string path = way_to(file, output);
    document::Photo photo = photo_with_id(chart, id_for(chart, path));
    photo.path = path;
    photo.side = view->side;
    photo.mirrored = view->mirrored;
    if (arguments.has("donor")) photo.board = document::WhichBoard::Donor;
    photo.checksum = analysis::photo_checksum(*bytes);
    Diagnostics findings;
    if (arguments.has("points")) {
        const Result<std::vector<PointMatch>> points = points_of(arguments.text("points"));
        if (!points) return fail(streams, points.error());
        analysis::PhotoView seen = *view;
        seen.in_mm = chart.scale.has_value();
        const Result<analysis::PhotoPlacement> placement = analysis::place_photo(*points, seen);
        if (!placement) return fail(streams, {placement.error().message, "--points"});
        photo.board_from_pixel = analysis::numbers_of(placement->board_from_pixel);
        photo.points.clear();
        for (const PointMatch& point : *points)
            photo.points.push_back({point.pixel, point.board, {}});
        check_inside(*points, *header, findings);
        findings.insert(findings.end(), placement->findings.begin(), placement->findings.end());
        print_placement(*placement, *points, seen, streams);
    }
    const Diagnostics own = analysis::photo_findings(photo, facts_down_to_pixels(*bytes));
    findings.insert(findings.end(), own.begin(), own.end());
    const Result<document::Chart> next = document::put(chart, photo);
    if (!next) return fail(streams, next.error());
    if (const auto refusal = would_overwrite(arguments)) return fail(streams, *refusal);
    if (const auto saved = json::save_chart(*next, output); !saved) return fail(streams, saved.error());
    streams.out << fmt::format("{}: {}, {} x {} pixels, {}\n", output, photo.path, header->width, header->height,
                               photo.board_from_pixel.empty() ? "not placed yet" : "placed");
    print(streams.err, findings);
    return exit_code_of(findings);
}

int check_photos(const document::Chart& chart, const Arguments& arguments, Streams streams) {
    Diagnostics findings;
    for (const document::Photo& photo : chart.photos) {
        Diagnostics own = photo_findings_beside(arguments.text("CHART"), photo);
        for (Diagnostic doubt : analysis::placement_doubts(photo, chart.scale.has_value())) {
            doubt.message = photo.path + ": " + doubt.message;
            own.push_back(std::move(doubt));
        }
        findings.insert(findings.end(), own.begin(), own.end());
        if (!arguments.has("json"))
            streams.out << fmt::format("{}: {}\n", photo.path,
                                       own.empty() ? "fine" : counted(own.size(), "finding") + ", see below");
    }
    if (arguments.has("json")) {
        json::JsonWriter out;
        out.begin_object().member("photos", chart.photos.size()).key("findings");
        write_findings(out, findings);
        out.end_object();
        streams.out << std::move(out).str();
    } else if (chart.photos.empty()) {
        streams.out << "the chart has no photos\n";
    }
    print(streams.err, findings);
    return exit_code_of(findings);
}

int run_photo(const Arguments& arguments, Streams streams) {
    if (arguments.has("add") + arguments.has("check") + arguments.has("over") != 1)
        return fail(streams, {"right would be one of --add FILE, --check and --over PHOTO", {}});
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    if (arguments.has("over")) return write_chart_over_photo(*chart, arguments, streams);
    return arguments.has("add") ? add_photo(*chart, arguments, streams) : check_photos(*chart, arguments, streams);
}

} // namespace

Command photo_command() {
    return {
        "photo",
        "lay a photograph under a chart, or look whether its photographs are still there",
        "Points are PX,PY=X,Y: a pixel and the same spot on the board in mm. Two points take the picture as seen "
        "straight from above; four or more take out the angle it was taken at. Prints how far each point is off.",
        "padchart photo demo/river-logger.chart.json --check",
        {chart_positional(),
         {"--add", OptionKind::Text, "the JPEG or PNG file to add, or to place anew"},
         {"--points", OptionKind::Text, "\"PX,PY=X,Y; PX,PY=X,Y; ...\": spots found in picture and chart"},
         {"--side", OptionKind::Text, "the side it shows; usual top", false, {"top", "bottom"}},
         {"--mirrored", OptionKind::Flag, "the picture itself is a mirror image"},
         {"--donor", OptionKind::Flag, "it shows a donor board: the same places of another board"},
         {"--over", OptionKind::Text,
          "write a picture of the chart over this photo of its own, as it was taken: which part to lift off a donor"},
         {"--select", OptionKind::Text, "with --over: the part to frame, by name"},
         {"-o,--output", OptionKind::Text, "the chart file to write; with --over the PNG file"},
         force_flag(),
         {"--check", OptionKind::Flag, "look at every photo of the chart: there, unchanged, placed"},
         json_flag()},
        run_photo};
}

} // namespace padchart::cli
