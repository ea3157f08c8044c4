#include "page/svg_scene.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

#include "page/layers.hpp"
#include "page/markup.hpp"
#include "scene/text_width.hpp"

namespace padchart::page {

using geometry::Vec2;
using scene::Item;
using scene::Scene;

namespace {

/// Thousandths of a mm, so that steps from point to point add up without drift.
std::int64_t thousandths(double mm) {
    return std::llround(mm * 1000.0);
}

void add_number(std::string& out, std::int64_t value, bool first) {
    std::string text = short_number(static_cast<double>(value) / 1000.0);
    if (text.starts_with("0.")) text.erase(0, 1);
    if (text.starts_with("-0.")) text.erase(1, 1);
    if (!first && text.front() != '-') out += ' ';
    out += text;
}

/// "M1 2l.5 0 0 .5z": the first point as it is, the others as steps.
void add_path(std::string& out, std::span<const Vec2> points, bool closed) {
    std::int64_t x = 0;
    std::int64_t y = 0;
    bool first = true;
    for (const Vec2 p : points) {
        const std::int64_t to_x = thousandths(p.x);
        const std::int64_t to_y = thousandths(p.y);
        if (first) out += 'M';
        add_number(out, first ? to_x : to_x - x, first);
        add_number(out, first ? to_y : to_y - y, false);
        if (first && points.size() > 1) out += 'l';
        x = to_x;
        y = to_y;
        if (first) first = false;
    }
    if (closed && !first) out += 'z';
    // The number after a letter needs no blank before it.
    for (std::size_t at = out.find("l "); at != std::string::npos; at = out.find("l ", at + 1))
        out.erase(at + 1, 1);
}

class Writer {
public:
    Writer(const Scene& scene, double px_per_mm) : scene_(scene), px_per_mm_(px_per_mm) {}

    [[nodiscard]] std::string element_of(const Item& item) const {
        const std::string role(scene::to_text(item.role));
        switch (item.kind) {
        case Item::Kind::Fill: return fill(role, scene_.fills[item.index].area);
        case Item::Kind::Line: return line(role, scene_.lines[item.index]);
        case Item::Kind::Text: return text(role, scene_.texts[item.index]);
        case Item::Kind::Symbol: return symbol(role, scene_.symbols[item.index]);
        }
        return {};
    }

private:
    static std::string fill(const std::string& role, const geometry::Polygon& area) {
        std::string path;
        add_path(path, area.outer, true);
        for (const geometry::Ring& hole : area.holes)
            add_path(path, hole, true);
        return fmt::format("<path class=\"fill-{}\"{} d=\"{}\"/>", role,
                           area.holes.empty() ? "" : " fill-rule=\"evenodd\"", path);
    }

    static std::string line(const std::string& role, const scene::Line& line) {
        std::string path;
        add_path(path, line.points, line.closed);
        return fmt::format("<path class=\"line-{} w{}\" d=\"{}\"/>", role, static_cast<int>(line.weight), path);
    }

    [[nodiscard]] std::string text(const std::string& role, const scene::Text& text) const {
        const double height = text.height_mm > 0.0 ? text.height_mm : text.height_px / px_per_mm_;
        const double width = scene::text_width_em(text.text, text.strong) * height;
        static constexpr const char* kAnchors[] = {"start", "middle", "end"};
        return fmt::format("<text class=\"text-{}{}{}\" x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\" "
                           "textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>",
                           role, text.strong ? " strong" : "", text.halo ? " halo" : "", short_number(text.at.x),
                           short_number(text.at.y + height * scene::kCapHeight_em / 2.0), short_number(height),
                           kAnchors[static_cast<std::size_t>(text.align)], short_number(width), escaped(text.text));
    }

    static std::string symbol(const std::string& role, const scene::Symbol& symbol) {
        static constexpr const char* kSigns[] = {"query", "tick", "exclamation", "note", "handle", "cross"};
        return fmt::format("<g transform=\"translate({} {})\"><use class=\"sign sign-{} z{}\" href=\"#sign-{}\"/></g>",
                           short_number(symbol.at.x), short_number(symbol.at.y), role,
                           std::lround(symbol.radius_px * 2.0), kSigns[static_cast<std::size_t>(symbol.sign)]);
    }

