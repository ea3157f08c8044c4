#include "scene/layers.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "scene/chart_scene.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;

namespace {

Scene whole(const document::Chart& chart) {
    ViewOptions options;
    options.selection = {chart.parts[0].id};
    return chart_scene(chart, {}, options);
}

Scene without(const document::Chart& chart, std::initializer_list<Layer> hidden,
              const std::vector<document::Id>& things = {}) {
    Layers layers;
    for (const Layer layer : hidden)
        layers.set(index(layer));
    Scene scene = whole(chart);
    hide(scene, chart, layers, things);
    return scene;
}

std::set<Role> roles(const Scene& scene) {
    std::set<Role> found;
    for (const Item& item : scene.items)
        found.insert(item.role);
    return found;
}

std::size_t items_of(const Scene& scene, const document::Id& id) {
    return static_cast<std::size_t>(std::count_if(scene.items.begin(), scene.items.end(), [&](const Item& item) {
        return item.source >= 0 && scene.sources[static_cast<std::size_t>(item.source)].id == id;
    }));
}

} // namespace

TEST_SUITE("layers") {
    TEST_CASE("with nothing hidden the picture stays whole") {
        const document::Chart chart = test::sample_chart();
        CHECK(without(chart, {}).items.size() == whole(chart).items.size());
    }

    TEST_CASE("each layer takes its own roles away and no other") {
        const document::Chart chart = test::sample_chart();
        const std::set<Role> all = roles(whole(chart));
        CHECK(all.contains(Role::PadCopper));
        const std::set<Role> no_pads = roles(without(chart, {Layer::Pads}));
        CHECK_FALSE(no_pads.contains(Role::PadCopper));
        CHECK(no_pads.contains(Role::Body));
        const std::set<Role> no_bodies = roles(without(chart, {Layer::Bodies}));
        CHECK_FALSE(no_bodies.contains(Role::Body));
        CHECK_FALSE(no_bodies.contains(Role::SensitiveBody));
        CHECK(no_bodies.contains(Role::PadCopper));
        CHECK(no_bodies.contains(Role::LabelPart));
        const std::set<Role> no_names = roles(without(chart, {Layer::Names}));
        CHECK_FALSE(no_names.contains(Role::LabelPart));
        CHECK_FALSE(no_names.contains(Role::LabelDanger));
        CHECK(no_names.contains(Role::LabelNote));
        CHECK_FALSE(roles(without(chart, {Layer::FarSide})).contains(Role::FarSideEdge));
    }

    TEST_CASE("notes readings and keep-outs go with their labels and pins") {
        const document::Chart chart = test::sample_chart();
        REQUIRE_FALSE(chart.notes.empty());
        REQUIRE_FALSE(chart.readings.empty());
        REQUIRE_FALSE(chart.keep_outs.empty());
        CHECK(items_of(whole(chart), chart.notes[0].id) > 0);
        CHECK(items_of(without(chart, {Layer::Notes}), chart.notes[0].id) == 0);
        CHECK(items_of(without(chart, {Layer::Notes}), chart.readings[0].id) > 0);
        CHECK(items_of(without(chart, {Layer::Readings}), chart.readings[0].id) == 0);
        CHECK(items_of(without(chart, {Layer::KeepOuts}), chart.keep_outs[0].id) == 0);
    }

    TEST_CASE("a hidden part goes with its pads and its name") {
        const document::Chart chart = test::sample_chart();
        const document::Id id = chart.parts[0].id;
        const Scene scene = without(chart, {}, {id});
        CHECK(items_of(whole(chart), id) > 1);
        CHECK(items_of(scene, id) == 0);
        CHECK(items_of(scene, chart.parts[1].id) == items_of(whole(chart), chart.parts[1].id));
    }

    TEST_CASE("every layer has a label of its own") {
        std::set<std::string_view> labels;
        for (std::size_t i = 0; i < kLayerCount; ++i)
            labels.insert(label_of(static_cast<Layer>(i)));
        CHECK(labels.size() == kLayerCount);
        CHECK_FALSE(labels.contains(""));
    }
}
