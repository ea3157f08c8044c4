#include "app/found_trace.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "app/found_memory.hpp"
#include "base/counted.hpp"
#include "base/disk_file.hpp"
#include "svg/trace_names.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;
using geometry::Box;
using svg::DrawnShape;

/// Sides within this share of each other are of one size to the eye.
constexpr double kAlike = 0.06;

std::string size_words(const svg::Drawing& drawing, const Box& box) {
    return drawing.mm_per_unit ? fmt::format("{:.2f} x {:.2f} mm", box.width(), box.height())
                               : fmt::format("{:.4g} x {:.4g}", box.width(), box.height());
}

/// Behind the name of what the drawing hides.
const char* hidden_words(const DrawnShape& shape) {
    return shape.visible ? "" : " (hidden)";
}

std::string shape_name(const svg::Drawing& drawing, const DrawnShape& shape) {
    const std::string_view kind = svg::to_text(shape.kind);
    for (const std::string* own : {&shape.label, &shape.title, &shape.id})
        if (!own->empty() && !svg::is_generated_id(*own))
            return fmt::format("{} {}{}", kind, *own, hidden_words(shape));
    return fmt::format("{} {}{}", kind, size_words(drawing, shape.bbox), hidden_words(shape));
}

bool are_alike(const DrawnShape& a, const DrawnShape& b) {
    const auto near = [](double p, double q) { return std::abs(p - q) <= kAlike * std::max(p, q) + 1e-12; };
    const bool upright = near(a.bbox.width(), b.bbox.width()) && near(a.bbox.height(), b.bbox.height());
    const bool turned = near(a.bbox.width(), b.bbox.height()) && near(a.bbox.height(), b.bbox.width());
    return a.kind == b.kind && a.closed == b.closed && a.visible == b.visible && (upright || turned);
}

/// Builds the tree of what was found.
class EntryMaker {
public:
    EntryMaker(FoundTrace& found, const Watch& watch)
        : drawing_(*found.drawing), entries_(found.entries), entry_of_shape_(found.entry_of_shape), watch_(watch) {}

    /// False: called off on the way.
    bool make() {
        entry_of_shape_.resize(drawing_.shapes.size());
        for (std::size_t i = 0; i < drawing_.shapes.size(); ++i) {
            if (!may_go_on(i)) return false;
            direct_[layer_round(i)].push_back(i);
        }
        for (const auto& [layer, shapes] : direct_)
            if (!add_shapes(layer, shapes)) return false;
        gather();
        return true;
    }

private:
    [[nodiscard]] bool may_go_on(std::size_t done) const {
        constexpr std::size_t kBetween = 512;
        // Twice through the shapes: into their layers, then beside their like.
        return done % kBetween != 0 ||
               watch_.go_on("Sorting shapes into layers",
                            static_cast<double>(done) / 2.0 / static_cast<double>(drawing_.shapes.size()));
    }

    std::size_t layer_round(std::size_t shape) {
        const auto [known, is_new] = layer_of_group_.try_emplace(drawing_.shapes[shape].group, 0);
        if (is_new) known->second = layer_of(shape);
        return known->second;
    }

    std::size_t layer_of(std::size_t shape) {
        std::optional<std::size_t> at;
        for (const std::string& label : svg::layers_of(drawing_, drawing_.shapes[shape]))
            if (!svg::is_generated_id(label) || !at) at = layer_named(at, label);
        return at ? *at : layer_named(at, "");
    }

    std::size_t layer_named(std::optional<std::size_t> parent, const std::string& label) {
        const auto [found, is_new] = layers_.try_emplace({parent, label}, entries_.size());
        if (!is_new) return found->second;
        // A name that a drawing program gave says nothing of another drawing.
        std::string memory;
        if (!label.empty() && !svg::is_generated_id(label))
            memory = parent && !entries_[*parent].memory.empty() ? entries_[*parent].memory + " / " + label
                                                                 : "layer " + label;
        return add(FoundEntry::Kind::Layer, label.empty() ? "in no layer" : label, std::move(memory), parent);
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
        const std::size_t entry = add(FoundEntry::Kind::Shape, shape_name(drawing_, drawn), {}, parent);
        entries_[entry].shapes.push_back(shape);
        entry_of_shape_[shape] = entry;
    }

