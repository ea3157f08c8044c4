// `padchart-window [CHART|TRACE.svg] [--stage S] [--select NAME] [--snapshot FILE.png] [--size WxH] [--scale K]
// [--theme paper|dark-room|grey-print] [--side top|bottom] [--smooth N]`

#include <charconv>
#include <iostream>
#include <span>
#include <string>

#include "app/session.hpp"
#include "app/window.hpp"

namespace {

using padchart::Error;
using padchart::Result;
using padchart::app::WindowOptions;

constexpr const char* kUsage =
    "padchart-window [CHART|TRACE.svg] [--stage survey|orient|heat|access|inspect|hand-over] [--select NAME]\n"
    "    [--snapshot FILE.png] [--size WIDTHxHEIGHT] [--scale 0.75..3]\n"
    "    [--theme paper|dark-room|grey-print] [--side top|bottom] [--smooth 0..8]\n";

template <class T>
bool parse_number(std::string_view text, T& out, T low, T high) {
    T value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !(value >= low && value <= high)) return false;
    out = value;
    return true;
}

bool parse_size(const std::string& text, WindowOptions& options) {
    const std::size_t cross = text.find('x');
    return cross != std::string::npos && parse_number(text.substr(0, cross), options.width_px, 320U, 8192U) &&
           parse_number(text.substr(cross + 1), options.height_px, 240U, 8192U);
}

bool parse_stage(const std::string& word, WindowOptions& options) {
    for (const padchart::app::StageInfo& info : padchart::app::stages())
        if (info.word == word) options.stage = info.stage;
    return options.stage.has_value();
}

bool parse_theme(const std::string& word, WindowOptions& options) {
    if (word == "paper")
        options.theme = "paper";
    else if (word == "dark" || word == "dark-room")
        options.theme = "dark-room";
    else if (word == "grey" || word == "grey-print")
        options.theme = "grey-print";
    else
        return false;
    return true;
}

bool parse_side(const std::string& word, WindowOptions& options) {
    const auto side = padchart::document::from_text<padchart::document::Side>(word);
    if (side) options.side = *side;
    return side.has_value();
}

bool parse_option(const std::string& name, const std::string& value, WindowOptions& options) {
    if (name == "--stage") return parse_stage(value, options);
    if (name == "--size") return parse_size(value, options);
    if (name == "--theme") return parse_theme(value, options);
    if (name == "--side") return parse_side(value, options);
    if (name == "--scale") return parse_number(value, options.scale, 0.75, 3.0);
    if (name == "--smooth") return parse_number(value, options.smoothing, 0U, 8U);
    if (name == "--select") options.select = value;
    if (name == "--snapshot") options.snapshot = value;
    return name == "--select" || name == "--snapshot";
}

Result<WindowOptions> parse(std::span<char*> words) {
    WindowOptions options;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string word = words[i];
        if (i == 0 && word == "view") continue; // as the command line hands it on
        if (!word.starts_with("--")) {
            if (!options.chart.empty()) return Error{"One chart at a time; \"" + word + "\" is one too many.", ""};
            options.chart = word;
        } else if (i + 1 == words.size()) {
            return Error{word + " needs a value.\n" + kUsage, ""};
        } else if (!parse_option(word, words[i + 1], options)) {
            return Error{word + " does not take \"" + words[i + 1] + "\".\n" + kUsage, ""};
        } else {
            ++i;
        }
    }
    return options;
}

} // namespace

int main(int count, char** words) {
    constexpr int kCouldNotDo = 2;
    for (const std::string_view word : std::span(words, static_cast<std::size_t>(count)).subspan(1))
        if (word == "--help" || word == "-h") {
            std::cout << kUsage;
            return 0;
        }
    const Result<WindowOptions> options = parse(std::span(words, static_cast<std::size_t>(count)).subspan(1));
    if (!options) {
        std::cerr << "padchart-window: " << describe(options.error()) << '\n';
        return kCouldNotDo;
    }
    const Result<void> shown = padchart::app::show_window(*options);
    if (shown) return 0;
    std::cerr << "padchart-window: " << describe(shown.error()) << '\n';
    return kCouldNotDo;
}
