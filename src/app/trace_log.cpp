#include "app/trace_log.hpp"

#include <cstdlib>
#include <fstream>

namespace padchart::app {

void trace(std::string_view what, std::string_view detail) {
    static std::ofstream log = [] {
        const char* path = std::getenv("PADCHART_TRACE");
        return path != nullptr ? std::ofstream(path, std::ios::app) : std::ofstream();
    }();
    if (log.is_open()) log << what << ": " << detail << std::endl;
}

} // namespace padchart::app
