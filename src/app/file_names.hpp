#pragma once
// Names of files to be written: which endings they may have, what is offered, and why a file that is there already may
// not be written over. No dialog.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/session.hpp"

namespace padchart::app {

/// The trace the chart in hand was made of, while that is in no file yet.
struct TraceHome {
    std::filesystem::path trace;
    std::uint64_t sitting = 0; ///< of the editor: another chart has come from elsewhere
};
/// The chart in hand was just made of it.
void note_trace(Session& session, const std::filesystem::path& trace);

/// The file the chart in hand had before it was thrown away; it is in no file now.
struct FormerHome {
    std::filesystem::path file;
    std::uint64_t sitting = 0; ///< as above
};
/// The chart in hand was just fetched back. Empty: it never had a file.
void note_former_file(Session& session, const std::filesystem::path& file);

/// None for what is only read.
[[nodiscard]] std::vector<std::string_view> endings_written(FileTask task);
/// ".pdf, .html, .svg or .png".
[[nodiscard]] std::string listed(const std::vector<std::string_view>& endings);

/// As it will be written: a chart and a pattern get their ending where the name has none of its own.
[[nodiscard]] std::string with_own_ending(FileTask task, std::string path);

/// Why nothing may be written there, with what would be right: another ending than the kind has, or a file that this
/// program did not write. Nothing where it may, or where the user is to be asked before the like is replaced.
[[nodiscard]] std::optional<std::string> why_not_written(FileTask task, const std::string& path);

/// The path itself, or one like it where somebody else's file lies there: "corner.map.svg".
[[nodiscard]] std::string offered_name(FileTask task, const std::string& path);
/// Where a chart is to be saved that has no file yet: beside its trace and named like it, as it was called before it
/// was thrown away, else in that folder by its title, or without a name where it has none. What is there is not
/// offered.
[[nodiscard]] std::string offered_chart(const Session& session, const std::string& folder);
/// What a sheet is called by default, without its ending.
[[nodiscard]] std::string offered_stem(const Session& session);

} // namespace padchart::app
