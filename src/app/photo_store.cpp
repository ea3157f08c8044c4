#include "app/photo_store.hpp"

#include <algorithm>
#include <atomic>
#include <utility>

#include "json/disk_file.hpp"

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
    const auto fails = [&](std::string why) {
        photo->trouble = photo->facts.unreadable = std::move(why);
        return photo;
    };
    std::error_code fault;
    // A path of a chart may name anything, a device that never ends too.
    const std::uintmax_t size = fs::is_regular_file(path, fault) ? fs::file_size(path, fault) : 0;
    if (fault || !fs::is_regular_file(path, fault)) {
        photo->trouble = "is not there";
        return photo;
    }
    photo->facts.is_there = true;
    if (size > kLargestPhotoFile) return fails("is a file of more than 256 MB; right would be a smaller one");
    const Result<std::string> bytes = json::read_file(path);
    if (!bytes) return fails(bytes.error().message);
    photo->facts = analysis::photo_facts(std::string_view(*bytes));
    if (!photo->facts.unreadable.empty()) return fails(photo->facts.unreadable);
    Result<paint::DecodedPhoto> decoded = paint::decode_photo(*bytes, most_bytes, stop);
    if (!decoded) return fails(decoded.error().message);
    photo->trouble = photo->facts.unreadable = decoded->cut_short;
    photo->full = decoded->full;
    photo->reduced_by = decoded->reduced_by;
    photo->levels = paint::levels_of(std::move(decoded->pixels), kSmallestLevel);
    return photo;
}

PhotoStore::~PhotoStore() {
    {
        const std::lock_guard lock(mutex_);
        ends_ = true;
        order_.reset();
        stop_.request_stop();
    }
    wake_.notify_all();
    if (thread_.joinable()) thread_.join();
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
    std::shared_ptr<const LoadedPhoto> answer;
    {
        const std::lock_guard lock(mutex_);
        answer = std::exchange(answer_, nullptr);
    }
    if (!answer) return false;
    Entry& entry = entries_[*under_way_];
    entry.photo = std::move(answer);
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
        Order order{path, make_room(wanted)};
        if (!thread_.joinable()) thread_ = std::thread([this] { run(); });
        {
            const std::lock_guard lock(mutex_);
            order_ = std::move(order);
        }
        wake_.notify_one();
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
        {
            std::unique_lock lock(mutex_);
            done_.wait(lock, [this] { return answer_ != nullptr; });
        }
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

void PhotoStore::run() {
    std::unique_lock lock(mutex_);
    while (true) {
        wake_.wait(lock, [this] { return ends_ || order_; });
        if (ends_) return;
        const Order order = *std::exchange(order_, std::nullopt);
        lock.unlock();
        auto answer = load_photo(order.path, order.most_bytes, stop_.get_token());
        lock.lock();
        answer_ = std::move(answer);
        done_.notify_all();
    }
}

} // namespace padchart::app
