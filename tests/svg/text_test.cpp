// Encodings (XML 1.0 appendix F), entities (section 4.4) and places in a text.
#include "read_support.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>

#include "support/places.hpp"
#include "svg/entities.hpp"
#include "svg/text_encoding.hpp"
#include "svg/text_position.hpp"

namespace padchart::svg {
namespace {

using namespace test;

std::string in_utf16(const std::string& ascii, bool big_endian) {
    std::string out;
    for (const char c : ascii) {
        if (big_endian)
            out += {'\0', c};
        else
            out += {c, '\0'};
    }
    return out;
}

/// Every space in the value of an attribute as a line break.
std::string with_broken_values(std::string text) {
    char quote = '\0';
    bool in_tag = false;
    for (std::size_t i = 0; i + 1 < text.size(); ++i) {
        char& c = text[i];
        if (!in_tag) {
            in_tag = c == '<' && std::isalpha(static_cast<unsigned char>(text[i + 1])) != 0;
        } else if (quote != '\0') {
            if (c == ' ') c = '\n';
            if (c == quote) quote = '\0';
        } else if (c == '"' || c == '\'') {
            quote = c;
        } else if (c == '>') {
            in_tag = false;
        }
    }
    return text;
}

TEST_CASE("line breaks in the values of attributes are blanks, as XML has it") {
    std::size_t read_twice = 0;
    for (const auto& file : std::filesystem::directory_iterator(tests::source_folder() / "tests/svg/browser/cases")) {
        std::ifstream stream(file.path(), std::ios::binary);
        const std::string text{std::istreambuf_iterator<char>(stream), {}};
        if (file.path().extension() != ".svg" || text.find('\0') != std::string::npos) continue;
        const auto plain = read(text), broken = read(with_broken_values(text));
        REQUIRE(plain.has_value() == broken.has_value());
        if (!plain) continue;
        INFO(file.path().filename().string());
        ++read_twice;
        CHECK(plain->points == broken->points);
        CHECK(plain->mm_per_unit == broken->mm_per_unit);
        REQUIRE(plain->shapes.size() == broken->shapes.size());
        for (std::size_t i = 0; i < plain->shapes.size(); ++i) {
            CHECK(plain->shapes[i].id == broken->shapes[i].id);
            CHECK(plain->shapes[i].label == broken->shapes[i].label);
            CHECK(plain->shapes[i].classes == broken->shapes[i].classes);
            CHECK(plain->shapes[i].visible == broken->shapes[i].visible);
        }
        REQUIRE(plain->groups.size() == broken->groups.size());
        for (std::size_t i = 0; i < plain->groups.size(); ++i)
            CHECK(plain->groups[i].label == broken->groups[i].label);
    }
    CHECK(read_twice > 60);
}

TEST_CASE("byte order marks and UTF-16 of both kinds are read") {
    const std::string text = page("<rect id=\"a\" width=\"5\" height=\"5\"/>");
    CHECK(read_text("\xEF\xBB\xBF" + text).shapes.size() == 1);
    CHECK(read_text("\xFF\xFE" + in_utf16(text, false)).shapes.size() == 1);
    CHECK(read_text("\xFE\xFF" + in_utf16(text, true)).shapes.size() == 1);
    CHECK(read_text(in_utf16(text, true)).shapes.size() == 1);
}

TEST_CASE("Latin-1 names become UTF-8") {
    const std::string head = "<?xml version='1.0' encoding='ISO-8859-1'?>";
    const Drawing drawing = read_text(head + page("<rect id=\"p\xE4"
                                                  "d\x80\" width=\"5\" height=\"5\"/>"));
    CHECK(drawing.shapes[0].id == "p\xC3\xA4"
                                  "d\xE2\x82\xAC");
}

TEST_CASE("bytes that are no UTF-8 are replaced and reported") {
    const Drawing drawing = read_text(page("<rect id=\"a\xFF\xC0\x80\" width=\"5\" height=\"5\"/>"));
    CHECK(drawing.shapes[0].id == "a\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
    CHECK(has_code(drawing.diagnostics, "encoding"));
    CHECK(has_code(
        read_text("<?xml version='1.0' encoding='x-klingon'?>" + page("<path id=\"\xE4\" d=\"M0 0h5\"/>")).diagnostics,
        "encoding"));
}

TEST_CASE("surrogate pairs of UTF-16 make one character") {
    const auto decoded = decode(std::string("\xFF\xFE\x3D\xD8\x00\xDE\x41\x00", 8));
    REQUIRE(decoded);
    CHECK(decoded->storage == "\xF0\x9F\x98\x80"
                              "A");
}

TEST_CASE("what is no drawing is refused with a reason") {
    CHECK(read("").error().message == "the file is empty");
    CHECK(read("\xFF\xD8\xFF\xE0 and so on").error().message ==
          "this is a JPEG picture, not an SVG drawing; right would be the traced drawing, saved as plain SVG");
    CHECK(read("<svg xmlns=\"http://www.w3.org/2000/svg\"><g><rect wid").error().message.ends_with("cut off?"));
    CHECK_FALSE(read("<svg xmlns=\"http://www.w3.org/2000/svg\"><g></svg>").error().message.ends_with("cut off?"));
    CHECK(read("%PDF-1.4").error().message.starts_with("this is a PDF, not an SVG drawing"));
    CHECK(read("\x1F\x8B\x08").error().message == "the file is compressed: save it as plain SVG");
    CHECK(read("<html/>").error().message == "the outermost element is <html>, not <svg>");
    CHECK(read("<svg><g></svg>").error().where == "1:11");
    CHECK(read("\xEF\xBB\xBF{\n  \"format\": \"padchart\", \"version\": 1}").error().message ==
          "this is a Padchart chart, not a traced drawing: open it");
    CHECK(read("{\"format\": \"other\"}").error().message.starts_with("this is a JSON file, not an SVG drawing"));
    CHECK(read("PK\x03\x04").error().message.starts_with("this is a packed folder"));
    CHECK_FALSE(read("just words").has_value());
    CHECK_FALSE(read(page(""), {.max_bytes = 10}).has_value());
}

TEST_CASE("entities of the document are expanded in values and text") {
    const std::string text = "<!DOCTYPE svg [<!ENTITY w \"50\"><!ENTITY two '&w; &w;'><!ENTITY s '<rect id=\"e\" "
                             "width=\"&w;\" height=\"5\"/>'>]>\n"
                             "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40mm\" height=\"30mm\"><path d=\"M0 "
                             "0L&two;\"/>\n&s;<circle id=\"c\" r=\"&w;\"/></svg>";
    const Drawing drawing = read_text(text);
    REQUIRE(drawing.shapes.size() == 3);
    CHECK(drawing.shapes[0].bbox.max.y == doctest::Approx(50 * 25.4 / 96));
    CHECK(drawing.shapes[1].id == "e");
    CHECK(where_of(drawing.shapes[1]) == "3:1");
    CHECK(where_of(drawing.shapes[2]) == "3:4");
}

TEST_CASE("a quote in an entity does not end the value it stands in") {
    const auto expanded = expand_entities("<!DOCTYPE s [<!ENTITY q 'a\"b'>]><s x=\"&q;\">&q;</s>");
    REQUIRE(expanded);
    CHECK(expanded->text.substr(expanded->text.find("<s")) == "<s x=\"a&quot;b\">a\"b</s>");
}

TEST_CASE("comments and CDATA hold no entities") {
    const auto expanded =
        expand_entities("<!DOCTYPE s [<!ENTITY q 'X'>]><s><!-- &q; --><![CDATA[&q;]]>&q;&amp;&other;</s>");
    REQUIRE(expanded);
    CHECK(expanded->text.substr(expanded->text.find("<s")) == "<s><!-- &q; --><![CDATA[&q;]]>X&amp;&other;</s>");
}

TEST_CASE("entities that hold themselves or grow without bound are refused") {
    CHECK_FALSE(expand_entities("<!DOCTYPE s [<!ENTITY a '&b;'><!ENTITY b '&a;'>]><s>&a;</s>").has_value());
    std::string bomb = "<!DOCTYPE s [<!ENTITY a0 'aaaaaaaaaaaaaaaa'>";
    for (int i = 1; i < 30; ++i) {
        const std::string last = "&a" + std::to_string(i - 1) + ";";
        bomb += "<!ENTITY a" + std::to_string(i) + " '" + last + last + last + last + "'>";
    }
    CHECK_FALSE(expand_entities(bomb + "]><s>&a29;</s>").has_value());
    std::string empty_bomb = "<!DOCTYPE s [<!ENTITY a0 ''>";
    for (int i = 1; i < 30; ++i) {
        const std::string last = "&a" + std::to_string(i - 1) + ";";
        empty_bomb += "<!ENTITY a" + std::to_string(i) + " '" + last + last + last + last + "'>";
    }
    CHECK_FALSE(expand_entities(empty_bomb + "]><s>&a29;</s>").has_value());
}

TEST_CASE("external entities are never read and reported") {
    const auto expanded =
        expand_entities("<!DOCTYPE s [<!ENTITY f SYSTEM 'file:///etc/hostname'><!ENTITY % p 'x'>]><s>&f;</s>");
    REQUIRE(expanded);
    CHECK(has_code(expanded->diagnostics, "entity-not-read"));
    CHECK(expanded->diagnostics.size() == 2);
}

TEST_CASE("line and column are right anywhere in a long text") {
    std::mt19937 random(22);
    std::string text;
    for (int i = 0; i < 3000; ++i) {
        const auto draw = random() % 100;
        text += draw < 4 ? "\n" : draw < 6 ? "\xC3\xA4" : draw == 6 ? std::string(300, 'x') : "a";
    }
    const TextPositions positions(text);
    std::uint32_t line = 1, column = 1;
    for (std::size_t i = 0; i <= text.size(); ++i) {
        const bool inside = i < text.size() && (static_cast<unsigned char>(text[i]) & 0xC0U) == 0x80U;
        if (!inside) {
            const TextPosition at = positions.at(i);
            REQUIRE(at.line == line);
            REQUIRE(at.column == column);
            ++column;
        }
        if (i < text.size() && text[i] == '\n') {
            ++line;
            column = 1;
        }
    }
}

TEST_CASE("bytes that are no UTF-8 are found wherever they stand") {
    for (std::size_t at = 4; at < 200; ++at) {
        std::string text(200, ' ');
        text.replace(0, 0, "<a/>");
        CHECK(decode(text)->remarks.empty());
        text[at] = '\xFF';
        CHECK(decode(text)->remarks.size() == 1);
        text[at] = '\0';
        CHECK(decode(text)->remarks.size() == 1);
    }
}

TEST_CASE("places count lines and characters") {
    const TextPositions positions("ab\nc\xC3\xA4x\n\ny");
    CHECK(positions.at(0).line == 1);
    CHECK(positions.at(4).column == 2);
    CHECK(positions.at(6).column == 3);
    CHECK(positions.at(8).line == 3);
    CHECK(positions.at(9).line == 4);
    CHECK(positions.at(1000).line == 4);
}

TEST_CASE("prefixes are resolved and foreign elements passed over") {
    const Drawing drawing = read_text(
        "<s:svg xmlns:s=\"http://www.w3.org/2000/svg\" xmlns:o=\"urn:o\" width=\"4mm\" height=\"3mm\"><s:rect id=\"a\" "
        "width=\"5\" height=\"5\"/><o:rect width=\"5\" height=\"5\"/><rect width=\"5\" height=\"5\"/></s:svg>");
    REQUIRE(drawing.shapes.size() == 1);
    CHECK(drawing.shapes[0].id == "a");
    CHECK(has_code(read_text("<svg width=\"4mm\" height=\"3mm\"/>").diagnostics, "no-namespace"));
}

} // namespace
} // namespace padchart::svg
