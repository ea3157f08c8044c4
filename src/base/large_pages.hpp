#pragma once
// Memory in large pages, where the system gives them: what is filled once from end to end is then had in a few hundred
// pieces instead of tens of thousands. A hint, without any effect on what is in the memory.

#include <cstddef>
#include <vector>

namespace padchart {

/// Takes effect for what has not been written to yet.
void prefer_large_pages(void* begin, std::size_t bytes);

/// `reserve`, in large pages where it is a great deal.
template <class T>
void reserve_large(std::vector<T>& list, std::size_t count) {
    list.reserve(count);
    prefer_large_pages(list.data() + list.size(), (list.capacity() - list.size()) * sizeof(T));
}

} // namespace padchart
