// Patterns to be shared: what is written reads back the same, and what is not a pattern is refused with its place.

#include <doctest/doctest.h>
#include <rapidcheck.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "document/edits.hpp"
#include "json/golden.hpp"
#include "json/pattern_file.hpp"
#include "json/random_chart.hpp"

using namespace padchart;
namespace fs = std::filesystem;

namespace {

/// Every key a pattern can have, as people would write them.
constexpr const char* kWhole = R"({
  "format": "padchart-pattern",
  "version": 1,
  "note": "measured on two boards",
  "pattern": {
    "name": "clamp, 3 lands",
    "class": "esd-array",
    "pads": [
      {"number": "1", "at_mm": [-0.5, 0.4], "width_mm": 0.3, "height_mm": 0.5},
      {"number": "2", "at_mm": [0.5, 0.4], "width_mm": 0.3, "height_mm": 0.5, "plating": "gold"},
      {"number": "3", "at_mm": [0, -0.4], "shape": "round", "diameter_mm": 0.4}
    ],
    "stated_pad_count": 4,
    "body": {"at_mm": [0, 0], "width_mm": 1.2, "height_mm": 1, "above_board_mm": 0.6},
    "orientation": {"mark": "dot", "bearing_deg": 135, "meaning": "pin-1"},
    "harmless_turns_deg": [0, 180],
    "heat": {"material": "lcp", "limit_c": 260},
    "comment": "lands are masked on the left",
    "drawer": "B 12"
  },
  "checked_on": "2031-04-02"
}
)";

/// What a pattern keeps of a part.
document::Footprint kept_of(document::Footprint part) {
    part.id = {};
    part.value.clear();
    part.role.clear();
    part.placement = {};
    part.condition = {};
    part.trace_key.clear();
    part.locked = false;
    part.orientation.state = document::RecordState::NotRecorded;
    part.orientation.evidence = {};
    return part;
}

/// A part of a random chart that has something to be seen.
json::PatternFile random_pattern() {
    json::PatternFile file;
    const document::Chart chart = json::random_chart();
    for (const document::Footprint& part : chart.parts)
        if (!part.pads.empty() || part.body) file.pattern = kept_of(part);
    file.note = chart.title.title;
    if (file.pattern.pads.empty() && !file.pattern.body)
        file.pattern.body = document::Body{{}, {}, {.width_mm = 1, .height_mm = 2, .points = {}}, {}};
    return file;
}

std::string told(const Result<json::PatternFile>& file) {
    return file ? "" : describe(file.error());
}

std::string fault_when(std::string_view from, std::string_view to) {
    return told(json::read_pattern(json::replaced(kWhole, from, to)));
}

} // namespace

TEST_CASE("a pattern with every key reads and writes to the same bytes") {
    const Result<json::PatternFile> file = json::read_pattern(kWhole);
    REQUIRE(told(file) == "");
    CHECK(file->pattern.name == "clamp, 3 lands");
    CHECK(file->pattern.pads.size() == 3);
    CHECK(file->pattern.orientation.mark == document::MarkKind::Dot);
    CHECK(file->pattern.orientation.bearing.degrees() == 135.0);
    CHECK(file->pattern.orientation.state == document::RecordState::NotRecorded);
    CHECK(file->pattern.extras.size() == 1);
    CHECK(file->extras.size() == 1);
    CHECK(json::write_pattern(*file) == kWhole);
}

TEST_CASE("any part reads back as the pattern that was written") {
    CHECK(rc::check([] {
        const json::PatternFile file = random_pattern();
        const std::string text = json::write_pattern(file);
        const Result<json::PatternFile> back = json::read_pattern(text);
        RC_ASSERT(told(back) == "");
        RC_ASSERT(*back == file);
        RC_ASSERT(json::write_pattern(*back) == text);
    }));
}

TEST_CASE("what belongs to one part on one board is not written") {
    CHECK(rc::check([] {
        const document::Chart chart = json::random_chart();
        for (const document::Footprint& part : chart.parts) {
            if (part.pads.empty() && !part.body) continue;
            const Result<json::PatternFile> back = json::read_pattern(json::write_pattern({{}, part, {}}));
            RC_ASSERT(told(back) == "");
            RC_ASSERT(back->pattern == kept_of(part));
        }
    }));
}

TEST_CASE("random patterns are saved as files") {
    const char* wanted = std::getenv("PADCHART_RANDOM_PATTERNS");
    const fs::path own = fs::temp_directory_path() / ("padchart-patterns-" + std::to_string(::getpid()));
    const fs::path folder = wanted != nullptr ? fs::path(wanted) : own;
    fs::create_directories(folder);
    int count = 0;
    CHECK(rc::check([&] {
        const json::PatternFile file = random_pattern();
        const fs::path path = folder / (std::to_string(count++) + ".pattern.json");
        RC_ASSERT(json::save_pattern(file, path).has_value());
        const Result<json::PatternFile> back = json::load_pattern(path);
        RC_ASSERT(told(back) == "");
        RC_ASSERT(*back == file);
    }));
    fs::remove_all(own);
}

TEST_CASE("keys of a part's place are refused in a pattern with their line") {
    CHECK(fault_when(R"("class": "esd-array",)", R"("class": "esd-array", "at_mm": [1, 2],)") ==
          "/pattern/at_mm (line 7): it belongs to one part on one board; a pattern has none; right would be to leave "
          "it out");
    CHECK(fault_when(R"("mark": "dot",)", R"("state": "recorded", "mark": "dot",)") ==
          "/pattern/orientation/state (line 15): a pattern tells what the mark is; whether it was seen belongs to one "
          "part; right would be to leave it out");
}

TEST_CASE("a fault in a pattern is answered with its pointer and its line and what would be right") {
    CHECK(fault_when(R"("width_mm": 0.3, "height_mm": 0.5},)", R"("width_mm": -1, "height_mm": 0.5},)") ==
          "/pattern/pads/0/width_mm (line 9): found -1; right would be a length above 0 and at most 10000 (mm)");
    CHECK(
        fault_when(R"("limit_c": 260)", R"("limit_c": 260, "warn_c": 300)").find("/pattern (line 5): the limit lies") ==
        0);
}

TEST_CASE("what is no pattern is refused by that name") {
    CHECK(told(json::read_pattern("", "a.pattern.json")) ==
          "a.pattern.json: the file is empty; right would be a pattern");
    CHECK(told(json::read_pattern(json::golden_text())).find("/format (line 2): found \"padchart\"") == 0);
    CHECK(fault_when(R"("version": 1)", R"("version": 2)").find("this file is version 2") != std::string::npos);
    CHECK(told(json::read_pattern(R"({"format": "padchart-pattern", "version": 1})")).find("neither pads nor a body") !=
          std::string::npos);
    CHECK(told(json::read_pattern("{\n[")).find("line 2") != std::string::npos);
}

TEST_CASE("a pattern that could not be read back is not saved and the old file stays") {
    const fs::path path = fs::temp_directory_path() / ("padchart-old-" + std::to_string(::getpid()) + ".pattern.json");
    std::ofstream(path) << "old";
    const Result<void> done = json::save_pattern({}, path);
    REQUIRE_FALSE(done);
    CHECK(describe(done.error()).find("not saved, as it could not be read back") != std::string::npos);
    std::string text;
    std::ifstream(path) >> text;
    CHECK(text == "old");
    fs::remove(path);
}
