#pragma once
// Goes through a parsed drawing in document order and puts every shape a browser would draw into a Drawing.

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include <pugixml.hpp>

#include "svg/css_values.hpp"
#include "svg/drawing.hpp"
#include "svg/element_style.hpp"
#include "svg/elements.hpp"
#include "svg/outline.hpp"
#include "svg/report.hpp"

namespace padchart::svg {

class Walker {
public:
    Walker(const pugi::xml_document& document, const ReadOptions& options, Report& report);

    /// Requires: called once; `root` is the outermost svg element.
    Drawing walk(const pugi::xml_node& root);

    /// Makes room for what a text of so many bytes usually holds. A page of room that is not used costs nothing; a list
    /// that grows is copied again and again.
    void expect(std::size_t bytes);
    /// `options.go_on` said no: what has been read is not all.
    [[nodiscard]] bool is_called_off() const { return called_off_; }

private:
    /// Counts what has no id within one container, for keys that last.
    struct Counters {
        std::array<std::uint32_t, 16> of{};
    };

    struct Context {
        geometry::Affine map;
        Inherited inherited;
        pugi::xml_node scope; ///< root of the instance of `use` we are in
        std::int32_t group = -1;
        int depth = 0;
        bool plain_names_are_svg = true;
        bool inside_link = false; ///< the parent is an <a>
    };

    /// What `use` says of the size of the svg or symbol it draws.
    struct SizeOverride {
        std::string_view width;
        std::string_view height;
        bool has_width = false;
        bool has_height = false;
    };

    void collect_styles(const pugi::xml_node& root);
    void add_style(const pugi::xml_node& style);
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
    bool enter_viewport(const pugi::xml_node& node, const SizeOverride* size, Context& context);
    /// Style sheets, the style attribute, and what only the ancestors can tell, on top of `attributes_`.
    void style(const pugi::xml_node& node, std::string_view type, const pugi::xml_node& scope);
    /// Whether the map is such that nothing below it is displayed; then it is reported.
    [[nodiscard]] bool remark_collapsed(const pugi::xml_node& node, Element element, const geometry::Affine& own);
    bool emit(const pugi::xml_node& node, Element element, const Context& parent, const Inherited& own,
              const geometry::Affine& map, Counters& counters);

    /// What goes into a container: the map of what is in it, viewport and place of a `use` worked in. False: draws
    /// nothing.
    bool enter(const pugi::xml_node& node, Element element, const SizeOverride* size, Context& context);
    void visit_inside(const pugi::xml_node& node, Element element, const Context& context);

    /// The box a browser places a container by: in its own user units, round the boxes of its parts.
    [[nodiscard]] geometry::Box box_of_children(const pugi::xml_node& node, Element element, const SizeOverride* size,
                                                const Context& context);
    void visit_measured(const pugi::xml_node& node, Element element, const Context& parent);
    void measure_outline(const geometry::Affine& map);
    [[nodiscard]] bool may_go_on(const pugi::xml_node& node);
    void ask_to_go_on(const pugi::xml_node& node);
    [[nodiscard]] bool is_svg(const pugi::xml_node& node, bool plain_names_are_svg) const;
    [[nodiscard]] bool plain_names_inside(const pugi::xml_node& node) const;
    [[nodiscard]] bool passes_conditions(const pugi::xml_node& node) const;
    [[nodiscard]] pugi::xml_node find_id(std::string_view id);
    [[nodiscard]] std::string title_of(const pugi::xml_node& node);
    std::int32_t add_group(const pugi::xml_node& node, Element element, const Context& parent, Counters& counters);
    void remark_unapplied(const pugi::xml_node& node, const Properties& properties);
    void remark(const pugi::xml_node& node, Severity severity, std::string_view code, std::string message);
    [[nodiscard]] Remark remark_at(const pugi::xml_node& node);

    const pugi::xml_document& document_;
    const ReadOptions& options_;
    Report& report_;
    Drawing drawing_;
    StyleSheet sheet_;
    Attributes attributes_; ///< of the element being looked at; overwritten by the next one
    InlineStyles inline_styles_;
    CssValues css_values_{sheet_};
    Outline outline_;
    std::vector<pugi::xml_node> path_; ///< containers from the root to here, instances included
    std::unordered_map<std::string_view, pugi::xml_node> ids_;
    bool ids_known_ = false;
    std::size_t max_shapes_ = options_.max_shapes;
    std::size_t visits_ = 0;
    int measuring_ = 0;
    geometry::Box measured_;  ///< while measuring: round the parts of the container we are in, in its units
    bool unmeasured_ = false; ///< what was measured holds something whose size is not known here
    std::size_t bytes_ = 1;
    double gone_through_ = 0.0; ///< share of the text; instances lead back, the share does not
    bool stopped_ = false;
    bool called_off_ = false;
    bool sheet_given_up_ = false;
};

} // namespace padchart::svg
