#include "app/found_memory.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <string_view>
#include <unordered_map>

#include <fmt/format.h>

#include "base/counted.hpp"

namespace padchart::app {
namespace {

using svg::Drawing;
using svg::DrawnShape;
using svg::ShapeMeaning;

/// More shapes than these are remembered as one: all of them, or none.
constexpr std::size_t kMostSingly = 500;

/// FNV-1a, 64 bit (from memory): offset basis, prime.
class Print {
public:
    void add(std::string_view text) {
        for (const char c : text)
            add_byte(static_cast<unsigned char>(c));
        add_byte(0xFF); // "a", "b" is not "ab"
    }
    void add(std::uint64_t number) {
        for (int shift = 0; shift < 64; shift += 8)
            add_byte(static_cast<unsigned char>(number >> shift));
    }
    /// To a hundredth. Programs write lengths with two or three decimals: the steps begin where no such number lies, so
    /// that what is lost in writing does not cross one.
    void add_length(double length) {
        add(static_cast<std::uint64_t>(static_cast<std::int64_t>(std::floor(length * 100.0 + 0.3819))));
    }
    [[nodiscard]] std::uint64_t value() const { return value_; }

private:
    void add_byte(unsigned char byte) { value_ = (value_ ^ byte) * 1099511628211ULL; }
    std::uint64_t value_ = 14695981039346656037ULL;
};

std::uint64_t print_of_layers(const Drawing& drawing, const DrawnShape& shape) {
    Print print;
    for (const std::string& label : svg::layers_of(drawing, shape))
        print.add(label);
    return print.value();
}

std::string key_of_shape(const FoundTrace& found, std::size_t shape) {
    return fmt::format("shape {:016x}", found.prints[shape]);
}

std::string key_of_all(const FoundTrace& found, const FoundEntry& entry) {
    std::uint64_t sum = 0; // whatever the order
    for (const std::size_t shape : entry.shapes) {
        Print print;
        print.add(found.prints[shape]);
        sum += print.value();
    }
    return fmt::format("{} shapes {:016x}", entry.shapes.size(), sum);
}

bool is_by_name(const FoundEntry& entry) {
    return !entry.memory.empty();
}

bool is_by_shapes(const FoundEntry& entry) {
    return !is_by_name(entry) && entry.shapes.size() <= kMostSingly;
}

void say_again(FoundEntry& entry, const RememberedMeaning* known) {
    if (known == nullptr) return;
    entry.said = known->meaning;
    entry.remembered = true;
    entry.said_for = known->file;
}

/// What is the same of all in an entry is said of the entry.
void lift(FoundTrace& found, FoundEntry& entry) {
    if (entry.children.empty() || entry.remembered || !is_by_shapes(entry)) return;
    const FoundEntry first = found.entries[entry.children[0]];
    const bool is_one = first.remembered && std::all_of(entry.children.begin(), entry.children.end(), [&](auto at) {
                            const FoundEntry& child = found.entries[at];
                            return child.remembered && child.said == first.said && child.said_for == first.said_for;
                        });
    if (!is_one) return;
    entry.said = first.said;
    entry.remembered = true;
    entry.said_for = first.said_for;
    for (const std::size_t at : entry.children) {
        found.entries[at].said = {};
        found.entries[at].remembered = false;
        found.entries[at].said_for.clear();
    }
}

/// What is said of the shape itself or of what it lies in, as far as that is remembered shape by shape.
ShapeMeaning meaning_of_shape(const FoundTrace& found, std::size_t shape) {
    ShapeMeaning meaning;
    for (std::optional<std::size_t> at = found.entry_of_shape[shape]; at && is_by_shapes(found.entries[*at]);
         at = found.entries[*at].parent) {
        const ShapeMeaning& said = found.entries[*at].said;
        if (!meaning.role) meaning.role = said.role;
        if (!meaning.side) meaning.side = said.side;
    }
    return meaning;
}

std::string words_of(const ShapeMeaning& meaning, std::size_t count) {
    const std::string are = count == 1 ? "is" : "are";
    const std::string side =
        meaning.side ? fmt::format(" on the {} side", document::to_text(*meaning.side)) : std::string();
    if (!meaning.role) return fmt::format("{} put{}", are, side);
    if (*meaning.role == svg::Role::Note) return are + " left out";
    const std::string_view word = svg::to_text(*meaning.role);
    return fmt::format("{} taken for {}{}", are,
                       count == 1                         ? fmt::format("a {}", word)
                       : *meaning.role == svg::Role::Body ? "bodies"
                                                          : fmt::format("{}s", word),
                       side);
}

constexpr std::size_t kNobody = std::numeric_limits<std::size_t>::max();

/// Which entry says what each shape is.
struct Sayers {
    std::vector<std::size_t> role, side;
};

Sayers sayers_of(const FoundTrace& found) {
    Sayers sayers{std::vector(found.drawing->shapes.size(), kNobody),
                  std::vector(found.drawing->shapes.size(), kNobody)};
    for (std::size_t i = 0; i < found.entries.size(); ++i) { // parents first
        const FoundEntry& entry = found.entries[i];
        if (entry.said == ShapeMeaning{}) continue;
        for (const std::size_t shape : entry.shapes) {
            if (entry.said.role) sayers.role[shape] = i;
            if (entry.said.side) sayers.side[shape] = i;
        }
    }
    return sayers;
}

} // namespace

std::vector<std::uint64_t> shape_prints(const Drawing& drawing) {
    std::vector<std::uint64_t> prints;
    prints.reserve(drawing.shapes.size());
    std::unordered_map<std::int32_t, std::uint64_t> layers;
    std::unordered_map<std::uint64_t, std::uint64_t> times;
    for (const DrawnShape& shape : drawing.shapes) {
        const auto [layer, is_new] = layers.try_emplace(shape.group, 0);
        if (is_new) layer->second = print_of_layers(drawing, shape);
        Print print;
        print.add(layer->second);
        print.add(svg::to_text(shape.kind));
        for (const double length :
             {shape.bbox.min.x, shape.bbox.min.y, shape.bbox.max.x, shape.bbox.max.y, shape.length})
            print.add_length(length);
        print.add(times[print.value()]++);
        prints.push_back(print.value());
    }
    return prints;
}

void recall(FoundTrace& found, const MeaningMemory& memory) {
    if (memory.size() == 0) return;
    for (FoundEntry& entry : found.entries) {
        if (is_by_name(entry))
            say_again(entry, memory.find(entry.memory));
        else if (entry.kind == FoundEntry::Kind::Shape)
            say_again(entry, memory.find(key_of_shape(found, entry.shapes[0])));
        else if (!is_by_shapes(entry))
            say_again(entry, memory.find(key_of_all(found, entry)));
    }
    for (std::size_t i = found.entries.size(); i-- > 0;)
        lift(found, found.entries[i]);
}

void remember(const FoundTrace& found, const std::set<std::size_t>& entries, MeaningMemory& memory) {
    const auto keep = [&](const std::string& what, const ShapeMeaning& meaning) {
        const RememberedMeaning* known = memory.find(what);
        if (known == nullptr && meaning == ShapeMeaning{}) return;
        if (known == nullptr || known->meaning != meaning) memory.set(what, meaning, found.file_name);
    };
    for (const std::size_t at : entries) {
        const FoundEntry& entry = found.entries[at];
        if (is_by_name(entry))
            keep(entry.memory, entry.said);
        else if (!is_by_shapes(entry))
            keep(key_of_all(found, entry), entry.said);
        else
            for (const std::size_t shape : entry.shapes)
                keep(key_of_shape(found, shape), meaning_of_shape(found, shape));
    }
}

MemoryAccount account_of_memory(const FoundTrace& found) {
    MemoryAccount account;
    if (std::none_of(found.entries.begin(), found.entries.end(), [](const auto& entry) { return entry.remembered; }))
        return account;
    const Sayers sayers = sayers_of(found);
    const auto is_remembered = [&](std::size_t sayer) { return sayer != kNobody && found.entries[sayer].remembered; };
    std::map<std::size_t, std::size_t> counts; // by the entry that says it
    for (std::size_t shape = 0; shape < sayers.role.size(); ++shape) {
        const bool role = is_remembered(sayers.role[shape]), side = is_remembered(sayers.side[shape]);
        if (!role && !side) continue;
        ++account.shapes;
        if (role && found.entries[sayers.role[shape]].said.role == svg::Role::Note) ++account.left_out;
        ++counts[role ? sayers.role[shape] : sayers.side[shape]];
    }
    struct Line {
        std::string layer, file;
        ShapeMeaning meaning;
        std::size_t count = 0;
    };
    std::vector<Line> lines; // single shapes of one meaning are one line
    for (const auto& [at, count] : counts) {
        const FoundEntry& entry = found.entries[at];
        const std::string layer = is_by_name(entry) ? entry.name : "";
        const auto same = std::find_if(lines.begin(), lines.end(), [&](const Line& line) {
            return line.layer == layer && line.file == entry.said_for && line.meaning == entry.said;
        });
        if (same != lines.end() && layer.empty())
            same->count += count;
        else
            lines.push_back({layer, entry.said_for, entry.said, count});
    }
    for (const Line& line : lines)
        account.findings.push_back(
            {Severity::Warning,
             "remembered-meaning",
             fmt::format("{} {}, as you said for {}",
                         line.layer.empty() ? counted(line.count, "shape")
                                            : fmt::format("{} of layer {}", counted(line.count, "shape"), line.layer),
                         words_of(line.meaning, line.count), line.file.empty() ? "an earlier trace" : line.file),
             {},
             {}});
    return account;
}

} // namespace padchart::app
