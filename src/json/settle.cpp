#include "json/settle.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>

#include "document/chart_lists.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"
#include "json/merge_ids.hpp"
#include "json/merge_tree.hpp"
#include "json/text_output.hpp"
#include "json/tree.hpp"

namespace padchart::json {
namespace {

using document::Chart;
using document::Conflict;
using document::Id;

Error thing_gone(const Conflict& conflict) {
    return {"the thing is not on the chart any more; right would be to take the chart as it is", conflict.thing.text};
}

std::vector<std::string> steps_of(std::string_view pointer) {
    std::vector<std::string> steps;
    while (!pointer.empty()) {
        pointer.remove_prefix(1); // the slash
        const std::string_view raw = pointer.substr(0, pointer.find('/'));
        pointer.remove_prefix(raw.size());
        std::string step;
        for (std::size_t i = 0; i < raw.size(); ++i) {
            const bool escaped = raw[i] == '~' && i + 1 < raw.size();
            step += escaped ? (raw[++i] == '1' ? '/' : '~') : raw[i];
        }
        steps.push_back(std::move(step));
    }
    return steps;
}

std::string_view parent_of(std::string_view field) {
    return field.substr(0, field.rfind('/'));
}
std::string_view last_of(std::string_view field) {
    const std::size_t at = field.rfind('/');
    return at == std::string_view::npos ? field : field.substr(at + 1);
}

/// One-line JSON of a tree with another value at the end of a path; an empty value takes the member out.
class Writer {
public:
    Writer(const Tree& tree, std::vector<std::string> steps, std::string value)
        : tree_(tree), steps_(std::move(steps)), value_(std::move(value)) {}

    /// Nothing where the path leads nowhere.
    std::optional<std::string> write(std::size_t node, std::size_t depth) const {
        if (depth == steps_.size()) return value_;
        const Node& here = tree_.nodes[node];
        if (here.kind == NodeKind::Object) return object(node, depth);
        if (here.kind == NodeKind::List) return list(node, depth);
        return std::nullopt;
    }

private:
    static void append(std::string& out, std::string_view key, std::string_view json) {
        if (json.empty()) return;
        if (!out.empty()) out += ", ";
        append_quoted(out, key);
        out += ": ";
        out += json;
    }

    /// What is not there yet: objects down to the value.
    [[nodiscard]] std::string nested(std::size_t depth) const {
        if (depth == steps_.size() || value_.empty()) return value_;
        std::string out;
        append(out, steps_[depth], nested(depth + 1));
        return '{' + out + '}';
    }

    [[nodiscard]] std::optional<std::string> object(std::size_t node, std::size_t depth) const {
        std::string out;
        bool found = false;
        for (std::size_t i = node + 1; i < tree_.nodes[node].end; i = tree_.nodes[i].end) {
            if (tree_.key(i) != steps_[depth]) {
                append(out, tree_.key(i), one_line_text(tree_, i));
                continue;
            }
            found = true;
            const std::optional<std::string> inner = write(i, depth + 1);
            if (!inner) return std::nullopt;
            append(out, tree_.key(i), *inner);
        }
        if (!found) append(out, steps_[depth], nested(depth + 1));
        return '{' + out + '}';
    }

    [[nodiscard]] std::optional<std::string> list(std::size_t node, std::size_t depth) const {
        std::size_t wanted = 0;
        const std::string& step = steps_[depth];
        const auto [end, fault] = std::from_chars(step.data(), step.data() + step.size(), wanted);
        if (fault != std::errc() || end != step.data() + step.size() || wanted >= tree_.nodes[node].count)
            return std::nullopt;
        std::string out;
        std::size_t position = 0;
        for (std::size_t i = node + 1; i < tree_.nodes[node].end; i = tree_.nodes[i].end, ++position) {
            const std::optional<std::string> inner = position == wanted ? write(i, depth + 1) : one_line_text(tree_, i);
            if (!inner) return std::nullopt;
            if (!inner->empty()) out += (out.empty() ? "" : ", ") + *inner;
        }
        return '[' + out + ']';
    }

