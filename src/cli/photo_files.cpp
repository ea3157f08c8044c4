#include "cli/photo_files.hpp"

#include "analysis/photo_file.hpp"
#include "cli/shared.hpp"

namespace padchart::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t kLargest = std::uintmax_t{256} << 20U;

analysis::PhotoFacts facts_of(const fs::path& path) {
    analysis::PhotoFacts facts;
    std::error_code fault;
    const std::uintmax_t size = fs::file_size(path, fault);
    if (fault) return facts;
    facts.is_there = true;
    if (size > kLargest) {
        facts.unreadable = "is a file of more than 256 MB; right would be a smaller one";
        return facts;
    }
    const Result<std::string> bytes = read_file(path);
    if (bytes) return analysis::photo_facts(std::string_view(*bytes));
    facts.unreadable = bytes.error().message;
    return facts;
}

} // namespace

Diagnostics photo_findings_beside(const fs::path& chart_file, const document::Photo& photo) {
    const fs::path folder = fs::absolute(chart_file).parent_path();
    return analysis::photo_findings(photo, facts_of(folder / photo.path));
}

Diagnostics photo_findings_beside(const fs::path& chart_file, const document::Chart& chart) {
    Diagnostics findings;
    for (const document::Photo& photo : chart.photos) {
        const Diagnostics own = photo_findings_beside(chart_file, photo);
        findings.insert(findings.end(), own.begin(), own.end());
    }
    return findings;
}

} // namespace padchart::cli
