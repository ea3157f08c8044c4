#include "base/large_pages.hpp"

#include <cstdint>

#ifdef __linux__
#include <sys/mman.h>
#endif

namespace padchart {

void prefer_large_pages([[maybe_unused]] void* begin, [[maybe_unused]] std::size_t bytes) {
#ifdef __linux__
    constexpr std::uintptr_t kLarge = std::uintptr_t{2} << 20;
    const std::uintptr_t from = (reinterpret_cast<std::uintptr_t>(begin) + kLarge - 1) / kLarge * kLarge;
    const std::uintptr_t to = (reinterpret_cast<std::uintptr_t>(begin) + bytes) / kLarge * kLarge;
    if (from < to) madvise(reinterpret_cast<void*>(from), to - from, MADV_HUGEPAGE); // refused: ordinary pages
#endif
}

} // namespace padchart