    const Scene& scene_;
    double px_per_mm_;
};

/// Which stages and levels there are at all, and the classes of an element that is in some of the pictures only.
class Pictures {
public:
    explicit Pictures(std::span<const Variant> variants) : variants_(variants) {
        for (const Variant& variant : variants) {
            stages_.insert(variant.stage);
            levels_.insert(variant.level);
        }
    }

    /// One list of classes for each set of levels at which the element is seen in the same stages.
    [[nodiscard]] std::vector<std::string> classes_of(std::uint64_t seen) const {
        std::map<std::size_t, std::set<std::size_t>> stages_at;
        for (std::size_t i = 0; i < variants_.size(); ++i)
            if ((seen >> i & 1U) != 0) stages_at[variants_[i].level].insert(variants_[i].stage);
        std::map<std::set<std::size_t>, std::set<std::size_t>> levels_with;
        for (const auto& [level, stages] : stages_at)
            levels_with[stages].insert(level);
        std::vector<std::string> out;
        for (const auto& [stages, levels] : levels_with)
            out.push_back(classes(stages, levels));
        return out;
    }

private:
    [[nodiscard]] std::string classes(const std::set<std::size_t>& stages, const std::set<std::size_t>& levels) const {
        std::string text;
        if (stages != stages_) {
            text += "st";
            for (const std::size_t stage : stages)
                text += fmt::format(" s{}", stage);
        }
        if (levels != levels_) {
            text += text.empty() ? "lv" : " lv";
            for (const std::size_t level : levels)
                text += fmt::format(" l{}", level);
        }
        return text;
    }

