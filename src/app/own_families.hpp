#pragma once
// Patterns the user has saved, offered among the families: every *.pattern.json in the folder "patterns" of the user's
// data (user_folders.hpp). Read again when the folder has changed. A file that cannot be read is told of, not hidden.

#include <filesystem>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/footprint.hpp"

namespace padchart::app {

struct OwnFamily {
    std::string name; ///< the pattern's own, else that of its file
    std::string note;
    std::filesystem::path path;
    document::Footprint pattern;
};

/// Where they lie; empty where the user has no home folder.
[[nodiscard]] std::filesystem::path own_families_folder();

class OwnFamilies {
public:
    OwnFamilies() : OwnFamilies(own_families_folder()) {}
    explicit OwnFamilies(std::filesystem::path folder) : folder_(std::move(folder)) {}

    /// By name. Looks at the folder at most once a second unless `now` is asked for.
    [[nodiscard]] const std::vector<OwnFamily>& all(bool now = false);
    /// Files of the folder that are no patterns, one finding each.
    [[nodiscard]] const Diagnostics& findings() const { return findings_; }
    /// Saves the part as a pattern of that name; makes the folder where it is not there. Answers the file.
    /// Errors: no folder, a name that is no file name or is taken, a file that cannot be written.
    [[nodiscard]] Result<std::filesystem::path> keep(const document::Footprint& part, const std::string& name);

private:
    void read();
    [[nodiscard]] std::vector<std::pair<std::filesystem::path, std::filesystem::file_time_type>> files() const;

    std::filesystem::path folder_;
    std::vector<OwnFamily> families_;
    Diagnostics findings_;
    std::vector<std::pair<std::filesystem::path, std::filesystem::file_time_type>> seen_;
    std::filesystem::file_time_type::clock::time_point looked_;
    bool was_read_ = false;
};

} // namespace padchart::app
