#include "app/keeper.hpp"

#include <utility>

#include <fmt/format.h>

#include "app/draft_journal.hpp"
#include "app/remembered.hpp"
#include "app/start_desk.hpp"
#include "app/trace_log.hpp"
#include "app/two_versions.hpp"
#include "base/disk_file.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;

constexpr std::chrono::milliseconds kDiskPeriod{700};
constexpr std::string_view kOpenTwice =
    " is open in another window. Work in one of the two: what one saves, the other will not write over.";

std::optional<fs::file_time_type> changed_at(const fs::path& path) {
    std::error_code error;
    const auto when = fs::last_write_time(path, error);
    return error ? std::nullopt : std::optional(when);
}

} // namespace

fs::path lock_of_chart(const fs::path& state, const fs::path& chart) {
    std::error_code ignored;
    const fs::path whole = fs::weakly_canonical(chart, ignored);
    return state / "open" / fmt::format("{:016x}.lock", std::hash<std::string>{}(whole.string()));
}

fs::path Keeper::journal_folder(const fs::path& state) {
    return state.empty() ? state : state / "journal";
}

Keeper::Keeper(fs::path state) : state_(std::move(state)), journal_(journal_folder(state_)) {}

void Keeper::take_lock(Session& s) {
    file_ = s.editor.path();
    lock_.reset();
    changed_ = changed_at(file_);
    if (file_.empty()) return;
    remember_chart(file_);
    if (state_.empty()) return;
    lock_ = FileLock::take(lock_of_chart(state_, file_));
    if (lock_) {
        (void)take_call(); // one meant for a window of before
        return;
    }
    call_the_other();
    s.editor.tell(Severity::Warning, file_.filename().string() + std::string(kOpenTwice));
    trace("keeper", "open elsewhere");
}

fs::path Keeper::call_path() const {
    return lock_of_chart(state_, file_).replace_extension(".call");
}

void Keeper::call_the_other() const {
    (void)replace_file(call_path(), "another window has opened the chart\n"); // no more than a courtesy
}

bool Keeper::take_call() const {
    std::error_code ignored;
    return fs::remove(call_path(), ignored);
}

void Keeper::watch_disk(Session& s) {
    const auto now = Clock::now();
    if (file_.empty() || s.editor.is_saving() || now - looked_ < kDiskPeriod) return;
    looked_ = now;
    if (lock_ && take_call()) {
        s.editor.tell(Severity::Warning, file_.filename().string() + std::string(kOpenTwice));
        trace("keeper", "opened elsewhere");
    }
    const auto changed = changed_at(file_);
    if (!changed || changed == changed_) return;
    changed_ = changed;
    if (!s.editor.is_changed_on_disk()) return;
    s.editor.tell(Severity::Warning,
                  file_.filename().string() + " was changed outside this window. " + std::string(kTwoVersions));
    trace("keeper", "changed outside");
}

void Keeper::look(Session& s) {
    if (s.editor.path() != file_) take_lock(s);
    // A chart that came from elsewhere and has not been touched is no work of anybody's yet.
    const bool is_untouched = s.editor.history().position() == 0 && s.editor.history().steps().size() == 1;
    if (journaled_ != s.editor.snapshot()) {
        journaled_ = s.editor.snapshot();
        began_from_ = s.editor.expected_fingerprint();
    }
    const std::optional<document::Chart> drafts = drafts_as_chart(s);
    if (!drafts)
        drafts_.reset();
    else if (drafts_ == nullptr || *drafts_ != *drafts)
        drafts_ = std::make_shared<const document::Chart>(*drafts);
    const bool is_kept = s.editor.is_saved() || is_untouched;
    journal_.note(journaled_, file_, is_kept && drafts_ == nullptr, began_from_, drafts_);
    drop_taken(s);
    if (const auto fault = journal_.take_fault())
        s.editor.tell(Severity::Warning,
                      "The journal cannot be written, so a crash would cost what is not saved: " + describe(*fault));
    watch_disk(s);
}

void Keeper::drop_taken(Session& s) {
    const StartDesk* desk = std::as_const(s.desks).find<StartDesk>();
    if (desk == nullptr || desk->taken.empty()) return;
    journal_.wait();
    for (const LostWork& work : std::exchange(s.desks.get<StartDesk>().taken, {}))
        throw_away(work);
}

void Keeper::end() {
    journal_.forget();
    journal_.wait();
}

} // namespace padchart::app
