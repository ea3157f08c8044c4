#include "patterns/own_pattern.hpp"

namespace padchart::patterns {

document::Footprint as_pattern(const document::Footprint& part) {
    document::Footprint pattern;
    pattern.part_class = part.part_class;
    pattern.family = part.family;
    pattern.family_parameters = part.family_parameters;
    pattern.stated_pad_count = part.stated_pad_count;
    pattern.harmless_turns_deg = part.harmless_turns_deg;
    pattern.heat = part.heat;
    pattern.body = part.body;
    pattern.extras = part.extras;
    const geometry::Vec2 centre = document::centre_in_part(part);
    if (pattern.body) pattern.body->at -= centre;
    for (const document::Pad& traced : part.pads) {
        document::Pad pad = traced;
        pad.at -= centre;
        pad.land = document::LandState::NotChecked;
        pad.joint = document::JointState::NotChecked;
        pattern.pads.push_back(std::move(pad));
    }
    // Whether this part's mark was looked at says nothing of the next one: only what the mark is goes with the pattern.
    pattern.orientation = {document::RecordState::NotRecorded,
                           part.orientation.mark,
                           part.orientation.bearing,
                           part.orientation.meaning,
                           {},
                           {}};
    return pattern;
}

} // namespace padchart::patterns
