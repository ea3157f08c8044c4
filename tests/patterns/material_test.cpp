#include "patterns/material.hpp"

#include <doctest/doctest.h>

#include <set>

#include "patterns/table.hpp"

using namespace padchart;
using namespace padchart::patterns;
using doctest::Approx;
using document::PartClass;

namespace {

document::Footprint part_of(PartClass part_class) {
    document::Footprint part;
    part.part_class = part_class;
    return part;
}

document::Footprint with_body(PartClass part_class, double side_mm, double tall_mm) {
    document::Footprint part = part_of(part_class);
    part.body = document::Body{};
    part.body->shape.width_mm = part.body->shape.height_mm = side_mm;
    part.body->height_mm = tall_mm;
    return part;
}

} // namespace

TEST_CASE("every material has limits in order a standing and a source") {
    std::set<std::string_view> keys;
    for (const Material& material : materials()) {
        CHECK(keys.insert(material.key).second);
        CHECK(material.warn_c > 25.0);
        CHECK(material.limit_c > material.warn_c);
        CHECK(material.limit_c <= 300.0);
        CHECK_FALSE(material.source.empty());
        CHECK((material.standing == "published" || material.standing == "from memory" ||
               material.standing == "common practice"));
    }
    CHECK(keys.size() > 20);
}

TEST_CASE("every class and every reason to keep out has a row that names a material") {
    for (const auto& word : document::words<PartClass>()) {
        const auto row = table("class_materials").find("class", word.text);
        REQUIRE_MESSAGE(row.has_value(), word.text);
        const auto key = table("class_materials").text(*row, "material");
        CHECK_MESSAGE((key == "-" || find_material(key)), key);
    }
    for (const auto& word : document::words<document::KeepOutReason>()) {
        const auto row = table("keep_out_materials").find("reason", word.text);
        REQUIRE_MESSAGE(row.has_value(), word.text);
        CHECK(find_material(table("keep_out_materials").text(*row, "material")));
    }
    for (const auto& word : document::words<PartClass>())
        CHECK_MESSAGE(table("part_bodies").find("class", word.text), word.text);
}

TEST_CASE("what the table says of the usual materials") {
    // Common practice for the limits; the cells' and films' from makers' guides as the table says.
    CHECK(find_material("lcp")->limit_c == 280);
    CHECK(find_material("pbt")->limit_c == 210);
    CHECK(find_material("pa66")->limit_c == 245);
    CHECK(find_material("coin-cell")->limit_c == 85);
    CHECK(find_material("coin-cell")->caution == "take-out");
    CHECK(find_material("film-pp")->limit_c == 110);
    CHECK(find_material("mems-microphone")->caution == "port");
    CHECK_FALSE(find_material("cheese"));
}

TEST_CASE("own limits win over the material and the material over the class") {
    document::Footprint socket = part_of(PartClass::CardSocket);
    CHECK(limits_of(socket)->limit_c == 210);
    CHECK(limits_of(socket)->origin == LimitOrigin::PartClass);
    socket.heat = document::HeatSensitivity{};
    socket.heat->material = "lcp";
    CHECK(limits_of(socket)->limit_c == 280);
    CHECK(limits_of(socket)->origin == LimitOrigin::Material);
    socket.heat->limit_c = 255;
    CHECK(limits_of(socket)->limit_c == 255);
    CHECK(limits_of(socket)->warn_c == 235);
    CHECK(limits_of(socket)->origin == LimitOrigin::Own);
    socket.heat->warn_c = 200;
    CHECK(limits_of(socket)->warn_c == 200);
    socket.heat->material = "cheese";
    socket.heat->limit_c.reset();
    socket.heat->warn_c.reset();
    CHECK(limits_of(socket)->limit_c == 210);
}

TEST_CASE("a warning above the usual limit does not raise the limit") {
    document::Footprint socket = part_of(PartClass::CardSocket);
    const double usual = limits_of(socket)->limit_c;
    socket.heat = document::HeatSensitivity{};
    socket.heat->warn_c = usual + 40;
    CHECK(limits_of(socket)->limit_c == usual);
    CHECK(limits_of(socket)->warn_c == usual);
    socket.heat->limit_c = usual + 60; // stated: somebody knows better
    CHECK(limits_of(socket)->limit_c == usual + 60);
    CHECK(limits_of(socket)->warn_c == usual + 40);
    document::Footprint hole = part_of(PartClass::MountingHole);
    hole.heat = document::HeatSensitivity{};
    hole.heat->warn_c = 90; // nothing usual to go by
    CHECK(limits_of(hole)->warn_c == 90);
    CHECK(limits_of(hole)->limit_c > 90);
}

TEST_CASE("what cannot be hurt has no limit unless someone states one") {
    document::Footprint hole = part_of(PartClass::MountingHole);
    CHECK_FALSE(limits_of(hole));
    hole.heat = document::HeatSensitivity{};
    hole.heat->limit_c = 120;
    CHECK(limits_of(hole)->limit_c == 120);
}

TEST_CASE("lead-free package peaks by thickness and volume") {
    // J-STD-020C, table 4-2.
    CHECK(package_peak_c(1.0, 100) == 260);
    CHECK(package_peak_c(1.5, 5000) == 260);
    CHECK(package_peak_c(1.6, 349) == 260);
    CHECK(package_peak_c(2.0, 350) == 250);
    CHECK(package_peak_c(2.4, 2001) == 245);
    CHECK(package_peak_c(2.5, 300) == 250);
    CHECK(package_peak_c(3.0, 1000) == 245);
    const auto thick = limits_of(with_body(PartClass::IntegratedCircuit, 20, 3.0));
    CHECK(thick->limit_c == 245);
    CHECK(thick->origin == LimitOrigin::Package);
    CHECK_FALSE(thick->delicate);
    CHECK(limits_of(with_body(PartClass::Resistor, 1, 0.5))->limit_c == 260);
}

TEST_CASE("a keep-out is judged by its own limit else by its reason") {
    document::KeepOut area;
    CHECK(limits_of(area).limit_c == 210); // unknown: treat as sensitive
    area.reason = document::KeepOutReason::Cell;
    CHECK(limits_of(area).limit_c == 60);
    area.limit_c = 100;
    CHECK(limits_of(area).limit_c == 100);
    CHECK(limits_of(area).warn_c <= 80);
}

TEST_CASE("a part marked as heat-sensitive without a reason counts as plastic of unknown kind") {
    document::Footprint part;
    part.heat = document::HeatSensitivity{};
    const auto limits = limits_of(part);
    REQUIRE(limits);
    REQUIRE(limits->material);
    CHECK(limits->material->key == "unknown-plastic");
    CHECK(limits->delicate);
    part.part_class = document::PartClass::Microphone;
    CHECK(limits_of(part)->material->key == "mems-microphone"); // its class already says what to fear
}
