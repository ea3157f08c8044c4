#pragma once
// Pixels as a JPEG file, for pages that carry their pictures with them. The same pixels give the same bytes.

#include <string>

#include "base/result.hpp"
#include "scene/page.hpp"

namespace padchart::paint {

/// `quality`: 1 to 100 as the library counts. Errors: nothing to write, what the library says.
[[nodiscard]] Result<std::string> jpeg_of(const scene::Picture& picture, int quality);

} // namespace padchart::paint