    const Tree& tree_;
    std::vector<std::string> steps_;
    std::string value_;
};

struct Edit {
    std::string field;
    std::string value;
};

Result<Chart> edited(const Chart& chart, const std::vector<std::string>& before, const std::vector<Edit>& edits) {
    std::string text = write_chart(chart);
    for (const Edit& edit : edits) {
        const Result<Tree> tree = parse_tree(text);
        if (!tree) return tree.error();
        std::vector<std::string> steps = before;
        const std::vector<std::string> own = steps_of(edit.field);
        steps.insert(steps.end(), own.begin(), own.end());
        const std::optional<std::string> next = Writer(*tree, std::move(steps), edit.value).write(0, 0);
        if (!next) return Error{"there is no such place on the chart any more", edit.field};
        text = *next;
    }
    Result<Chart> out = read_chart(text);
    if (!out) return Error{"the value does not fit there: " + out.error().message, out.error().where};
    return out;
}

/// The thing alone on a chart of its own, so that settling costs the same on a chart of five parts and of 5,000.
struct Alone {
    Chart chart;
    std::string list; ///< key of its list in the file
};

std::optional<Alone> alone(const Chart& chart, const Id& thing) {
    Alone out;
    bool found = false;
    document::each_list(chart, out.chart, [&](std::string_view key, const auto& from, auto& to) {
        for (std::size_t i = 0; i < from.size() && !found; ++i) {
            if (from[i].id != thing) continue;
            to.add(from[i]);
            out.list = key;
            found = true;
        }
    });
    return found ? std::optional(std::move(out)) : std::nullopt;
}

/// No other field of its statement is said of the thing: the value of a part, which has no unit beside it.
bool stands_alone(const Chart& chart, const Conflict& conflict) {
    const std::optional<Alone> one = alone(chart, conflict.thing);
    if (!one) return false;
    const Result<Tree> tree = parse_tree(write_chart(one->chart));
    const std::string parent = '/' + one->list + "/0" + std::string(parent_of(conflict.field));
    if (!tree) return false;
    const std::size_t node = node_at(*tree, parent);
    if (pointer_to(*tree, node) != parent) return false;
    const int group = statement_group(last_of(conflict.field));
    for (std::size_t i = node + 1; i < tree->nodes[node].end; i = tree->nodes[i].end)
        if (statement_group(tree->key(i)) == group && tree->key(i) != last_of(conflict.field)) return false;
    return true;
}

Result<Chart> edit_thing(const Chart& chart, const Conflict& conflict, const std::vector<Edit>& edits) {
    const std::optional<Alone> one = alone(chart, conflict.thing);
    if (!one) return thing_gone(conflict);
    const Result<Chart> changed = edited(one->chart, {one->list, "0"}, edits);
    if (!changed) return changed.error();
    Chart out = chart;
    document::each_list(*changed, out, [&](std::string_view, const auto& from, auto& to) {
        if (from.size() != 1 || from[0].id != conflict.thing) return;
        for (std::size_t i = 0; i < to.size(); ++i)
            if (to[i].id == conflict.thing) to.replace(i, from[0]);
    });
    return out;
}

/// Of the chart itself: everything but its lists.
Result<Chart> edit_root(const Chart& chart, const std::vector<Edit>& edits) {
    Chart without = chart;
    without.conflicts.clear();
    document::each_list(chart, without, [](std::string_view, const auto&, auto& to) { to = {}; });
    Result<Chart> changed = edited(without, {}, edits);
    if (!changed) return changed;
    document::each_list(chart, *changed, [](std::string_view, const auto& from, auto& to) { to = from; });
    changed->conflicts = chart.conflicts;
    return changed;
}

Chart without_conflicts(Chart chart, const std::vector<std::size_t>& positions) {
    for (auto at = positions.rbegin(); at != positions.rend(); ++at)
        chart.conflicts.erase(chart.conflicts.begin() + static_cast<std::ptrdiff_t>(*at));
    return chart;
}

const std::string& value_of(const Conflict& conflict, Settle choice) {
    return choice == Settle::Ours ? conflict.ours : choice == Settle::Theirs ? conflict.theirs : conflict.base;
}

Result<Chart> settle_fields(const Chart& chart, const std::vector<std::size_t>& statement,
                            const std::vector<Edit>& edits) {
    const Conflict& first = chart.conflicts[statement.front()];
    Result<Chart> changed = first.thing.is_empty() ? edit_root(chart, edits) : edit_thing(chart, first, edits);
    if (!changed) return changed;
    return without_conflicts(std::move(*changed), statement);
}

/// The twin that has a new id, known by all it says but its id.
std::optional<Id> twin_that_says(const Chart& chart, const Conflict& conflict, const std::string& json) {
    std::optional<Id> twin;
    document::each_list(chart, chart, [&](std::string_view key, const auto& list, const auto&) {
        for (const auto& thing : list) {
            // The merge made its new id from the old one.
            if (thing.id == conflict.thing || twin || !thing.id.text.starts_with(conflict.thing.text.substr(0, 40)))
                continue;
            auto same = thing;
            same.id = conflict.thing;
            Chart one;
            document::each_list(one, one, [&](std::string_view, const auto&, auto& to) {
                if constexpr (std::is_same_v<std::decay_t<decltype(to)>, std::decay_t<decltype(list)>>) to.add(same);
            });
            const Result<Tree> tree = parse_tree(write_chart(one));
            if (!tree) continue;
            const std::size_t node = node_at(*tree, '/' + std::string(key) + "/0");
            if (one_line_text(*tree, node) == json) twin = thing.id;
        }
    });
    return twin;
}

Result<Chart> without_thing(const Chart& chart, const Conflict& conflict, const Id& thing,
                            const std::vector<std::size_t>& statement) {
    if (!document::is_taken(chart, thing)) return thing_gone(conflict);
    const std::array<Id, 1> ids{thing};
    Result<Chart> removed = document::remove(chart, ids);
    if (!removed) return removed;
    return without_conflicts(std::move(*removed), statement);
}

} // namespace

ConflictKind kind_of(const Conflict& conflict) {
    if (!conflict.field.empty()) return ConflictKind::Field;
    return conflict.ours.empty() || conflict.theirs.empty() ? ConflictKind::Deleted : ConflictKind::Twins;
}

bool knows_base(const Chart& chart, const Conflict& conflict) {
    if (kind_of(conflict) != ConflictKind::Field) return false;
    return statement_group(last_of(conflict.field)) == 0 || stands_alone(chart, conflict);
}

std::vector<std::size_t> statement_of(const Chart& chart, std::size_t index) {
    const Conflict& wanted = chart.conflicts[index];
    const int group = statement_group(last_of(wanted.field));
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < chart.conflicts.size(); ++i) {
        const Conflict& other = chart.conflicts[i];
        const bool together = group != 0 && other.thing == wanted.thing && !other.field.empty() &&
                              parent_of(other.field) == parent_of(wanted.field) &&
                              statement_group(last_of(other.field)) == group && other.ours_label == wanted.ours_label &&
                              other.theirs_label == wanted.theirs_label;
        if (i == index || together) out.push_back(i);
    }
    return out;
}

