#include "app/import_desk.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <fmt/format.h>

#include "analysis/grouping.hpp"
#include "app/editor.hpp"
#include "svg/trace_names.hpp"
#include "json/disk_file.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;
using svg::Drawing;
using svg::DrawnShape;

/// Sides within this share of each other are of one size to the eye.
constexpr double kAlike = 0.06;

std::string size_words(const Drawing& drawing, const Box& box) {
    return drawing.mm_per_unit ? fmt::format("{:.2f} x {:.2f} mm", box.width(), box.height())
                               : fmt::format("{:.4g} x {:.4g}", box.width(), box.height());
}

std::string shape_name(const Drawing& drawing, const DrawnShape& shape) {
    const std::string_view kind = svg::to_text(shape.kind);
    for (const std::string* own : {&shape.label, &shape.title, &shape.id})
        if (!own->empty() && !svg::is_generated_id(*own)) return fmt::format("{} {}", kind, *own);
    return fmt::format("{} {}", kind, size_words(drawing, shape.bbox));
}

bool are_alike(const DrawnShape& a, const DrawnShape& b) {
    const auto near = [](double p, double q) { return std::abs(p - q) <= kAlike * std::max(p, q) + 1e-12; };
    const bool upright = near(a.bbox.width(), b.bbox.width()) && near(a.bbox.height(), b.bbox.height());
    const bool turned = near(a.bbox.width(), b.bbox.height()) && near(a.bbox.height(), b.bbox.width());
    return a.kind == b.kind && a.closed == b.closed && (upright || turned);
}

/// Builds the tree of what was found.
class EntryMaker {
public:
    EntryMaker(const Drawing& drawing, std::string file, std::vector<FoundEntry>& entries,
               std::vector<std::size_t>& entry_of_shape)
        : drawing_(drawing), file_(std::move(file)), entries_(entries), entry_of_shape_(entry_of_shape) {}

    void make() {
        entry_of_shape_.resize(drawing_.shapes.size());
        for (std::size_t i = 0; i < drawing_.shapes.size(); ++i)
            direct_[layer_of(i)].push_back(i);
        for (const auto& [layer, shapes] : direct_)
            add_shapes(layer, shapes);
        gather();
    }

private:
    std::size_t layer_of(std::size_t shape) {
        std::optional<std::size_t> at;
        for (const std::string& label : svg::layers_of(drawing_, drawing_.shapes[shape]))
            if (!svg::is_generated_id(label) || !at) at = layer_named(at, label);
        return at ? *at : layer_named(at, "");
    }

    std::size_t layer_named(std::optional<std::size_t> parent, const std::string& label) {
        const auto [found, is_new] = layers_.try_emplace({parent, label}, entries_.size());
        if (!is_new) return found->second;
        const std::string memory = parent ? entries_[*parent].memory + " / " + label : "layer " + label;
        return add(FoundEntry::Kind::Layer, label.empty() ? "in no layer" : label, memory, parent);
    }

    std::size_t add(FoundEntry::Kind kind, std::string name, std::string memory, std::optional<std::size_t> parent) {
        FoundEntry entry;
        entry.kind = kind;
        entry.name = std::move(name);
        entry.memory = std::move(memory);
        entry.parent = parent;
        entry.depth = parent ? entries_[*parent].depth + 1 : 0;
        entries_.push_back(std::move(entry));
        if (parent) entries_[*parent].children.push_back(entries_.size() - 1);
        return entries_.size() - 1;
    }

    void add_shape(std::size_t shape, std::size_t parent) {
        const DrawnShape& drawn = drawing_.shapes[shape];
        const std::size_t entry = add(FoundEntry::Kind::Shape, shape_name(drawing_, drawn),
                                      file_ + ": " + svg::key_of(drawing_, drawn), parent);
        entries_[entry].shapes.push_back(shape);
        entry_of_shape_[shape] = entry;
    }

