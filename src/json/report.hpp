#pragma once
// JSON for machines, as `--json` prints it: keys in the order they are given, shortest numbers that read back the same,
// two spaces a level. Nothing of the JSON library shows here.
//
//     JsonWriter out;
//     out.begin_object();
//     out.member("part", "U4").member("gap_mm", 0.25);
//     out.key("at_mm").begin_array(JsonLayout::OneLine).value(1.5).value(2).end_array();
//     out.end_object();
//     std::string text = std::move(out).str();

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace padchart::json {

enum class JsonLayout {
    Lines,  ///< one member a line
    OneLine ///< everything inside on the same line, whatever it holds
};

class JsonWriter {
public:
    JsonWriter& begin_object(JsonLayout layout = JsonLayout::Lines) { return open('{', layout); }
    JsonWriter& end_object() { return close('}'); }
    JsonWriter& begin_array(JsonLayout layout = JsonLayout::Lines) { return open('[', layout); }
    JsonWriter& end_array() { return close(']'); }

    /// Requires: an object is open and the last key has got its value.
    JsonWriter& key(std::string_view name);

    // Requires: in an object, a key comes first.
    JsonWriter& value(std::string_view text); ///< bytes that are not UTF-8 become U+FFFD
    JsonWriter& value(const char* text) { return value(std::string_view(text)); }
    JsonWriter& value(const std::string& text) { return value(std::string_view(text)); }
    JsonWriter& value(double number); ///< null where it is not finite: JSON has no word for it
    JsonWriter& value(std::same_as<bool> auto truth) { return raw(truth ? "true" : "false"); }
    template <std::integral T>
    requires(!std::same_as<T, bool>) JsonWriter& value(T number) {
        if constexpr (std::is_signed_v<T>)
            return integer(static_cast<std::int64_t>(number));
        else
            return natural(static_cast<std::uint64_t>(number));
    }
    JsonWriter& null() { return raw("null"); }
    /// null where there is none.
    template <class T>
    JsonWriter& value(const std::optional<T>& maybe) {
        return maybe ? value(*maybe) : null();
    }

    /// key and value in one.
    template <class T>
    JsonWriter& member(std::string_view name, const T& content) {
        return key(name).value(content);
    }
    /// A list of numbers on one line: a point, a curve.
    JsonWriter& numbers(std::span<const double> list);

    /// JSON text from elsewhere, put in as it is.
    /// Requires: one well-formed JSON value.
    JsonWriter& raw(std::string_view text);

    /// The text, ending with a newline.
    /// Requires: everything that was begun has ended.
    [[nodiscard]] std::string str() const&;
    [[nodiscard]] std::string str() &&;

private:
    struct Level {
        char bracket;
        bool one_line;
        bool empty;
    };

    JsonWriter& open(char bracket, JsonLayout layout);
    JsonWriter& close(char bracket);
    JsonWriter& integer(std::int64_t number);
    JsonWriter& natural(std::uint64_t number);
    void before_value();
    void separate();
    void break_line();

    std::string text_;
    std::vector<Level> levels_;
    bool after_key_ = false;
};

} // namespace padchart::json
