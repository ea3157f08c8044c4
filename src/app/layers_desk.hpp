#pragma once
// What is out of sight: layers of each stage by itself, and single parts. Of the view, never of the chart.

#include <algorithm>
#include <cstdint>
#include <map>
#include <vector>

#include "scene/chart_scene.hpp"
#include "scene/layers.hpp"

namespace padchart::app {

class LayersDesk {
public:
    [[nodiscard]] scene::Layers hidden(scene::Stage stage) const {
        const auto found = layers_.find(stage);
        return found == layers_.end() ? scene::Layers{} : found->second;
    }
    [[nodiscard]] bool shows(scene::Stage stage, scene::Layer layer) const {
        return !hidden(stage).test(scene::index(layer));
    }
    void show(scene::Stage stage, scene::Layer layer, bool shown) {
        layers_[stage].set(scene::index(layer), !shown);
        ++revision_;
    }
    void show_all(scene::Stage stage) {
        layers_.erase(stage);
        parts_.clear();
        ++revision_;
    }

    [[nodiscard]] const std::vector<document::Id>& parts() const { return parts_; }
    void hide(const std::vector<document::Id>& ids) {
        for (const document::Id& id : ids)
            if (std::find(parts_.begin(), parts_.end(), id) == parts_.end()) parts_.push_back(id);
        ++revision_;
    }
    void show_parts() {
        parts_.clear();
        ++revision_;
    }

    /// Another number whenever something else is to be seen.
    [[nodiscard]] std::uint64_t revision() const { return revision_; }

private:
    std::map<scene::Stage, scene::Layers> layers_;
    std::vector<document::Id> parts_;
    std::uint64_t revision_ = 0;
};

} // namespace padchart::app
