#pragma once
// The sheet a colleague works from: maps of both sides at true scale, tables of what is on them, cautions, and what is
// not mapped. Page mm; the cairo painter writes the pages as they are.
// Title block: fields of ISO 7200. Enlargements: ISO 5455. Frame: ISO 5457. Sizes of paper: ISO 216 and US Letter.

#include <optional>
#include <string>
#include <vector>

#include "scene/chart_scene.hpp"
#include "scene/page.hpp"

namespace padchart::scene {

enum class Paper { A4, Letter };

/// More to print, made by whoever knows it: the heat report, what changed since the last sheet.
struct SheetSection {
    std::string heading;
    std::vector<std::string> paragraphs;
};

/// What was estimated of a heat plan of the chart. Requires: it outlives the making of the sheet.
struct PlanHeat {
    document::Id plan;
    const analysis::HeatReport* heat = nullptr;
};

struct SheetOptions {
    Paper paper = Paper::A4;
    std::optional<double> enlargement; ///< of the maps, tiled where it does not fit; nothing: the largest that fits
    bool with_zones = true;
    bool with_cards = true;     ///< one for every part that could go back the wrong way round
    bool with_parking = true;   ///< a place for each part that the air could lift
    std::vector<PlanHeat> heat; ///< plans that get a page of their own with the estimate
    std::string identification; ///< title block; the job number when empty
    std::string owner;          ///< title block: legal owner of the sheet; an empty line to fill in when empty
    std::string approved_by;    ///< title block; an empty line to sign on when empty
    std::string document_type = "Region chart for rework";
    std::vector<std::string> revision_notes; ///< what changed, who, why: newest first
    std::vector<SheetSection> sections;
    std::optional<SheetSection> compared;  ///< with how it was before: its heading is the headline, told first of all
    std::vector<EvidencePicture> evidence; ///< printed on the cards of these parts
};

/// A document with at least one page. Two calls with the same chart give the same pages.
[[nodiscard]] Document make_sheet(const document::Chart& chart, const Reports& reports, const SheetOptions& options);

/// The largest of 50, 20, 10, 5, 2 and 1 (ISO 5455) at which `content` fits into `room`, both in mm; 1 where none does.
[[nodiscard]] double standard_enlargement(geometry::Vec2 content_mm, geometry::Vec2 room_mm);

} // namespace padchart::scene
