#pragma once
// Every chart below a folder checked, several at a time.

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"

namespace padchart::cli {

struct CheckedChart {
    std::size_t parts = 0;
    Diagnostics findings;
};

/// What `padchart check` finds in one file, photos that are not beside it included. Errors: as load_chart.
[[nodiscard]] Result<CheckedChart> checked_chart(const std::filesystem::path& path);

struct CheckedFile {
    std::string name; ///< below the folder, with '/'
    std::optional<CheckedChart> chart;
    std::optional<Error> error; ///< why it could not be read

    [[nodiscard]] std::size_t count(Severity severity) const;
};

/// All files NAME.chart.json below the folder, by name; hidden folders are passed over.
/// Errors: no folder there, no chart in it.
[[nodiscard]] Result<std::vector<CheckedFile>> checked_folder(const std::filesystem::path& folder);

/// As build servers read it: a test case for each file, a failure for each warning or fault, an error for a file that
/// could not be read.
[[nodiscard]] std::string junit_xml(const std::vector<CheckedFile>& files);

} // namespace padchart::cli
