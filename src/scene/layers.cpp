#include "scene/layers.hpp"

#include <algorithm>
#include <optional>
#include <unordered_set>

namespace padchart::scene {
namespace {

using document::Id;

std::optional<Layer> layer_of_role(Role role) {
    switch (role) {
    case Role::PadCopper:
    case Role::PadMissing:
    case Role::PadFault:
    case Role::PadEdge: return Layer::Pads;
    case Role::Body:
    case Role::BodyEdge:
    case Role::SensitiveBody:
    case Role::SensitiveEdge:
    case Role::UnknownEdge: return Layer::Bodies;
    case Role::Mark:
    case Role::BadgeUnknown:
    case Role::BadgeDone:
    case Role::BadgeWarning: return Layer::Marks;
    case Role::NoAim:
    case Role::NoAimEdge:
    case Role::Depends:
    case Role::DependsEdge:
    case Role::GoodAimEdge:
    case Role::StaleZone: return Layer::Zones;
    case Role::FarSide:
    case Role::FarSideEdge: return Layer::FarSide;
    case Role::LabelPart:
    case Role::LabelMuted:
    case Role::LabelDanger:
    case Role::Leader: return Layer::Names;
    default: return std::nullopt;
    }
}

bool is_pad(const Scene& scene, const Item& item) {
    return item.source >= 0 && scene.sources[static_cast<std::size_t>(item.source)].pad >= 0;
}

std::optional<Layer> layer_of(const Scene& scene, const Item& item) {
    // Dashes stand for a land that is gone and for a part that is.
    if (item.role == Role::MissingEdge) return is_pad(scene, item) ? Layer::Pads : Layer::Bodies;
    // A selected part's name is in the selection's colour.
    if (item.role == Role::Selection && item.kind == Item::Kind::Text) return Layer::Names;
    return layer_of_role(item.role);
}

/// Things that are drawn with several roles go by their ids: label, pin and leader go with them.
std::unordered_set<Id> things_of(const document::Chart& chart, const Layers& hidden, std::span<const Id> more) {
    std::unordered_set<Id> ids(more.begin(), more.end());
    const auto add = [&](Layer layer, const auto& things) {
        if (!hidden.test(index(layer))) return;
        for (const auto& thing : things)
            ids.insert(thing.id);
    };
    add(Layer::KeepOuts, chart.keep_outs);
    add(Layer::KeepOuts, chart.shields);
    add(Layer::Notes, chart.notes);
    add(Layer::Readings, chart.readings);
    add(Layer::Photos, chart.photos);
    return ids;
}

} // namespace

std::string_view label_of(Layer layer) {
    switch (layer) {
    case Layer::Pads: return "Lands";
    case Layer::Bodies: return "Bodies";
    case Layer::Names: return "Names and limits";
    case Layer::Marks: return "Marks and signs";
    case Layer::Zones: return "Zones for the nozzle";
    case Layer::KeepOuts: return "Keep-outs and shields";
    case Layer::Notes: return "Notes";
    case Layer::Readings: return "Readings";
    case Layer::FarSide: return "Far side";
    case Layer::Photos: return "Photos";
    }
    return "";
}

void hide(Scene& scene, const document::Chart& chart, const Layers& hidden, std::span<const Id> hidden_things) {
    if (hidden.none() && hidden_things.empty()) return;
    const std::unordered_set<Id> ids = things_of(chart, hidden, hidden_things);
    std::erase_if(scene.items, [&](const Item& item) {
        if (const auto layer = layer_of(scene, item); layer && hidden.test(index(*layer))) return true;
        return item.source >= 0 && ids.contains(scene.sources[static_cast<std::size_t>(item.source)].id);
    });
}

} // namespace padchart::scene
