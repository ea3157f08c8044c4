#include "json/tree.hpp"

#include <doctest/doctest.h>

#include <clocale>

using namespace padchart;
using namespace padchart::json;

namespace {

std::string fault(const std::string& text) {
    const Result<Tree> tree = parse_tree(text);
    return tree ? "no error" : describe(tree.error());
}

std::string one_line(const std::string& text) {
    const Result<Tree> tree = parse_tree(text);
    REQUIRE(tree);
    return one_line_text(*tree, 0);
}

std::string nested(std::size_t depth, char open, char close) {
    const std::string inner = open == '{' ? "{\"a\":" : "[";
    std::string text;
    for (std::size_t i = 0; i < depth; ++i)
        text += inner;
    text += "0";
    return text.append(depth, close);
}

} // namespace

TEST_CASE("a tree keeps the order of keys and the digits of numbers") {
    CHECK(one_line("{\"b\": 1.50, \"a\" :[ 1e5,-0.0,18446744073709551615, 99999999999999999999 ],\n\"\": {}}") ==
          R"({"b": 1.50, "a": [1e5, -0.0, 18446744073709551615, 99999999999999999999], "": {}})");
    CHECK(one_line("[true,false,null,\"\\u00e9\\/\\ud83d\\ude00\"]") == "[true, false, null, \"\u00e9/\U0001F600\"]");
    CHECK(one_line("-9223372036854775808") == "-9223372036854775808");
    CHECK(one_line("[9223372036854775807,9223372036854775808]") == "[9223372036854775807, 9223372036854775808]");
}

TEST_CASE("a pointer leads to its node and back") {
    const Result<Tree> tree = parse_tree(R"({"a/b": [0, {"~": [1, 2]}], "": 3})");
    REQUIRE(tree);
    for (std::size_t node = 0; node < tree->nodes.size(); ++node) {
        const bool is_empty_key = node != 0 && pointer_to(*tree, node) == "/"; // shares the root's spelling
        if (is_empty_key) continue;
        CHECK(node_at(*tree, pointer_to(*tree, node)) == node);
    }
    CHECK(pointer_to(*tree, 6) == "/a~1b/1/~0/1"); // escapes of RFC 6901 section 3
    CHECK(node_at(*tree, "/a~1b/1/gone/1") == 3);
}

TEST_CASE("the line of a value is the line it stands on") {
    const std::string text = "{\n\"a\": [1,\n2\n,\n{\"b\"\n:\n\"x\"}],\n\"c\"\n:\n-4.5\n}";
    const Result<Tree> tree = parse_tree(text);
    REQUIRE(tree);
    CHECK(place_of(*tree, 0, text) == "/ (line 1)");
    CHECK(place_of(*tree, 1, text) == "/a (line 2)");
    CHECK(place_of(*tree, 2, text) == "/a/0 (line 2)");
    CHECK(place_of(*tree, 3, text) == "/a/1 (line 3)");
    CHECK(place_of(*tree, 4, text) == "/a/2 (line 5)");
    CHECK(place_of(*tree, 5, text) == "/a/2/b (line 7)");
    CHECK(place_of(*tree, 6, text) == "/c (line 10)");
}

TEST_CASE("a key twice in an object is an error in small and in large objects") {
    CHECK(fault("{\"a\": 1,\n\"b\": 2,\n\"a\": 3}") ==
          "/a (line 3): the key stands twice in the same object; right would be once");
    CHECK(fault("[{\"a\": {\"a\": [\"a\"]}}, {\"a\": 1}]") == "no error");
    std::string large = "{";
    for (int i = 0; i < 100; ++i)
        large += "\"k" + std::to_string(i) + "\": 0, ";
    CHECK(fault(large + "\"z\": 0}") == "no error");
    CHECK(fault(large + "\"k42\": 0}").find("the key stands twice") != std::string::npos);
}

