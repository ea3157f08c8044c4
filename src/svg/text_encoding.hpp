#pragma once
// Bytes of an XML file to UTF-8, by byte order mark, by the pattern of "<?xml" or "<s" in UTF-16, or by the declared
// encoding (XML 1.0, appendix F). Latin-1 and Windows-1252 are known besides Unicode.

#include <string>
#include <string_view>

#include "base/diagnostic.hpp"
#include "base/result.hpp"

namespace padchart::svg {

struct DecodedText {
    std::string_view text; ///< UTF-8 without a byte order mark, of the caller's bytes
    std::string storage;   ///< holds the text where the bytes had to be changed
    Diagnostics remarks;   ///< an encoding not known, bytes that are no UTF-8
};

/// `text` points into `bytes` where nothing had to be changed; else it is empty and `storage` holds the text.
/// Errors: compressed, empty, UTF-32.
[[nodiscard]] Result<DecodedText> decode(std::string_view bytes);

} // namespace padchart::svg
