#pragma once
// A value or the reason why there is none. For bad input and missing files; a programmer's mistake
// is an assert, a remark that does not stop the work is a Diagnostic.
// Member names follow std::expected, so that it can take this place one day.
//
//     Result<Chart> chart = json::read_chart(text);
//     if (!chart) return chart.error();

#include <cassert>
#include <string>
#include <type_traits>
#include <utility>
#include <variant>

namespace padchart {

/// What was found and what would be right, in one or two sentences, and where:
/// "trace.svg:12:40", "/footprints/3/at_mm (line 58)", or empty.
struct Error {
    std::string message;
    std::string where;

    bool operator==(const Error&) const = default;
};

/// "where: message", or the message alone.
[[nodiscard]] inline std::string describe(const Error& error) {
    return error.where.empty() ? error.message : error.where + ": " + error.message;
}

template <class T>
class [[nodiscard]] Result {
public:
    // Implicit on purpose: `return value;` and `return error;` are how a Result is made.
    Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}     // NOLINT(google-explicit-constructor)
    Result(Error error) : state_(std::in_place_index<1>, std::move(error)) {} // NOLINT(google-explicit-constructor)

    [[nodiscard]] bool has_value() const { return state_.index() == 0; }
    explicit operator bool() const { return has_value(); }

    /// Requires: has_value().
    [[nodiscard]] const T& value() const& { return *get(); }
    [[nodiscard]] T& value() & { return *get(); }
    [[nodiscard]] T&& value() && { return std::move(*get()); }
    [[nodiscard]] const T& operator*() const& { return *get(); }
    [[nodiscard]] T& operator*() & { return *get(); }
    [[nodiscard]] T&& operator*() && { return std::move(*get()); }
    [[nodiscard]] const T* operator->() const { return get(); }
    [[nodiscard]] T* operator->() { return get(); }

    /// Requires: !has_value().
    [[nodiscard]] const Error& error() const {
        const Error* error = std::get_if<1>(&state_);
        assert(error != nullptr);
        return *error;
    }

private:
    [[nodiscard]] const T* get() const {
        const T* value = std::get_if<0>(&state_);
        assert(value != nullptr);
        return value;
    }
    [[nodiscard]] T* get() {
        T* value = std::get_if<0>(&state_);
        assert(value != nullptr);
        return value;
    }

    std::variant<T, Error> state_;
};

/// Done, or the reason why not.
template <>
class [[nodiscard]] Result<void> {
public:
    Result() = default;
    Result(Error error) : error_(std::move(error)), failed_(true) {} // NOLINT(google-explicit-constructor)

    [[nodiscard]] bool has_value() const { return !failed_; }
    explicit operator bool() const { return has_value(); }

    /// Requires: !has_value().
    [[nodiscard]] const Error& error() const {
        assert(failed_);
        return error_;
    }

private:
    Error error_;
    bool failed_ = false;
};

} // namespace padchart
