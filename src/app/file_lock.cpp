#include "app/file_lock.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <utility>

namespace padchart::app {

FileLock::FileLock(FileLock&& other) noexcept : file_(std::exchange(other.file_, -1)) {}

FileLock& FileLock::operator=(FileLock&& other) noexcept {
    std::swap(file_, other.file_);
    return *this;
}

FileLock::~FileLock() {
    give_back();
}

void FileLock::give_back() {
    if (file_ >= 0) close(std::exchange(file_, -1));
}

std::optional<FileLock> FileLock::take(const std::filesystem::path& path) {
    std::error_code ignored;
    std::filesystem::create_directories(path.parent_path(), ignored);
    constexpr int kOwnerOnly = 0600;
    FileLock lock;
    lock.file_ = open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, kOwnerOnly);
    if (lock.file_ < 0 || flock(lock.file_, LOCK_EX | LOCK_NB) != 0) return std::nullopt;
    return lock;
}

} // namespace padchart::app
