#pragma once
// The properties that move, size, hide or describe a shape, and where their winning values come from: presentation
// attributes, style sheets by specificity, the style attribute, and !important over all (CSS 2, section 6.4).

#include <array>
#include <bit>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace padchart::svg {

enum class Property : std::uint8_t {
    Display,
    Visibility,
    Fill,
    Stroke,
    FontSize,
    Transform,
    TransformOrigin,
    TransformBox,
    Translate,
    Rotate,
    Scale,
    X,
    Y,
    Width,
    Height,
    Cx,
    Cy,
    R,
    Rx,
    Ry,
    D,
    ClipPath,
    Mask,
    Filter,
    MarkerStart,
    MarkerMid,
    MarkerEnd,
    Opacity,
    Overflow,
    FillOpacity,
    StrokeOpacity,
    StrokeWidth,
    Count
};

inline constexpr std::size_t kPropertyCount = static_cast<std::size_t>(Property::Count);

[[nodiscard]] std::string_view to_text(Property property);
[[nodiscard]] std::optional<Property> property_named(std::string_view name);

/// Where a value stands in the cascade; the higher weight wins, of equals the later.
using Weight = std::uint64_t;
inline constexpr Weight kAttributeWeight = 0;
inline constexpr Weight kImportant = Weight{1} << 62;
inline constexpr Weight kInline = Weight{1} << 61;
[[nodiscard]] constexpr Weight sheet_weight(std::uint32_t ids, std::uint32_t classes, std::uint32_t types) {
    const auto capped = [](std::uint32_t n) { return Weight{n < 255 ? n : 255}; };
    return Weight{1} << 60 | capped(ids) << 16 | capped(classes) << 8 | capped(types);
}

struct PropertyValue {
    std::string_view text;
    Weight weight = 0;
    bool is_set = false;

    [[nodiscard]] bool from_css() const { return weight != kAttributeWeight; }
    [[nodiscard]] bool from_sheet() const { return from_css() && (weight & kInline) == 0; }
};

class Properties {
public:
    void clear() {
        for (; set_ != 0; set_ &= set_ - 1)
            values_[static_cast<std::size_t>(std::countr_zero(set_))].is_set = false;
    }
    void set(Property property, std::string_view text, Weight weight) {
        PropertyValue& value = values_[static_cast<std::size_t>(property)];
        if (!value.is_set || weight >= value.weight) value = {text, weight, true};
        set_ |= std::uint32_t{1} << static_cast<unsigned>(property);
    }
    /// Whatever its weight was.
    void replace(Property property, std::string_view text, Weight weight) {
        values_[static_cast<std::size_t>(property)] = {text, weight, true};
        set_ |= std::uint32_t{1} << static_cast<unsigned>(property);
    }
    /// Whether `test` says so of any property that is set.
    template <class Test>
    [[nodiscard]] bool any_of(const Test& test) const {
        for (std::uint32_t left = set_; left != 0; left &= left - 1) {
            const auto i = static_cast<std::size_t>(std::countr_zero(left));
            if (test(static_cast<Property>(i), values_[i])) return true;
        }
        return false;
    }
    [[nodiscard]] const PropertyValue& operator[](Property property) const {
        return values_[static_cast<std::size_t>(property)];
    }

private:
    std::array<PropertyValue, kPropertyCount> values_{};
    std::uint32_t set_ =
        0; ///< one bit for each that is set: clearing all for every element would cost more than reading
};
static_assert(kPropertyCount <= 32);

/// Position of "var(" in the value, or npos.
[[nodiscard]] std::size_t find_variable(std::string_view value);
[[nodiscard]] inline bool holds_variable(std::string_view value) {
    return find_variable(value) != std::string_view::npos;
}

/// Could a browser use this value? What it cannot it drops, and the next in the cascade counts. A value with var() or
/// `inherit` is judged when it is settled (svg/css_values.hpp).
/// `in_sheet`: a number without a unit is no length there.
[[nodiscard]] bool is_valid(Property property, std::string_view value, bool in_sheet);

struct Declaration {
    Property property;
    std::string_view value;
    bool important = false;
};

/// A declaration that moves or hides shapes and is not applied: its value is none of the property's, or the property is
/// not understood (`offset-path`, `zoom`).
struct RefusedDeclaration {
    std::string_view name;
    std::string_view value;
};
/// For messages: what is wrong with it.
[[nodiscard]] std::string words_of(const RefusedDeclaration& refused);

/// Calls `take` for every valid declaration of a property above, and `refuse` for those that are not applied.
void read_declarations(std::string_view text, bool in_sheet, const std::function<void(const Declaration&)>& take,
                       const std::function<void(const RefusedDeclaration&)>& refuse);

struct CustomProperty {
    std::string_view name; ///< "--board-edge"; case counts
    std::string_view value;
    bool important = false;
};

/// The custom properties among the declarations.
void read_custom_properties(std::string_view text, const std::function<void(const CustomProperty&)>& take);

} // namespace padchart::svg