    /// Shapes of one kind and size are one entry where there are others beside them.
    void add_shapes(std::size_t layer, const std::vector<std::size_t>& shapes) {
        std::vector<std::vector<std::size_t>> alike;
        constexpr std::size_t kMostKinds = 200; // a layer of many sizes is a list of shapes
        for (const std::size_t shape : shapes) {
            const auto found = std::find_if(alike.begin(), alike.end(), [&](const auto& some) {
                return are_alike(drawing_.shapes[some.front()], drawing_.shapes[shape]);
            });
            if (found != alike.end())
                found->push_back(shape);
            else if (alike.size() < kMostKinds)
                alike.push_back({shape});
            else
                alike.back().push_back(shape);
        }
        for (const auto& some : alike) {
            if (some.size() == 1 || alike.size() == 1) {
                for (const std::size_t shape : some)
                    add_shape(shape, layer);
                continue;
            }
            const DrawnShape& first = drawing_.shapes[some.front()];
            const std::string what = fmt::format("{}s {}", svg::to_text(first.kind), size_words(drawing_, first.bbox));
            const std::size_t entry = add(FoundEntry::Kind::Alike, fmt::format("{} {}", some.size(), what),
                                          file_ + ": " + entries_[layer].memory + " / " + what, layer);
            for (const std::size_t shape : some)
                add_shape(shape, entry);
        }
    }

    void gather() {
        for (std::size_t i = entries_.size(); i-- > 0;)
            if (entries_[i].parent) {
                std::vector<std::size_t>& all = entries_[*entries_[i].parent].shapes;
                all.insert(all.end(), entries_[i].shapes.begin(), entries_[i].shapes.end());
            }
        for (FoundEntry& entry : entries_)
            std::sort(entry.shapes.begin(), entry.shapes.end());
    }

    const Drawing& drawing_;
    std::string file_;
    std::vector<FoundEntry>& entries_;
    std::vector<std::size_t>& entry_of_shape_;
    std::map<std::pair<std::optional<std::size_t>, std::string>, std::size_t> layers_;
    std::map<std::size_t, std::vector<std::size_t>> direct_;
};

} // namespace

Result<void> ImportDesk::load(const std::filesystem::path& path, const MeaningMemory& memory) {
    const bool into = into_current;
    forget();
    into_current = into;
    const Result<std::string> bytes = json::read_file(path);
    if (!bytes) return bytes.error();
    Result<Drawing> drawing = svg::read(*bytes);
    if (!drawing) return drawing.error();
    if (drawing->shapes.empty()) {
        const std::string why = drawing->diagnostics.empty() ? "" : ". " + drawing->diagnostics.front().message;
        return Error{"the trace holds no shape: nothing to import" + why, path.filename().string()};
    }
    drawing_ = std::make_shared<const Drawing>(std::move(*drawing));
    file_name_ = path.filename().string();
    EntryMaker(*drawing_, file_name_, entries_, entry_of_shape_).make();
    recall(memory);
    rebuild();
    return {};
}

void ImportDesk::recall(const MeaningMemory& memory) {
    for (FoundEntry& entry : entries_)
        if (const svg::ShapeMeaning* said = memory.size() > 0 ? memory.find(entry.memory) : nullptr) entry.said = *said;
}

void ImportDesk::remember(MeaningMemory& memory) const {
    for (const FoundEntry& entry : entries_) {
        const svg::ShapeMeaning* known = memory.find(entry.memory);
        if (entry.said != (known != nullptr ? *known : svg::ShapeMeaning{})) memory.set(entry.memory, entry.said);
    }
}

void ImportDesk::rebuild() {
    svg::TraceOptions options;
    options.scale = scale_;
    // Parents stand before their children: what was said of an inner entry comes later and wins.
    for (const FoundEntry& entry : entries_) {
        if (entry.said == svg::ShapeMeaning{}) continue;
        for (const std::size_t shape : entry.shapes) {
            svg::ShapeMeaning& meaning = options.shape_meanings[shape];
            if (entry.said.role) meaning.role = entry.said.role;
            if (entry.said.side) meaning.side = entry.said.side;
        }
    }
    result_ = svg::chart_from_trace(*drawing_, options);
    for (FoundEntry& entry : entries_) {
        entry.taken_for = {};
        if (!*result_) continue;
        for (const std::size_t shape : entry.shapes)
            ++entry.taken_for[static_cast<std::size_t>((*result_)->account[shape].role)];
    }
    ++revision_;
}

