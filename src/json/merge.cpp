#include "json/merge.hpp"

#include <algorithm>
#include <unordered_map>

#include "json/chart_file.hpp"
#include "json/field_writer.hpp"
#include "json/merge_ids.hpp"
#include "json/merge_order.hpp"
#include "json/merge_tree.hpp"

namespace padchart::json {
namespace {

using document::Chart;
using document::Conflict;

/// Conflicts are merged apart from the rest: they have no ids.
Result<Tree> tree_of(Chart chart) {
    chart.conflicts.clear();
    return parse_tree(write_chart(chart));
}

std::string text_of(const Conflict& conflict) {
    JsonWriter out;
    out.begin_object(JsonLayout::OneLine);
    FieldWriter writer(out);
    fields(writer, conflict);
    out.end_object();
    return std::move(out).str();
}

/// Each once: nothing can be told of one that stands twice.
std::vector<std::string> texts_of(const std::vector<Conflict>& conflicts,
                                  std::unordered_map<std::string, Conflict>& by_text) {
    std::vector<std::string> out;
    for (const Conflict& conflict : conflicts) {
        std::string text = text_of(conflict);
        by_text.emplace(text, conflict);
        if (std::find(out.begin(), out.end(), text) == out.end()) out.push_back(std::move(text));
    }
    return out;
}

/// What either side settled is settled; what either side added is there.
std::vector<Conflict> earlier_conflicts(const Chart& base, const Chart& ours, const Chart& theirs) {
    std::unordered_map<std::string, Conflict> by_text;
    const std::vector<std::string> b = texts_of(base.conflicts, by_text);
    const std::vector<std::string> o = texts_of(ours.conflicts, by_text);
    const std::vector<std::string> t = texts_of(theirs.conflicts, by_text);
    const auto has = [](const std::vector<std::string>& list, const std::string& text) {
        return std::find(list.begin(), list.end(), text) != list.end();
    };
    std::unordered_set<std::string> kept;
    for (const auto& [text, conflict] : by_text)
        if (has(b, text) ? has(o, text) && has(t, text) : true) kept.insert(text);
    std::vector<Conflict> out;
    for (const std::string& text : merged_order(b, o, t, kept))
        out.push_back(by_text.at(text));
    return out;
}

template <class T>
std::string json_of(const std::optional<T>& value) {
    if (!value) return {};
    JsonWriter out;
    out.begin_object(JsonLayout::OneLine);
    FieldWriter writer(out);
    fields(writer, *value);
    out.end_object();
    std::string text = std::move(out).str();
    text.pop_back(); // the end of the line
    return text;
}

double mm_per_unit(const Chart& chart) {
    return chart.scale ? chart.scale->mm_per_unit : 0.0;
}

/// A scale that one side set stretched what was there then; what the other side drew meanwhile is in the old one.
void add_scale_conflict(const Chart& base, const Chart& ours, const Chart& theirs, std::vector<Conflict>& out) {
    const bool ours_changed = mm_per_unit(ours) != mm_per_unit(base);
    const bool theirs_changed = mm_per_unit(theirs) != mm_per_unit(base);
    if (ours_changed == theirs_changed) return;
    if (!has_new_lengths(base, ours_changed ? theirs : ours)) return;
    out.push_back({{}, "/scale", json_of(base.scale), json_of(ours.scale), json_of(theirs.scale), {}, {}, {}});
}

Result<MergedText> merged_text(const Chart& base, const Chart& ours, const Chart& theirs) {
    const Result<Tree> b = tree_of(base);
    const Result<Tree> o = tree_of(ours);
    const Result<Tree> t = tree_of(theirs);
    for (const Result<Tree>* tree : {&b, &o, &t})
        if (!*tree) return tree->error();
    return merge_trees({*b, *o, *t, spoken_of(base, ours), spoken_of(base, theirs)});
}

void append(std::vector<Conflict>& out, std::vector<Conflict> more) {
    out.insert(out.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

} // namespace

Result<MergeResult> merge(const Chart& base, const Chart& ours, const Chart& theirs, const MergeLabels& labels) {
    if (ours == theirs || theirs == base) return MergeResult{ours, {}};
    if (ours == base) return MergeResult{theirs, {}};
    Renamed renamed = with_own_ids(base, ours, theirs);
    Result<MergedText> text = merged_text(base, renamed.ours, renamed.theirs);
    if (!text) return text.error();
    Result<Chart> chart = read_chart(text->json);
    if (!chart)
        return Error{"the two edits together make a chart that may not be: " + chart.error().message,
                     chart.error().where};
    MergeResult out{std::move(*chart), std::move(renamed.conflicts)};
    append(out.conflicts, std::move(text->conflicts));
    add_scale_conflict(base, ours, theirs, out.conflicts);
    for (Conflict& conflict : out.conflicts) {
        conflict.ours_label = labels.ours;
        conflict.theirs_label = labels.theirs;
    }
    out.chart.conflicts = earlier_conflicts(base, ours, theirs);
    append(out.chart.conflicts, out.conflicts);
    return out;
}

} // namespace padchart::json
