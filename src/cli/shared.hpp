#pragma once
// What several subcommands need: reading files with errors that name them, and the same JSON for the same things.

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/disk_file.hpp"
#include "base/result.hpp"
#include "cli/command.hpp"
#include "document/chart.hpp"
#include "geometry/polygon.hpp"
#include "json/report.hpp"

namespace padchart::cli {

/// A part by its name, or by its id where no part or more than one bears the name. Errors: lists near names, or the ids
/// of those that bear it.
[[nodiscard]] Result<document::Id> part_by_name(const document::Chart& chart, const std::string& name);

/// --date, or nothing where it was not given. Errors: what was given and how a day is written.
[[nodiscard]] Result<std::string> day_of(const Arguments& arguments);

/// "PDF" and "pdf" are one ending: letters of English only.
[[nodiscard]] std::string lower_case(std::string text);

/// Its name, else "(no name)".
[[nodiscard]] std::string display_name(const document::Footprint& part);
[[nodiscard]] std::string display_name(const document::Chart& chart, const document::Id& id);

void write_point(json::JsonWriter& out, geometry::Vec2 point);
void write_ring(json::JsonWriter& out, const geometry::Ring& ring);
/// [{"outer": [[x, y], ...], "holes": [...]}, ...]
void write_region(json::JsonWriter& out, const geometry::Region& region);
/// [{"severity", "code", "message", "where", "target"}, ...]
void write_findings(json::JsonWriter& out, const Diagnostics& findings);

/// The chart as it has to stand in another file: what it names beside itself, photos and its copy from before the heat,
/// stays where it is and is named from there.
[[nodiscard]] document::Chart seen_from(const document::Chart& chart, const std::filesystem::path& old_file,
                                        const std::filesystem::path& new_file);

/// Why a file may not be written: it is there already, is none of the command's own, and nobody forces it.
[[nodiscard]] std::optional<Error> would_overwrite(const std::filesystem::path& output,
                                                   const std::vector<std::string>& own, bool force);
/// Why --output may not be written: it is there already, is not the CHART that was read, and --force was not given.
[[nodiscard]] std::optional<Error> would_overwrite(const Arguments& arguments);
/// Saves to the command's --output; what CHART names beside itself is named from there. Errors: would_overwrite(); what
/// the saving says.
[[nodiscard]] Result<void> save_output(const document::Chart& chart, const Arguments& arguments);
/// An error of a text file, with the file's name before the place in it.
[[nodiscard]] Error in_file(const std::string& path, const Error& error);

/// The options nearly every command has.
[[nodiscard]] Option chart_positional();
[[nodiscard]] Option json_flag();
[[nodiscard]] Option force_flag();

} // namespace padchart::cli
