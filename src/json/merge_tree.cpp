#include "json/merge_tree.hpp"

#include <algorithm>
#include <optional>
#include <string_view>
#include <unordered_map>

#include "json/merge_order.hpp"
#include "json/text_output.hpp"

namespace padchart::json {
namespace {

/// Keys that make one statement: half of one hand's and half of the other's would be a statement nobody made, such as
/// a bearing of one mark with the meaning of another, or a number in the other's unit.
constexpr std::pair<std::string_view, int> kGroups[] = {
    {"state", 1},    {"mark", 1},     {"bearing_deg", 1}, {"meaning", 1},           {"evidence", 1},
    {"shape", 2},    {"width_mm", 2}, {"height_mm", 2},   {"diameter_mm", 2},       {"points_mm", 2},
    {"quantity", 3}, {"value", 3},    {"unit", 3},        {"mm_per_unit", 4},       {"source", 4},
    {"warn_c", 5},   {"limit_c", 5},  {"family", 6},      {"family_parameters", 6}, {"relative_uncertainty", 4},
};

std::string quoted(std::string_view text) {
    std::string out;
    append_quoted(out, text);
    return out;
}

std::string escaped(std::string_view key) {
    std::string out;
    for (const char c : key)
        out += c == '~' ? "~0" : c == '/' ? "~1" : std::string(1, c);
    return out;
}

/// A value of one side, or nothing there.
struct Spot {
    const Tree* tree = nullptr;
    std::size_t node = 0;

    [[nodiscard]] bool is_there() const { return tree != nullptr; }
    [[nodiscard]] std::string text() const { return is_there() ? one_line_text(*tree, node) : std::string(); }
    [[nodiscard]] bool is(NodeKind kind) const { return is_there() && tree->nodes[node].kind == kind; }

    /// Members of an object or elements of a list, in order.
    [[nodiscard]] std::vector<Spot> children() const {
        std::vector<Spot> out;
        if (!is(NodeKind::Object) && !is(NodeKind::List)) return out;
        for (std::size_t i = node + 1; i < tree->nodes[node].end; i = tree->nodes[i].end)
            out.push_back({tree, i});
        return out;
    }
    [[nodiscard]] std::string_view key() const { return tree->key(node); }
    [[nodiscard]] Spot member(std::string_view name) const {
        if (!is(NodeKind::Object)) return {};
        for (const Spot& child : children())
            if (child.key() == name) return child;
        return {};
    }
};

struct Three {
    Spot base;
    Spot ours;
    Spot theirs;

    template <class Way>
    [[nodiscard]] Three go(Way way) const {
        return {way(base), way(ours), way(theirs)};
    }
};

using ByName = std::unordered_map<std::string, Spot>;

/// What stands where: of things by id, of members by key.
struct Named {
    std::vector<std::string> names;
    ByName spots;

    [[nodiscard]] Spot at(const std::string& name) const {
        const auto found = spots.find(name);
        return found == spots.end() ? Spot{} : found->second;
    }
};

Named members_of(const Spot& object) {
    Named out;
    for (const Spot& child : object.children()) {
        out.names.emplace_back(child.key());
        out.spots.emplace(out.names.back(), child);
    }
    return out;
}

/// Nothing where the list holds something that has no id, or an id twice.
std::optional<Named> things_of(const Spot& list) {
    Named out;
    if (list.is_there() && !list.is(NodeKind::List)) return std::nullopt;
    for (const Spot& child : list.children()) {
        const Spot id = child.member("id");
        if (!id.is(NodeKind::Text)) return std::nullopt;
        out.names.emplace_back(id.tree->text(id.node));
        if (!out.spots.emplace(out.names.back(), child).second) return std::nullopt;
    }
    return out;
}

class Merger {
public:
    explicit Merger(const MergeInput& input) : input_(input) {}

    MergedText run() {
        const Three roots{{&input_.base, 0}, {&input_.ours, 0}, {&input_.theirs, 0}};
        MergedText out;
        out.json = object(roots, {});
        out.conflicts = std::move(conflicts_);
        return out;
    }

private:
    struct Where {
        std::string thing;
        std::string field;

        [[nodiscard]] Where below(std::string_view step) const { return {thing, field + '/' + escaped(step)}; }
        [[nodiscard]] bool is_root_list() const {
            return thing.empty() && std::count(field.begin(), field.end(), '/') == 1;
        }
    };

    /// JSON, or empty where nothing stands there in the end.
    std::string value(const Three& three, const Where& where) {
        std::string base = three.base.text();
        std::string ours = three.ours.text();
        std::string theirs = three.theirs.text();
        if (ours == theirs) return ours;
        // Before the short ways out: a deleted thing may be one that the side which left the list alone still speaks
        // of.
        if (where.is_root_list())
            if (const auto merged = things(three)) return *merged;
        if (theirs == base) return ours;
        if (ours == base) return theirs;
        const bool is_one_statement = where.thing.empty() && where.field == "/frozen_before";
        if (three.ours.is(NodeKind::Object) && three.theirs.is(NodeKind::Object) && !is_one_statement)
            return object(three, where);
        if (const auto merged = pads(three, where)) return *merged;
        add_conflict(where, std::move(base), ours, std::move(theirs));
        return ours;
    }

    void add_conflict(const Where& where, std::string base, std::string ours, std::string theirs) {
        conflicts_.push_back(
            {document::Id{where.thing}, where.field, std::move(base), std::move(ours), std::move(theirs), {}, {}, {}});
    }

