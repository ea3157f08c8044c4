#include "json/random_edit.hpp"

#include <algorithm>
#include <rapidcheck.h>

#include "json/random_chart.hpp"

namespace padchart::json {
namespace {

using namespace document;

class Editor {
public:
    Editor(std::string prefix, int rarity) : prefix_(std::move(prefix)), rarity_(rarity) {}

    [[nodiscard]] bool touch() const { return *rc::gen::inRange(0, rarity_) == 0; }

    template <class T>
    void take(T& field, const T& other) const {
        if (touch()) field = other;
    }

    void edit(Footprint& part, const Footprint& other) const {
        take(part.name, other.name);
        take(part.value, other.value);
        take(part.role, other.role);
        take(part.part_class, other.part_class);
        take(part.placement.at, other.placement.at);
        take(part.placement.turn, other.placement.turn);
        take(part.placement.side, other.placement.side);
        take(part.pads, other.pads);
        for (Pad& pad : part.pads)
            if (touch()) pad.land = LandState::Torn;
        take(part.body, other.body);
        take(part.orientation, other.orientation);
        take(part.heat, other.heat);
        take(part.condition.joint, other.condition.joint);
        take(part.condition.note, other.condition.note);
        take(part.comment, other.comment);
        take(part.locked, other.locked);
        take(part.extras, other.extras);
    }
    void edit(KeepOut& thing, const KeepOut& other) const {
        take(thing.outline, other.outline);
        take(thing.measure, other.measure);
        take(thing.limit_c, other.limit_c);
        take(thing.note, other.note);
    }
    void edit(Shield& thing, const Shield& other) const { take(thing.note, other.note); }
    void edit(Note& thing, const Note& other) const {
        take(thing.text, other.text);
        take(thing.at, other.at);
    }
    void edit(Reading& thing, const Reading& other) const {
        take(thing.value, other.value);
        take(thing.unit, other.unit);
        take(thing.meter, other.meter);
        take(thing.target, other.target);
    }
    void edit(HeatPlan& thing, const HeatPlan& other) const { take(thing.dwell_s, other.dwell_s); }
    void edit(Photo& thing, const Photo& other) const { take(thing.path, other.path); }
    void edit(CopperArea& thing, const CopperArea& other) const {
        take(thing.outline, other.outline);
        take(thing.conductivity_factor, other.conductivity_factor);
    }
    void edit(Station& thing, const Station& other) const {
        take(thing.exit_factor, other.exit_factor);
        take(thing.note, other.note);
    }
    void edit(Tick& thing, const Tick& other) const {
        take(thing.done, other.done);
        take(thing.by, other.by);
    }
    void edit(RevisionNote& thing, const RevisionNote& other) const { take(thing.text, other.text); }

    template <class T>
    void edit_list(Items<T>& list, const Items<T>& other) {
        for (std::size_t i = list.size(); i-- > 0;) {
            if (touch() && touch()) {
                list.erase(i);
                continue;
            }
            T thing = list[i];
            if (i < other.size()) edit(thing, other[i]);
            list.replace(i, std::move(thing));
        }
        for (const T& thing : other) {
            if (!touch()) continue;
            T added = thing;
            added.id = Id{prefix_ + std::to_string(count_++)};
            list.insert(static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(list.size()) + 1)), added);
        }
    }

private:
    std::string prefix_;
    int rarity_;
    int count_ = 0;
};

} // namespace

Chart randomly_edited(const Chart& chart, const std::string& prefix, int rarity) {
    const Chart other = random_chart();
    Editor editor(prefix, rarity);
    Chart out = chart;
    editor.take(out.title.title, other.title.title);
    editor.take(out.title.date, other.title.date);
    editor.take(out.title.extras, other.title.extras);
    editor.take(out.board.outline, other.board.outline);
    editor.take(out.board.stack.note, other.board.stack.note);
    editor.take(out.rules.body_gap_mm, other.rules.body_gap_mm);
    editor.take(out.extras, other.extras);
    editor.edit_list(out.parts, other.parts);
    editor.edit_list(out.keep_outs, other.keep_outs);
    editor.edit_list(out.shields, other.shields);
    editor.edit_list(out.notes, other.notes);
    editor.edit_list(out.readings, other.readings);
    editor.edit_list(out.heat_plans, other.heat_plans);
    editor.edit_list(out.photos, other.photos);
    editor.edit_list(out.copper_areas, other.copper_areas);
    editor.edit_list(out.stations, other.stations);
    editor.edit_list(out.ticks, other.ticks);
    editor.edit_list(out.revisions, other.revisions);
    return out;
}

} // namespace padchart::json
