#include "support.hpp"

#include <fstream>

#include "app/own_families.hpp"

namespace padchart::app {
namespace {

TEST_CASE("a kept part is offered again as a family of the user's own") {
    const ScratchFolder home;
    OwnFamilies own(home.path() / "patterns");
    CHECK(own.all().empty());
    document::Footprint traced = part_of("chip-1608M", "R7", {12, 8});
    traced.condition.presence = document::Presence::Missing;
    const auto kept = own.keep(traced, "sense divider");
    REQUIRE(kept);
    REQUIRE(own.all().size() == 1);
    const OwnFamily& family = own.all()[0];
    CHECK(family.name == "sense divider");
    CHECK(family.pattern.pads.size() == traced.pads.size());
    CHECK(family.pattern.name.empty());
    CHECK(family.pattern.condition.presence == document::Presence::NotChecked); // that belonged to the one part
    // Another session finds it too.
    OwnFamilies later(home.path() / "patterns");
    CHECK(later.all().size() == 1);
}

TEST_CASE("a name that is taken or is none is refused and nothing is written over") {
    const ScratchFolder home;
    OwnFamilies own(home.path());
    REQUIRE(own.keep(part_of("chip-1608M", "R7", {}), "mine"));
    CHECK_FALSE(own.keep(part_of("chip-1005M", "R8", {}), "mine"));
    CHECK_FALSE(own.keep(part_of("chip-1005M", "R8", {}), ""));
    CHECK_FALSE(own.keep(part_of("chip-1005M", "R8", {}), "a/b"));
    CHECK_FALSE(own.keep(part_of("chip-1005M", "R8", {}), ".hidden"));
    CHECK(own.all(true).size() == 1);
    CHECK_FALSE(OwnFamilies(std::filesystem::path()).keep(part_of("chip-1608M", "R7", {}), "mine"));
}

TEST_CASE("a file that is no pattern is told of and the others are still offered") {
    const ScratchFolder home;
    OwnFamilies own(home.path());
    REQUIRE(own.keep(part_of("chip-1608M", "R7", {}), "mine"));
    std::ofstream(home.path() / "broken.pattern.json") << "{";
    std::ofstream(home.path() / "readme.txt") << "nothing to do with it";
    CHECK(own.all(true).size() == 1);
    REQUIRE(own.findings().size() == 1);
    CHECK(own.findings()[0].where.find("broken.pattern.json") != std::string::npos);
    std::filesystem::remove(home.path() / "broken.pattern.json");
    CHECK(own.all(true).size() == 1);
    CHECK(own.findings().empty());
}

} // namespace
} // namespace padchart::app
