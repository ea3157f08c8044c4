#include "scene/sheet_blocks.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "scene/marks.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using geometry::Box;
using geometry::Vec2;

namespace {

struct Field {
    std::string caption;
    std::string text;
    double share = 1.0;
    bool strong = false;
};

constexpr double kFieldRow_mm = 11.34; ///< of fields of one line
constexpr std::size_t kMostLines = 6;

TextStyle style_of(const Field& field) {
    return {.role = field.strong ? Role::PageTextStrong : Role::PageText, .strong = field.strong};
}

/// The text in as many lines as it needs; where even the most are too few the last one ends with "…".
std::vector<std::string> lines_of(const Field& field, double width_mm, std::size_t most) {
    const double width_em = width_mm / kTextHeight_mm;
    std::vector<std::string> lines = wrapped(field.text, width_em, field.strong);
    if (lines.size() <= most) return lines;
    for (std::size_t i = most; i < lines.size(); ++i)
        lines[most - 1] += ' ' + lines[i];
    lines.resize(most);
    lines.back() = shortened(lines.back(), width_em, field.strong);
    return lines;
}

double width_of(const Field& field, std::span<const Field> fields, double row_mm) {
    double shares = 0.0;
    for (const Field& other : fields)
        shares += other.share;
    return row_mm * field.share / shares;
}

double row_height_mm(std::span<const Field> fields, double width_mm) {
    std::size_t lines = 1;
    for (const Field& field : fields)
        lines = std::max(lines, lines_of(field, width_of(field, fields, width_mm) - 2.5, kMostLines).size());
    return kFieldRow_mm + static_cast<double>(lines - 1) * kLineStep_mm;
}

/// A row of boxed fields, each with its caption in its upper left corner.
void add_fields(Scene& scene, const Box& row, std::span<const Field> fields, std::size_t most_lines) {
    double x = row.min.x;
    for (const Field& field : fields) {
        const double width = width_of(field, fields, row.width());
        draw_box(scene, Role::PageInk, {{x, row.min.y}, {x + width, row.max.y}}, Weight::Hair);
        write_fitted(scene, {x + 1.5, row.min.y + 2.4}, field.caption, width - 2.0, {.role = Role::PageMuted});
        double y = row.min.y + kFieldRow_mm - 3.1;
        for (const std::string& line : lines_of(field, width - 2.5, most_lines)) {
            write(scene, {x + 1.5, y}, line, style_of(field));
            y += kLineStep_mm;
        }
        x += width;
    }
}

std::string identification(const document::Title& title, const SheetOptions& options) {
    return options.identification.empty() ? title.job : options.identification;
}

std::string board_in_words(const document::Title& title) {
    std::string text = title.board;
    if (!title.revision.empty()) text += (text.empty() ? "revision " : ", revision ") + title.revision;
    return text;
}

std::string sheet_number(SheetNumber number) {
    return fmt::format("{} of {}", number.page, number.of);
}

/// The sample that stands for a role in the legend, about 9 x 4.4 mm.
class Sample {
public:
    Sample(Scene& scene, Vec2 centre) : scene_(scene), box_{centre - Vec2{4.5, 2.2}, centre + Vec2{4.5, 2.2}} {}

    void add(Role role) {
        switch (role) {
        case Role::MissingEdge:
        case Role::FarSideEdge:
        case Role::UnknownEdge: outline(role); return;
        case Role::BadgeUnknown: unknown(); return;
        case Role::BadgeDone: sign(role, Sign::Tick); return;
        case Role::BadgeWarning: sign(role, Sign::Exclamation); return;
        case Role::BadgeNote: sign(role, Sign::NoteSign); return;
        case Role::Measure: sign(role, Sign::Cross); return;
        case Role::PadFault: add_faulty_land(scene_, box_); return;
        case Role::Mark: mark(); return;
        case Role::NozzleRing: ring(); return;
        case Role::Isotherm:
        case Role::IsothermLiquidus: line(role); return;
        case Role::SensitiveBody: double_outline(); return;
        default: area(role); return;
        }
    }

private:
    void outline(Role role) { draw_box(scene_, role, box_, Weight::Normal); }
    void area(Role role) {
        scene_.add(role, Fill{{{box_.min, {box_.max.x, box_.min.y}, box_.max, {box_.min.x, box_.max.y}}, {}}});
        if (const std::optional<Role> edge = edge_of(role)) draw_box(scene_, *edge, box_, Weight::Thin);
    }
    void double_outline() {
        area(Role::SensitiveBody);
        draw_box(scene_, Role::SensitiveEdge, box_, Weight::Normal);
        draw_box(scene_, Role::SensitiveEdge, box_.grown(-0.9), Weight::Hair);
    }
    void unknown() {
        outline(Role::UnknownEdge);
        scene_.add(Role::BadgeUnknown, Symbol{{box_.max.x - 0.6, box_.min.y + 0.8}, Sign::Query, 7.0});
    }
    void sign(Role role, Sign sign) { scene_.add(role, Symbol{box_.centre(), sign, 7.0}); }
    void mark() {
        area(Role::Body);
        const double x = box_.min.x + 1.2;
        scene_.add(Role::Mark,
                   Fill{{{{x, box_.min.y}, {x + 1.0, box_.min.y}, {x + 1.0, box_.max.y}, {x, box_.max.y}}, {}}});
    }
    void ring() {
        geometry::Ring circle =
            geometry::transformed(geometry::circle(2.2, 0.02), geometry::Affine::translation(box_.centre()));
        scene_.add(Role::NozzleRing, Line{std::move(circle), true, Weight::Normal});
    }
    void line(Role role) {
        draw_line(scene_, role, {box_.min.x, box_.centre().y}, {box_.max.x, box_.centre().y},
                  role == Role::IsothermLiquidus ? Weight::Bold : Weight::Thin);
    }

