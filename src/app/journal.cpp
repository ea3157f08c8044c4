#include "app/journal.hpp"

#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <chrono>
#include <ctime>
#include <utility>

#include "base/disk_file.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;
using document::Chart;

constexpr std::string_view kEnding = ".journal.json";
// A key the chart file does not know is kept by its reader: it carries where the chart belongs, so that one file, which
// is replaced as a whole, tells all.
constexpr std::string_view kBelongsTo = "journal-belongs-to";
constexpr std::string_view kBeganFrom = "journal-began-from";
constexpr std::string_view kDrafts = "journal-drafts";

fs::path lock_path(const fs::path& journal) {
    return journal.string() + ".lock";
}

std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        constexpr unsigned char kFirstPrintable = 0x20;
        if (c == '"' || c == '\\') out += '\\';
        out += static_cast<unsigned char>(c) < kFirstPrintable ? '?' : c;
    }
    return out + "\"";
}

std::string unquoted(std::string_view json) {
    std::string out;
    for (std::size_t i = 1; i + 1 < json.size(); ++i) {
        if (json[i] == '\\' && i + 2 < json.size()) ++i;
        out += json[i];
    }
    return out;
}

/// The file the chart says it belongs to and what that was then: taken out of the chart.
struct Origin {
    fs::path file;
    std::optional<std::size_t> began_from; ///< nothing also in journals that do not tell
};

/// The JSON behind the key.
std::string take_json(Chart& chart, std::string_view key) {
    std::string json;
    std::erase_if(chart.extras, [&](const auto& extra) {
        if (extra.first != key) return false;
        json = extra.second;
        return true;
    });
    return json;
}

std::string take_text(Chart& chart, std::string_view key) {
    return unquoted(take_json(chart, key));
}

Origin take_origin(Chart& chart) {
    Origin origin{take_text(chart, kBelongsTo), {}};
    const std::string number = take_text(chart, kBeganFrom);
    std::size_t fingerprint = 0;
    const auto [end, fault] = std::from_chars(number.data(), number.data() + number.size(), fingerprint);
    if (fault == std::errc{} && end == number.data() + number.size()) origin.began_from = fingerprint;
    return origin;
}

std::string time_of(const fs::path& path) {
    std::error_code error;
    const auto changed = fs::last_write_time(path, error);
    if (error) return {};
    const std::time_t seconds = std::chrono::system_clock::to_time_t(std::chrono::file_clock::to_sys(changed));
    std::tm local{};
    localtime_r(&seconds, &local);
    char text[32] = {};
    std::strftime(text, sizeof text, "%Y-%m-%d %H:%M", &local);
    return text;
}

void put_drafts(Chart& chart, const std::shared_ptr<const Chart>& drafts) {
    if (drafts && !document::fault_of(*drafts)) chart.extras.emplace_back(kDrafts, json::write_chart(*drafts));
}

Result<void> write(const std::shared_ptr<const Chart>& chart, const std::shared_ptr<const Chart>& drafts,
                   const Origin& origin, const fs::path& journal) {
    Chart copy = *chart;
    put_drafts(copy, drafts);
    if (!origin.file.empty()) copy.extras.emplace_back(kBelongsTo, quoted(origin.file.string()));
    // As text: a number of JSON does not hold all of it.
    if (origin.began_from) copy.extras.emplace_back(kBeganFrom, quoted(std::to_string(*origin.began_from)));
    return json::save_chart(copy, journal);
}

void remove_with_lock(const fs::path& journal) {
    std::error_code ignored;
    fs::remove(journal, ignored);
    fs::remove(lock_path(journal), ignored);
}

} // namespace

Journal::Journal(const fs::path& folder)
    : job_([](const Order& order, const std::stop_token&, const auto& give) {
          std::error_code ignored;
          if (order.chart == nullptr)
              fs::remove(order.journal, ignored);
          else
              give(write(order.chart, order.drafts, {order.file, order.began_from}, order.journal));
      }) {
    if (folder.empty()) return;
    // The number of a process may come again; the lock says whose it is.
    for (int turn = 0; !lock_.is_held() && turn < 100; ++turn) {
        path_ = folder / (std::to_string(getpid()) + "-" + std::to_string(turn) + std::string(kEnding));
        if (fs::exists(path_)) continue;
        if (auto lock = FileLock::take(lock_path(path_))) lock_ = std::move(*lock);
    }
    if (!lock_.is_held()) path_.clear();
}

Journal::~Journal() {
    job_.wait();
    std::error_code ignored;
    if (lock_.is_held() && !fs::exists(path_, ignored)) fs::remove(lock_path(path_), ignored);
}

void Journal::note(const std::shared_ptr<const Chart>& chart, const fs::path& file, bool is_saved,
                   std::optional<std::size_t> began_from, const std::shared_ptr<const Chart>& drafts) {
    if (path_.empty() || (chart == noted_ && drafts == noted_drafts_)) {
        if (is_saved && is_there_) forget();
        return;
    }
    noted_ = chart;
    noted_drafts_ = drafts;
    if (is_saved) {
        if (is_there_) forget();
        return;
    }
    is_there_ = true;
    std::error_code ignored;
    job_.ask({chart, file.empty() ? file : fs::absolute(file, ignored), path_, began_from, drafts});
}

void Journal::forget() {
    if (path_.empty()) return;
    is_there_ = false;
    job_.ask({nullptr, {}, path_, {}, nullptr});
}

