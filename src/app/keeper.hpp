#pragma once
// Looks after what lies on the disk while a window is open: keeps the journal, notices another window on the same chart
// and a chart that was changed outside, and remembers which charts were worked on. The snapshot of a picture needs
// none.

#include <chrono>
#include <filesystem>
#include <optional>

#include "app/file_lock.hpp"
#include "app/journal.hpp"
#include "app/session.hpp"

namespace padchart::app {

class Keeper {
public:
    /// Everything is kept below `state` (cli::state_folder()); empty: nothing is.
    explicit Keeper(std::filesystem::path state);

    /// To be called with every round of the window; costs next to nothing where nothing has changed.
    void look(Session& session);
    /// The window has come to its own end: nothing is left to be offered.
    void end();

    /// Where journals lie, for the page that offers them.
    [[nodiscard]] static std::filesystem::path journal_folder(const std::filesystem::path& state);

private:
    using Clock = std::chrono::steady_clock;

    void take_lock(Session& session);
    void watch_disk(Session& session);
    /// By a file beside the lock, the window that holds it hears of the one that did not get it.
    [[nodiscard]] std::filesystem::path call_path() const;
    void call_the_other() const;
    [[nodiscard]] bool take_call() const; ///< true where there was one
    void drop_taken(Session& session);

    std::filesystem::path state_;
    Journal journal_;
    std::shared_ptr<const document::Chart> journaled_; ///< as last seen
    std::shared_ptr<const document::Chart> drafts_;    ///< as last seen; null: none
    std::optional<std::size_t> began_from_;            ///< fingerprint of the file under it
    std::filesystem::path file_;                       ///< of the chart, as last seen
    std::optional<FileLock> lock_;
    Clock::time_point looked_ = Clock::now();
    std::optional<std::filesystem::file_time_type> changed_; ///< of the file, as last seen
};

/// The lock file that stands for one chart, by its whole path.
[[nodiscard]] std::filesystem::path lock_of_chart(const std::filesystem::path& state,
                                                  const std::filesystem::path& chart);

} // namespace padchart::app