    /// Shapes of one kind and size are one entry where there are others beside them.
    bool add_shapes(std::size_t layer, const std::vector<std::size_t>& shapes) {
        std::vector<std::vector<std::size_t>> alike;
        constexpr std::size_t kMostKinds = 200; // a layer of many sizes is a list of shapes
        for (const std::size_t shape : shapes) {
            if (!may_go_on(drawing_.shapes.size() + sorted_++)) return false;
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
            const std::string what = fmt::format("{}s {}{}", svg::to_text(first.kind), size_words(drawing_, first.bbox),
                                                 hidden_words(first));
            const std::size_t entry = add(FoundEntry::Kind::Alike, fmt::format("{} {}", some.size(), what), {}, layer);
            for (const std::size_t shape : some)
                add_shape(shape, entry);
        }
        return true;
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

    const svg::Drawing& drawing_;
    std::vector<FoundEntry>& entries_;
    std::vector<std::size_t>& entry_of_shape_;
    const Watch& watch_;
    std::size_t sorted_ = 0;
    std::map<std::int32_t, std::size_t> layer_of_group_;
    std::map<std::pair<std::optional<std::size_t>, std::string>, std::size_t> layers_;
    std::map<std::size_t, std::vector<std::size_t>> direct_;
};

Error called_off() {
    return {"reading the trace was called off", ""};
}

/// The bytes of a file; whatever else a path may name is refused before it is opened.
Result<std::string> bytes_of(const fs::path& path) {
    std::error_code fault;
    const fs::file_status status = fs::status(path, fault);
    const std::string name = path.filename().string();
    if (!fs::exists(status)) return Error{"is not there", path.string()};
    if (!fs::is_regular_file(status)) return Error{"is no file; right would be an SVG file", path.string()};
    const std::size_t most = svg::ReadOptions{}.max_bytes;
    if (const auto size = fs::file_size(path, fault); !fault && size > most)
        return Error{fmt::format("is a file of {} MB; a trace may have {}", size / 1'000'000, most / 1'000'000), name};
    return read_file(path);
}

} // namespace

Result<FoundTrace> find_trace(const fs::path& path, const MeaningMemory& memory, const Watch& watch) {
    if (!watch.go_on("Reading the file")) return called_off();
    const Result<std::string> bytes = bytes_of(path);
    if (!bytes) return bytes.error();
    FoundTrace found;
    found.file_name = path.filename().string();
    if (!watch.go_on("Reading the XML")) return called_off();
    svg::ReadOptions options;
    options.measure_lengths = false;
    options.go_on = [&watch](double share) { return watch.go_on("Reading shapes", share); };
    Result<svg::Drawing> drawing = svg::read(*bytes, options);
    if (!drawing)
        return Error{
            drawing.error().message,
            fmt::format("{}{}{}", found.file_name, drawing.error().where.empty() ? "" : ":", drawing.error().where)};
    if (drawing->shapes.empty()) {
        std::string why;
        for (const Diagnostic& finding : drawing->diagnostics)
            if (finding.code != "no-physical-size" && why.empty()) why = ". " + finding.message;
        return Error{"the trace holds no shape: nothing to import" + why, found.file_name};
    }
    found.drawing = std::make_shared<const svg::Drawing>(std::move(*drawing));
    if (!EntryMaker(found, watch).make()) return called_off();
    found.prints = shape_prints(*found.drawing);
    recall(found, memory);
    return found;
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
        switch (count.role) {
        case svg::Role::None: words += fmt::format("{} not understood", count.many); break;
        case svg::Role::Note: words += fmt::format("{} left out", count.many); break;
        case svg::Role::Body: words += fmt::format("{} {}", count.many, count.many == 1 ? "body" : "bodies"); break;
        default: words += counted(count.many, svg::to_text(count.role)); break;
        }
    }
    return words;
}

} // namespace padchart::app
