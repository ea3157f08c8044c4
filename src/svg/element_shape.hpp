#pragma once
// The outline of one shape element, from its attributes and properties.

#include "svg/element_style.hpp"
#include "svg/elements.hpp"
#include "svg/outline.hpp"

namespace padchart::svg {

/// Adds to `outline`; adds nothing where a browser draws nothing. What is wrong goes to `remark`.
/// Requires: is_shape(element).
void add_shape(Outline& outline, Element element, const Attributes& attributes, const LengthContext& lengths,
               const Remark& remark);

} // namespace padchart::svg