Result<Chart> settle(const Chart& chart, std::size_t index, Settle choice) {
    const Conflict& conflict = chart.conflicts[index];
    const std::vector<std::size_t> statement = statement_of(chart, index);
    if (choice == Settle::AsItIs) return without_conflicts(chart, statement);
    if (choice == Settle::Base && !knows_base(chart, conflict))
        return Error{"what both began with is not known as a whole; right would be one of the two, or an edit",
                     conflict.field};
    switch (kind_of(conflict)) {
    case ConflictKind::Deleted:
        if (!value_of(conflict, choice).empty()) return without_conflicts(chart, statement);
        return without_thing(chart, conflict, conflict.thing, statement);
    case ConflictKind::Twins: {
        const bool ours_keeps = ours_keeps_id(conflict.ours, conflict.theirs);
        if ((choice == Settle::Theirs) == ours_keeps) return without_thing(chart, conflict, conflict.thing, statement);
        const std::optional<Id> twin = twin_that_says(chart, conflict, ours_keeps ? conflict.theirs : conflict.ours);
        return twin ? without_thing(chart, conflict, *twin, statement) : thing_gone(conflict);
    }
    case ConflictKind::Field: break;
    }
    std::vector<Edit> edits;
    for (const std::size_t i : statement)
        edits.push_back({chart.conflicts[i].field, value_of(chart.conflicts[i], choice)});
    return settle_fields(chart, statement, edits);
}

Result<Chart> settle_with(const Chart& chart, std::size_t index, std::string_view json) {
    const std::vector<std::size_t> statement = statement_of(chart, index);
    return settle_fields(chart, statement, {{chart.conflicts[index].field, std::string(json)}});
}

std::optional<std::string> as_json_like(std::string_view now, const std::string& typed) {
    const Result<Tree> tree = parse_tree(now);
    if (!tree) return std::nullopt;
    const NodeKind kind = tree->nodes[0].kind;
    std::string out;
    if (kind == NodeKind::Text) {
        append_quoted(out, typed);
        return out;
    }
    if (kind != NodeKind::Number && kind != NodeKind::Integer) return std::nullopt;
    std::string digits = typed;
    std::replace(digits.begin(), digits.end(), ',', '.');
    double value = 0.0;
    const auto [end, fault] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (fault != std::errc() || end != digits.data() + digits.size()) return std::nullopt;
    append_number(out, value);
    return out;
}

namespace {

/// A place or a few turns are told as they are.
std::string list_in_words(const Tree& tree) {
    constexpr std::uint32_t kFew = 4;
    const Node& root = tree.nodes[0];
    std::string numbers;
    for (std::size_t i = 1; i < root.end && root.count <= kFew; ++i) {
        const Node& node = tree.nodes[i];
        if (node.kind != NodeKind::Number && node.kind != NodeKind::Integer)
            return "a list of " + std::to_string(root.count);
        numbers += fmt::format("{}{:.6g}", numbers.empty() ? "" : ", ", node.number);
    }
    return numbers.empty() ? "a list of " + std::to_string(root.count) : numbers;
}

} // namespace

std::string value_in_words(std::string_view json) {
    if (json.empty()) return "nothing";
    const Result<Tree> tree = parse_tree(json);
    if (!tree) return std::string(json);
    const Node& root = tree->nodes[0];
    switch (root.kind) {
    case NodeKind::Text: return std::string(tree->text(0));
    case NodeKind::List: return list_in_words(*tree);
    case NodeKind::Object: {
        for (std::size_t i = 1; i < root.end; i = tree->nodes[i].end)
            for (const std::string_view key : {"text", "name", "number"})
                if (tree->key(i) == key && tree->nodes[i].kind == NodeKind::Text && !tree->text(i).empty())
                    return std::string(tree->text(i));
        return "something with " + std::to_string(root.count) + " fields";
    }
    default: return std::string(json);
    }
}

} // namespace padchart::json
