#include "json/report.hpp"

#include <cassert>
#include <cmath>
#include <utility>

#include "json/text_output.hpp"

namespace padchart::json {

JsonWriter& JsonWriter::key(std::string_view name) {
    assert(!levels_.empty() && levels_.back().bracket == '{' && !after_key_);
    separate();
    append_quoted(text_, name);
    text_ += ": ";
    after_key_ = true;
    return *this;
}

JsonWriter& JsonWriter::value(std::string_view text) {
    before_value();
    append_quoted(text_, text);
    return *this;
}

JsonWriter& JsonWriter::value(double number) {
    if (!std::isfinite(number)) return null();
    before_value();
    append_number(text_, number);
    return *this;
}

JsonWriter& JsonWriter::integer(std::int64_t number) {
    return raw(std::to_string(number));
}

JsonWriter& JsonWriter::natural(std::uint64_t number) {
    return raw(std::to_string(number));
}

JsonWriter& JsonWriter::raw(std::string_view text) {
    before_value();
    text_ += text;
    return *this;
}

JsonWriter& JsonWriter::numbers(std::span<const double> list) {
    begin_array(JsonLayout::OneLine);
    for (const double number : list)
        value(number);
    return end_array();
}

JsonWriter& JsonWriter::open(char bracket, JsonLayout layout) {
    before_value();
    const bool inside_a_line = !levels_.empty() && levels_.back().one_line;
    text_ += bracket;
    levels_.push_back({bracket, inside_a_line || layout == JsonLayout::OneLine, true});
    return *this;
}

JsonWriter& JsonWriter::close(char bracket) {
    assert(!levels_.empty() && !after_key_ && (levels_.back().bracket == '{') == (bracket == '}'));
    const Level level = levels_.back();
    levels_.pop_back();
    if (!level.one_line && !level.empty) break_line();
    text_ += bracket;
    return *this;
}

void JsonWriter::before_value() {
    if (after_key_) {
        after_key_ = false;
        return;
    }
    if (levels_.empty()) {
        assert(text_.empty()); // one value a text
        return;
    }
    assert(levels_.back().bracket == '['); // in an object a key comes first
    separate();
}

void JsonWriter::separate() {
    Level& level = levels_.back();
    if (!level.empty) text_ += level.one_line ? ", " : ",";
    if (!level.one_line) break_line();
    level.empty = false;
}

void JsonWriter::break_line() {
    text_ += '\n';
    text_.append(2 * levels_.size(), ' ');
}

std::string JsonWriter::str() const& {
    assert(levels_.empty() && !text_.empty());
    return text_ + '\n';
}

std::string JsonWriter::str() && {
    assert(levels_.empty() && !text_.empty());
    text_ += '\n';
    return std::move(text_);
}

} // namespace padchart::json
