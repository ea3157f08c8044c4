#include "json/merge_ids.hpp"

#include <algorithm>
#include <map>
#include <unordered_map>

#include "document/chart_lists.hpp"
#include "json/field_writer.hpp"

namespace padchart::json {
namespace {

using document::Body;
using document::Chart;
using document::Conflict;
using document::CopperArea;
using document::Footprint;
using document::HeatPlan;
using document::Id;
using document::id_of;
using document::Items;
using document::KeepOut;
using document::Note;
using document::Pad;
using document::Photo;
using document::Reading;
using document::RevisionNote;
using document::Shield;
using document::Station;
using document::Tick;

/// Calls with each list of the chart.
template <class AnyChart, class Visit>
void each_list(AnyChart& chart, Visit visit) {
    document::each_list(chart, chart, [&](std::string_view, auto& list, auto&) { visit(list); });
}

template <class T>
std::unordered_map<std::string, const T*> by_id(const Items<T>& items) {
    std::unordered_map<std::string, const T*> out;
    for (const T& thing : items)
        out.emplace(thing.id.text, &thing);
    return out;
}

template <class T>
const Items<T>& same_list(const Chart& chart, const Items<T>&) {
    if constexpr (std::is_same_v<T, Footprint>) return chart.parts;
    if constexpr (std::is_same_v<T, KeepOut>) return chart.keep_outs;
    if constexpr (std::is_same_v<T, Shield>) return chart.shields;
    if constexpr (std::is_same_v<T, Note>) return chart.notes;
    if constexpr (std::is_same_v<T, Reading>) return chart.readings;
    if constexpr (std::is_same_v<T, HeatPlan>) return chart.heat_plans;
    if constexpr (std::is_same_v<T, Photo>) return chart.photos;
    if constexpr (std::is_same_v<T, CopperArea>) return chart.copper_areas;
    if constexpr (std::is_same_v<T, Station>) return chart.stations;
    if constexpr (std::is_same_v<T, Tick>) return chart.ticks;
    if constexpr (std::is_same_v<T, RevisionNote>) return chart.revisions;
}

std::unordered_set<std::string> all_ids(const Chart& chart) {
    std::unordered_set<std::string> out;
    each_list(chart, [&](const auto& list) {
        for (const auto& thing : list)
            out.insert(thing.id.text);
    });
    return out;
}

bool agree(const std::string& a, const std::string& b) {
    return !a.empty() && a == b;
}

/// What two hands added under one id is the same thing when its name or its place in the trace says so too.
bool is_same_thing(const Footprint& a, const Footprint& b) {
    return agree(a.trace_key, b.trace_key) || agree(a.name, b.name);
}
bool is_same_thing(const KeepOut& a, const KeepOut& b) {
    return agree(a.trace_key, b.trace_key) || agree(a.name, b.name);
}
bool is_same_thing(const Shield& a, const Shield& b) {
    return agree(a.name, b.name);
}
bool is_same_thing(const HeatPlan& a, const HeatPlan& b) {
    return agree(a.name, b.name);
}
bool is_same_thing(const Photo& a, const Photo& b) {
    return agree(a.path, b.path);
}
bool is_same_thing(const CopperArea& a, const CopperArea& b) {
    return agree(a.name, b.name);
}
bool is_same_thing(const Station& a, const Station& b) {
    return agree(a.name, b.name);
}
bool is_same_thing(const Tick& a, const Tick& b) {
    return agree(a.task, b.task) && a.target == b.target;
}
bool is_same_thing(const RevisionNote&, const RevisionNote&) {
    return false;
}
bool is_same_thing(const Note&, const Note&) {
    return false; // two hands write two notes
}
bool is_same_thing(const Reading&, const Reading&) {
    return false;
}

template <class T>
std::string json_of(const T& thing) {
    JsonWriter out;
    out.begin_object(JsonLayout::OneLine);
    FieldWriter writer(out);
    fields(writer, thing);
    out.end_object();
    std::string text = std::move(out).str();
    while (!text.empty() && text.back() == '\n')
        text.pop_back();
    return text;
}

/// Old id to new id, for what one side added.
using NewIds = std::map<std::string, std::string>;

/// In which list of the chart each id stands, as its number among the lists.
std::unordered_map<std::string, int> lists_of_ids(const Chart& chart) {
    std::unordered_map<std::string, int> out;
    int number = 0;
    each_list(chart, [&](const auto& list) {
        for (const auto& thing : list)
            out.emplace(thing.id.text, number);
        ++number;
    });
    return out;
}

class Renamer {
public:
    Renamer(const Chart& base, const Chart& ours, const Chart& theirs)
        : base_ids_(all_ids(base)), our_lists_(lists_of_ids(ours)), ours_(ours) {
        for (const Chart* chart : {&base, &ours, &theirs})
            for (const std::string& id : all_ids(*chart))
                taken_.insert(id);
    }

    template <class T>
    void look_at(const Items<T>& theirs) {
        const auto ours = by_id(same_list(ours_, theirs));
        for (const T& thing : theirs) {
            const std::string& id = thing.id.text;
            const auto our_list = our_lists_.find(id);
            if (base_ids_.count(id) != 0 || our_list == our_lists_.end()) continue;
            if (const auto found = ours.find(id); found != ours.end())
                look_at_twins(*found->second, thing);
            else if (our_list->second < list_number_)
                give_new_id(theirs_new_ids, id, json_of(thing));
            else
                give_new_id(ours_new_ids, id, json_of_ours(id));
        }
        ++list_number_;
    }

