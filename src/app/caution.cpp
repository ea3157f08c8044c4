#include "app/caution.hpp"

#include <algorithm>
#include <array>

#include "analysis/check.hpp"
#include "app/line_break.hpp"
#include "app/session.hpp"

namespace padchart::app {
namespace {

enum CautionAt : std::size_t { kNoScale, kCell, kEvidence, kEstimate, kScaleBar, kPower };

} // namespace

std::span<const Caution> cautions() {
    static const std::array<Caution, 6> kAll{{{"No scale yet: set it with G; no length here can be trusted.", true},
                                              {"A cell is on this board: take it out before any heat.", true},
                                              {"Once the part is off, the evidence is gone.", false},
                                              {"An estimate, not a measurement: check with a thermocouple.", true},
                                              {"Check the printed scale bar with a rule.", false},
                                              {"Power off, capacitors discharged, wrist strap on.", true}}};
    return kAll;
}

const Caution& caution_of(const Session& s) {
    const document::Chart& chart = s.editor.shown();
    if (!chart.scale) return cautions()[kNoScale];
    for (const document::Footprint& part : chart.parts)
        if (analysis::holds_cell(part)) return cautions()[kCell];
    switch (s.stage) {
    case scene::Stage::Orient: return cautions()[kEvidence];
    case scene::Stage::Heat: return cautions()[kEstimate];
    case scene::Stage::HandOver: return cautions()[kScaleBar];
    default: break;
    }
    return cautions()[kPower];
}

int caution_lines(float room, float beside, const std::function<float(std::string_view)>& width_of) {
    float widest = 0.0F;
    std::ptrdiff_t most = 1;
    for (const Caution& caution : cautions()) {
        widest = std::max(widest, width_of(caution.text));
        const std::string lines = broken_at_blanks(caution.text, room, width_of);
        most = std::max(most, 1 + std::count(lines.begin(), lines.end(), '\n'));
    }
    return widest + beside <= room ? 0 : static_cast<int>(most);
}

} // namespace padchart::app