    // Objects ----------------------------------------------------------------------------------------------------

    std::string object(const Three& three, const Where& where) {
        const Named base = members_of(three.base);
        const Named ours = members_of(three.ours);
        const Named theirs = members_of(three.theirs);
        std::unordered_set<std::string> all;
        for (const Named* side : {&base, &ours, &theirs})
            all.insert(side->names.begin(), side->names.end());
        std::string out;
        std::unordered_set<int> groups_done;
        for (const std::string& key : merged_order(base.names, ours.names, theirs.names, all)) {
            const int group = statement_group(key);
            if (group == 0)
                append_member(out, key, value({base.at(key), ours.at(key), theirs.at(key)}, where.below(key)));
            else if (groups_done.insert(group).second)
                append_group(out, {base, ours, theirs}, group, where);
        }
        return '{' + out + '}';
    }

    static void append_member(std::string& out, std::string_view key, const std::string& json) {
        if (json.empty()) return;
        if (!out.empty()) out += ", ";
        out += quoted(key) + ": " + json;
    }

    struct ThreeObjects {
        const Named& base;
        const Named& ours;
        const Named& theirs;
    };

    static std::string members_in_group(const Named& side, int group) {
        std::string out;
        for (const auto& [member, its_group] : kGroups)
            if (its_group == group) append_member(out, member, side.at(std::string(member)).text());
        return out;
    }

    void append_group(std::string& out, const ThreeObjects& sides, int group, const Where& where) {
        const std::string base = members_in_group(sides.base, group);
        const std::string ours = members_in_group(sides.ours, group);
        const std::string theirs = members_in_group(sides.theirs, group);
        if (ours != theirs && ours != base && theirs != base) add_group_conflicts(sides, group, where);
        const std::string& taken = ours == base ? theirs : ours;
        if (taken.empty()) return;
        if (!out.empty()) out += ", ";
        out += taken;
    }

    void add_group_conflicts(const ThreeObjects& sides, int group, const Where& where) {
        for (const auto& [member, its_group] : kGroups) {
            if (its_group != group) continue;
            const std::string key(member);
            const std::string ours = sides.ours.at(key).text();
            const std::string theirs = sides.theirs.at(key).text();
            if (ours != theirs) add_conflict(where.below(key), sides.base.at(key).text(), ours, theirs);
        }
    }

    // Things with ids --------------------------------------------------------------------------------------------

    std::optional<std::string> things(const Three& three) {
        const auto base = things_of(three.base);
        const auto ours = things_of(three.ours);
        const auto theirs = things_of(three.theirs);
        if (!base || !ours || !theirs) return std::nullopt;
        // Empty lists name nothing: whether one is there at all is a plain value, and taking it out an edit.
        if (base->names.empty() && ours->names.empty() && theirs->names.empty()) return std::nullopt;
        std::unordered_map<std::string, std::string> merged;
        std::unordered_set<std::string> all;
        for (const Named* side : {&*base, &*ours, &*theirs})
            all.insert(side->names.begin(), side->names.end());
        std::unordered_set<std::string> kept;
        // In an order that swapping the sides leaves alone, for the sake of the conflicts.
        for (const std::string& id : merged_order(base->names, ours->names, theirs->names, all)) {
            std::string& json = merged[id];
            json = thing({base->at(id), ours->at(id), theirs->at(id)}, id);
            if (!json.empty()) kept.insert(id);
        }
        std::string out;
        for (const std::string& id : merged_order(base->names, ours->names, theirs->names, kept))
            out += (out.empty() ? "" : ", ") + merged[id];
        const bool had_empty_list = three.ours.text() == "[]" || three.theirs.text() == "[]";
        return out.empty() && !had_empty_list ? std::string() : '[' + out + ']';
    }

    std::string thing(const Three& three, const std::string& id) {
        const Where where{id, {}};
        if (three.ours.is_there() == three.theirs.is_there()) return value(three, where);
        const bool kept_by_ours = three.ours.is_there();
        const Spot& kept = kept_by_ours ? three.ours : three.theirs;
        const auto& used = kept_by_ours ? input_.used_by_ours : input_.used_by_theirs;
        if (!three.base.is_there()) return kept.text(); // new on one side
        const bool is_edited = kept.text() != three.base.text();
        if (!is_edited && used.count(id) == 0) return {}; // deleted, and nobody minds
        add_conflict(where, three.base.text(), three.ours.text(), three.theirs.text());
        return kept.text();
    }

    // Pads -------------------------------------------------------------------------------------------------------

    /// One by one where nobody added or took one away.
    std::optional<std::string> pads(const Three& three, const Where& where) {
        if (where.field != "/pads") return std::nullopt;
        const std::vector<Spot> base = three.base.children();
        const std::vector<Spot> ours = three.ours.children();
        const std::vector<Spot> theirs = three.theirs.children();
        if (base.size() != ours.size() || base.size() != theirs.size()) return std::nullopt;
        std::string out;
        for (std::size_t i = 0; i < base.size(); ++i)
            out += (i == 0 ? "" : ", ") + value({base[i], ours[i], theirs[i]}, where.below(std::to_string(i)));
        return '[' + out + ']';
    }

    const MergeInput& input_;
    std::vector<document::Conflict> conflicts_;
};

} // namespace

int statement_group(std::string_view key) {
    for (const auto& [member, group] : kGroups)
        if (member == key) return group;
    return 0;
}

MergedText merge_trees(const MergeInput& input) {
    return Merger(input).run();
}

} // namespace padchart::json
