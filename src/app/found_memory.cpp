#include "app/found_memory.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <locale>
#include <map>
#include <set>
#include <sstream>
#include <string_view>
#include <unordered_map>

#include <fmt/format.h>

#include "base/counted.hpp"
#include "svg/scan.hpp"

namespace padchart::app {
namespace {

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

std::uint64_t print_of_layers(const svg::Drawing& drawing, const DrawnShape& shape) {
    Print print;
    for (const std::string& label : svg::layers_of(drawing, shape))
        print.add(label);
    return print.value();
}

constexpr std::string_view kOnce = "once ";

/// Its layers, kind and size, wherever it lies.
std::uint64_t form_of(const svg::Drawing& drawing, const DrawnShape& shape) {
    Print print;
    print.add(print_of_layers(drawing, shape));
    print.add(svg::to_text(shape.kind));
    for (const double length : {shape.bbox.width(), shape.bbox.height(), shape.length})
        print.add_length(length);
    return print.value();
}

/// "once PRINT FORM X Y ID": what tells a shape that was moved since.
std::string key_of_once(const FoundTrace& found, std::size_t at) {
    const DrawnShape& shape = found.drawing->shapes[at];
    const geometry::Vec2 middle = shape.bbox.centre();
    return fmt::format("{}{:016x} {:016x} {:.3f} {:.3f} {}", kOnce, found.prints[at], form_of(*found.drawing, shape),
                       middle.x, middle.y, shape.id);
}

std::optional<OnceSaid> once_said(const std::string& what, const ShapeMeaning& meaning) {
    OnceSaid once{what, {}, 0, 0, {}, meaning};
    std::istringstream words(what.substr(kOnce.size()));
    words.imbue(std::locale::classic());
    words >> std::hex >> once.print >> once.form >> once.at.x >> once.at.y;
    if (!words) return std::nullopt;
    std::getline(words >> std::ws, once.id);
    return once;
}

/// Those of this file that do not lie where they lay.
std::vector<OnceSaid> said_elsewhere(const FoundTrace& found, const MeaningMemory& memory) {
    const std::set<std::uint64_t> here(found.prints.begin(), found.prints.end());
    std::vector<OnceSaid> all;
    for (const auto& [what, known] : memory.beginning_with(kOnce))
        if (known.file == found.file_name)
            if (auto once = once_said(what, known.meaning); once && !here.contains(once->print))
                all.push_back(std::move(*once));
    return all;
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
                       count == 1                         ? fmt::format("{} {}", word.front() == 'o' ? "an" : "a", word)
                       : *meaning.role == svg::Role::Body ? "bodies"
                                                          : fmt::format("{}s", word),
                       side);
}

/// What moved since, among the single shapes of a drawing of which nothing is known yet.
class Finder {
public:
    explicit Finder(FoundTrace& found) : found_(found), forms_(found.entries.size(), 0) {
        for (std::size_t i = 0; i < forms_.size(); ++i)
            if (found.entries[i].kind == FoundEntry::Kind::Shape) forms_[i] = form_of(*found.drawing, shape_of(i));
    }

    void run() {
        for (std::size_t i = 0; i < found_.once.size(); ++i)
            take(i, of_that_id(found_.once[i]));
        for (std::size_t i = 0; i < found_.once.size(); ++i)
            if (!is_taken_[i]) take(i, nearest_of_that_form(found_.once[i]));
    }

private:
    [[nodiscard]] const DrawnShape& shape_of(std::size_t entry) const {
        return found_.drawing->shapes[found_.entries[entry].shapes[0]];
    }
    [[nodiscard]] bool could_be(std::size_t entry, const OnceSaid& once) const {
        return forms_[entry] == once.form && found_.entries[entry].kind == FoundEntry::Kind::Shape &&
               found_.entries[entry].said == ShapeMeaning{};
    }

    [[nodiscard]] std::optional<std::size_t> of_that_id(const OnceSaid& once) const {
        if (once.id.empty()) return std::nullopt;
        std::optional<std::size_t> one;
        for (std::size_t i = 0; i < forms_.size(); ++i) {
            if (!could_be(i, once) || svg::trimmed(shape_of(i).id) != svg::trimmed(once.id)) continue;
            if (one) return std::nullopt; // borne by two
            one = i;
        }
        return one;
    }

    /// No farther off than it is long: beyond that it is most likely another one.
    [[nodiscard]] std::optional<std::size_t> nearest_of_that_form(const OnceSaid& once) const {
        std::optional<std::size_t> nearest;
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < forms_.size(); ++i) {
            if (!could_be(i, once)) continue;
            const geometry::Box& box = shape_of(i).bbox;
            const double off = geometry::distance(box.centre(), once.at);
            if (off > std::max(box.width(), box.height()) || off >= least) continue;
            least = off;
            nearest = i;
        }
        return nearest;
    }

    void take(std::size_t once, std::optional<std::size_t> entry) {
        if (!entry) return;
        is_taken_[once] = true;
        FoundEntry& taken = found_.entries[*entry];
        taken.said = found_.once[once].meaning;
        taken.remembered = true;
        taken.said_for = found_.file_name;
        taken.once = once;
    }

    FoundTrace& found_;
    std::vector<std::uint64_t> forms_; ///< of each entry of one shape
    std::vector<bool> is_taken_ = std::vector<bool>(found_.once.size(), false);
};

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

Diagnostic moved_finding(const FoundTrace& found, const FoundEntry& entry) {
    return {Severity::Warning,
            "remembered-meaning",
            fmt::format(
                "{} {}, as you said for {}, though it lies {:.2f}{} from there now", entry.name,
                words_of(entry.said, 1), entry.said_for,
                geometry::distance(found.drawing->shapes[entry.shapes[0]].bbox.centre(), found.once[*entry.once].at),
                found.drawing->mm_per_unit ? " mm" : " units"),
            {},
            {}};
}

} // namespace

std::vector<std::uint64_t> shape_prints(const svg::Drawing& drawing) {
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
    found.once = said_elsewhere(found, memory);
}

void recall_moved(FoundTrace& found) {
    if (!found.once.empty()) Finder(found).run();
}

void remember(const FoundTrace& found, const std::set<std::size_t>& entries, MeaningMemory& memory) {
    const auto keep = [&](const std::string& what, const ShapeMeaning& meaning) {
        const RememberedMeaning* known = memory.find(what);
        if (known == nullptr && meaning == ShapeMeaning{}) return;
        if (known == nullptr || known->meaning != meaning) memory.set(what, meaning, found.file_name);
    };
    for (const std::size_t at : entries) {
        const FoundEntry& entry = found.entries[at];
        if (entry.kind == FoundEntry::Kind::Shape) keep(key_of_once(found, entry.shapes[0]), entry.said);
        if (entry.once) keep(found.once[*entry.once].what, {}); // something else is said of it now
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
        if (entry.once) {
            account.findings.push_back(moved_finding(found, entry));
            continue;
        }
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
