#include "cli/photo_files.hpp"

#include <utility>

#include "cli/shared.hpp"

namespace padchart::cli {

namespace fs = std::filesystem;

PhotoFile read_photo_file(const fs::path& path) {
    PhotoFile file;
    std::error_code fault;
    file.facts.is_there = fs::is_regular_file(path, fault);
    if (!file.facts.is_there) return file;
    if (fs::file_size(path, fault) > kLargestPhotoFile) {
        file.facts.unreadable = "is a file of more than 256 MB; right would be a smaller one";
        return file;
    }
    Result<std::string> bytes = read_file(path);
    if (!bytes) {
        file.facts.unreadable = bytes.error().message;
        return file;
    }
    file.bytes = std::move(*bytes);
    file.facts = analysis::photo_facts(std::string_view(file.bytes));
    return file;
}

std::string trouble_of(const analysis::PhotoFacts& facts) {
    return facts.is_there ? facts.unreadable : "is not there";
}

Diagnostics photo_findings_beside(const fs::path& chart_file, const document::Photo& photo) {
    const fs::path folder = fs::absolute(chart_file).parent_path();
    return analysis::photo_findings(photo, read_photo_file(folder / photo.path).facts);
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
