#pragma once
// A merge's conflicts as pictures for people: where the thing lies, and how it was before, with ours and with theirs,
// side by side, with what each says in words. One page a thing, A4 lying.

#include <string>

#include "cli/command.hpp"
#include "json/merge.hpp"

namespace padchart::cli {

struct MergedCharts {
    const document::Chart& base;
    const document::Chart& ours;
    const document::Chart& theirs;
    const json::MergeResult& result;
};

/// Writes `path`.svg, .png (a file a page) or .pdf. Errors: another ending, what the painter says.
/// Requires: the merge has conflicts.
[[nodiscard]] Result<void> write_merge_picture(const MergedCharts& charts, const std::string& path, bool force,
                                               Streams streams);

} // namespace padchart::cli
