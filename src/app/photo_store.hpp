#pragma once
// Photo files as pixels, read on a thread of their own, kept within a bound. Knows no window and no chart.
//
// Memory: the pixels of all photos together take at most kPhotoMemory; what finds no room beside the others that are
// wanted is kept at half, a quarter, ... of its size, but never below kLeastPhotoMemory. While one file is read there
// is also the file itself (at most cli::kLargestPhotoFile) and what paint::decode_photo says.

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <vector>

#include "analysis/photo_file.hpp"
#include "app/latest_job.hpp"
#include "paint/photo_pixels.hpp"

namespace padchart::app {

inline constexpr std::size_t kPhotoMemory = std::size_t{256} << 20U;
inline constexpr std::size_t kLeastPhotoMemory = std::size_t{8} << 20U;
/// The smallest level fits into a square of this side, px.
inline constexpr int kSmallestLevel = 500;

/// A file as it was when it was read. Never changes.
struct LoadedPhoto {
    std::uint64_t serial = 0; ///< another for each reading
    analysis::PhotoFacts facts;
    paint::PhotoSize full; ///< px as stored; 0 where there is no picture
    int reduced_by = 0;    ///< the first level's pixel is 2^reduced_by of the file's wide
    std::vector<paint::Pixels> levels;
    std::string trouble; ///< empty, or why there is no picture, or not all of it

    [[nodiscard]] bool has_picture() const { return !levels.empty(); }
    [[nodiscard]] std::size_t bytes() const;
};

/// Reads and decodes at once; any trouble is in the answer.
[[nodiscard]] std::shared_ptr<const LoadedPhoto> load_photo(const std::filesystem::path& path, std::size_t most_bytes,
                                                            const std::stop_token& stop = {});

class PhotoStore {
public:
    /// The files that are wanted now. Others may go when room is needed. A file that was written anew since it was read
    /// is read again; call now and then. True when something has arrived since the last call.
    bool update(std::span<const std::filesystem::path> wanted);
    /// Null until it has been read; also where update() was not told that it is wanted.
    [[nodiscard]] std::shared_ptr<const LoadedPhoto> find(const std::filesystem::path& path) const;
    [[nodiscard]] bool is_busy() const;
    /// Blocks until all that is wanted has been read.
    void wait();
    [[nodiscard]] std::size_t bytes() const;

private:
    struct Stamp {
        bool is_there = false;
        std::uintmax_t size = 0;
        std::filesystem::file_time_type written;
        bool operator==(const Stamp&) const = default;
    };
    struct Entry {
        Stamp stamp;
        std::shared_ptr<const LoadedPhoto> photo; ///< the last one, also while a newer one is being read
    };
    struct Order {
        std::filesystem::path path;
        std::size_t most_bytes = 0;
    };

    [[nodiscard]] static Stamp stamp_of(const std::filesystem::path& path);
    bool collect();
    void order_next(std::span<const std::filesystem::path> wanted);
    [[nodiscard]] std::size_t make_room(std::span<const std::filesystem::path> wanted);

    std::map<std::filesystem::path, Entry> entries_;
    std::vector<std::filesystem::path> wanted_;
    std::optional<std::filesystem::path> under_way_;
    LatestJob<Order, std::shared_ptr<const LoadedPhoto>> job_{
        [](const Order& order, const std::stop_token& stop, const auto& give) {
            give(load_photo(order.path, order.most_bytes, stop));
        }};
};

} // namespace padchart::app
