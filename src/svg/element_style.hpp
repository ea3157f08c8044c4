#pragma once
// What style sheets, the style attribute and presentation attributes make of one element.

#include <array>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "base/diagnostic.hpp"
#include "geometry/affine.hpp"
#include "geometry/box.hpp"
#include "svg/attributes.hpp"
#include "svg/lengths.hpp"
#include "svg/style_sheet.hpp"

namespace padchart::svg {

/// Why a fill or stroke that is there shows nothing all the same.
struct PaintUnseen {
    bool clear_colour = false, no_opacity = false, no_width = false;

    [[nodiscard]] bool any() const { return clear_colour || no_opacity || no_width; }
};

/// What a parent hands down.
struct Inherited {
    LengthContext lengths;
    bool visible = true;
    bool has_fill = true;
    bool has_stroke = false;
    PaintUnseen fill_unseen, stroke_unseen;
};

/// Takes findings about one element and hands them on with its place. Two words and a node: made for every element.
class Remark {
public:
    using Take = void (*)(void* taker, const pugi::xml_node& node, Severity severity, std::string_view code,
                          std::string message);

    Remark(Take take, void* taker, pugi::xml_node node) : take_(take), taker_(taker), node_(node) {}
    void operator()(Severity severity, std::string_view code, std::string message) const {
        take_(taker_, node_, severity, code, std::move(message));
    }

private:
    Take take_;
    void* taker_;
    pugi::xml_node node_;
};

/// Reads style attributes. A drawing says the same of thousands of shapes: what was read lately is kept.
class InlineStyles {
public:
    struct Entry {
        std::string_view text;
        std::vector<Declaration> declarations;
        std::vector<RefusedDeclaration> refused;
    };

    /// The declarations point into a text that was given, or into this: valid until the next call.
    /// Requires: the texts given outlive this.
    [[nodiscard]] const Entry& read(std::string_view text);

private:
    std::array<Entry, 64> entries_; ///< by hash; a new text drives out the old one
    Entry commented_;
    std::string without_comments_;
};

/// Puts style sheet and style attribute on top of the presentation attributes. The values may point into `styles`.
/// Answers what of the style attribute is not applied: valid as long as they are.
std::span<const RefusedDeclaration> apply_styles(const pugi::xml_node& element, std::string_view type,
                                                 const StyleSheet& sheet, StyleBudget& budget,
                                                 const pugi::xml_node& scope, Attributes& attributes,
                                                 InlineStyles& styles);

/// "0", "0.0", "0%".
[[nodiscard]] bool is_nought(std::string_view text);
/// "transparent", or a colour whose alpha is nought.
[[nodiscard]] bool is_clear_colour(std::string_view text);

[[nodiscard]] bool is_displayed(const Properties& properties);
/// `display: contents`: of a container only what is in it is left, without its place; of a shape nothing
/// (CSS Display 3, appendix B).
[[nodiscard]] bool is_only_contents(const Properties& properties);
[[nodiscard]] Inherited inherited_by_children(const Properties& properties, const Inherited& parent);

/// The element's own transform, its origin worked in. `own_box` gives the box of the element's geometry in its own user
/// units; asked only where `transform-box` needs it.
[[nodiscard]] geometry::Affine transform_of(const Properties& properties, const LengthContext& lengths,
                                            const std::function<geometry::Box()>& own_box, const Remark& remark);

/// A length of a property, in user units. An attribute that is no length counts as 0, as browsers take it; a negative
/// one where none may be is `fallback`, like one that is not there.
struct LengthRule {
    Axis axis = Axis::Horizontal;
    double fallback = 0.0;
    bool may_be_negative = true;
};
[[nodiscard]] double length_of_property(const Properties& properties, Property property, const LengthRule& rule,
                                        const LengthContext& lengths, const Remark& remark);
/// The same for rx and ry, where nothing means auto.
[[nodiscard]] std::optional<double> radius_of_property(const Properties& properties, Property property, Axis axis,
                                                       const LengthContext& lengths, const Remark& remark);
/// The same for an attribute that is no property.
[[nodiscard]] double length_of_attribute(std::string_view name, std::string_view text, const LengthRule& rule,
                                         const LengthContext& lengths, const Remark& remark);

/// For messages: long texts are cut.
[[nodiscard]] std::string quoted(std::string_view text);
/// The same: `rect "U4"`, or the element alone where it has no id.
[[nodiscard]] std::string named(std::string_view element, std::string_view id);

} // namespace padchart::svg
