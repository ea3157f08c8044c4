#include "app/photo_store.hpp"

#include <algorithm>
#include <atomic>
#include <utility>

#include "cli/photo_files.hpp"

namespace padchart::app {

namespace fs = std::filesystem;

std::size_t LoadedPhoto::bytes() const {
    std::size_t sum = 0;
    for (const paint::Pixels& level : levels)
        sum += level.rgb.size();
    return sum;
}

std::shared_ptr<const LoadedPhoto> load_photo(const fs::path& path, std::size_t most_bytes,
                                              const std::stop_token& stop) {
    static std::atomic<std::uint64_t> last_serial = 0;
    auto photo = std::make_shared<LoadedPhoto>();
    photo->serial = ++last_serial;
    const cli::PhotoFile file = cli::read_photo_file(path);
    photo->facts = file.facts;
    photo->trouble = cli::trouble_of(file.facts);
    if (!photo->trouble.empty()) return photo;
    Result<paint::DecodedPhoto> decoded = paint::decode_photo(file.bytes, most_bytes, stop);
    if (!decoded) {
        photo->trouble = photo->facts.unreadable = decoded.error().message;
        return photo;
    }
    photo->trouble = photo->facts.unreadable = decoded->cut_short;
    photo->full = decoded->full;
    photo->reduced_by = decoded->reduced_by;
    photo->levels = paint::levels_of(std::move(decoded->pixels), kSmallestLevel);
    return photo;
}

PhotoStore::Stamp PhotoStore::stamp_of(const fs::path& path) {
    std::error_code fault;
    const fs::file_status status = fs::status(path, fault);
    if (fault || !fs::is_regular_file(status)) return {};
    Stamp stamp{true, fs::file_size(path, fault), {}};
    stamp.written = fs::last_write_time(path, fault);
    return stamp;
}

bool PhotoStore::update(std::span<const fs::path> wanted) {
    const bool arrived = collect();
    wanted_.assign(wanted.begin(), wanted.end());
    order_next(wanted);
    return arrived;
}

bool PhotoStore::collect() {
    if (!under_way_) return false;
    auto answer = job_.take();
    if (!answer) return false;
    Entry& entry = entries_[*under_way_];
    entry.photo = std::move(*answer);
    under_way_.reset();
    return true;
}

void PhotoStore::order_next(std::span<const fs::path> wanted) {
    if (under_way_) return;
    for (const fs::path& path : wanted) {
        Entry& entry = entries_[path];
        const Stamp stamp = stamp_of(path);
        if (entry.photo && entry.stamp == stamp) continue;
        entry.stamp = stamp;
        under_way_ = path;
        job_.ask({path, make_room(wanted)});
        return;
    }
}

std::size_t PhotoStore::make_room(std::span<const fs::path> wanted) {
    // What is shown stays; its room is shared out among what is wanted, so that the last one finds some too.
    std::erase_if(entries_, [&](const auto& entry) {
        return std::find(wanted.begin(), wanted.end(), entry.first) == wanted.end();
    });
    const std::size_t share = kPhotoMemory / std::max<std::size_t>(wanted.size(), 1);
    std::size_t taken = 0;
    for (const auto& [path, entry] : entries_)
        if (entry.photo && path != *under_way_) taken += entry.photo->bytes();
    const std::size_t left = kPhotoMemory > taken ? kPhotoMemory - taken : 0;
    // Alone it may have all; beside others that have not come yet it leaves them their share.
    const std::size_t mine = taken == 0 && wanted.size() > 1 ? std::max(share, kPhotoMemory / 2) : left;
    return std::max(mine, kLeastPhotoMemory);
}

std::shared_ptr<const LoadedPhoto> PhotoStore::find(const fs::path& path) const {
    const auto found = entries_.find(path);
    return found == entries_.end() ? nullptr : found->second.photo;
}

bool PhotoStore::is_busy() const {
    return under_way_.has_value();
}

void PhotoStore::wait() {
    while (under_way_) {
        job_.wait();
        collect();
        const std::vector<fs::path> wanted = wanted_;
        order_next(wanted);
    }
}

std::size_t PhotoStore::bytes() const {
    std::size_t sum = 0;
    for (const auto& [path, entry] : entries_)
        if (entry.photo) sum += entry.photo->bytes();
    return sum;
}

} // namespace padchart::app