    Scene& scene_;
    Box box_;
};

constexpr double kLegendColumn_mm = 78.0;

std::size_t legend_columns(double width_mm) {
    return static_cast<std::size_t>(std::max(1.0, std::floor(width_mm / kLegendColumn_mm)));
}

/// Largest of 1, 2 and 5 times a power of ten that stays within `most`.
double round_length(double most) {
    const double decade = std::pow(10.0, std::floor(std::log10(most)));
    for (const double k : {5.0, 2.0})
        if (k * decade <= most) return k * decade;
    return decade;
}

} // namespace

void add_frame(Scene& scene, const PageFormat& format) {
    draw_box(scene, Role::PageInk, format.frame(), Weight::Normal);
}

namespace {

using FieldRows = std::vector<std::vector<Field>>;

FieldRows title_fields(const document::Title& title, const SheetOptions& options, SheetNumber number) {
    return {{{"Legal owner", options.owner, 1.5},
             {"Identification number", identification(title, options), 1.2, true},
             {"Revision", title.chart_revision, 0.6},
             {"Date of issue", title.date, 0.9},
             {"Sheet", sheet_number(number), 0.6, true}},
            {{"Title", title.title, 1.5, true},
             {"Board", board_in_words(title), 1.6},
             {"Serial number", title.serial, 1.1},
             {"Board's maker", title.maker, 1.4}},
            {{"Creator", title.author, 1.2},
             {"Approved by", options.approved_by, 1.2},
             {"Document type", options.document_type, 1.5}}};
}

} // namespace

double title_block_mm(const PageFormat& format, const document::Title& title, const SheetOptions& options) {
    double height = 0.0;
    for (const std::vector<Field>& row : title_fields(title, options, {}))
        height += row_height_mm(row, format.frame().width());
    return height;
}

void add_title_block(Scene& scene, const PageFormat& format, const document::Title& title, const SheetOptions& options,
                     SheetNumber number) {
    const Box frame = format.frame();
    double top = frame.max.y - title_block_mm(format, title, options);
    draw_line(scene, Role::PageInk, {frame.min.x, top}, {frame.max.x, top}, Weight::Normal);
    for (const std::vector<Field>& row : title_fields(title, options, number)) {
        const double height = row_height_mm(row, frame.width());
        add_fields(scene, {{frame.min.x, top}, {frame.max.x, top + height}}, row, kMostLines);
        top += height;
    }
}

void add_title_strip(Scene& scene, const PageFormat& format, const document::Title& title, const SheetOptions& options,
                     SheetNumber number) {
    const Box frame = format.frame();
    const Field fields[] = {{"Identification number", identification(title, options), 1.5},
                            {"Title", title.title, 1.4, true},
                            {"Board", board_in_words(title), 2.2},
                            {"Revision", title.chart_revision, 0.6},
                            {"Sheet", sheet_number(number), 0.6, true}};
    add_fields(scene, {{frame.min.x, frame.max.y - kTitleStrip_mm}, frame.max}, fields, 1);
    draw_line(scene, Role::PageInk, {frame.min.x, frame.max.y - kTitleStrip_mm},
              {frame.max.x, frame.max.y - kTitleStrip_mm}, Weight::Normal);
}

