#include "app/habits.hpp"

#include <charconv>
#include <cmath>
#include <fstream>
#include <iterator>
#include <optional>
#include <sstream>
#include <string_view>

#include <fmt/format.h>

#include "app/access_desk.hpp"
#include "app/part_snap.hpp"
#include "base/disk_file.hpp"
#include "paint/theme.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;
using analysis::AccessQuery;

struct Number {
    std::string_view name;
    double& (*of)(AccessQuery& query);
};
constexpr Number kReach[] = {
    {"access-above-board", [](AccessQuery& q) -> double& { return q.tool.rise_deg; }},
    {"access-tip-width", [](AccessQuery& q) -> double& { return q.tool.tip_width_mm; }},
    {"access-tip-thickness", [](AccessQuery& q) -> double& { return q.tool.tip_thickness_mm; }},
    {"access-flare", [](AccessQuery& q) -> double& { return q.tool.flare_deg; }},
    {"access-least-room", [](AccessQuery& q) -> double& { return q.play_mm; }},
    {"access-slip", [](AccessQuery& q) -> double& { return q.slip_mm; }},
    {"access-hand", [](AccessQuery& q) -> double& { return q.hand_deg; }},
};

struct Switch {
    std::string_view name;
    bool& (*of)(Session& session);
};
constexpr Switch kSwitches[] = {
    {"meets-pads", [](Session& s) -> bool& { return s.desks.get<SnapDesk>().pads; }},
    {"meets-neighbours", [](Session& s) -> bool& { return s.desks.get<SnapDesk>().alignment; }},
    {"meets-pitch", [](Session& s) -> bool& { return s.desks.get<SnapDesk>().pitch; }},
    {"legend", [](Session& s) -> bool& { return s.show_legend; }},
};

std::optional<double> number_in(const std::string& text) {
    double value = 0.0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (fault != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

void take_line(Session& s, const std::string& name, const std::string& value, bool theme_too) {
    if (name == "theme" && theme_too && paint::find_theme(value) != nullptr) s.theme = value;
    if (name == "access-tool")
        if (const auto tool = analysis::find_access_tool(value))
            change_access(s, [&](AccessQuery& query) { query.tool = *tool; });
    for (const Switch& known : kSwitches)
        if (known.name == name) known.of(s) = value == "yes";
    const std::optional<double> number = number_in(value);
    if (!number) return;
    for (const Number& known : kReach)
        if (known.name == name) change_access(s, [&](AccessQuery& query) { known.of(query) = *number; });
    if (name == "grid" && *number >= 0.001 && *number <= 10.0) s.desks.get<SnapDesk>().grid_mm = *number;
}

} // namespace

std::string habits_of(const Session& s) {
    std::string text = fmt::format("theme {}\n", s.theme);
    const AccessDesk* access = s.desks.find<AccessDesk>();
    AccessQuery query = access != nullptr ? access->query : AccessQuery{};
    if (access != nullptr) {
        text += fmt::format("access-tool {}\n", query.tool.key);
        for (const Number& known : kReach)
            text += fmt::format("{} {}\n", known.name, known.of(query));
    }
    const SnapDesk* found = s.desks.find<SnapDesk>();
    const SnapDesk snap = found != nullptr ? *found : SnapDesk{};
    const auto word = [](bool on) { return on ? "yes" : "no"; };
    text += fmt::format("meets-pads {}\nmeets-neighbours {}\nmeets-pitch {}\nlegend {}\ngrid {}\n", word(snap.pads),
                        word(snap.alignment), word(snap.pitch), word(s.show_legend), snap.grid_mm);
    return text;
}

void take_habits(Session& s, const std::string& text, bool theme_too) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        const std::size_t blank = line.find(' ');
        if (blank != std::string::npos) take_line(s, line.substr(0, blank), line.substr(blank + 1), theme_too);
    }
}

Habits::Habits(const fs::path& state) : file_(state.empty() ? state : state / "habits.txt") {}

void Habits::take_up(Session& s, bool theme_too) {
    if (!file_.empty()) {
        std::ifstream in(file_, std::ios::binary);
        take_habits(s, {std::istreambuf_iterator<char>(in), {}}, theme_too);
    }
    written_ = seen_ = habits_of(s);
}

void Habits::look(const Session& s) {
    using namespace std::chrono_literals;
    const auto now = Clock::now();
    if (now - looked_ < 500ms) return;
    looked_ = now;
    const std::string text = habits_of(s);
    if (text != seen_) {
        seen_ = text;
        seen_since_ = now;
    } else if (text != written_ && now - seen_since_ > 1s) {
        write(text);
    }
}

void Habits::end(const Session& s) {
    if (const std::string text = habits_of(s); text != written_) write(text);
}

void Habits::write(const std::string& text) {
    written_ = text;
    if (file_.empty()) return;
    std::error_code ignored;
    fs::create_directories(file_.parent_path(), ignored);
    // A setting that cannot be kept is set again by hand; that is no fault worth a word.
    (void)replace_file(file_, text);
}

} // namespace padchart::app
