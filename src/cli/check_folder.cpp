#include "cli/check_folder.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <thread>

#include "analysis/check.hpp"
#include "base/plain_text.hpp"
#include "cli/frozen.hpp"
#include "cli/photo_files.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kEnding = ".chart.json";

bool is_hidden(const fs::path& path) {
    const std::string name = path.filename().string();
    return name.size() > 1 && name.front() == '.';
}

std::vector<fs::path> charts_below(const fs::path& folder) {
    std::vector<fs::path> out;
    std::error_code fault;
    fs::recursive_directory_iterator at(folder, fs::directory_options::skip_permission_denied, fault);
    for (; !fault && at != fs::recursive_directory_iterator(); at.increment(fault)) {
        std::error_code ignored;
        if (at->is_directory(ignored)) {
            if (is_hidden(at->path())) at.disable_recursion_pending();
        } else if (at->path().filename().string().ends_with(kEnding)) {
            out.push_back(at->path());
        }
    }
    std::sort(out.begin(), out.end());
    return out;
}

CheckedFile checked_file(const fs::path& path, const fs::path& folder) {
    CheckedFile file;
    file.name = path.lexically_relative(folder).generic_string();
    Result<CheckedChart> chart = checked_chart(path);
    if (chart)
        file.chart = std::move(*chart);
    else
        file.error = chart.error();
    return file;
}

/// XML 1.0, section 2.2 and 2.4: what may not stand in it is left out, what means something is escaped.
std::string xml_text(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x80U) {
            const std::size_t length = utf8_length(text, i);
            out += length == 0 ? "\xEF\xBF\xBD" : std::string(text.substr(i, length));
            i += std::max<std::size_t>(length, 1) - 1;
        } else if (c == '&')
            out += "&amp;";
        else if (c == '<')
            out += "&lt;";
        else if (c == '>')
            out += "&gt;";
        else if (c == '"')
            out += "&quot;";
        else if (byte >= 0x20U || c == '\t' || c == '\n')
            out += c;
    }
    return out;
}

bool fails(const Diagnostic& finding) {
    return finding.severity != Severity::Note;
}

std::string junit_case(const CheckedFile& file) {
    std::string out = fmt::format("    <testcase classname=\"check\" name=\"{}\">\n", xml_text(file.name));
    if (file.error)
        out += fmt::format("      <error type=\"unreadable\" message=\"{}\"/>\n", xml_text(describe(*file.error)));
    if (file.chart)
        for (const Diagnostic& finding : file.chart->findings)
            if (fails(finding))
                out += fmt::format("      <failure type=\"{}\" message=\"{}\"/>\n", xml_text(finding.code),
                                   xml_text(finding.message));
    return out + "    </testcase>\n";
}

} // namespace

Result<CheckedChart> checked_chart(const fs::path& path) {
    const Result<document::Chart> chart = json::load_chart(path);
    if (!chart) return chart.error();
    CheckedChart out;
    out.parts = chart->parts.size();
    out.findings = analysis::check(*chart, analysis::clearance(*chart), analysis::fit(*chart));
    const Diagnostics before = before_findings(*chart, path);
    out.findings.insert(out.findings.end(), before.begin(), before.end());
    const Diagnostics photos = photo_findings_beside(path, *chart);
    out.findings.insert(out.findings.end(), photos.begin(), photos.end());
    return out;
}

std::size_t CheckedFile::count(Severity severity) const {
    if (!chart) return 0;
    return static_cast<std::size_t>(
        std::count_if(chart->findings.begin(), chart->findings.end(),
                      [severity](const Diagnostic& finding) { return finding.severity == severity; }));
}

Result<std::vector<CheckedFile>> checked_folder(const fs::path& folder) {
    std::error_code ignored;
    if (!fs::is_directory(folder, ignored)) return Error{"is no folder that can be opened", folder.string()};
    const std::vector<fs::path> paths = charts_below(folder);
    if (paths.empty()) return Error{"no file below it ends with " + std::string(kEnding), folder.string()};
    std::vector<CheckedFile> files(paths.size());
    std::atomic<std::size_t> next = 0;
    const auto work = [&] {
        for (std::size_t i = next++; i < paths.size(); i = next++)
            files[i] = checked_file(paths[i], folder);
    };
    const std::size_t count = std::min<std::size_t>(paths.size(), std::max(1U, std::thread::hardware_concurrency()));
    std::vector<std::jthread> threads;
    for (std::size_t i = 1; i < count; ++i)
        threads.emplace_back(work);
    work();
    threads.clear(); // waits for all
    return files;
}

std::string junit_xml(const std::vector<CheckedFile>& files) {
    std::size_t failures = 0;
    std::size_t errors = 0;
    std::string cases;
    for (const CheckedFile& file : files) {
        cases += junit_case(file);
        if (file.error) ++errors;
        if (file.count(Severity::Warning) + file.count(Severity::Fault) > 0) ++failures;
    }
    return fmt::format("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites>\n"
                       "  <testsuite name=\"padchart check\" tests=\"{}\" failures=\"{}\" errors=\"{}\">\n{}"
                       "  </testsuite>\n</testsuites>\n",
                       files.size(), failures, errors, cases);
}

} // namespace padchart::cli
