#include "app/word_search.hpp"

#include <doctest/doctest.h>

#include "patterns/family.hpp"
#include "patterns/size_class.hpp"

namespace padchart::app {
namespace {

std::vector<std::string> sizes() {
    std::vector<std::string> words;
    for (const patterns::SizeClass& size : patterns::size_classes())
        words.push_back(with_metric_said(patterns::label_of(size)));
    return words;
}

std::vector<std::string> search(const std::vector<std::string>& words, std::string_view wanted) {
    std::vector<std::string> list;
    for (const Found& one : found_in(words, wanted))
        list.push_back(words[one.at]);
    return list;
}

} // namespace

// Code rule of EIA and JEITA, as in tests/patterns/size_class_test.cpp.
TEST_CASE("a size code finds the size that bears it before one whose code only holds it") {
    const std::vector<std::string> found = search(sizes(), "1005");
    REQUIRE(found.size() >= 2);
    CHECK(found[0] == "metric 1005M (inch 0402)");
    CHECK(found[1] == "metric 0402M (inch 01005)");
    CHECK(search(sizes(), "01005") == std::vector<std::string>{"metric 0402M (inch 01005)"});
    for (const patterns::SizeClass& size : patterns::size_classes()) {
        CAPTURE(size.metric);
        const std::string first = search(sizes(), size.metric).front();
        CHECK(first.find(size.metric) != std::string::npos);
        if (size.inch.empty()) continue;
        CAPTURE(size.inch);
        CHECK(search(sizes(), size.inch).front().find("inch " + std::string(size.inch)) != std::string::npos);
        // The metric code without its M: where no inch code is written so, it is that size.
        const std::string bare(size.metric.substr(0, size.metric.size() - 1));
        const std::vector<std::string> of_bare = search(sizes(), bare);
        CHECK(std::find(of_bare.begin(), of_bare.end(), with_metric_said(patterns::label_of(size))) != of_bare.end());
    }
}

TEST_CASE("four digits that may be inch or metric list both sizes first, and say which is which") {
    for (const auto& [code, inch, metric] : {std::tuple{"0603", "metric 1608M (inch 0603)", "metric 0603M (inch 0201)"},
                                             {"0402", "metric 1005M (inch 0402)", "metric 0402M (inch 01005)"},
                                             {"0201", "metric 0603M (inch 0201)", "metric 0201M (inch 008004)"}}) {
        CAPTURE(code);
        const std::vector<std::string> found = search(sizes(), code);
        REQUIRE(found.size() >= 2);
        CHECK(found[0] == inch);
        CHECK(found[1] == metric);
    }
}

TEST_CASE("words are found in any case and order, whole ones first, and the list stays where nothing is typed") {
    const std::vector<std::string> words{"Subtle thing", "LED chip", "Chip LED", "Red led-like", "Ledge"};
    CHECK(search(words, "led").front() == "LED chip");
    CHECK(search(words, "led").back() == "Ledge");
    CHECK(search(words, "led  CHIP ") == std::vector<std::string>{"LED chip", "Chip LED"});
    CHECK(search(words, "") == words);
    CHECK(search(words, "xyz").empty());
    CHECK(nothing_found("xyz") == "Nothing found for \"xyz\".");
}

TEST_CASE("metric is said of a code that has an inch one beside it, and of nothing else") {
    CHECK(with_metric_said("Chip 1608M (inch 0603)") == "Chip metric 1608M (inch 0603)");
    CHECK(with_metric_said("Chip 0816M (inch 0306), long-side terminations") ==
          "Chip metric 0816M (inch 0306), long-side terminations");
    CHECK(with_metric_said("1608M (inch 0603)") == "metric 1608M (inch 0603)");
    CHECK(with_metric_said("3528 tantalum case (metric)") == "3528 tantalum case (metric)");
    CHECK(with_metric_said("SOD-123") == "SOD-123");
}

} // namespace padchart::app
