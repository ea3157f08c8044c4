#pragma once
// Values of CSS that no element can tell by itself: var() with the custom properties of the element and its ancestors
// (CSS Custom Properties Level 1, sections 2 and 3), and `inherit` on properties that are not inherited by themselves
// (CSS 2, section 6.2). What cannot be settled counts as `unset`, as in a browser, with a finding.

#include <span>
#include <string>
#include <unordered_set>

#include <pugixml.hpp>

#include "svg/element_style.hpp"

namespace padchart::svg {

class CssValues {
public:
    CssValues(const StyleSheet& sheet, StyleBudget& budget) : sheet_(sheet), budget_(budget) {}

    /// Puts settled values in place of those that are not; they point into this. `ancestors` from the outside in.
    void settle(const pugi::xml_node& element, std::span<const pugi::xml_node> ancestors, const pugi::xml_node& scope,
                Properties& properties, const Remark& remark) {
        if (needs_settling(properties)) settle_all(element, ancestors, scope, properties, remark, 0);
    }

private:
    struct Place {
        const pugi::xml_node& element;
        std::span<const pugi::xml_node> ancestors;
        const pugi::xml_node& scope;
    };

    [[nodiscard]] static bool needs_settling(const Properties& properties);
    void settle_all(const pugi::xml_node& element, std::span<const pugi::xml_node> ancestors,
                    const pugi::xml_node& scope, Properties& properties, const Remark& remark, int depth);
    void settle_inherit(const Place& place, Property property, Properties& properties, const Remark& remark, int depth);
    /// False where a custom property is not there, goes round in a circle or grows without bound.
    [[nodiscard]] bool substitute(const Place& place, std::string_view text, std::string& out, int depth);
    [[nodiscard]] bool custom_property(const Place& place, std::string_view name, std::string& out) const;

    const StyleSheet& sheet_;
    StyleBudget& budget_;
    std::unordered_set<std::string> texts_; ///< nodes of a set stay where they are
};

} // namespace padchart::svg
