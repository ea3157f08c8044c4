#include <doctest/doctest.h>

#include <sstream>
#include <string>

#include "cli/plain_output.hpp"
#include "cli/run_support.hpp"

using padchart::cli::PlainBuffer;
using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::TemporaryFolder;

namespace {

std::string plain(const std::string& text) {
    std::ostringstream out;
    {
        PlainBuffer buffer(out);
        std::ostream stream(&buffer);
        stream << text << std::flush;
    }
    return out.str();
}

} // namespace

// Which characters are controls: ISO/IEC 6429 (C0, DEL, C1) and its UTF-8 form, RFC 3629.
TEST_CASE("control characters become visible and all other text stays") {
    CHECK(plain("R7\t10k \xC2\xB5 \xE2\x82\xAC\n") == "R7\t10k \xC2\xB5 \xE2\x82\xAC\n");
    CHECK(plain("a,b\r\nc") == "a,b\r\nc");
    CHECK(plain("\x1B[2J") == "\xEF\xBF\xBD[2J");
    CHECK(plain("bell\x07") == "bell\xEF\xBF\xBD");
    CHECK(plain("over\rwritten") == "over\xEF\xBF\xBDwritten");
    CHECK(plain("del\x7F") == "del\xEF\xBF\xBD");
    CHECK(plain("csi \xC2\x9B\x32J") == "csi \xEF\xBF\xBD\x32J");
    CHECK(plain("end\r") == "end\xEF\xBF\xBD");
    CHECK(plain("\xC2\xA0\xC2") == "\xC2\xA0\xC2");
}

// Explicit directional formatting characters: Unicode Standard Annex 9, section 2.
TEST_CASE("characters that turn the direction of writing become visible and their neighbours stay") {
    CHECK(plain("R7\u202E7R") == "R7\uFFFD7R");
    for (const char* turning :
         {"\u202A", "\u202B", "\u202C", "\u202D", "\u202E", "\u2066", "\u2067", "\u2068", "\u2069"})
        CHECK(plain(turning) == "\uFFFD");
    for (const char* other : {"\u2029", "\u202F", "\u2065", "\u206A", "\u20AC", "\u2192", "\u00A0", "\u00FF"})
        CHECK(plain(other) == other);
    CHECK(plain("\xE2\x80") == "\xE2\x80");
    CHECK(plain("\xE2\x80\r\n") == "\xE2\x80\r\n");
    CHECK(plain("\r\xE2\x80\xAE") == "\uFFFD\uFFFD");
}

TEST_CASE("a line break in a name begins no line of its own") {
    const TemporaryFolder folder;
    const std::string chart = folder.write(
        "a.chart.json",
        R"({"format": "padchart", "version": 1, "parts": [{"id": "r7", "name": "R7\nmade up", "role": "x\ny",
            "at_mm": [1, 2]}, {"id": "r8", "name": "R7\nmade up", "at_mm": [1, 2]}]})");
    for (const char* command : {"parts", "check", "fit", "clearance"}) {
        const Answer answer = call({command, chart});
        CHECK(answer.out.find("\nmade up") == std::string::npos);
        CHECK(answer.err.find("\nmade up") == std::string::npos);
    }
}

TEST_CASE("JSON spells what acts on a terminal with letters and loses nothing") {
    const TemporaryFolder folder;
    const std::string chart =
        folder.write("a.chart.json", R"({"format": "padchart", "version": 1, "parts": [{"id": "r7",
            "name": "a\u001bb\u009bc\u202ed\u2069e\u007ff", "at_mm": [1, 2]}]})");
    CHECK(call({"parts", chart, "--json"}).out.find(R"("name": "a\u001bb\u009bc\u202ed\u2069e\u007ff")") !=
          std::string::npos);
}

TEST_CASE("no command lets a name reach the terminal with an escape in it") {
    const TemporaryFolder folder;
    const std::string chart = folder.write(
        "a.chart.json",
        R"({"format": "padchart", "version": 1, "parts": [{"id": "r7", "name": "R7\u001b[31m", "at_mm": [1, 2]},
            {"id": "r8", "name": "R7\u001b[31m", "value": "\u009b2J", "at_mm": [1, 2]}]})");
    for (const char* command : {"parts", "check", "fit", "clearance"})
        for (const bool as_json : {false, true}) {
            const Answer answer = as_json ? call({command, chart, "--json"}) : call({command, chart});
            for (const std::string* text : {&answer.out, &answer.err}) {
                CHECK(text->find('\x1B') == std::string::npos);
                CHECK(text->find("\xC2\x9B") == std::string::npos);
            }
        }
    CHECK(call({"parts", chart, "--csv"}).out.find('\x1B') == std::string::npos);
}
