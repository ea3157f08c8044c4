#pragma once
// A lock that lives as long as the process that holds it, however that ends: flock on a file of its own. Tells two
// windows of each other, and what was left by one that is gone.

#include <filesystem>
#include <optional>

namespace padchart::app {

class FileLock {
public:
    FileLock() = default;
    FileLock(FileLock&& other) noexcept;
    FileLock& operator=(FileLock&& other) noexcept;
    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;
    ~FileLock();

    /// Makes the file where it is not there. Nothing where somebody else holds it, or where it cannot be made.
    [[nodiscard]] static std::optional<FileLock> take(const std::filesystem::path& path);
    [[nodiscard]] bool is_held() const { return file_ >= 0; }
    void give_back();

private:
    int file_ = -1;
};

} // namespace padchart::app
