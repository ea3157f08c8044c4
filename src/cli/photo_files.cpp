#include "cli/photo_files.hpp"

#include "analysis/photo_file.hpp"
#include "cli/shared.hpp"

namespace padchart::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t kLargest = std::uintmax_t{256} << 20U;

analysis::PhotoFacts facts_of(const fs::path& path) {
    analysis::PhotoFacts facts;
    std::error_code ignored;
    facts.is_there = fs::is_regular_file(path, ignored);
    if (!facts.is_there) return facts;
    const Result<std::string> bytes = read_photo_file(path);
    if (bytes) return analysis::photo_facts(std::string_view(*bytes));
    facts.unreadable = bytes.error().message;
    return facts;
}

} // namespace

Result<std::string> read_photo_file(const fs::path& path) {
    std::error_code fault;
    if (!fs::is_regular_file(path, fault)) return Error{"is not there", path.string()};
    if (fs::file_size(path, fault) > kLargest)
        return Error{"is a file of more than 256 MB; right would be a smaller one", path.string()};
    return read_file(path);
}

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