    NewIds ours_new_ids;
    NewIds theirs_new_ids;
    std::vector<Conflict> conflicts;

private:
    template <class T>
    void look_at_twins(const T& ours, const T& theirs) {
        if (ours == theirs || is_same_thing(ours, theirs)) return;
        const std::string our_json = json_of(ours);
        const std::string their_json = json_of(theirs);
        const bool ours_keeps = ours_keeps_id(our_json, their_json);
        give_new_id(ours_keeps ? theirs_new_ids : ours_new_ids, ours.id.text, ours_keeps ? their_json : our_json);
        conflicts.push_back({ours.id, {}, {}, our_json, their_json, {}, {}, {}});
    }

    [[nodiscard]] std::string json_of_ours(const std::string& id) const {
        std::string out;
        each_list(ours_, [&](const auto& list) {
            for (const auto& thing : list)
                if (thing.id.text == id) out = json_of(thing);
        });
        return out;
    }

    void give_new_id(NewIds& new_ids, const std::string& id, std::string seed) {
        const std::string prefix = id.substr(0, 40);
        std::string next = id_of(prefix, seed).text;
        while (!taken_.insert(next).second)
            next = id_of(prefix, seed += '#').text;
        new_ids[id] = next;
    }

    std::unordered_set<std::string> base_ids_;
    std::unordered_map<std::string, int> our_lists_;
    const Chart& ours_;
    std::unordered_set<std::string> taken_;
    int list_number_ = 0;
};

void rename(Id& id, const NewIds& new_ids) {
    if (const auto found = new_ids.find(id.text); found != new_ids.end()) id.text = found->second;
}

template <class T>
void rename_links(T& thing, const NewIds& new_ids) {
    rename(thing.id, new_ids);
    if constexpr (requires { thing.target; }) rename(thing.target, new_ids);
    if constexpr (requires { thing.shields; })
        for (Id& shield : thing.shields)
            rename(shield, new_ids);
    if constexpr (requires { thing.station; }) rename(thing.station, new_ids);
    if constexpr (requires { thing.orientation; }) rename(thing.orientation.evidence.photo, new_ids);
}

Chart renamed(const Chart& chart, const NewIds& new_ids) {
    Chart out = chart;
    if (new_ids.empty()) return out;
    each_list(out, [&](auto& list) {
        for (std::size_t i = 0; i < list.size(); ++i) {
            auto thing = list[i];
            rename_links(thing, new_ids);
            if (!(thing == list[i])) list.replace(i, std::move(thing));
        }
    });
    return out;
}

bool same_lengths(const Footprint& a, const Footprint& b) {
    const auto same_pad = [](const Pad& p, const Pad& q) { return p.at == q.at && p.shape == q.shape; };
    const auto same_body = [](const Body& p, const Body& q) { return p.at == q.at && p.shape == q.shape; };
    if (a.body.has_value() != b.body.has_value() || (a.body && !same_body(*a.body, *b.body))) return false;
    return a.placement.at == b.placement.at && a.pads.size() == b.pads.size() &&
           std::equal(a.pads.begin(), a.pads.end(), b.pads.begin(), same_pad);
}
bool same_lengths(const HeatPlan& a, const HeatPlan& b) {
    return a.aim == b.aim;
}
bool same_lengths(const Photo& a, const Photo& b) {
    return a.board_from_pixel == b.board_from_pixel;
}
template <class T>
bool same_lengths(const T& a, const T& b) {
    if constexpr (requires { a.outline; })
        return a.outline == b.outline;
    else if constexpr (requires { a.at; })
        return a.at == b.at;
    else
        return true;
}

} // namespace

bool ours_keeps_id(std::string_view ours_json, std::string_view theirs_json) {
    return ours_json <= theirs_json;
}

Renamed with_own_ids(const Chart& base, const Chart& ours, const Chart& theirs) {
    Renamer renamer(base, ours, theirs);
    each_list(theirs, [&](const auto& list) { renamer.look_at(list); });
    std::sort(renamer.conflicts.begin(), renamer.conflicts.end(),
              [](const Conflict& a, const Conflict& b) { return a.thing.text < b.thing.text; });
    return {renamed(ours, renamer.ours_new_ids), renamed(theirs, renamer.theirs_new_ids), std::move(renamer.conflicts)};
}

std::unordered_set<std::string> spoken_of(const Chart& base, const Chart& side) {
    std::unordered_set<std::string> out;
    const auto add = [&](const auto& list) {
        const auto before = by_id(same_list(base, list));
        for (const auto& thing : list) {
            const auto found = before.find(thing.id.text);
            if (found != before.end() && *found->second == thing) continue;
            const auto speak = [&out](const Id& id) {
                if (!id.is_empty()) out.insert(id.text);
            };
            if constexpr (requires { thing.target; }) speak(thing.target);
            if constexpr (requires { thing.shields; })
                for (const Id& shield : thing.shields)
                    speak(shield);
            // A link that was there before goes with what it leads to.
            const bool is_new = found == before.end();
            if constexpr (requires { thing.station; })
                if (is_new || found->second->station != thing.station) speak(thing.station);
            if constexpr (requires { thing.orientation; })
                if (is_new || found->second->orientation.evidence.photo != thing.orientation.evidence.photo)
                    speak(thing.orientation.evidence.photo);
        }
    };
    each_list(side, add);
    return out;
}

bool has_new_lengths(const Chart& base, const Chart& side) {
    bool found_new = side.board.outline != base.board.outline;
    each_list(side, [&](const auto& list) {
        const auto before = by_id(same_list(base, list));
        for (const auto& thing : list) {
            const auto found = before.find(thing.id.text);
            if (found == before.end() || !same_lengths(*found->second, thing)) found_new = true;
        }
    });
    return found_new;
}

} // namespace padchart::json
