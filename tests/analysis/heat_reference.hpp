#pragma once
// The reference board of the heat tests: 60 x 30 mm, a small chip in the middle, a moulded socket beside it.

#include "document/chart.hpp"

namespace padchart::analysis::test {

inline document::Footprint block(const char* id, document::PartClass part_class, geometry::Vec2 at, double width,
                                 double height, double tall) {
    document::Footprint part;
    part.id.text = id;
    part.name = id;
    part.part_class = part_class;
    part.placement.at = at;
    document::Body body;
    body.shape.width_mm = width;
    body.shape.height_mm = height;
    body.height_mm = tall;
    part.body = body;
    return part;
}

inline void add_pads(document::Footprint& part, double pitch, double width, double height) {
    for (int k = 0; k < 2; ++k) {
        document::Pad pad;
        pad.number = k == 0 ? "1" : "2";
        pad.at = {(k - 0.5) * pitch, 0.0};
        pad.shape.width_mm = width;
        pad.shape.height_mm = height;
        part.pads.push_back(pad);
    }
}

/// k 30 W/(m K), rho c 2.2e6, 0.8 mm, emissivity 0.9; `gap_mm` from the chip's edge to the socket's.
inline document::Chart reference_chart(double gap_mm, double socket_limit_c = 260.0) {
    document::Chart chart;
    chart.scale = document::Scale{};
    chart.board.outline = geometry::Polygon{{{0, 0}, {60, 0}, {60, 30}, {0, 30}}, {}};
    chart.board.stack.thickness_mm = 0.8;
    chart.board.stack.conductivity_w_per_m_k = 30;
    chart.board.stack.heat_capacity_j_per_m3_k = 2.2e6;
    chart.board.stack.emissivity = 0.9;
    document::Footprint chip = block("r1", document::PartClass::Resistor, {30, 15}, 1, 1, 0.6);
    add_pads(chip, 0.7, 0.3, 1.0);
    chart.parts.add(chip);
    document::Footprint socket = block("j2", document::PartClass::Connector, {35.5 + gap_mm, 15}, 10, 10, 1.2);
    socket.heat = document::HeatSensitivity{};
    socket.heat->limit_c = socket_limit_c;
    chart.parts.add(socket);
    return chart;
}

inline document::HeatPlan reference_plan(double set_point_c, double dwell_s = 60.0) {
    document::HeatPlan plan;
    plan.id.text = "heat-1";
    plan.target.text = "r1";
    plan.aim = {30, 15};
    plan.set_point_c = set_point_c;
    plan.dwell_s = dwell_s;
    return plan;
}

} // namespace padchart::analysis::test
