#pragma once
// Goes through a parsed drawing in document order and puts every shape a browser would draw into a Drawing.

#include <cstdint>
#include <string>
#include <vector>

#include <pugixml.hpp>

#include "svg/css_values.hpp"
#include "svg/drawing.hpp"
#include "svg/element_style.hpp"
#include "svg/elements.hpp"
#include "svg/outline.hpp"
#include "svg/parsed_document.hpp"
#include "svg/report.hpp"
#include "svg/walk_part.hpp"

namespace padchart::svg {

/// What `use` multiplies is bounded by what somebody could have meant in a text of this length: two kilobytes of nested
/// instances would otherwise keep the bench waiting for millions of shapes.
[[nodiscard]] std::size_t max_shapes_of(std::size_t bytes, const ReadOptions& options);
/// Groups without shapes can multiply as well as shapes.
[[nodiscard]] std::size_t max_visits_of(std::size_t max_shapes);

/// Goes through one part of a drawing.
class Walker {
public:
    /// All that is given outlives this.
    Walker(const ParsedDocument& document, const ReadOptions& options, Report& report, const WalkPart& part);

    /// Makes room for what a text of so many bytes usually holds. A page of room that is not used costs nothing; a list
    /// that grows is copied again and again.
    void expect(std::size_t bytes);
    /// Requires: called once.
    WalkedPart walk();

private:
    /// The viewport of an inner svg or a symbol, which a browser shows no more than.
    struct Window {
        geometry::Affine map; ///< from its own units: the size counts from the origin
        double width = 0.0;
        double height = 0.0;
        const Window* outer = nullptr; ///< the next one out
    };

    struct Context {
        geometry::Affine map;
        Inherited inherited;
        pugi::xml_node scope; ///< root of the instance of `use` we are in
        std::int32_t group = -1;
        int depth = 0;
        bool plain_names_are_svg = true;
        bool inside_link = false;       ///< the parent is an <a>
        const Window* window = nullptr; ///< the innermost that cuts
    };

    /// What `use` says of the size of the svg or symbol it draws.
    struct SizeOverride {
        std::string_view width;
        std::string_view height;
        bool has_width = false;
        bool has_height = false;
    };

    void visit_page(const pugi::xml_node& root);
    void visit(const pugi::xml_node& node, const Context& parent, Counters& counters, const SizeOverride* size);
    void visit_children(const pugi::xml_node& node, const Context& context);
    void visit_switch(const pugi::xml_node& node, const Context& context);
    void visit_shape(const pugi::xml_node& node, Element element, const Context& parent, Counters& counters);
    void visit_container(const pugi::xml_node& node, Element element, const Context& parent, Counters& counters,
                         const SizeOverride* size);
    /// Draws what the `use` refers to; `context` is placed already.
    void visit_use(const pugi::xml_node& node, const Context& context);
    [[nodiscard]] geometry::Vec2 place_of_use(const pugi::xml_node& node, const LengthContext& lengths);
    void visit_target(const pugi::xml_node& node, const pugi::xml_node& target, Context context);
    /// `window`: where it goes in, before its viewBox counts.
    bool enter_viewport(const pugi::xml_node& node, const SizeOverride* size, Context& context, Window& window);
    /// Style sheets, the style attribute, and what only the ancestors can tell, on top of `attributes_`.
    void style(const pugi::xml_node& node, std::string_view type, const pugi::xml_node& scope);
    /// Whether the map is such that nothing below it is displayed; then it is reported.
    [[nodiscard]] bool remark_collapsed(const pugi::xml_node& node, Element element, const geometry::Affine& own);
    bool emit(const pugi::xml_node& node, Element element, const Context& parent, const Inherited& own,
              const geometry::Affine& map, Counters& counters);

    /// What goes into a container: the map of what is in it, viewport and place of a `use` worked in. False: draws
    /// nothing.
    bool enter(const pugi::xml_node& node, Element element, const SizeOverride* size, Context& context, Window& window);
    /// Of the shape that was drawn last: that a browser cuts it.
    void remark_cut(const pugi::xml_node& node, Element element, const Window* window);
    void visit_inside(const pugi::xml_node& node, Element element, const Context& context);

    /// The box a browser places a container by: in its own user units, round the boxes of its parts.
    [[nodiscard]] geometry::Box box_of_children(const pugi::xml_node& node, Element element, const SizeOverride* size,
                                                const Context& context);
    void visit_measured(const pugi::xml_node& node, Element element, const Context& parent);
    void measure_outline(const geometry::Affine& map);
    /// Neither within an instance nor only measuring: where parts begin and end.
    [[nodiscard]] bool is_on_the_way() const { return instances_ == 0 && measuring_ == 0; }
    /// Whether the container we are in holds the last element of the way somewhere below it.
    [[nodiscard]] bool leads_through(const pugi::xml_node& node, const std::vector<pugi::xml_node>& way) const;
    [[nodiscard]] bool is_begun_before(const pugi::xml_node& node) const;
    void leave_group(const pugi::xml_node& node, std::int32_t index, std::size_t shapes_before);
    void note_effort();
    [[nodiscard]] bool may_go_on(const pugi::xml_node& node);
    void ask_to_go_on(const pugi::xml_node& node);
    [[nodiscard]] bool is_svg(const pugi::xml_node& node, bool plain_names_are_svg) const;
    [[nodiscard]] bool plain_names_inside(const pugi::xml_node& node) const;
    [[nodiscard]] bool passes_conditions(const pugi::xml_node& node) const;
    std::int32_t add_group(const pugi::xml_node& node, Element element, const Context& parent, Counters& counters);
    void remark_unapplied(const pugi::xml_node& node, const Properties& properties);
    void remark_unseen(const pugi::xml_node& node, Element element, const Inherited& own);
    void remark(const pugi::xml_node& node, Severity severity, std::string_view code, std::string message);
    [[nodiscard]] Remark remark_at(const pugi::xml_node& node);

    const ParsedDocument& document_;
    const ReadOptions& options_;
    Report& report_;
    const WalkPart& part_;
    Drawing drawing_;
    StyleBudget style_budget_;
    Attributes attributes_; ///< of the element being looked at; overwritten by the next one
    InlineStyles inline_styles_;
    CssValues css_values_{document_.sheet(), style_budget_};
    Outline outline_;
    std::vector<pugi::xml_node> path_; ///< containers from the root to here, instances included
    std::vector<OpenContainer> open_;  ///< along the way to the end of the part
    std::size_t begun_before_ = 0;     ///< groups kept that an earlier part began
    std::size_t max_shapes_;
    WalkEffort effort_;
    int instances_ = 0; ///< of `use`, within each other
    int measuring_ = 0;
    geometry::Box measured_;    ///< while measuring: round the parts of the container we are in, in its units
    bool unmeasured_ = false;   ///< what was measured holds something whose size is not known here
    double gone_through_ = 0.0; ///< share of the text; instances lead back, the share does not
    bool stopped_ = false;
    bool sheet_given_up_ = false;
};

} // namespace padchart::svg
