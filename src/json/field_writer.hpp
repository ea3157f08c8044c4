#pragma once
// Walks chart_fields.hpp and writes. What equals its default is left out.

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "json/chart_fields.hpp"
#include "json/report.hpp"

namespace padchart::json {

class FieldWriter {
public:
    explicit FieldWriter(JsonWriter& out) : out_(out) {}

    void text(std::string_view key, const std::string& text, std::string_view usual = {}) {
        if (text != usual) out_.member(key, text);
    }
    void filled_text(std::string_view key, const std::string& text) { out_.member(key, text); }
    void id(std::string_view key, const document::Id& id) { out_.member(key, id.text); }
    void link(std::string_view key, const document::Id& id) { text(key, id.text); }
    void links(std::string_view key, const std::vector<document::Id>& ids);

    void number(std::string_view key, double number, const Range&) { out_.member(key, number); }
    void number(std::string_view key, double number, const Range&, double usual) {
        if (number != usual) out_.member(key, number);
    }
    void number(std::string_view key, const std::optional<double>& number, const Range&) {
        if (number) out_.member(key, *number);
    }
    void spelled_out(std::string_view key, double number, const Range&, double) { out_.member(key, number); }
    void repeat(double, double) {}
    void count(std::string_view key, const std::optional<int>& number, const Range&) {
        if (number) out_.member(key, *number);
    }
    void numbers(std::string_view key, const std::vector<double>& list, const Range&, std::size_t = 0) {
        if (!list.empty()) out_.key(key).numbers(list);
    }
    void turn(std::string_view key, Angle angle) { number(key, angle.degrees(), range::kTurn, 0.0); }
    void place(std::string_view key, geometry::Vec2 at) {
        out_.key(key);
        point(at);
    }
    void ring(std::string_view key, const geometry::Ring& ring);
    void polygon(std::string_view key, const geometry::Polygon& polygon);
    void polygon(std::string_view key, const std::optional<geometry::Polygon>& maybe) {
        if (maybe) polygon(key, *maybe);
    }

    void json(std::string_view key, const std::string& text) {
        if (!text.empty()) out_.key(key).raw(text);
    }
    void flag(std::string_view key, bool truth) {
        if (truth) out_.member(key, true);
    }
    template <class Enum>
    void word(std::string_view key, Enum value, std::optional<Enum> usual = std::nullopt) {
        if (value != usual) out_.member(key, document::to_text(value));
    }
    template <class Enum>
    void word(std::string_view key, Enum value, Enum usual) {
        word(key, value, std::optional<Enum>(usual));
    }
    template <class Enum>
    void number_or_word(std::string_view key, const std::variant<double, Enum>& value, const Range&) {
        out_.key(key);
        if (const double* number = std::get_if<double>(&value))
            out_.value(*number);
        else
            out_.value(document::to_text(std::get<Enum>(value)));
    }

    template <class T>
    void object_always(std::string_view key, const T& value) {
        out_.key(key);
        object_body(value);
    }
    template <class T>
    void object(std::string_view key, const T& value) {
        static const T kUsual;
        if (!(value == kUsual)) object_always(key, value);
    }
    template <class T>
    void object(std::string_view key, const std::optional<T>& value) {
        if (value) object_always(key, *value);
    }
    template <class List>
    void list(std::string_view key, const List& list) {
        if (list.empty()) return;
        out_.key(key).begin_array();
        for (const auto& value : list)
            object_body(value);
        out_.end_array();
    }

    void refuse(std::string_view, std::string_view) {}
    void extras(const document::Extras& extras) {
        for (const auto& [key, json] : extras)
            out_.key(key).raw(json);
    }

private:
    void point(geometry::Vec2 at);
    void points(const geometry::Ring& ring);

    template <class T>
    void object_body(const T& value) {
        out_.begin_object(kLayout<T>);
        fields(*this, value);
        out_.end_object();
    }

    JsonWriter& out_;
};

} // namespace padchart::json
