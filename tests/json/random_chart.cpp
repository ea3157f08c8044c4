#include "json/random_chart.hpp"

#include <algorithm>
#include <rapidcheck.h>

namespace padchart::json {
namespace {

using namespace document;
using geometry::Ring;
using geometry::Vec2;

int whole(int low, int high) {
    return *rc::gen::inRange(low, high + 1);
}

bool truth() {
    return whole(0, 1) == 1;
}

void append_utf8(std::string& out, unsigned c) {
    const auto push = [&out](unsigned byte) { out += static_cast<char>(byte); };
    if (c < 0x80U) return push(c);
    if (c < 0x800U) {
        push(0xC0U | (c >> 6U));
    } else {
        if (c < 0x10000U) {
            push(0xE0U | (c >> 12U));
        } else {
            push(0xF0U | (c >> 18U));
            push(0x80U | ((c >> 12U) & 0x3FU));
        }
        push(0x80U | ((c >> 6U) & 0x3FU));
    }
    push(0x80U | (c & 0x3FU));
}

unsigned random_character() {
    switch (whole(0, 5)) {
    case 0: return static_cast<unsigned>(whole(0x00, 0x1F));
    case 1: return static_cast<unsigned>(whole(0x80, 0xD7FF));
    case 2: return static_cast<unsigned>(whole(0xE000, 0xFFFF));
    case 3: return static_cast<unsigned>(whole(0x10000, 0x10FFFF));
    default: return static_cast<unsigned>(whole(0x20, 0x7F));
    }
}

std::string text() {
    std::string out;
    for (int n = whole(0, 4); n > 0; --n)
        append_utf8(out, random_character());
    return out;
}

double number(double low, double high) {
    switch (whole(0, 3)) {
    case 0: return low;
    case 1: return high;
    case 2: return std::clamp(static_cast<double>(whole(-40, 40)) / 4.0, low, high);
    default:
        return low / 2 + high / 2 +
               (high / 2 - low / 2) * (static_cast<double>(whole(-1'000'000'000, 1'000'000'000)) / 1e9);
    }
}

double any_number() {
    return number(-1e300, 1e300);
}
double above_zero() {
    return number(1e-9, 1e12);
}
double length_mm() {
    return number(0.001, 10'000.0);
}
double temperature_c() {
    return number(-59.0, 1999.0);
}
Angle angle() {
    return Angle::degrees(number(-720.0, 720.0));
}
Vec2 place() {
    return {number(-10'000.0, 10'000.0), number(-10'000.0, 10'000.0)};
}
Ring ring() {
    Ring out;
    for (int n = whole(3, 5); n > 0; --n)
        out.push_back(place());
    return out;
}

template <class Make>
auto maybe(Make make) -> std::optional<decltype(make())> {
    if (truth()) return make();
    return std::nullopt;
}

template <class Make>
auto several(Make make, int most = 3) -> std::vector<decltype(make())> {
    std::vector<decltype(make())> out;
    for (int n = whole(0, most); n > 0; --n)
        out.push_back(make());
    return out;
}

template <class Enum>
Enum word() {
    const auto list = words<Enum>();
    return list[static_cast<std::size_t>(whole(0, static_cast<int>(list.size()) - 1))].value;
}

geometry::Polygon polygon() {
    geometry::Polygon out;
    auto& [outer, holes] = out;
    outer = ring();
    holes = several(ring, 2);
    return out;
}

Extras extras() {
    static const std::vector<std::string> kKeys{"x-colour", "", "a/b~c", "\"\n", "ünit", "AT_MM"};
    static const std::vector<std::string> kValues{"null",
                                                  "true",
                                                  "0",
                                                  "-7",
                                                  "2.50",
                                                  "1e-7",
                                                  "-0.0",
                                                  "18446744073709551615",
                                                  "123456789012345678901234567890",
                                                  "\"\"",
                                                  "\"a \\\" é\\n\"",
                                                  "[]",
                                                  "{}",
                                                  "[1, [2.0, {\"b\": [], \"a\": {\"\": null}}]]"};
    Extras out;
    if (truth()) return out;
    for (const std::string& key : kKeys)
        if (whole(0, 3) == 0)
            out.emplace_back(key, kValues[static_cast<std::size_t>(whole(0, static_cast<int>(kValues.size()) - 1))]);
    return out;
}

Shape random_shape() {
    Shape shape;
    auto& [kind, width_mm, height_mm, points] = shape;
    kind = word<ShapeKind>();
    if (kind == ShapeKind::Polygon) {
        points = ring();
    } else {
        width_mm = length_mm();
        height_mm = kind == ShapeKind::Round ? width_mm : length_mm();
    }
    return shape;
}

Pad random_pad() {
    Pad pad;
    auto& [number, net, at, turn, shape, land, joint, more] = pad;
    number = text();
    net = text();
    at = place();
    turn = angle();
    shape = random_shape();
    land = word<LandState>();
    joint = word<JointState>();
    more = extras();
    return pad;
}

Body random_body() {
    Body body;
    auto& [at, turn, shape, height_mm, more] = body;
    at = place();
    turn = angle();
    shape = random_shape();
    height_mm = maybe(length_mm);
    more = extras();
    return body;
}

Evidence random_evidence() {
    Evidence evidence;
    auto& [kind, note, by, date, photo, crop_px, more] = evidence;
    kind = word<EvidenceKind>();
    note = text();
    by = text();
    date = text();
    photo = truth() ? Id{"t-" + std::to_string(whole(0, 9))} : Id{};
    if (truth())
        for (int i = 0; i < 4; ++i)
            crop_px.push_back(any_number());
    more = extras();
    return evidence;
}

Orientation random_orientation() {
    Orientation orientation;
    auto& [state, mark, bearing, meaning, evidence, more] = orientation;
    state = word<RecordState>();
    mark = word<MarkKind>();
    bearing = angle();
    meaning = word<Meaning>();
    evidence = random_evidence();
    more = extras();
    return orientation;
}

HeatSensitivity random_heat() {
    HeatSensitivity heat;
    auto& [material, warn_c, limit_c, note, more] = heat;
    material = text();
    warn_c = maybe(temperature_c);
    limit_c = maybe(temperature_c);
    if (warn_c && limit_c && *limit_c < *warn_c) std::swap(warn_c, limit_c);
    note = text();
    more = extras();
    return heat;
}

Condition random_condition() {
    Condition condition;
    auto& [presence, seating, joint, body, land, not_needed_because, note, more] = condition;
    presence = word<Presence>();
    seating = word<Seating>();
    joint = word<JointState>();
    body = word<BodyState>();
    land = word<LandState>();
    not_needed_because = text();
    note = text();
    more = extras();
    return condition;
}

/// Ids that no other thing of the chart bears, and links to any of them.
class Ids {
public:
    Id next() { return Id{"t-" + std::to_string(count_++)}; }
    static Id link() { return truth() ? Id{"t-" + std::to_string(whole(0, 9))} : Id{}; }

private:
    int count_ = 0;
};

Footprint random_part(Ids& ids) {
    Footprint part;
    auto& [id, name, value, role, part_class, family, family_parameters, pads, stated_pad_count, body, placement,
           orientation, harmless_turns_deg, heat, condition, trace_key, locked, comment, more] = part;
    id = ids.next();
    name = text();
    value = text();
    role = text();
    part_class = word<PartClass>();
    family = text();
    family_parameters = several(any_number);
    pads = several(random_pad, 8);
    stated_pad_count = maybe([] { return whole(0, 10'000); });
    body = maybe(random_body);
    auto& [at, turn, side] = placement;
    at = place();
    turn = angle();
    side = word<Side>();
    orientation = random_orientation();
    harmless_turns_deg = several([] { return number(-360.0, 360.0); });
    heat = maybe(random_heat);
    condition = random_condition();
    trace_key = text();
    locked = truth();
    comment = text();
    more = extras();
    return part;
}

KeepOut random_keep_out(Ids& ids) {
    KeepOut thing;
    auto& [id, name, outline, side, through_board, reason, note, limit_c, height_mm, measure, trace_key, more] = thing;
    id = ids.next();
    name = text();
    outline = polygon();
    side = word<Side>();
    through_board = truth();
    reason = word<KeepOutReason>();
    note = text();
    limit_c = maybe(any_number);
    height_mm = maybe(length_mm);
    measure = word<Measure>();
    trace_key = text();
    more = extras();
    return thing;
}

Shield random_shield(Ids& ids) {
    Shield thing;
    auto& [id, name, outline, side, kind, note, more] = thing;
    id = ids.next();
    name = text();
    outline = polygon();
    side = word<Side>();
    kind = word<ShieldKind>();
    note = text();
    more = extras();
    return thing;
}

Note random_note(Ids& ids) {
    Note thing;
    auto& [id, at, side, words_of_note, author, date, target, more] = thing;
    id = ids.next();
    at = place();
    side = word<Side>();
    words_of_note = text();
    author = text();
    date = text();
    target = Ids::link();
    more = extras();
    return thing;
}

Reading random_reading(Ids& ids) {
    Reading thing;
    auto& [id, at, side, target, pad, reference, quantity, value, unit, leads, power, parts_removed, meter, date, board,
           note, more] = thing;
    id = ids.next();
    at = place();
    side = word<Side>();
    target = Ids::link();
    pad = text();
    reference = truth() ? text() : "GND";
    quantity = word<Quantity>();
    if (truth())
        value = word<SpecialValue>();
    else
        value = any_number();
    unit = text();
    leads = word<Leads>();
    power = word<PowerState>();
    parts_removed = text();
    meter = text();
    date = text();
    board = word<WhichBoard>();
    note = text();
    more = extras();
    return thing;
}

HeatPlan random_plan(Ids& ids) {
    HeatPlan thing;
    auto& [id, name, target, aim, side, set_point_c, flow_l_per_min, nozzle_bore_mm, stand_off_mm, preheat_c, dwell_s,
           alloy, low_melt_fraction, station, shields, note, more] = thing;
    id = ids.next();
    name = text();
    target = Ids::link();
    aim = place();
    side = word<Side>();
    set_point_c = any_number();
    flow_l_per_min = above_zero();
    nozzle_bore_mm = above_zero();
    stand_off_mm = above_zero();
    preheat_c = maybe(any_number);
    dwell_s = above_zero();
    alloy = truth() ? text() : "SAC305";
    low_melt_fraction = number(0.0, 1.0);
    station = Ids::link();
    shields = several([] { return Id{"t-" + std::to_string(whole(0, 9))}; });
    note = text();
    more = extras();
    return thing;
}

Photo random_photo(Ids& ids) {
    Photo thing;
    auto& [id, path, checksum, side, board, mirrored, board_from_pixel, points, opacity, hidden, locked, note, more] =
        thing;
    id = ids.next();
    path = "p" + text();
    checksum = text();
    side = word<Side>();
    board = word<WhichBoard>();
    mirrored = truth();
    if (truth())
        for (int i = 0; i < 9; ++i)
            board_from_pixel.push_back(any_number());
    points = several([] { return PhotoPoint{{any_number(), any_number()}, place(), extras()}; });
    opacity = number(0.0, 1.0);
    hidden = truth();
    locked = truth();
    note = text();
    more = extras();
    return thing;
}

CopperArea random_copper_area(Ids& ids) {
    CopperArea thing;
    auto& [id, name, outline, conductivity_factor, note, more] = thing;
    id = ids.next();
    name = text();
    outline = polygon();
    conductivity_factor = above_zero();
    note = text();
    more = extras();
    return thing;
}

Station random_station(Ids& ids) {
    Station thing;
    auto& [id, name, nozzle_bore_mm, flow_l_per_min, stand_off_mm, exit_factor, h_factor, joint_band_k,
           neighbour_band_k, by, date, note, more] = thing;
    id = ids.next();
    for (std::string* field : {&name, &by, &date, &note})
        *field = text();
    for (std::optional<double>* setting : {&nozzle_bore_mm, &flow_l_per_min, &stand_off_mm})
        *setting = maybe(above_zero);
    for (double* value : {&exit_factor, &h_factor, &joint_band_k, &neighbour_band_k})
        *value = above_zero();
    more = extras();
    return thing;
}

Tick random_tick(Ids& ids) {
    Tick thing;
    auto& [id, task, target, done, by, date, note, more] = thing;
    id = ids.next();
    target = Ids::link();
    done = truth();
    for (std::string* field : {&task, &by, &date, &note})
        *field = text();
    more = extras();
    return thing;
}

RevisionNote random_revision(Ids& ids) {
    RevisionNote thing;
    auto& [id, revision, date, author, words_of_it, more] = thing;
    id = ids.next();
    for (std::string* field : {&revision, &date, &author, &words_of_it})
        *field = text();
    more = extras();
    return thing;
}

FrozenBefore random_frozen_before() {
    FrozenBefore thing;
    auto& [path, checksum, by, date, more] = thing;
    path = "p" + text();
    for (std::string* field : {&checksum, &by, &date})
        *field = text();
    more = extras();
    return thing;
}

Conflict random_conflict() {
    static const std::vector<std::string> kValues{"", "null", "\"10k\"", "[1, 2.50]", "{\"a\": {\"b\": []}}"};
    Conflict thing;
    auto& [id, field, base, ours, theirs, ours_label, theirs_label, more] = thing;
    id = Ids::link();
    field = text();
    for (std::string* value : {&base, &ours, &theirs})
        *value = kValues[static_cast<std::size_t>(whole(0, static_cast<int>(kValues.size()) - 1))];
    ours_label = text();
    theirs_label = text();
    more = extras();
    return thing;
}

Title random_title() {
    Title thing;
    auto& [title, board, revision, maker, serial, job, author, date, chart_revision, up_edge, not_mapped, more] = thing;
    for (std::string* field :
         {&title, &board, &revision, &maker, &serial, &job, &author, &date, &chart_revision, &up_edge, &not_mapped})
        *field = text();
    more = extras();
    return thing;
}

Scale random_scale() {
    Scale scale;
    auto& [mm_per_unit, source, relative_uncertainty, note, more, overruled] = scale;
    mm_per_unit = above_zero();
    source = word<ScaleSource>();
    relative_uncertainty = number(0.0, 1.0);
    note = text();
    more = extras();
    overruled = several([] {
        return OtherScale{above_zero(), word<ScaleSource>(), number(0.0, 1.0), text(), extras()};
    });
    return scale;
}

Board random_board() {
    Board board;
    auto& [outline, stack, more] = board;
    outline = maybe(polygon);
    auto& [thickness_mm, layers, conductivity, heat_capacity, emissivity, note, more_of_stack] = stack;
    thickness_mm = maybe(length_mm);
    layers = maybe([] { return whole(1, 64); });
    conductivity = maybe(above_zero);
    heat_capacity = maybe(above_zero);
    emissivity = maybe([] { return number(0.0, 1.0); });
    note = text();
    more_of_stack = extras();
    more = extras();
    return board;
}

Rules random_rules() {
    Rules rules;
    auto& [nozzle_bore_mm, nozzle_margin_mm, body_gap_mm, pad_gap_mm, edge_gap_mm, more] = rules;
    nozzle_bore_mm = length_mm();
    for (double* gap : {&nozzle_margin_mm, &body_gap_mm, &pad_gap_mm, &edge_gap_mm})
        *gap = number(0.0, 10'000.0);
    more = extras();
    return rules;
}

template <class T, class Make>
void fill(Items<T>& items, Ids& ids, Make make) {
    for (int n = whole(0, 4); n > 0; --n)
        items.add(make(ids));
}

} // namespace

Chart random_chart() {
    Chart chart;
    auto& [title, scale, board, rules, parts, keep_outs, shields, notes, readings, heat_plans, photos, copper_areas,
           stations, ticks, revisions, frozen_before, conflicts, more] = chart;
    Ids ids;
    title = random_title();
    scale = maybe(random_scale);
    board = random_board();
    rules = random_rules();
    fill(parts, ids, random_part);
    fill(keep_outs, ids, random_keep_out);
    fill(shields, ids, random_shield);
    fill(notes, ids, random_note);
    fill(readings, ids, random_reading);
    fill(heat_plans, ids, random_plan);
    fill(photos, ids, random_photo);
    fill(copper_areas, ids, random_copper_area);
    fill(stations, ids, random_station);
    fill(ticks, ids, random_tick);
    fill(revisions, ids, random_revision);
    frozen_before = maybe(random_frozen_before);
    conflicts = several(random_conflict);
    more = extras();
    return chart;
}

} // namespace padchart::json
