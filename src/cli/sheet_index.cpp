#include "cli/sheet_index.hpp"
#include "base/counted.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <ostream>

#include "base/disk_file.hpp"
#include "cli/check_folder.hpp"
#include "cli/compared.hpp"
#include "cli/page_pictures.hpp"
#include "cli/shared.hpp"
#include "page/index.hpp"
#include "page/page.hpp"
#include "scene/words.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

namespace fs = std::filesystem;

struct Places {
    fs::path folder; ///< of the charts
    fs::path index;  ///< the file to write
    fs::path pages;  ///< folder beside it for the pages: "index-pages"

    [[nodiscard]] std::string from_index(const fs::path& path) const {
        return fs::absolute(path)
            .lexically_normal()
            .lexically_relative(fs::absolute(index).lexically_normal().parent_path())
            .generic_string();
    }
};

constexpr std::string_view kChartEnding = ".chart.json";

fs::path without_ending(const fs::path& chart) {
    std::string text = chart.string();
    text.resize(text.size() - kChartEnding.size());
    return text;
}

/// What lies beside the chart already.
void add_links_beside(const Places& places, const fs::path& chart, page::IndexEntry& entry) {
    for (const auto& [ending, label] : {std::pair{".pdf", "PDF"}, std::pair{".svg", "SVG"}, std::pair{".png", "PNG"}}) {
        const fs::path beside = without_ending(chart).string() + ending;
        std::error_code ignored;
        if (fs::exists(beside, ignored)) entry.links.push_back({label, places.from_index(beside)});
    }
}

Result<void> write_page(const Places& places, const std::string& name, const std::string& bytes,
                        const document::Chart& chart, page::IndexEntry& entry) {
    const fs::path path = places.pages / (without_ending(name).string() + ".html");
    std::error_code fault;
    fs::create_directories(path.parent_path(), fault);
    if (fault) return Error{"the folder cannot be made: " + fault.message(), path.parent_path().string()};
    page::HandOverReports reports = page::hand_over_reports(chart, true);
    reports.compared = compared_with_before(chart, places.folder / name);
    page::PageInput input{chart, reports, bytes, fs::path(name).filename().string()};
    input.evidence = evidence_for_page(chart, places.folder / name);
    const std::string html = page::one_file_page(input);
    if (Result<void> done = replace_file(path, html); !done) return done;
    entry.links.insert(entry.links.begin(), {"page", places.from_index(path)});
    for (const analysis::PartFit& fit : reports.fit.parts)
        if (fit.needs_record && !fit.has_record) ++entry.unrecorded;
    return {};
}

void count_parts(const document::Chart& chart, page::IndexEntry& entry) {
    for (const document::Footprint& part : chart.parts) {
        ++(part.placement.side == document::Side::Top ? entry.top_parts : entry.bottom_parts);
        if (scene::is_absent(part)) ++entry.absent;
    }
}

Result<page::IndexEntry> entry_of(const Places& places, const CheckedFile& file) {
    page::IndexEntry entry;
    entry.name = file.name;
    const fs::path path = places.folder / file.name;
    entry.links.push_back({"chart", places.from_index(path)});
    const Result<std::string> bytes = json::load_chart_text(path);
    const Result<document::Chart> chart = bytes ? json::read_chart(*bytes) : Result<document::Chart>(bytes.error());
    if (!chart || !file.chart) {
        // Without the machine's own path: the index is handed on.
        entry.error = !bytes ? bytes.error().message : describe(chart ? *file.error : chart.error());
        return entry;
    }
    entry.title = chart->title;
    entry.findings = file.chart->findings;
    count_parts(*chart, entry);
    if (const Result<void> done = write_page(places, file.name, *bytes, *chart, entry); !done) return done.error();
    add_links_beside(places, path, entry);
    return entry;
}

bool has_warnings(const page::IndexEntry& entry) {
    return entry.error || exit_code_of(entry.findings) == kFindings;
}

} // namespace

int run_sheet_index(const Arguments& arguments, Streams streams) {
    if (arguments.has("CHART")) return fail(streams, Error{"--all FOLDER takes the place of CHART", "sheet"});
    Places places{arguments.text("all"), arguments.text("output"), {}};
    if (lower_case(places.index.extension().string()) != ".html")
        return fail(streams, Error{"the index of a folder is a page: right would be a name like index.html",
                                   places.index.string()});
    places.pages = places.index.parent_path() / (places.index.stem().string() + "-pages");
    const Result<std::vector<CheckedFile>> files = checked_folder(places.folder);
    if (!files) return fail(streams, files.error());
    std::vector<page::IndexEntry> entries;
    for (const CheckedFile& file : *files) {
        Result<page::IndexEntry> entry = entry_of(places, file);
        if (!entry) return fail(streams, entry.error());
        entries.push_back(std::move(*entry));
    }
    const std::string folder = fs::absolute(places.folder).lexically_normal().filename().string();
    const std::string heading = folder.empty() ? "Charts" : "Charts in " + folder;
    if (const Result<void> done = replace_file(places.index, page::index_page(heading, entries)); !done)
        return fail(streams, done.error());
    const auto broken = std::count_if(entries.begin(), entries.end(),
                                      [](const page::IndexEntry& entry) { return entry.error.has_value(); });
    streams.out << fmt::format("{}, {}, {} could not be read\n", places.index.string(),
                               counted(entries.size(), "chart"), broken);
    return std::any_of(entries.begin(), entries.end(), has_warnings) ? kFindings : kFine;
}

} // namespace padchart::cli
