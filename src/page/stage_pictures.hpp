#pragma once
// Which pictures of the board a page shows, one after another, and what each comes to. Private to the page.

#include <optional>
#include <string>
#include <vector>

#include "analysis/access.hpp"
#include "page/page.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::page {

struct StagePicture {
    std::string name; ///< "Survey", ..., "Heat: U4", ..., "Hand over"
    scene::Stage stage = scene::Stage::HandOver;
    const PlanReport* plan = nullptr; ///< of the input's reports
    std::optional<analysis::AccessReport> access{};
};

/// In the order of the stages; a heat plan and a target of access have one each, the first few of them.
/// Requires: the input outlives them.
[[nodiscard]] std::vector<StagePicture> stage_pictures(const PageInput& input);

/// What the picture comes to, in one line: "31 of 42 checked.", "Shield J2 before you start: ...".
[[nodiscard]] std::string verdict_of(const PageInput& input, const StagePicture& stage);

} // namespace padchart::page
