#pragma once
// What the heat panel needs beyond widgets.hpp: a slider whose value can be typed, a band on a scale, a part of the
// panel that folds.

#include <functional>
#include <optional>
#include <string>

#include "analysis/heat.hpp"
#include "app/widgets.hpp"

namespace padchart::app {

struct SliderRange {
    double low = 0.0, high = 1.0;
    double step = 1.0; ///< the slider stops at multiples of it; typing may give any number
    int decimals = 0;
    const char* unit = "";
};
struct SliderAnswer {
    std::function<void(double value, bool moving)> change;
    std::function<void()> rest; ///< the hand has let go
    std::function<void(std::string)> refuse;
};
/// Label left, value and unit right (a click or Tab begins typing), the slider below over the whole width.
void slider_field(Ui& ui, const char* label, double value, const SliderRange& range, const SliderAnswer& answer);
/// As above with a box before the label that switches it on and off; off it has neither value nor slider.
void optional_slider_field(Ui& ui, const char* label, std::optional<double> value, const SliderRange& range,
                           const SliderAnswer& answer, const std::function<void(bool on)>& change);

/// A line that folds what follows in and out; `summary` tells what is in there. Answers whether it is open.
bool section(const Ui& ui, const char* label, const std::string& summary, bool& open);

/// A word one can switch on and off. True where it was.
bool toggle(const Ui& ui, const char* label, bool& on);

/// Estimated temperatures low to high as a bar on a common scale.
struct BandRow {
    std::string name;
    analysis::Band band;
    std::optional<analysis::Band> second; ///< of the plan compared with
    std::optional<double> tick_c;         ///< limit or liquidus
    std::string tick_words;
    Tone tone = Tone::Plain;
    std::string verdict; ///< said in words beside the colour
};
struct BandScale {
    double low_c = 25.0, high_c = 400.0;
    bool pale = false; ///< belongs to an older plan
    std::string sign;  ///< before every figure that is not final: "≈ "
};
/// True when it is pressed.
bool band_row(const Ui& ui, const BandRow& row, const BandScale& scale);

/// "205 – 246 °C".
[[nodiscard]] std::string band_words(const analysis::Band& band);

} // namespace padchart::app
