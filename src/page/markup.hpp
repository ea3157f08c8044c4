#pragma once
// Words of a chart put into a page so that they stay words: a part called "<script>" is only a name.

#include <string>
#include <string_view>

namespace padchart::page {

/// For text and for attributes between double quotes. Control characters are left out, bytes that are not UTF-8 become
/// U+FFFD.
[[nodiscard]] std::string escaped(std::string_view text);

/// <tag>escaped text</tag>; nothing for an empty text. `attributes` is markup: " class=\"x\"".
[[nodiscard]] std::string element(std::string_view tag, std::string_view text, std::string_view attributes = {});

/// A name apart from the words round it, whichever way its letters run.
[[nodiscard]] std::string name_markup(std::string_view name);

/// "12.5": three decimals at most, no tail, no "-0".
[[nodiscard]] std::string short_number(double value);

} // namespace padchart::page
