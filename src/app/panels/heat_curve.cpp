// Temperature over time: the target's coldest joint low to high, the hottest neighbour, and the handle that sets the
// time of the lines on the board.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/heat_standing.hpp"
#include "app/panels/heat_parts.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using analysis::HeatReport;

double value_at(const std::vector<double>& time_s, const std::vector<double>& value, double at_s) {
    const auto after = std::lower_bound(time_s.begin(), time_s.end(), at_s);
    if (after == time_s.begin()) return value.front();
    if (after == time_s.end()) return value.back();
    const auto i = static_cast<std::size_t>(after - time_s.begin());
    const double share = (at_s - time_s[i - 1]) / (time_s[i] - time_s[i - 1]);
    return value[i - 1] + share * (value[i] - value[i - 1]);
}

class Plot {
public:
    Plot(const Ui& ui, const HeatReport& report, bool pale, ImVec2 at, ImVec2 size)
        : ui_(ui), report_(report), pale_(pale), at_(at), size_(size), list_(ImGui::GetWindowDrawList()) {
        end_s_ = std::max(1.0, report.curves.time_s.back());
        most_c_ = std::max(report.target.liquidus_c + 40.0, report.target.peak_mean_c.high);
        if (has_neighbour()) most_c_ = std::max(most_c_, report.neighbours.front().peak_c.nominal);
        most_c_ = std::ceil((most_c_ + 15.0) / 50.0) * 50.0;
    }

    [[nodiscard]] double time_at(float x) const {
        return std::clamp(static_cast<double>((x - at_.x) / size_.x), 0.0, 1.0) * end_s_;
    }

    void draw(double dwell_s, std::optional<double> time_s) const {
        const paint::Palette& c = ui_.colours();
        const ImVec2 end{at_.x + size_.x, at_.y + size_.y};
        list_->AddRectFilled(at_, end, packed(c.panel), ui_.px(6));
        list_->PushClipRect(at_, end, true);
        grid(dwell_s);
        band();
        line(report_.curves.joint_mean_c.nominal, pale_ ? c.muted : c.selection, false);
        if (has_neighbour()) line(report_.curves.neighbours_c.front().nominal, pale_ ? c.muted : c.danger, true);
        scale_words(dwell_s);
        list_->PopClipRect();
        list_->AddRect(at_, end, packed(c.rule), ui_.px(6));
        if (time_s) handle(*time_s);
    }

    [[nodiscard]] bool has_neighbour() const {
        return !report_.curves.neighbours_c.empty() && !report_.neighbours.empty();
    }

private:
    [[nodiscard]] float x(double time_s) const { return at_.x + size_.x * static_cast<float>(time_s / end_s_); }
    [[nodiscard]] float y(double celsius) const {
        return at_.y + size_.y * static_cast<float>(1.0 - std::clamp(celsius / most_c_, 0.0, 1.0));
    }

    void words(ImVec2 at, const std::string& text, bool right) const {
        ImFont* font = ui_.fonts().small;
        const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6F, 0, text.c_str());
        const ImVec2 pen{std::round(right ? at.x - size.x : at.x), std::round(at.y)};
        list_->AddRectFilled({pen.x - ui_.px(3), pen.y}, {pen.x + size.x + ui_.px(3), pen.y + size.y},
                             packed(with_alpha(ui_.colours().panel, 200)), ui_.px(3));
        list_->AddText(font, font->FontSize, pen, packed(ui_.colours().muted), text.c_str());
    }

    void grid(double dwell_s) const {
        const ImU32 rule = packed(with_alpha(ui_.colours().rule, 120));
        for (double level = 100.0; level < most_c_; level += 100.0)
            list_->AddLine({at_.x, std::round(y(level))}, {at_.x + size_.x, std::round(y(level))}, rule);
        dashed({at_.x, y(report_.target.liquidus_c)}, {at_.x + size_.x, y(report_.target.liquidus_c)});
        dashed({x(dwell_s), at_.y}, {x(dwell_s), at_.y + size_.y});
    }

    /// Over the curves, on plates.
    void scale_words(double dwell_s) const {
        for (double level = 100.0; level < most_c_; level += 100.0)
            if (std::abs(level - report_.target.liquidus_c) > 30)
                words({at_.x + size_.x - ui_.px(6), y(level) - ui_.px(7)}, fmt::format("{:.0f}", level), true);
        words({at_.x + size_.x - ui_.px(6), y(report_.target.liquidus_c) - ui_.px(7)},
              fmt::format("liquid {:.0f} °C", report_.target.liquidus_c), true);
        const bool left = x(dwell_s) > at_.x + size_.x * 0.7F;
        words({x(dwell_s) + (left ? -ui_.px(5) : ui_.px(5)), at_.y + size_.y - ui_.px(17)},
              fmt::format("air off {:.0f} s", dwell_s), left);
        if (!left)
            words({at_.x + size_.x - ui_.px(6), at_.y + size_.y - ui_.px(17)}, fmt::format("{:.0f} s", end_s_), true);
    }

    void dashed(ImVec2 from, ImVec2 to) const {
        const float length = std::hypot(to.x - from.x, to.y - from.y), step = ui_.px(6);
        for (float at = 0; at < length; at += step) {
            const float a = at / length, b = std::min(at + step / 2, length) / length;
            list_->AddLine({from.x + (to.x - from.x) * a, from.y + (to.y - from.y) * a},
                           {from.x + (to.x - from.x) * b, from.y + (to.y - from.y) * b}, packed(ui_.colours().ink));
        }
    }

    void band() const {
        const std::vector<double>& time = report_.curves.time_s;
        const analysis::CurveCases& joint = report_.curves.joint_mean_c;
        const ImU32 fill = packed(with_alpha(pale_ ? ui_.colours().muted : ui_.colours().selection, 44));
        list_->Flags &= ~ImDrawListFlags_AntiAliasedFill; // else the seams between the strips are seen
        for (std::size_t i = 1; i < time.size(); ++i)
            list_->AddQuadFilled({x(time[i - 1]), y(joint.low[i - 1])}, {x(time[i - 1]), y(joint.high[i - 1])},
                                 {x(time[i]), y(joint.high[i])}, {x(time[i]), y(joint.low[i])}, fill);
        list_->Flags |= ImDrawListFlags_AntiAliasedFill;
    }

    void line(const std::vector<double>& value, paint::Colour colour, bool broken) const {
        std::vector<ImVec2> points;
        float run = 0;
        for (std::size_t i = 0; i < report_.curves.time_s.size(); ++i) {
            const ImVec2 p{x(report_.curves.time_s[i]), y(value[i])};
            if (!points.empty()) run += std::hypot(p.x - points.back().x, p.y - points.back().y);
            points.push_back(p);
            if (!broken || run < ui_.px(9)) continue;
            list_->AddPolyline(points.data(), static_cast<int>(points.size()), packed(colour), 0, ui_.px(2));
            points.clear(); // the stretch to the next point is the gap
            run = 0;
        }
        list_->AddPolyline(points.data(), static_cast<int>(points.size()), packed(colour), 0, ui_.px(2));
    }

    void handle(double time_s) const {
        const float at = std::round(x(time_s));
        const ImU32 ink = packed(ui_.colours().ink);
        list_->AddLine({at, at_.y}, {at, at_.y + size_.y}, ink, ui_.px(1.5));
        list_->AddCircleFilled({at, at_.y + size_.y}, ui_.px(6), packed(ui_.colours().panel), 20);
        list_->AddCircle({at, at_.y + size_.y}, ui_.px(6), ink, 20, ui_.px(2));
    }

    const Ui& ui_;
    const HeatReport& report_;
    bool pale_;
    ImVec2 at_, size_;
    ImDrawList* list_;
    double end_s_ = 1.0, most_c_ = 300.0;
};