TEST_CASE("nesting is bounded and never overflows the stack") {
    CHECK(fault(nested(kDeepestNesting, '[', ']')) == "no error");
    CHECK(fault(nested(kDeepestNesting, '{', '}')) == "no error");
    CHECK(fault(nested(kDeepestNesting + 1, '[', ']')).find("nested deeper than 64; a chart needs 6") !=
          std::string::npos);
    CHECK(fault(nested(1'000'000, '{', '}')).find("nested deeper than 64") != std::string::npos);
    CHECK(fault(std::string(1'000'000, '[')).find("nested deeper than 64") != std::string::npos);
}

TEST_CASE("text that is not JSON is refused with line and column") {
    CHECK(fault("{\"a\": tru, }") ==
          "line 1 column 10: not JSON: found a word that is no JSON; right would be true, false, null, or quotes round "
          "a text");
    CHECK(fault("{\n  \"a\": 1,\n}") == "line 3 column 1: not JSON: found '}'; right would be a text in quotes");
    CHECK(fault("{\n  \"a\" 1}") == "line 2 column 7: not JSON: found a number; right would be ':'");
    CHECK(fault("[1 2]") == "line 1 column 4: not JSON: found a number; right would be ']'");
    CHECK(fault("{} x") == "line 1 column 4: not JSON: found a word that is no JSON; right would be true, false, null, "
                           "or quotes round a text; right would be end of input");
    CHECK(fault("// a chart\n{}").find("line 1 column 1: not JSON: ") == 0);
}

TEST_CASE("a column counts characters and not bytes") {
    CHECK(fault("[\"\u00e9\u00e9\U0001F600\" x]").find("line 1 column 8: ") == 0);
}

TEST_CASE("text that ends too early is called cut short") {
    const std::string said = "the text ends in the middle: the file was cut short";
    CHECK(fault("{") == "line 1 column 2: " + said);
    CHECK(fault("{\"a\": \"b") == "line 1 column 9: " + said);
    CHECK(fault("[1,\ntru") == "line 2 column 4: " + said);
    CHECK(fault("[1,\n-") == "line 2 column 2: " + said);
}

TEST_CASE("text that is not UTF-8 is called so") {
    const std::string said = ": the text is not UTF-8; right would be a file saved as UTF-8";
    CHECK(fault("[\"a\xE9\"]") == "line 1 column 5" + said);
    CHECK(fault("[\"\xED\xA0\x80\"]").find(said) != std::string::npos); // a surrogate, Unicode table 3-7
    CHECK(fault("[\"\xC0\x80\"]").find(said) != std::string::npos);     // an overlong form
    CHECK_FALSE(parse_tree("\xFF\xFE{\0}").has_value());                // UTF-16
}

TEST_CASE("a zero byte does not hide what follows it") {
    using namespace std::string_literals;
    CHECK(fault("{}\n\0{"s) == "line 2 column 1: found a zero byte; right would be UTF-8 text");
    CHECK(fault("[\"a\\u0000b\"]") == "no error");
}

TEST_CASE("numbers are read the same where the locale writes a comma") {
    const std::string before = std::setlocale(LC_NUMERIC, nullptr);
    const bool has_comma = std::setlocale(LC_NUMERIC, "de_DE.UTF-8") != nullptr;
    const Result<Tree> tree = parse_tree("[1.5, 2.50]");
    std::setlocale(LC_NUMERIC, before.c_str());
    REQUIRE(tree);
    CHECK(tree->nodes[1].number == 1.5);
    CHECK(one_line_text(*tree, 0) == "[1.5, 2.50]");
    if (!has_comma) MESSAGE("no locale with a decimal comma on this machine");
}

TEST_CASE("what was found is shown short") {
    const auto show = [](const std::string& text) { return shown(*parse_tree(text), 0); };
    CHECK(show("\"tpo\"") == "\"tpo\"");
    CHECK(show("-1.50") == "-1.50");
    CHECK(show("[]") == "a list");
    CHECK(show("{}") == "an object");
    CHECK(show("\"" + std::string(100, 'x') + "\"") == "\"" + std::string(40, 'x') + "...\"");
    CHECK(show("\"" + std::string(39, 'x') + "\u00e9\u00e9\"") == "\"" + std::string(39, 'x') + "...\"");
}
