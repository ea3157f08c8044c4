#pragma once
// The rules of a drawing's <style> elements: type, class, id, attribute and universal selectors, the simple structural
// pseudo-classes, descendant, child and sibling combinators, lists, specificity and !important (Selectors 4, CSS 2).
// Rules that are not understood are left out with a finding, never half applied.

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "svg/properties.hpp"

namespace pugi {
class xml_node;
}

namespace padchart::svg {

/// Text without its CSS comments.
[[nodiscard]] std::string without_comments(std::string_view text);

struct ElementKey {
    std::string_view type; ///< local name
    std::string_view id;
    std::string_view classes;
};

/// How often rules may still be held against elements, in some seconds' worth of work: below 0 the rules took more
/// than any drawing needs that was meant, and from then on they say nothing.
struct StyleBudget {
    static constexpr std::int64_t kMostLooks = 40'000'000;
    std::int64_t looks = kMostLooks;

    [[nodiscard]] bool is_exhausted() const { return looks < 0; }
};

/// Asked by many readers at once, each with a budget of its own.
class StyleSheet {
public:
    StyleSheet();
    ~StyleSheet();
    StyleSheet(const StyleSheet&) = delete;
    StyleSheet& operator=(const StyleSheet&) = delete;

    /// Adds the rules of one <style> element after those already there. `remark` takes what is not understood.
    void add(std::string_view text, const std::function<void(const std::string&)>& remark);

    [[nodiscard]] bool is_empty() const;
    /// Sets in `properties` what the rules say of the element. Ancestors and siblings are looked at up to `scope` (the
    /// root of an instance of `use`, beyond which no rule sees), an empty node: up to the document.
    void apply(const pugi::xml_node& element, const ElementKey& key, const pugi::xml_node& scope,
               Properties& properties, StyleBudget& budget) const;

    /// Calls `take` for every rule that sets the custom property on the element, in order, with the rule's weight.
    void custom(const pugi::xml_node& element, const pugi::xml_node& scope, std::string_view name, StyleBudget& budget,
                const std::function<void(std::string_view value, Weight weight)>& take) const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace padchart::svg
