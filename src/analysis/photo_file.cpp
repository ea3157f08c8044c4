#include "analysis/photo_file.hpp"

#include <fmt/format.h>

#include <cstdint>
#include <filesystem>

#include "analysis/registration.hpp"

namespace padchart::analysis {

std::string photo_checksum(std::string_view bytes) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : bytes) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 1099511628211ULL;
    }
    return fmt::format("fnv1a64:{:016x}", hash);
}

PhotoFacts photo_facts(const std::optional<std::string_view>& bytes) {
    PhotoFacts facts;
    if (!bytes) return facts;
    facts.is_there = true;
    facts.checksum = photo_checksum(*bytes);
    const Result<PhotoHeader> header = read_photo_header(*bytes);
    if (header)
        facts.orientation = header->orientation;
    else
        facts.unreadable = header.error().message;
    return facts;
}

bool lies_elsewhere(const document::Photo& photo) {
    const std::string& path = photo.path;
    // A chart may come from a system that writes drives and turned slashes.
    const bool has_drive = path.size() >= 2 && path[1] == ':';
    if (path.starts_with('/') || path.starts_with('\\') || has_drive) return true;
    const auto normal = std::filesystem::path(path).lexically_normal();
    return !normal.empty() && *normal.begin() == "..";
}

namespace {

/// Exif 2.3, 4.6.4 A: 2, 4, 5 and 7 are mirror images, the other ones only turned.
bool is_stored_mirrored(int orientation) {
    return orientation == 2 || orientation == 4 || orientation == 5 || orientation == 7;
}

} // namespace

Diagnostics photo_findings(const document::Photo& photo, const PhotoFacts& file) {
    Diagnostics findings;
    const auto find = [&](Severity severity, std::string code, const std::string& message) {
        findings.push_back({severity, std::move(code), photo.path + " " + message, {}, photo.id.text});
    };
    if (!placement_of(photo))
        find(photo.hidden ? Severity::Note : Severity::Warning, "photo-not-placed",
             "is not placed on the board: what is traced over it is not in true mm; lay it down by points, or hide it");
    if (lies_elsewhere(photo))
        find(Severity::Warning, "photo-elsewhere",
             "does not lie in the chart's folder: it is missing wherever the chart goes alone, and no sheet shows it; "
             "put it beside the chart and name it from there");
    if (!file.is_there) {
        find(Severity::Warning, "photo-missing",
             "is not there: charts name photos by their way from the chart file, so they have to travel together");
        return findings;
    }
    if (!file.unreadable.empty()) find(Severity::Warning, "photo-unreadable", file.unreadable);
    if (const std::string doubt = file_doubt(photo, file); !doubt.empty())
        find(Severity::Warning, "photo-changed", doubt + ": its place on the board may be wrong");
    if (is_stored_mirrored(file.orientation))
        find(Severity::Note, "photo-turned",
             "is stored mirrored and viewers mirror it back: pixels count as it is stored");
    else if (file.orientation != 1)
        find(Severity::Note, "photo-turned", "is stored turned and viewers turn it back: pixels count as it is stored");
    return findings;
}

Diagnostics photo_findings(const document::Photo& photo, const std::optional<std::string_view>& bytes) {
    return photo_findings(photo, photo_facts(bytes));
}

std::string file_doubt(const document::Photo& photo, const PhotoFacts& file) {
    if (!file.is_there) return "is not there";
    if (photo.checksum.empty() || file.checksum.empty() || photo.checksum == file.checksum) return "";
    return "is not the file it was when it was placed";
}

Diagnostics lost_records(const document::Chart& chart, const document::Photo& photo, const PhotoFacts& file) {
    Diagnostics findings;
    const std::string doubt = file_doubt(photo, file);
    if (doubt.empty()) return findings;
    for (const document::Footprint& part : chart.parts) {
        const document::Orientation& record = part.orientation;
        if (record.state == document::RecordState::NotRecorded || record.evidence.photo != photo.id) continue;
        findings.push_back(
            {Severity::Warning,
             "record-on-lost-photo",
             fmt::format("The record of which way {} sits rests on {}, which {}. Bring the photo back, or look at the "
                         "board and record it anew.",
                         part.name.empty() ? "a part without name" : part.name, photo.path, doubt),
             {},
             part.id.text});
    }
    return findings;
}

} // namespace padchart::analysis
