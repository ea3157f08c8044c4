#include "support/places.hpp"

namespace padchart::tests {

std::filesystem::path source_folder() {
    return PADCHART_SOURCE_DIR;
}

} // namespace padchart::tests
