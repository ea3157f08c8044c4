#pragma once
// What is to be seen, as a list of shapes with meanings instead of colours. Board mm (page mm on a sheet), painted in
// order. The window, the sheet, the pictures and the tests all come from this one list; hit tests too, so that what is
// drawn and what is clicked cannot drift apart. A painter adds a camera and a theme, nothing else.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "document/id.hpp"
#include "geometry/polygon.hpp"

namespace padchart::scene {

/// What a shape is. The theme turns it into colour, hatch, dash and width; never by colour alone.
enum class Role : std::uint8_t {
    Paper,
    GridLine,
    GridLineMajor,
    Board,
    BoardEdge,
    CutOut,
    PadCopper,
    PadMissing,
    PadEdge,
    PadFault, ///< the cross on a pad whose land or joint is not as it should be
    Body,
    BodyEdge,
    SensitiveBody,
    SensitiveEdge,
    MissingEdge,
    UnknownEdge,
    FarSide,
    FarSideEdge,
    Mark,
    NoAim,
    NoAimEdge,
    Depends,
    DependsEdge,
    GoodAimEdge,
    KeepOut,
    KeepOutEdge,
    Shield,
    ShieldEdge,
    Isotherm,
    IsothermLiquidus,
    Stale, ///< lines of a result that is being worked out anew
    StaleZone,
    NozzleRing,
    AimCross,
    Selection,
    SelectionHandle,
    Hover,
    Marquee,
    Preview,
    Snap,
    Measure,
    Leader,
    BadgeUnknown,
    BadgeDone,
    BadgeWarning,
    BadgeNote,
    LabelPart,
    LabelMuted,
    LabelDanger,
    LabelNote,
    LabelMeasure,
    LabelIsotherm,
    // Sheet
    PageInk,
    PageRule,
    PageMuted,
    PageHeading,
    PageText,
    PageTextStrong,
    PageCaution,
    PageBox,
    PageTick,
    ScaleBar
};
inline constexpr std::size_t kRoleCount = static_cast<std::size_t>(Role::ScaleBar) + 1;

/// "no-aim-edge": as golden files and reports spell it.
[[nodiscard]] std::string_view to_text(Role role);

/// Width of lines is given on the medium (screen or paper), not on the board: a line stays thin at any zoom.
enum class Weight : std::uint8_t { Hair, Thin, Normal, Bold };

struct Fill {
    geometry::Polygon area;
};
struct Line {
    std::vector<geometry::Vec2> points;
    bool closed = false;
    Weight weight = Weight::Normal;
};
enum class Align : std::uint8_t { Left, Centre, Right };
struct Text {
    geometry::Vec2 at; ///< left, centre or right end of the text, half way up its capitals
    std::string text;  ///< UTF-8
    Align align = Align::Centre;
    double height_mm = 0.0;    ///< of the font on the scene; 0: `height_px` counts instead
    double height_px = 11.0;   ///< of the font on the medium at scale 1 (1 px = 1/96 in), whatever the zoom
    double fit_width_mm = 0.0; ///< not drawn where it would be wider than this (0: always drawn)
    bool strong = false;
    bool halo = false; ///< on a plate of paper colour, for labels over lines
};
/// A sign of fixed size on the medium.
enum class Sign : std::uint8_t { Query, Tick, Exclamation, NoteSign, Handle, Cross };
struct Symbol {
    geometry::Vec2 at;
    Sign sign = Sign::Query;
    double radius_px = 9.0;
};

struct Item {
    enum class Kind : std::uint8_t { Fill, Line, Text, Symbol };
    Kind kind = Kind::Fill;
    Role role = Role::Paper;
    std::int32_t source = -1; ///< index into Scene::sources, -1 for none
    std::uint32_t index = 0;  ///< into the list of its kind
};

/// What an item stands for: a part, one of its pads, a keep-out, a note ...
struct Source {
    document::Id id;
    std::int32_t pad = -1;
};

/// What the legend says of a role in this picture: "liquidus 217 °C, peak estimate".
struct RoleWords {
    Role role = Role::Paper;
    std::string text;
};

/// Items in painting order; payloads apart by kind, so that 50,000 pads stay compact.
struct Scene {
    std::vector<Item> items;
    std::vector<Fill> fills;
    std::vector<Line> lines;
    std::vector<Text> texts;
    std::vector<Symbol> symbols;
    std::vector<Source> sources;
    geometry::Box bounds;                  ///< of fills and lines
    std::vector<RoleWords> legend_words{}; ///< where the legend has to say something else than usual

    void add(Role role, Fill fill, std::int32_t source = -1);
    void add(Role role, Line line, std::int32_t source = -1);
    void add(Role role, Text text, std::int32_t source = -1);
    void add(Role role, Symbol symbol, std::int32_t source = -1);
    std::int32_t add_source(document::Id id, std::int32_t pad = -1);
};

/// The same scene as text, one line an item, for golden files.
[[nodiscard]] std::string to_text(const Scene& scene);

} // namespace padchart::scene