void sample(const Ui& ui, paint::Colour colour, bool broken, const std::string& words) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float y = std::round(at.y + ImGui::GetTextLineHeight() / 2), wide = ui.px(22);
    ImDrawList* list = ImGui::GetWindowDrawList();
    if (broken) {
        list->AddLine({at.x, y}, {at.x + ui.px(9), y}, packed(colour), ui.px(2));
        list->AddLine({at.x + ui.px(13), y}, {at.x + wide, y}, packed(colour), ui.px(2));
    } else {
        list->AddRectFilled({at.x, y - ui.px(5)}, {at.x + wide, y + ui.px(5)}, packed(with_alpha(colour, 44)));
        list->AddLine({at.x, y}, {at.x + wide, y}, packed(colour), ui.px(2));
    }
    ImGui::Dummy({wide, ImGui::GetTextLineHeight()});
    ImGui::SameLine(0, ui.px(6));
    ImGui::TextColored(floats(ui.colours().muted), "%s", words.c_str());
}

void time_row(Ui& ui, Session& s, const HeatReport& report) {
    if (!s.heat.time_s) return muted(ui, "Lines on the board: the peak. Drag in the curve for a moment of it.");
    const double at = *s.heat.time_s;
    const auto& c = report.curves;
    const analysis::Band joint{value_at(c.time_s, c.joint_mean_c.low, at),
                               value_at(c.time_s, c.joint_mean_c.nominal, at),
                               value_at(c.time_s, c.joint_mean_c.high, at)};
    const char* sign = sign_of(standing_of(s.heat, s.editor.snapshot()));
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(fmt::format("At {:.0f} s: joint {}{}", at, sign, band_words(joint)).c_str());
    const float wide = ui.px(64);
    ImGui::SameLine(ImGui::GetContentRegionMax().x - wide);
    if (button(ui, "Peak", ButtonKind::Plain, wide, true, ui.px(26))) s.heat.time_s.reset();
}

void scrub(Session& s, double time_s) {
    const double whole = std::round(time_s);
    if (s.heat.time_s == whole) return;
    s.heat.time_s = whole;
    trace("heat-time", fmt::format("{:.0f} s", whole));
}

} // namespace

void heat_curve(Ui& ui, Session& s, const HeatReport& report) {
    if (report.curves.time_s.empty()) return;
    gap(ui, 2);
    const ImVec2 at = ImGui::GetCursorScreenPos(), size{ImGui::GetContentRegionAvail().x, ui.px(132)};
    const Plot plot(ui, report, s.heat.is_stale(), at, size);
    ImGui::InvisibleButton("##curve", size);
    if (ImGui::IsItemActive()) scrub(s, plot.time_at(ImGui::GetIO().MousePos.x));
    plot.draw(s.heat.plan().dwell_s, s.heat.time_s);
    gap(ui, 3);
    const float left = ImGui::GetCursorPosX();
    sample(ui, ui.colours().selection, false,
           (report.target.name.empty() ? "spot" : report.target.name) + ", low – high");
    if (plot.has_neighbour()) {
        ImGui::SameLine(left + ui.px(150));
        sample(ui, ui.colours().danger, true, report.neighbours.front().name + ", nominal");
    }
    time_row(ui, s, report);
}

} // namespace padchart::app
