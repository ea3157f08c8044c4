#include "app/import_desk.hpp"
#include "geometry/segment.hpp"

#include <algorithm>
#include <limits>

namespace padchart::app {

using geometry::Vec2;
using svg::DrawnShape;

namespace {

// Up to here the outcome takes a few ms: it follows at once what is said.
constexpr std::size_t kShapesAtOnce = 1000, kPointsAtOnce = 30'000, kPartsAtOnce = 300;

} // namespace

ImportDesk::ImportDesk()
    : job_(std::make_unique<Job>([](const Order& order, const std::stop_token& stop, const Job::Give& give) {
          auto outcome = std::make_shared<const TraceOutcome>(make_outcome(order.trace, {order.progress, stop}));
          if (!stop.stop_requested()) give({order.number, std::move(outcome)});
      })) {}

Result<void> ImportDesk::load(const std::filesystem::path& path, const MeaningMemory& memory,
                              std::shared_ptr<const document::Chart> current) {
    forget();
    Result<FoundTrace> found = find_trace(path, memory);
    if (!found) return found.error();
    take(std::move(*found), std::move(current));
    wait();
    return {};
}

void ImportDesk::take(FoundTrace found, std::shared_ptr<const document::Chart> current) {
    forget();
    found_ = std::move(found);
    current_ = std::move(current);
    if (current_) recall_moved(found_);
    ++arrival_;
    rebuild();
}

void ImportDesk::forget() {
    job_->drop();
    ++order_; // what may still come is of an older one
    found_ = {};
    current_.reset();
    scale_.reset();
    scale_findings_.clear();
    from_memory_ = {};
    outcome_.reset();
    not_understood_ = {};
    progress_.reset();
    said_.clear();
    chosen.reset();
    ++revision_;
}

TraceOrder ImportDesk::order() const {
    TraceOrder order{found_.drawing, {}, scale_, scale_findings_, current_};
    order.findings.insert(order.findings.end(), from_memory_.findings.begin(), from_memory_.findings.end());
    // Parents stand before their children: what was said of an inner entry comes later and wins.
    for (const FoundEntry& entry : found_.entries)
        if (entry.said != svg::ShapeMeaning{}) order.said.emplace_back(entry.said, entry.shapes);
    return order;
}

void ImportDesk::rebuild() {
    from_memory_ = account_of_memory(found_);
    const svg::Drawing& drawing = *found_.drawing;
    const bool is_small = drawing.shapes.size() <= kShapesAtOnce && drawing.points.size() <= kPointsAtOnce &&
                          (!current_ || current_->parts.size() <= kPartsAtOnce);
    if (is_small) return settle(std::make_shared<const TraceOutcome>(make_outcome(order())));
    progress_ = std::make_shared<WorkProgress>();
    job_->ask({order(), progress_, ++order_});
}

void ImportDesk::settle(std::shared_ptr<const TraceOutcome> outcome) {
    outcome_ = std::move(outcome);
    progress_.reset();
    const double drawn = found_.drawing->mm_per_unit.value_or(1.0);
    const bool has_scale = outcome_->result && outcome_->result->chart.scale;
    factor_ = has_scale ? outcome_->result->chart.scale->mm_per_unit / drawn : 1.0;
    not_understood_ = {};
    if (outcome_->result)
        for (const svg::ShapeAccount& account : outcome_->result->account)
            if (account.role == svg::Role::None) {
                const geometry::Box& box = found_.drawing->shapes[account.shape].bbox;
                not_understood_.add({box.min * factor_, box.max * factor_});
            }
    for (FoundEntry& entry : found_.entries) {
        entry.taken_for = {};
        if (!outcome_->result) continue;
        for (const std::size_t shape : entry.shapes)
            ++entry.taken_for[static_cast<std::size_t>(outcome_->result->account[shape].role)];
    }
    ++revision_;
}

bool ImportDesk::update() {
    auto answer = job_->take();
    if (!answer || answer->first != order_) return false;
    settle(std::move(answer->second));
    return true;
}

void ImportDesk::wait() {
    if (!is_making()) return;
    job_->wait();
    update();
}

std::vector<std::size_t> ImportDesk::listed() const {
    std::vector<std::size_t> list, stack;
    for (std::size_t i = found_.entries.size(); i-- > 0;)
        if (!found_.entries[i].parent) stack.push_back(i);
    while (!stack.empty()) {
        const std::size_t entry = stack.back();
        stack.pop_back();
        list.push_back(entry);
        const std::vector<std::size_t>& children = found_.entries[entry].children;
        if (found_.entries[entry].open) stack.insert(stack.end(), children.rbegin(), children.rend());
    }
    return list;
}

void ImportDesk::say_role(std::size_t entry, std::optional<svg::Role> role) {
    found_.entries[entry].said.role = role;
    was_said(entry);
    rebuild();
}

void ImportDesk::say_side(std::size_t entry, std::optional<document::Side> side) {
    found_.entries[entry].said.side = side;
    was_said(entry);
    rebuild();
}

void ImportDesk::was_said(std::size_t entry) {
    found_.entries[entry].remembered = false;
    found_.entries[entry].said_for.clear();
    said_.insert(entry);
    ++times_said_;
}

void ImportDesk::forget_remembered() {
    for (std::size_t i = 0; i < found_.entries.size(); ++i)
        if (found_.entries[i].remembered) {
            found_.entries[i].said = {};
            was_said(i);
        }
    rebuild();
}

void ImportDesk::set_scale(std::optional<document::Scale> scale, Diagnostics findings) {
    scale_ = std::move(scale);
    scale_findings_ = std::move(findings);
    rebuild();
}

std::optional<std::size_t> ImportDesk::shape_at(Vec2 chart_place, double reach) const {
    const Vec2 at = chart_place / factor();
    reach /= factor();
    std::optional<std::size_t> best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < found_.drawing->shapes.size(); ++i) {
        const DrawnShape& shape = found_.drawing->shapes[i];
        if (!shape.bbox.grown(reach).contains(at)) continue;
        const double area = shape.bbox.width() * shape.bbox.height();
        if (area >= least) continue;
        bool hit = false;
        for (const svg::Subpath& subpath : found_.drawing->subpaths_of(shape)) {
            const auto points = found_.drawing->points_of(subpath);
            hit = hit || geometry::contains(points, at);
            for (std::size_t k = 0; k + 1 < points.size() && !hit; ++k)
                hit = geometry::distance_to_segment(at, points[k], points[k + 1]) <= reach;
        }
        if (!hit) continue;
        best = i;
        least = area;
    }
    return best;
}

void ImportDesk::step(int by) {
    const std::vector<std::size_t> list = listed();
    if (list.empty()) return;
    const auto at = chosen ? std::find(list.begin(), list.end(), *chosen) : list.end();
    if (at == list.end())
        chosen = by > 0 ? list.front() : list.back();
    else if (by > 0 ? at + 1 != list.end() : at != list.begin())
        chosen = by > 0 ? *(at + 1) : *(at - 1);
}

void ImportDesk::fold_chosen(bool open) {
    if (!chosen) return;
    const FoundEntry& entry = found_.entries[*chosen];
    if (open)
        fold(*chosen, !entry.children.empty());
    else if (entry.open)
        fold(*chosen, false);
    else if (entry.parent)
        chosen = entry.parent;
}

void ImportDesk::reveal(std::size_t entry) {
    for (auto at = found_.entries[entry].parent; at; at = found_.entries[*at].parent)
        found_.entries[*at].open = true;
}

} // namespace padchart::app
