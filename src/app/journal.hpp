#pragma once
// What was done since the last save, written to a file of its own a moment after it was done, so that a crash, a kill
// or an empty battery costs no more than that moment. A finished window takes its file away; one that is left behind
// belongs to a window that never got to its end.

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/file_lock.hpp"
#include "app/latest_job.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::app {

class Journal {
public:
    /// Files go below `folder`, which is made when first needed. An empty folder: nothing is kept.
    explicit Journal(const std::filesystem::path& folder);
    Journal(const Journal&) = delete;
    Journal& operator=(const Journal&) = delete;
    /// Finishes what was noted; the file stays, if there is one.
    ~Journal();

    /// To be called with every round of the window: costs nothing where the chart is the one noted last. A saved chart
    /// needs no journal. `file` is where the chart belongs; empty: never saved. `began_from`: the fingerprint of that
    /// file as it was read or written here. `drafts`: what waits to be put on the chart; it needs a journal of its own.
    void note(const std::shared_ptr<const document::Chart>& chart, const std::filesystem::path& file, bool is_saved,
              std::optional<std::size_t> began_from = {}, const std::shared_ptr<const document::Chart>& drafts = {});
    /// Nothing is to be offered later: all is saved or was given up on purpose.
    void forget();
    /// Blocks until what was noted is on the disk.
    void wait() { job_.wait(); }
    /// Why the last writing failed, once; the chart itself is untouched by that.
    [[nodiscard]] std::optional<Error> take_fault();
    /// Of this window.
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    struct Order {
        std::shared_ptr<const document::Chart> chart; ///< null: the file goes
        std::filesystem::path file;
        std::filesystem::path journal;
        std::optional<std::size_t> began_from;
        std::shared_ptr<const document::Chart> drafts; ///< null: none
    };

    std::filesystem::path path_;
    FileLock lock_;
    std::shared_ptr<const document::Chart> noted_, noted_drafts_;
    bool is_there_ = false;
    LatestJob<Order, Result<void>> job_;
};

/// Left by a window that never got to its end.
struct LostWork {
    std::filesystem::path journal;
    std::filesystem::path file;                      ///< the chart it belongs to; empty: never saved
    std::string title;                               ///< "Power corner", or empty
    std::string written;                             ///< "2026-03-02 14:05", local time
    std::optional<std::size_t> began_from{};         ///< fingerprint the file had; nothing: not known
    std::shared_ptr<const document::Chart> drafts{}; ///< draft_journal.hpp; null: none
};
/// Newest first; journals of windows still open are left out, ones that cannot be read too.
[[nodiscard]] std::vector<LostWork> lost_work(const std::filesystem::path& folder);
/// The chart as it was. Errors: as loading a chart.
[[nodiscard]] Result<document::Chart> chart_of(const LostWork& work);
/// What waits to be put on a chart that was read from a journal or the bin, taken out of it; null: nothing, or it
/// cannot be read, which is no reason to leave the chart behind.
[[nodiscard]] std::shared_ptr<const document::Chart> take_drafts(document::Chart& chart);
/// The file a chart in the bin belonged to, taken out of the chart; empty: none is told.
[[nodiscard]] std::filesystem::path take_former_file(document::Chart& chart);
/// Takes the journal away for good: what is in it has come to another journal.
void throw_away(const LostWork& work);

/// How long what the user does not want back can be fetched all the same.
inline constexpr int kBinDays = 30;
/// Out of the list, but not gone: a chart file in the bin, which opens as any other, with its drafts; answers its path.
/// What has lain there for longer than kBinDays goes. Errors: as loading and saving a chart; the journal stays then.
[[nodiscard]] Result<std::filesystem::path> put_into_bin(const LostWork& work);
/// What lies in the bin.
struct Binned {
    std::filesystem::path path;
    std::string title;   ///< "Power corner", or empty
    std::string written; ///< "2026-03-02 14:05", local time
};
/// Newest first, without what has lain there for longer than kBinDays.
[[nodiscard]] std::vector<Binned> in_bin(const std::filesystem::path& bin);
/// Beside the folder of the journals.
[[nodiscard]] std::filesystem::path bin_beside(const std::filesystem::path& journals);

} // namespace padchart::app
