#include "app/new_chart.hpp"

namespace padchart::app {

document::Chart new_chart() {
    document::Chart chart;
    document::Scale scale;
    scale.source = document::ScaleSource::Drawn;
    scale.note = "drawn by hand in mm"; // exact: the millimetres are those that were drawn
    chart.scale = scale;
    return chart;
}

} // namespace padchart::app
