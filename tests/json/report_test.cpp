#include "json/report.hpp"

#include <doctest/doctest.h>

#include <array>
#include <limits>

#include "json/text_output.hpp"

using namespace padchart::json;

namespace {

std::string number(double value) {
    std::string out;
    append_number(out, value);
    return out;
}

std::string quoted(std::string_view text) {
    std::string out;
    append_quoted(out, text);
    return out;
}

} // namespace

TEST_CASE("a report has one member a line and two spaces a level") {
    JsonWriter out;
    out.begin_object();
    out.member("part", "U4").member("gap_mm", 0.25).member("fits", true).member("turns", 3);
    out.key("at_mm").begin_array(JsonLayout::OneLine).value(1.5).value(-2).end_array();
    out.key("curve").numbers(std::array{1.0, 2.5});
    out.key("none").begin_array().end_array();
    out.key("rows").begin_array();
    out.begin_object(JsonLayout::OneLine)
        .member("a", 1)
        .key("b")
        .begin_object()
        .member("c", "d")
        .end_object()
        .end_object();
    out.begin_object().end_object();
    out.end_array();
    out.member("limit_c", std::optional<double>()).member("warn_c", std::optional<double>(230));
    out.key("later").null();
    out.end_object();
    CHECK(std::move(out).str() == R"({
  "part": "U4",
  "gap_mm": 0.25,
  "fits": true,
  "turns": 3,
  "at_mm": [1.5, -2],
  "curve": [1, 2.5],
  "none": [],
  "rows": [
    {"a": 1, "b": {"c": "d"}},
    {}
  ],
  "limit_c": null,
  "warn_c": 230,
  "later": null
}
)");
}

TEST_CASE("a report may be a list or a single value") {
    JsonWriter list;
    list.begin_array().value("a").value(std::string("b")).raw("{\"c\": 1}").end_array();
    CHECK(list.str() == "[\n  \"a\",\n  \"b\",\n  {\"c\": 1}\n]\n");
    JsonWriter single;
    single.value(std::numeric_limits<std::uint64_t>::max());
    CHECK(single.str() == "18446744073709551615\n");
}

TEST_CASE("a number that is not finite is null in a report") {
    JsonWriter out;
    out.numbers(std::array{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::quiet_NaN()});
    CHECK(out.str() == "[null, null]\n");
}

TEST_CASE("numbers are the shortest that read back the same") {
    CHECK(number(0.1) == "0.1");
    CHECK(number(0.1 + 0.2) == "0.30000000000000004");
    CHECK(number(35.0) == "35");
    CHECK(number(-0.0) == "0");
    CHECK(number(100000.0) == "100000");
    CHECK(number(0.00001) == "0.00001");
    CHECK(number(1e-9) == "1e-09");
    CHECK(number(1e300) == "1e+300");
    CHECK(number(-123456789012345.0) == "-123456789012345");
    CHECK(number(std::numeric_limits<double>::denorm_min()) == "5e-324");
    CHECK(number(std::numeric_limits<double>::max()) == "1.7976931348623157e+308");
}

TEST_CASE("texts escape what JSON demands and what acts on a terminal and nothing else") {
    // RFC 8259 section 7: quotation mark, reverse solidus and U+0000 to U+001F
    CHECK(quoted("a\"b\\c/d") == R"("a\"b\\c/d")");
    CHECK(quoted(std::string_view("\0\x1f\n\t\r\b\f\x7f", 8)) == "\"\\u0000\\u001f\\n\\t\\r\\b\\f\\u007f\"");
    // Not demanded: DEL and C1 (ISO/IEC 6429), and the explicit directions of Unicode Standard Annex 9
    CHECK(quoted("\u009b \u009f\u00a0 \u2029\u202a\u202e\u202f \u2065\u2066\u2069\u206a") ==
          "\"\\u009b \\u009f\u00a0 \u2029\\u202a\\u202e\u202f \u2065\\u2066\\u2069\u206a\"");
    CHECK(quoted("20 \u00b0C \u03a9 \U0001F600 \u2028") == "\"20 \u00b0C \u03a9 \U0001F600 \u2028\"");
}

TEST_CASE("bytes that are not UTF-8 become replacement characters") {
    // Unicode Standard 3.9, table 3-7: well-formed UTF-8 byte sequences, each bound from both sides
    for (const char* good : {"\xC2\xA0", "\xDF\xBF", "\xE0\xA0\x80", "\xEC\xBF\xBF", "\xED\x9F\xBF", "\xEE\x80\x80",
                             "\xEF\xBF\xBF", "\xF0\x90\x80\x80", "\xF3\xBF\xBF\xBF", "\xF4\x8F\xBF\xBF"})
        CHECK(quoted(good) == "\"" + std::string(good) + "\"");
    for (const char* bad : {"\x80", "\xBF", "\xC0\x80", "\xC1\xBF", "\xC2", "\xC2z", "\xE0\x9F\xBF", "\xED\xA0\x80",
                            "\xE2\x82", "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF"})
        CHECK(quoted(bad).find("\xEF\xBF\xBD") == 1);
    CHECK(quoted("a\xE9z") == "\"a\xEF\xBF\xBDz\"");
}