std::vector<std::size_t> ImportDesk::listed() const {
    std::vector<std::size_t> list, stack;
    for (std::size_t i = entries_.size(); i-- > 0;)
        if (!entries_[i].parent) stack.push_back(i);
    while (!stack.empty()) {
        const std::size_t entry = stack.back();
        stack.pop_back();
        list.push_back(entry);
        const std::vector<std::size_t>& children = entries_[entry].children;
        if (entries_[entry].open) stack.insert(stack.end(), children.rbegin(), children.rend());
    }
    return list;
}

void ImportDesk::say_role(std::size_t entry, std::optional<svg::Role> role) {
    entries_[entry].said.role = role;
    rebuild();
}

void ImportDesk::say_side(std::size_t entry, std::optional<document::Side> side) {
    entries_[entry].said.side = side;
    rebuild();
}

void ImportDesk::set_scale(std::optional<document::Scale> scale, Diagnostics findings) {
    scale_ = std::move(scale);
    scale_findings_ = std::move(findings);
    rebuild();
}

Result<svg::ReimportResult> ImportDesk::again(const document::Chart& current) const {
    if (!*result_) return result_->error();
    document::Chart fresh = (*result_)->chart;
    // Loose pads that were put together once are put together again before parts are looked for.
    if (analysis::was_grouped(current)) {
        Result<document::Chart> grouped = analysis::accept_groups(fresh, analysis::propose_groups(fresh).proposals);
        if (!grouped) return grouped.error();
        fresh = std::move(*grouped);
    }
    return svg::reimport(current, fresh);
}

Result<document::Chart> ImportDesk::outcome(const document::Chart& current) const {
    if (!into_current) {
        if (!*result_) return result_->error();
        document::Chart chart = (*result_)->chart;
        if (chart.title.title.empty()) chart.title.title = std::filesystem::path(file_name_).stem().string();
        return chart;
    }
    Result<svg::ReimportResult> result = again(current);
    if (!result) return result.error();
    return std::move(result->chart);
}

Diagnostics ImportDesk::findings(const document::Chart& current) const {
    if (!*result_) return {};
    Diagnostics all = (*result_)->diagnostics;
    const auto add = [&](const Diagnostics& more) { all.insert(all.end(), more.begin(), more.end()); };
    add(scale_findings_);
    if (!into_current) {
        add(analysis::mirrored_numbering((*result_)->chart));
        add(analysis::size_suggestions((*result_)->chart));
    } else {
        // Things of the fresh chart go by other ids than those of the chart in hand.
        for (Diagnostic& finding : all)
            finding.target.clear();
        if (const auto result = again(current)) {
            add(result->findings);
            add(changes_of(*result, current));
            add(analysis::mirrored_numbering(result->chart));
        }
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Diagnostic& a, const Diagnostic& b) { return a.severity > b.severity; });
    return all;
}

double ImportDesk::factor() const {
    if (!scale_) return 1.0;
    return scale_->mm_per_unit / drawing_->mm_per_unit.value_or(1.0);
}