    std::span<const Variant> variants_;
    std::set<std::size_t> stages_;
    std::set<std::size_t> levels_;
};

/// Elements in groups: a new one where the thing or the classes change.
class Groups {
public:
    void add(const std::string& id, const std::string& classes, const std::string& element) {
        if (!is_open_ || id != id_ || classes != classes_) {
            close();
            out_ += "<g";
            if (!classes.empty()) out_ += fmt::format(" class=\"{}\"", classes);
            if (!id.empty()) out_ += fmt::format(" data-id=\"{}\"", escaped(id));
            out_ += '>';
            id_ = id;
            classes_ = classes;
            is_open_ = true;
        }
        out_ += element;
    }
    [[nodiscard]] std::string finish() {
        close();
        return std::move(out_);
    }

private:
    void close() {
        if (is_open_) out_ += "</g>\n";
        is_open_ = false;
    }
    std::string out_;
    std::string id_;
    std::string classes_;
    bool is_open_ = false;
};

/// Twice: for the map, where the page's script holds the step constant on the screen, and for small pictures in px.
std::string hatch_markup(const char* name, const char* lines, double mm_per_px) {
    std::string content(lines);
    for (std::size_t at = content.find('@'); at != std::string::npos; at = content.find('@', at))
        content.replace(at, 1, name);
    const auto pattern = [&](const char* before, const char* scaling) {
        return fmt::format("<pattern id=\"hatch-{1}{0}\"{2} patternUnits=\"userSpaceOnUse\" width=\"8\" height=\"8\">"
                           "<rect class=\"ground-{0}\" width=\"8\" height=\"8\"/>{3}</pattern>\n",
                           name, before, scaling, content);
    };
    const std::string scaling = fmt::format(" class=\"hatch\" patternTransform=\"scale({})\"", short_number(mm_per_px));
    return pattern("", scaling.c_str()) + pattern("px-", "");
}

} // namespace

std::string svg_layers(std::span<const Variant> variants) {
    const Pictures pictures(variants);
    Groups groups;
    for (const LayeredItem& layered_item : layered(variants)) {
        const Variant& variant = variants[layered_item.variant];
        const Item& item = variant.scene->items[layered_item.item];
        const std::string id =
            item.source < 0 ? "" : variant.scene->sources[static_cast<std::size_t>(item.source)].id.text;
        const std::string element = Writer(*variant.scene, variant.px_per_mm).element_of(item);
        for (const std::string& classes : pictures.classes_of(layered_item.seen))
            groups.add(id, classes, element);
    }
    return groups.finish();
}

std::string svg_in_px(Scene scene, double px_per_mm) {
    const auto scale = [px_per_mm](std::vector<Vec2>& points) {
        for (Vec2& p : points)
            p = p * px_per_mm;
    };
    for (scene::Fill& fill : scene.fills) {
        scale(fill.area.outer);
        for (geometry::Ring& hole : fill.area.holes)
            scale(hole);
    }
    for (scene::Line& line : scene.lines)
        scale(line.points);
    for (scene::Text& text : scene.texts) {
        text.at = text.at * px_per_mm;
        text.height_mm *= px_per_mm;
    }
    for (scene::Symbol& symbol : scene.symbols)
        symbol.at = symbol.at * px_per_mm;
    const Variant only[] = {{0, 0, &scene, 1.0}};
    return svg_layers(only);
}

std::string svg_definitions(double mm_per_px) {
    std::string out = "<svg class=\"definitions\" aria-hidden=\"true\" focusable=\"false\" width=\"0\" height=\"0\">"
                      "<defs>\n";
    // Lines rising to the right at 45 degrees, both ways, and dots; the page keeps their step on the screen the same.
    const char* rising = "<path class=\"hatching-@\" d=\"M-2 2 2-2M-2 10 10-2M6 10 10 6\"/>";
    const char* both =
        "<path class=\"hatching-@\" d=\"M-2 2 2-2M-2 10 10-2M6 10 10 6M-2 6 2 10M-2-2 10 10M6-2 10 2\"/>";
    const char* dots = "<circle class=\"dots-@\" cx=\"2\" cy=\"2\" r=\"1.1\"/>"
                       "<circle class=\"dots-@\" cx=\"6\" cy=\"6\" r=\"1.1\"/>";
    for (const char* name : {"no-aim", "shield", "stale-zone"})
        out += hatch_markup(name, rising, mm_per_px);
    out += hatch_markup("keep-out", both, mm_per_px);
    out += hatch_markup("depends", dots, mm_per_px);
    // Signs of radius 1 about their centre. What a `use` shows is out of reach of the page's rules: it inherits.
    const std::string thin = " vector-effect=\"non-scaling-stroke\"";
    const auto letter = [](const char* sign, const char* y, const char* size) {
        return fmt::format("<text y=\"{}\" font-size=\"{}\" font-weight=\"700\" text-anchor=\"middle\" stroke=\"none\" "
                           "fill=\"currentColor\">{}</text>",
                           y, size, sign);
    };
    out += fmt::format("<g id=\"sign-query\"><circle r=\"1\"{0}/>{1}</g>\n", thin, letter("?", ".49", "1.35"));
    out += fmt::format("<g id=\"sign-tick\"><circle r=\"1\"{0}/><path d=\"M-.45 .02-.1 .38 .48-.36\" fill=\"none\" "
                       "stroke=\"currentColor\" stroke-width=\".24\"/></g>\n",
                       thin);
    out += fmt::format("<g id=\"sign-exclamation\"><path d=\"M0-1 1.05 .85-1.05 .85z\"{0}/>{1}</g>\n", thin,
                       letter("!", ".64", "1.15"));
    out += fmt::format(
        "<g id=\"sign-note\"><path d=\"M-.8-1 .24-1 .8-.4 .8 1-.8 1z\"{0}/><path d=\"M-.4 .05h.8M-.4 .5h.8\""
        "{0}/></g>\n",
        thin);
    out += fmt::format("<g id=\"sign-handle\"><path d=\"M-1-1h2v2h-2z\"{0}/></g>\n", thin);
    out += fmt::format("<g id=\"sign-cross\"><path d=\"M-1 0H1M0-1V1\"{0}/></g>\n", thin);
    return out + "</defs></svg>\n";
}

} // namespace padchart::page
