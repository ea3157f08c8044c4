#include "cli/photo_files.hpp"

#include <utility>

#include "cli/shared.hpp"
#include "paint/photo_pixels.hpp"

namespace padchart::cli {

namespace fs = std::filesystem;
namespace {

/// Enough to have every row decoded; nobody looks at the pixels.
constexpr std::size_t kFewBytes = std::size_t{1} << 20U;

} // namespace

analysis::PhotoFacts facts_down_to_pixels(std::string_view bytes) {
    analysis::PhotoFacts facts = analysis::photo_facts(bytes);
    if (!facts.unreadable.empty()) return facts;
    const Result<paint::DecodedPhoto> decoded = paint::decode_photo(bytes, kFewBytes);
    facts.unreadable = decoded ? decoded->cut_short : decoded.error().message;
    return facts;
}

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

namespace {

analysis::PhotoFacts facts_beside(const fs::path& chart_file, const document::Photo& photo) {
    const PhotoFile file = read_photo_file(fs::absolute(chart_file).parent_path() / photo.path);
    return file.bytes.empty() ? file.facts : facts_down_to_pixels(file.bytes);
}

} // namespace

Diagnostics photo_findings_beside(const fs::path& chart_file, const document::Photo& photo) {
    return analysis::photo_findings(photo, facts_beside(chart_file, photo));
}

Diagnostics photo_findings_beside(const fs::path& chart_file, const document::Chart& chart) {
    Diagnostics findings;
    for (const document::Photo& photo : chart.photos) {
        const analysis::PhotoFacts facts = facts_beside(chart_file, photo);
        for (const Diagnostics& own :
             {analysis::photo_findings(photo, facts), analysis::lost_records(chart, photo, facts)})
            findings.insert(findings.end(), own.begin(), own.end());
    }
    return findings;
}

} // namespace padchart::cli
