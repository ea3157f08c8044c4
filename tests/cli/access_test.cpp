// `padchart access` on the demo: exit codes, sentences, JSON.

#include <cstdlib>

#include <doctest/doctest.h>

#include "run_support.hpp"

using namespace padchart::tests;

TEST_CASE("access tells in sentences where to come from and where not") {
    const Answer answer = call({"access", demo_chart_path(), "--target", "U4", "--no-heat"});
    CHECK(answer.code == 0);
    CHECK(answer.out.rfind("Come from the ", 0) == 0);
    CHECK(answer.out.find("J2 stands") != std::string::npos);
    CHECK(answer.out.find("Turn the board by") != std::string::npos);
    CHECK(answer.out.find("Bearings are seen from the top side with the cable edge up") != std::string::npos);
    CHECK(answer.err.find("not known which neighbours' joints are molten") != std::string::npos);
}

TEST_CASE("access asks the chart's heat plan who floats") {
    const Answer answer = call({"access", demo_chart_path(), "--target", "U4", "--tool", "tweezers-fine"});
    CHECK(answer.code == 0);
    CHECK(answer.out.find("the heat plan may melt") != std::string::npos);
    CHECK(answer.err.find("not known which") == std::string::npos);
}

TEST_CASE("access without a way in is a finding") {
    const Answer answer = call({"access", demo_chart_path(), "--target", "L1", "--no-heat"});
    CHECK(answer.code == 1);
    CHECK(answer.out.rfind("SH1 stands over L1: take it off first.", 0) == 0);
}

TEST_CASE("access with an iron answers for each pad") {
    const Answer answer = call({"access", demo_chart_path(), "--target", "U1", "--tool", "iron", "--no-heat"});
    CHECK(answer.out.find("pad 1 ") != std::string::npos);
    CHECK(answer.out.find("pad 20 ") != std::string::npos);
    const Answer one =
        call({"access", demo_chart_path(), "--target", "U1", "--tool", "iron", "--pad", "21", "--no-heat"});
    CHECK(one.code == 1);
    CHECK(one.out.find("the body lies over it") != std::string::npos);
}

TEST_CASE("access as JSON has every degree and the ends of the sectors") {
    const Answer answer = call({"access", demo_chart_path(), "--target", "U4", "--no-heat", "--json"});
    CHECK(answer.code == 0);
    for (const char* key :
         {"\"sectors\"", "\"approaches\"", "\"do_not_touch\"", "\"slip_area\"", "\"bearing_deg\": 359"})
        CHECK_MESSAGE(answer.out.find(key) != std::string::npos, key);
}

TEST_CASE("access refuses what cannot be") {
    CHECK(call({"access", demo_chart_path()}).code == 2);
    const Answer part = call({"access", demo_chart_path(), "--target", "U99"});
    CHECK(part.code == 2);
    const Answer tool = call({"access", demo_chart_path(), "--target", "U4", "--tool", "crowbar"});
    CHECK(tool.code == 2);
    CHECK(tool.err.find("no tool is called \"crowbar\"") != std::string::npos);
    CHECK(tool.err.find("tweezers-fine") != std::string::npos);
    const Answer flat = call({"access", demo_chart_path(), "--target", "U4", "--rise", "3"});
    CHECK(flat.code == 2);
    CHECK(flat.err.find("hold it steeper") != std::string::npos);
}

TEST_CASE("the sheet says from where the part of a heat plan is held") {
    const TemporaryFolder folder;
    const std::string pdf = folder.file("sheet.pdf"), text = folder.file("sheet.txt");
    REQUIRE(call({"sheet", demo_chart_path(), "-o", pdf}).code == 0);
    if (std::system(("pdftotext -layout " + pdf + " " + text + " 2>/dev/null").c_str()) != 0) return; // not installed
    const std::string words = read_text(text);
    CHECK(words.find("Access to U4") != std::string::npos);
    CHECK(words.find("Come from the ") != std::string::npos);
}