void add_legend_sample(Scene& scene, Vec2 centre, Role role) {
    Sample(scene, centre).add(role);
}

double legend_height_mm(std::size_t entries, double width_mm) {
    const std::size_t columns = legend_columns(width_mm);
    const std::size_t rows = (entries + columns - 1) / columns;
    return static_cast<double>(rows) * kLegendRow_mm;
}

void add_legend(Scene& scene, const Box& box, std::span<const LegendEntry> entries) {
    const std::size_t columns = legend_columns(box.width());
    const std::size_t rows = (entries.size() + columns - 1) / columns;
    const double width = box.width() / static_cast<double>(columns);
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const std::size_t column = i / rows;
        const std::size_t row = i % rows;
        const Vec2 at{box.min.x + width * static_cast<double>(column),
                      box.min.y + kLegendRow_mm * (static_cast<double>(row) + 0.5)};
        add_legend_sample(scene, at + Vec2{5.0, 0}, entries[i].role);
        write_fitted(scene, at + Vec2{12.5, 0}, entries[i].text, width - 13.0);
    }
}

namespace {

/// Four fields, two of them filled, so that the middle and the quarters can be read off as well.
void add_bar(Scene& scene, Vec2 from, double board_mm, double paper_mm) {
    constexpr double kHeight = 1.6;
    for (const int i : {0, 2}) {
        const double x = from.x + paper_mm * i / 4.0;
        const double end = x + paper_mm / 4.0;
        scene.add(Role::ScaleBar,
                  Fill{{{{x, from.y}, {end, from.y}, {end, from.y + kHeight}, {x, from.y + kHeight}}, {}}});
    }
    draw_box(scene, Role::ScaleBar, {from, from + Vec2{paper_mm, kHeight}}, Weight::Hair);
    write(scene, {from.x, from.y - 3.0}, "0", {.role = Role::ScaleBar, .align = Align::Centre});
    write(scene, {from.x + paper_mm, from.y - 3.0}, number(board_mm, 3) + " mm",
          {.role = Role::ScaleBar, .align = Align::Centre});
}

std::string check_in_words(double enlargement, double paper_mm) {
    return fmt::format("Enlargement {}:1. Check with a rule: the bar is {} mm long on paper.", number(enlargement, 0),
                       number(paper_mm, 1));
}

} // namespace

void add_scale_bar(Scene& scene, const Box& box, double enlargement, const document::Scale& scale) {
    const double board_mm = round_length(std::min(50.0, box.width() * 0.3) / enlargement);
    const double paper_mm = board_mm * enlargement;
    add_bar(scene, {box.min.x, box.min.y + 6.6}, board_mm, paper_mm);
    const double x = box.min.x + paper_mm + 14.0;
    const double width = box.max.x - x;
    const double y = write_wrapped(scene, {x, box.min.y}, check_in_words(enlargement, paper_mm), width,
                                   {.role = Role::PageTextStrong, .strong = true});
    write_wrapped(scene, {x, y}, "Scale: " + scale_in_words(scale) + ".", width);
}

void add_short_scale_bar(Scene& scene, const Box& box, double enlargement) {
    const double board_mm = round_length(std::min(50.0, box.width() * 0.35) / enlargement);
    const double paper_mm = board_mm * enlargement;
    add_bar(scene, {box.min.x, box.min.y + 6.6}, board_mm, paper_mm);
    const double x = box.min.x + paper_mm + 14.0;
    write_wrapped(scene, {x, box.min.y + 0.8}, check_in_words(enlargement, paper_mm), box.max.x - x,
                  {.role = Role::PageTextStrong, .strong = true});
}

void add_no_scale(Scene& scene, const Box& box) {
    write_wrapped(scene, box.min, "Not to scale: this chart has no scale yet. Measure nothing on this sheet.",
                  box.width(), {.role = Role::PageCaution});
}

std::string scale_in_words(const document::Scale& scale) {
    std::string text = in_words(scale.source);
    if (!scale.note.empty()) text += " (" + scale.note + ")";
    text += scale.relative_uncertainty > 0.0
                ? fmt::format("; lengths are right within {} %", number(scale.relative_uncertainty * 100.0, 2))
                : "; how exact it is was not stated";
    if (!scale.overruled.empty()) {
        const document::OtherScale& other = scale.overruled.front();
        text += fmt::format("; NOT settled: another one on record asks for {} times that length ({}{}{})",
                            number(other.mm_per_unit / scale.mm_per_unit, 3), in_words(other.source),
                            other.note.empty() ? "" : ", ", other.note);
    }
    return text;
}

} // namespace padchart::scene
