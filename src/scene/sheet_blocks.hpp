#pragma once
// The pieces of a sheet's page that are drawn and not written: title block, legend, scale bar.

#include <span>
#include <string>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

inline constexpr double kTitleStrip_mm = 11.0; ///< height of the title on all pages but the first
inline constexpr double kLegendRow_mm = 6.6;
inline constexpr double kScaleBlock_mm = 20.0;

struct SheetNumber {
    std::size_t page = 1;
    std::size_t of = 1;
};

/// Height of the title block on the first page: a field that is too long for one line has up to six.
[[nodiscard]] double title_block_mm(const PageFormat& format, const document::Title& title,
                                    const SheetOptions& options);

void add_frame(Scene& scene, const PageFormat& format);
/// At the foot of the frame.
void add_title_block(Scene& scene, const PageFormat& format, const document::Title& title, const SheetOptions& options,
                     SheetNumber number);
void add_title_strip(Scene& scene, const PageFormat& format, const document::Title& title, const SheetOptions& options,
                     SheetNumber number);

/// The sample that stands for a role in a legend, 9 x 4.4 mm about its centre.
void add_legend_sample(Scene& scene, geometry::Vec2 centre, Role role);
[[nodiscard]] double legend_height_mm(std::size_t entries, double width_mm);
void add_legend(Scene& scene, const geometry::Box& box, std::span<const LegendEntry> entries);

/// A bar of a round number of mm on the board, as long as the picture makes it, with what to check it by.
void add_scale_bar(Scene& scene, const geometry::Box& box, double enlargement, const document::Scale& scale);
/// The same in one line, where the rest is told elsewhere.
void add_short_scale_bar(Scene& scene, const geometry::Box& box, double enlargement);
/// What stands there instead on a chart without a scale.
void add_no_scale(Scene& scene, const geometry::Box& box);

/// "two points and the distance between them (…); lengths are right within 1 %".
[[nodiscard]] std::string scale_in_words(const document::Scale& scale);

} // namespace padchart::scene