std::optional<std::size_t> ImportDesk::shape_at(Vec2 chart_place, double reach) const {
    const Vec2 at = chart_place / factor();
    reach /= factor();
    std::optional<std::size_t> best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < drawing_->shapes.size(); ++i) {
        const DrawnShape& shape = drawing_->shapes[i];
        if (!shape.bbox.grown(reach).contains(at)) continue;
        const double area = shape.bbox.width() * shape.bbox.height();
        if (area >= least) continue;
        bool hit = false;
        for (const svg::Subpath& subpath : drawing_->subpaths_of(shape)) {
            const auto points = drawing_->points_of(subpath);
            hit = hit || geometry::contains(points, at);
            for (std::size_t k = 0; k + 1 < points.size() && !hit; ++k) {
                const Vec2 way = points[k + 1] - points[k];
                const double square = geometry::dot(way, way);
                const double t = square > 0.0 ? std::clamp(geometry::dot(at - points[k], way) / square, 0.0, 1.0) : 0.0;
                hit = geometry::distance(at, points[k] + way * t) <= reach;
            }
        }
        if (!hit) continue;
        best = i;
        least = area;
    }
    return best;
}

void ImportDesk::reveal(std::size_t entry) {
    for (auto at = entries_[entry].parent; at; at = entries_[*at].parent)
        entries_[*at].open = true;
}

std::string taken_words(const FoundEntry& entry) {
    struct Count {
        std::size_t many;
        svg::Role role;
    };
    std::vector<Count> counts;
    for (std::size_t i = 0; i < entry.taken_for.size(); ++i)
        if (entry.taken_for[i] > 0) counts.push_back({entry.taken_for[i], static_cast<svg::Role>(i)});
    std::stable_sort(counts.begin(), counts.end(), [](const Count& a, const Count& b) { return a.many > b.many; });
    std::string words;
    for (const Count& count : counts) {
        if (!words.empty()) words += ", ";
        const bool one = count.many == 1;
        switch (count.role) {
        case svg::Role::None: words += fmt::format("{} not understood", count.many); break;
        case svg::Role::Note: words += fmt::format("{} left out", count.many); break;
        case svg::Role::Body: words += fmt::format("{} {}", count.many, one ? "body" : "bodies"); break;
        default: words += fmt::format("{} {}{}", count.many, svg::to_text(count.role), one ? "" : "s"); break;
        }
    }
    return words;
}

Diagnostics changes_of(const svg::ReimportResult& result, const document::Chart& before) {
    Diagnostics lines;
    const auto name = [](const document::Chart& chart, const document::Id& id) {
        const auto at = document::find_part(chart, id);
        if (at) return chart.parts[*at].name.empty() ? std::string("a part without a name") : chart.parts[*at].name;
        for (const document::KeepOut& thing : chart.keep_outs)
            if (thing.id == id) return thing.name.empty() ? std::string("a keep-out") : "keep-out " + thing.name;
        for (const document::Shield& thing : chart.shields)
            if (thing.id == id) return thing.name.empty() ? std::string("a shield") : "shield " + thing.name;
        return std::string("a part");
    };
    const auto say = [&](Severity severity, const char* code, std::string words, const document::Id& id) {
        lines.push_back({severity, code, std::move(words), "", id.text});
    };
    constexpr double kMoved_mm = 0.005; // below what any trace means
    std::size_t unmoved = 0;
    for (const svg::FoundAgain& part : result.parts) {
        const bool plain = part.how == svg::FoundBy::TraceKey;
        if (part.moved_mm < kMoved_mm && plain) {
            ++unmoved;
            continue;
        }
        std::string words =
            name(before, part.current) + (plain ? "" : fmt::format(" found again by {}", to_text(part.how)));
        if (part.moved_mm >= kMoved_mm) words += fmt::format("{} moved by {:.2f} mm", plain ? "" : ",", part.moved_mm);
        say(plain ? Severity::Note : Severity::Warning, "found-again", words, part.current);
    }
    for (const document::Id& id : result.added)
        say(Severity::Note, "added", name(result.chart, id) + " is new", id);
    for (const document::Id& id : result.kept)
        say(Severity::Warning, "kept", name(result.chart, id) + " is gone from the trace; kept for what was said of it",
            id);
    for (const std::string& gone : result.left)
        say(Severity::Warning, "left", gone + " is gone from the trace and from the chart", {});
    if (unmoved > 0) say(Severity::Note, "unmoved", fmt::format("{} parts lie where they lay", unmoved), {});
    return lines;
}

} // namespace padchart::app
