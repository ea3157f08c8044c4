#include "base/disk_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cerrno>
#include <optional>
#include <system_error>
#include <utility>

namespace padchart {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kLargestFile = std::size_t{512} * 1024 * 1024;
constexpr mode_t kModeOfNewFile = 0666; // less what the user's umask takes away

Error system_error(const fs::path& path, const std::string& what, int code) {
    return Error{what + ": " + std::generic_category().message(code), path.string()};
}

/// Closes what it holds.
class Descriptor {
public:
    explicit Descriptor(int number) : number_(number) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
    Descriptor& operator=(Descriptor&&) = delete;
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }

    [[nodiscard]] bool is_open() const { return number_ >= 0; }
    [[nodiscard]] int number() const { return number_; }
    /// Whether the system had no late complaint.
    [[nodiscard]] bool close() { return ::close(std::exchange(number_, -1)) == 0; }

private:
    int number_;
};

/// Removes the file unless it was kept.
class FileBeside {
public:
    explicit FileBeside(fs::path path) : path_(std::move(path)) {}
    FileBeside(const FileBeside&) = delete;
    FileBeside& operator=(const FileBeside&) = delete;
    FileBeside(FileBeside&&) = delete;
    FileBeside& operator=(FileBeside&&) = delete;
    ~FileBeside() {
        if (!is_kept_) ::unlink(path_.c_str());
    }
    void keep() { is_kept_ = true; }

private:
    fs::path path_;
    bool is_kept_ = false;
};

/// The file that `path` names in the end, which need not exist yet.
Result<fs::path> target_of_links(const fs::path& path) {
    constexpr int kMostLinks = 40;
    fs::path target = path;
    std::error_code error;
    for (int i = 0; i < kMostLinks; ++i) {
        if (!fs::is_symlink(fs::symlink_status(target, error))) return target;
        const fs::path link = fs::read_symlink(target, error);
        if (error) return system_error(path, "cannot follow the link", error.value());
        target = target.parent_path() / link; // an absolute link replaces the folder
    }
    return Error{"cannot be written: the links go round in a circle", path.string()};
}

struct Named {
    fs::path path;
    Descriptor file;
};

/// A new file in the folder of `target` under a name nobody uses.
Result<Named> create_beside(const fs::path& target) {
    static std::atomic<unsigned> counter{0};
    constexpr int kMostTries = 1000;
    for (int i = 0; i < kMostTries; ++i) {
        const std::string suffix = "." + std::to_string(::getpid()) + "-" + std::to_string(counter++) + ".tmp";
        const fs::path path = target.parent_path() / ("." + target.filename().string() + suffix);
        const int number = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kModeOfNewFile);
        if (number >= 0) return Named{path, Descriptor(number)};
        if (errno != EEXIST) return system_error(target, "cannot be written", errno);
    }
    return system_error(target, "cannot be written", EEXIST);
}

bool write_all(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(file, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

/// The rename itself is on the disk once the folder is. Not every file system can sync a folder; the file is safe then.
void sync_folder(const fs::path& target) {
    const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
    const Descriptor descriptor(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (descriptor.is_open()) ::fsync(descriptor.number());
}

Result<void> check_folder(const fs::path& target) {
    const fs::path folder = target.parent_path();
    struct stat status {};
    if (folder.empty() || ::stat(folder.c_str(), &status) == 0 || errno != ENOENT) return {};
    return Error{"cannot be written: there is no folder " + folder.string() +
                     "; make it again, or save into one that is there",
                 target.string()};
}

/// Nothing when a file may be put there; `mode` is that of the file that is there now.
Result<void> check_target(const fs::path& target, std::optional<mode_t>& mode) {
    struct stat status {};
    if (::stat(target.c_str(), &status) != 0) {
        if (errno == ENOENT) return check_folder(target);
        return system_error(target, "cannot be written", errno);
    }
    if (S_ISDIR(status.st_mode)) return system_error(target, "cannot be written", EISDIR);
    if (!S_ISREG(status.st_mode)) return Error{"cannot be written: not a plain file", target.string()};
    if (::access(target.c_str(), W_OK) != 0) return system_error(target, "cannot be written", errno);
    mode = status.st_mode & 07777U;
    return {};
}

Result<void> write_and_rename(const fs::path& target, std::string_view bytes, std::optional<mode_t> mode,
                              const std::stop_token& stop) {
    Result<Named> beside = create_beside(target);
    if (!beside) return beside.error();
    FileBeside guard(beside->path);
    Descriptor& file = beside->file;
    if (mode && ::fchmod(file.number(), *mode) != 0) return system_error(target, "cannot keep the file's mode", errno);
    if (!write_all(file.number(), bytes) || ::fsync(file.number()) != 0 || !file.close())
        return system_error(target, "cannot be written", errno);
    if (stop.stop_requested()) return Error{"given up, nothing written", target.string()};
    if (::rename(beside->path.c_str(), target.c_str()) != 0) return system_error(target, "cannot be written", errno);
    guard.keep();
    sync_folder(target);
    return {};
}

} // namespace

Result<std::string> read_file(const fs::path& path) {
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (!file.is_open()) return system_error(path, "cannot be opened", errno);
    std::string text;
    struct stat status {};
    if (::fstat(file.number(), &status) == 0 && status.st_size > 0 &&
        static_cast<std::size_t>(status.st_size) <= kLargestFile)
        text.reserve(static_cast<std::size_t>(status.st_size));
    std::array<char, 65536> buffer{};
    for (;;) {
        const ssize_t size = ::read(file.number(), buffer.data(), buffer.size());
        if (size < 0 && errno == EINTR) continue;
        if (size < 0) return system_error(path, "cannot be read", errno);
        if (size == 0) return text;
        text.append(buffer.data(), static_cast<std::size_t>(size));
        if (text.size() > kLargestFile) return Error{"larger than 512 MB, which no chart is", path.string()};
    }
}

Result<void> replace_file(const fs::path& path, std::string_view bytes, const std::stop_token& stop) {
    const Result<fs::path> target = target_of_links(path);
    if (!target) return target.error();
    std::optional<mode_t> mode;
    if (const Result<void> free = check_target(*target, mode); !free) return free.error();
    return write_and_rename(*target, bytes, mode, stop);
}

} // namespace padchart