std::optional<Error> Journal::take_fault() {
    const auto answer = job_.take();
    return answer && !*answer ? std::optional(answer->error()) : std::nullopt;
}

std::shared_ptr<const Chart> take_drafts(Chart& chart) {
    const std::string json = take_json(chart, kDrafts);
    if (json.empty()) return nullptr;
    Result<Chart> drafts = json::read_chart(json);
    return drafts ? std::make_shared<const Chart>(std::move(*drafts)) : nullptr;
}

std::vector<LostWork> lost_work(const fs::path& folder) {
    std::vector<std::pair<fs::file_time_type, LostWork>> found;
    std::error_code error;
    for (fs::directory_iterator at(folder, error); !error && at != fs::directory_iterator(); at.increment(error)) {
        const fs::path path = at->path();
        if (!path.filename().string().ends_with(kEnding)) continue;
        const auto lock = FileLock::take(lock_path(path));
        if (!lock) continue; // its window is open
        Result<Chart> chart = json::load_chart(path);
        if (!chart) continue;
        std::error_code ignored;
        const Origin origin = take_origin(*chart);
        std::shared_ptr<const Chart> drafts = take_drafts(*chart);
        found.push_back({fs::last_write_time(path, ignored),
                         {path, origin.file, chart->title.title, time_of(path), origin.began_from, std::move(drafts)}});
    }
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<LostWork> out;
    out.reserve(found.size());
    for (auto& [when, work] : found)
        out.push_back(std::move(work));
    return out;
}

Result<Chart> chart_of(const LostWork& work) {
    Result<Chart> chart = json::load_chart(work.journal);
    if (chart) {
        take_origin(*chart);
        (void)take_drafts(*chart);
    }
    return chart;
}

fs::path take_former_file(Chart& chart) {
    return take_text(chart, kBelongsTo);
}

void throw_away(const LostWork& work) {
    remove_with_lock(work.journal);
}

fs::path bin_beside(const fs::path& journals) {
    return journals.parent_path() / "bin";
}

namespace {

/// As much of a title as any file system takes.
std::string as_file_name(const std::string& title) {
    constexpr std::size_t kLongest = 60;
    std::string name;
    for (const char c : title)
        name += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '-';
    name.resize(std::min(name.size(), kLongest));
    return name;
}

fs::path free_path(const fs::path& folder, const std::string& stem) {
    constexpr std::string_view kChart = ".chart.json";
    std::error_code ignored;
    fs::path path = folder / (stem + std::string(kChart));
    for (int number = 2; fs::exists(path, ignored); ++number)
        path = folder / (stem + "-" + std::to_string(number) + std::string(kChart));
    return path;
}

fs::file_time_type oldest_kept() {
    return fs::file_time_type::clock::now() - std::chrono::hours(24 * kBinDays);
}

/// Out of the name that put_into_bin gave it: "2026-03-02-14-05-Power-corner".
Binned binned_as(const fs::path& path, std::string_view ending) {
    constexpr std::size_t kTime = 16; // letters
    std::string name = path.filename().string();
    name.resize(name.size() - ending.size());
    Binned out{path, name.size() > kTime ? name.substr(kTime + 1) : std::string(), name.substr(0, kTime)};
    std::replace(out.title.begin(), out.title.end(), '-', ' ');
    if (out.written.size() == kTime) {
        out.written[kTime - 6] = ' ';
        out.written[kTime - 3] = ':';
    }
    return out;
}

void clear_bin(const fs::path& bin) {
    const auto oldest = oldest_kept();
    std::vector<fs::path> old;
    std::error_code error;
    for (fs::directory_iterator at(bin, error); !error && at != fs::directory_iterator(); at.increment(error)) {
        std::error_code unknown;
        const auto when = fs::last_write_time(at->path(), unknown);
        if (!unknown && when < oldest) old.push_back(at->path());
    }
    for (const fs::path& path : old)
        fs::remove(path, error);
}

} // namespace

std::vector<Binned> in_bin(const fs::path& bin) {
    constexpr std::string_view kChart = ".chart.json";
    std::vector<std::pair<fs::file_time_type, Binned>> found;
    std::error_code error;
    for (fs::directory_iterator at(bin, error); !error && at != fs::directory_iterator(); at.increment(error)) {
        std::error_code unknown;
        const auto when = fs::last_write_time(at->path(), unknown);
        if (unknown || when < oldest_kept() || !at->path().filename().string().ends_with(kChart)) continue;
        found.emplace_back(when, binned_as(at->path(), kChart));
    }
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<Binned> out;
    for (auto& [when, binned] : found)
        out.push_back(std::move(binned));
    return out;
}

Result<fs::path> put_into_bin(const LostWork& work) {
    Result<Chart> chart = chart_of(work);
    if (!chart) return chart.error();
    put_drafts(*chart, work.drafts);
    if (!work.file.empty()) chart->extras.emplace_back(kBelongsTo, quoted(work.file.string()));
    const fs::path bin = bin_beside(work.journal.parent_path());
    std::error_code error;
    fs::create_directories(bin, error);
    clear_bin(bin);
    const std::string title = work.title.empty() ? work.file.stem().stem().string() : work.title;
    const fs::path path = free_path(bin, as_file_name(work.written + (title.empty() ? "" : " " + title)));
    if (Result<void> saved = json::save_chart(*chart, path); !saved) return saved.error();
    remove_with_lock(work.journal);
    return path;
}

} // namespace padchart::app
