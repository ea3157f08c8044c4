#pragma once
// A list of values that copies share until one of them changes: an edit of one part copies that part and a list of
// pointers, nothing else. Nothing mutable is ever shared, so a snapshot may go to another thread as it is.

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <memory>
#include <utility>
#include <vector>

namespace padchart::document {

template <class T>
class Items {
public:
    using Pointer = std::shared_ptr<const T>;

    class Iterator {
    public:
        using iterator_category = std::forward_iterator_tag;
        using value_type = T;
        using difference_type = std::ptrdiff_t;
        using pointer = const T*;
        using reference = const T&;

        Iterator() = default;
        explicit Iterator(typename std::vector<Pointer>::const_iterator at) : at_(at) {}
        reference operator*() const { return **at_; }
        pointer operator->() const { return at_->get(); }
        Iterator& operator++() {
            ++at_;
            return *this;
        }
        Iterator operator++(int) {
            Iterator old = *this;
            ++at_;
            return old;
        }
        bool operator==(const Iterator&) const = default;

    private:
        typename std::vector<Pointer>::const_iterator at_;
    };

    [[nodiscard]] std::size_t size() const { return items_.size(); }
    [[nodiscard]] bool empty() const { return items_.empty(); }
    [[nodiscard]] const T& operator[](std::size_t i) const { return *items_[i]; }
    [[nodiscard]] const Pointer& pointer(std::size_t i) const { return items_[i]; }
    [[nodiscard]] Iterator begin() const { return Iterator(items_.begin()); }
    [[nodiscard]] Iterator end() const { return Iterator(items_.end()); }

    void reserve(std::size_t n) { items_.reserve(n); }
    void add(T value) { items_.push_back(std::make_shared<const T>(std::move(value))); }
    void insert(std::size_t i, T value) {
        items_.insert(items_.begin() + static_cast<std::ptrdiff_t>(i), std::make_shared<const T>(std::move(value)));
    }
    void replace(std::size_t i, T value) { items_[i] = std::make_shared<const T>(std::move(value)); }
    void erase(std::size_t i) { items_.erase(items_.begin() + static_cast<std::ptrdiff_t>(i)); }

    /// Equal values, wherever they lie; shared ones are not even looked at.
    friend bool operator==(const Items& a, const Items& b) {
        return std::equal(a.items_.begin(), a.items_.end(), b.items_.begin(), b.items_.end(),
                          [](const Pointer& p, const Pointer& q) { return p == q || *p == *q; });
    }

private:
    std::vector<Pointer> items_;
};

} // namespace padchart::document
