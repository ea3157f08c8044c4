#include "svg/walk.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <deque>
#include <future>
#include <optional>
#include <thread>
#include <utility>
#include <vector>

#include "svg/walk_cuts.hpp"
#include "svg/walk_join.hpp"
#include "svg/walker.hpp"

namespace padchart::svg {
namespace {

using std::chrono_literals::operator""ms;

/// A curve may be cut into so many pieces before points that fall together are left out again.
constexpr std::size_t kPointsToSpare = 1 << 18;

/// The parts of one drawing, each walked through by whoever is free.
class Parts {
public:
    Parts(const ParsedDocument& document, const ReadOptions& options, const Report& report, std::vector<WalkPart> parts)
        : document_(document), options_(options), parts_(std::move(parts)), gone_(parts_.size()) {
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            reports_.push_back(report.fresh());
            tasks_.emplace_back([this, i] { return walk_part(i); });
            done_.push_back(tasks_.back().get_future());
        }
    }

    /// Walks through the next part that nobody has taken; false when there is none.
    bool walk_next() {
        const std::size_t i = next_++;
        if (i >= tasks_.size()) return false;
        tasks_[i]();
        return true;
    }

    /// Waits for a part, walking through others meanwhile.
    WalkedPart take(std::size_t i) {
        while (done_[i].wait_for(0ms) != std::future_status::ready)
            if (!walk_next())
                while (done_[i].wait_for(20ms) != std::future_status::ready)
                    ask();
        ask();
        return done_[i].get();
    }
    Report& report_of(std::size_t i) { return reports_[i]; }
    [[nodiscard]] std::size_t count() const { return parts_.size(); }
    void stop() { stop_ = true; }
    [[nodiscard]] bool is_called_off() const { return is_called_off_; }

private:
    WalkedPart walk_part(std::size_t i) {
        ReadOptions options = options_;
        options.go_on = [this, i](double share) {
            gone_[i] = share - begin_of(i);
            if (std::this_thread::get_id() == asker_) ask();
            return !stop_;
        };
        Walker walker(document_, options, reports_[i], parts_[i]);
        walker.expect(i == 0 ? document_.bytes() : document_.bytes() / parts_.size());
        WalkedPart walked = walker.walk();
        gone_[i] = begin_of(i + 1) - begin_of(i);
        return walked;
    }

    /// Where the part begins, as a share of the whole.
    [[nodiscard]] double begin_of(std::size_t i) const {
        if (i == 0 || i == parts_.size()) return i == 0 ? 0.0 : 1.0;
        return static_cast<double>(parts_[i].begin.back().offset_debug()) / static_cast<double>(document_.bytes());
    }

    /// Asks whether to go on, always on the thread that wants the drawing.
    void ask() {
        if (!options_.go_on || stop_) return;
        double sum = 0.0;
        for (const std::atomic<double>& gone : gone_)
            sum += gone;
        if (!options_.go_on(std::min(sum, 1.0))) is_called_off_ = stop_ = true;
    }

    const ParsedDocument& document_;
    const ReadOptions& options_;
    std::vector<WalkPart> parts_;
    std::deque<Report> reports_;
    std::deque<std::packaged_task<WalkedPart()>> tasks_;
    std::vector<std::future<WalkedPart>> done_;
    std::vector<std::atomic<double>> gone_;
    std::atomic<std::size_t> next_ = 0;
    std::atomic<bool> stop_ = false;
    bool is_called_off_ = false;
    const std::thread::id asker_ = std::this_thread::get_id();
};

/// What all parts did, to be held against the limits as if one walk had done it.
class Limits {
public:
    Limits(const ParsedDocument& document, const ReadOptions& options)
        : max_shapes_(max_shapes_of(document.bytes(), options)), max_points_(options.max_points) {}

    /// False: one walk through all might have stopped before the end of this part, and must tell where.
    bool allow(const WalkedPart& part) {
        const WalkEffort& effort = part.effort;
        visits_ += effort.visits;
        looks_ += effort.looks;
        const bool allowed = !effort.stopped && visits_ <= max_visits_of(max_shapes_) &&
                             looks_ <= StyleBudget::kMostLooks && shapes_ + effort.most_shapes < max_shapes_ &&
                             points_ + effort.most_points + kPointsToSpare <= max_points_;
        shapes_ += part.drawing.shapes.size();
        points_ += part.drawing.points.size();
        return allowed;
    }

private:
    std::size_t max_shapes_;
    std::size_t max_points_;
    std::size_t visits_ = 0;
    std::size_t shapes_ = 0;
    std::size_t points_ = 0;
    std::int64_t looks_ = 0;
};

struct Together {
    Drawing drawing;
    bool allowed = true;
    bool called_off = false;
};

Together walk_together(Parts& parts, Limits limits, Report& report) {
    PartJoin join;
    Together all;
    for (std::size_t i = 0; i < parts.count(); ++i) {
        WalkedPart part = parts.take(i);
        all.called_off = parts.is_called_off();
        all.allowed = limits.allow(part);
        if (all.called_off || !all.allowed) {
            parts.stop();
            return all;
        }
        join.add(std::move(part));
        report.append(parts.report_of(i));
    }
    all.drawing = join.take();
    return all;
}

Error called_off() {
    return {"reading was called off", ""};
}

Result<Drawing> walk_alone(const ParsedDocument& document, const ReadOptions& options, Report& report) {
    const WalkPart all;
    Walker walker(document, options, report, all);
    walker.expect(document.bytes());
    WalkedPart walked = walker.walk();
    if (walked.effort.called_off) return called_off();
    return std::move(walked.drawing);
}

std::size_t workers_of(const ReadOptions& options) {
    constexpr std::size_t kMost = 16;
    if (options.workers > 0) return options.workers;
    return std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, kMost);
}

} // namespace

std::size_t parts_for(std::size_t bytes, const ReadOptions& options) {
    constexpr std::size_t kWorthIt = 2'000'000;
    constexpr std::size_t kPartsEach = 4; ///< who has the harder part does not let the others wait for long
    const std::size_t workers = workers_of(options);
    if (workers < 2) return 1;
    if (options.part_bytes > 0) return std::max<std::size_t>(bytes / options.part_bytes, 1);
    return std::clamp<std::size_t>(bytes / kWorthIt, 1, workers * kPartsEach);
}

Result<Drawing> walk(const ParsedDocument& document, const ReadOptions& options, Report& report) {
    const std::size_t count = parts_for(document.bytes(), options);
    if (count < 2) return walk_alone(document, options, report);
    Report together = report.fresh();
    {
        Parts parts(document, options, report, parts_of(document.root(), document.bytes(), count));
        std::vector<std::jthread> others;
        for (std::size_t i = 1; i < std::min(workers_of(options), parts.count()); ++i)
            others.emplace_back([&parts] {
                while (parts.walk_next()) {
                }
            });
        Together all = walk_together(parts, Limits(document, options), together);
        if (all.called_off) return called_off();
        if (all.allowed) {
            report.append(together);
            return std::move(all.drawing);
        }
    }
    return walk_alone(document, options, report); // it comes to a limit, and tells what is left out
}

} // namespace padchart::svg
