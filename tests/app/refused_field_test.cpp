// A number that is not taken stays under the pen, and what is typed to put it right goes to no part on the board.

#include <doctest/doctest.h>

#include <optional>
#include <string>

#include <imgui.h>

#include "app/refused_field.hpp"
#include "app/ui.hpp"
#include "app/widgets.hpp"

using namespace padchart;
using namespace padchart::app;

namespace {

/// A panel with two fields and a button, and hands that type; no window of the system is needed.
class Bench {
public:
    Bench() {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.DisplaySize = {400, 300};
        io.IniFilename = nullptr;
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        io.ConfigInputTextCursorBlink = false;
        io.KeyMap[ImGuiKey_Enter] = kEnter;
        io.KeyMap[ImGuiKey_Escape] = kEscape;
        io.KeyMap[ImGuiKey_Tab] = kTab;
        io.KeyMap[ImGuiKey_A] = kA;
        io.KeyMap[ImGuiKey_Space] = kSpace;
        unsigned char* pixels = nullptr;
        int width = 0, height = 0;
        io.Fonts->GetTexDataAsRGBA32(&pixels, &width, &height);
        ui.set_theme(paint::paper_theme());
        frame();
        frame();
    }
    ~Bench() { ImGui::DestroyContext(); }
    Bench(const Bench&) = delete;
    Bench& operator=(const Bench&) = delete;

    void frame() {
        ImGuiIO& io = ImGui::GetIO();
        io.DeltaTime = 1.0F / 60;
        ImGui::NewFrame();
        ImGui::SetNextWindowPos({0, 0});
        ImGui::SetNextWindowSize({300, 300});
        ImGui::Begin("panel", nullptr, ImGuiWindowFlags_NoDecoration);
        number_field(
            ui, "Down", value, "mm", [this](std::optional<double> typed) { take(typed); },
            [this](std::string why) { refusal = std::move(why); });
        at_field = {200, middle().y}; // the unit stands right of it
        if (ImGui::Button("Move")) ++moves;
        at_button = middle();
        ImGui::End();
        ui.end_frame();
        ImGui::EndFrame();
    }
    void frames(int count) {
        for (int i = 0; i < count; ++i)
            frame();
    }
    void press(int key, bool ctrl = false) {
        ImGuiIO& io = ImGui::GetIO();
        io.KeyCtrl = ctrl;
        io.KeysDown[key] = true;
        frame();
        io.KeysDown[key] = false;
        io.KeyCtrl = false;
        frames(3);
    }
    void click(ImVec2 at) {
        ImGuiIO& io = ImGui::GetIO();
        io.MousePos = at;
        frame();
        io.MouseDown[0] = true;
        frames(3);
        io.MouseDown[0] = false;
        frames(3);
    }
    void type(const char* text) {
        ImGui::GetIO().AddInputCharactersUTF8(text);
        frames(2);
    }
    /// The field is clicked and what stands in it is typed over.
    void write(const char* text) {
        click(at_field);
        press(kA, true);
        type(text);
    }
    [[nodiscard]] bool has_pen() const { return ImGui::GetIO().WantTextInput; }

    static constexpr int kEnter = 1, kEscape = 2, kTab = 3, kA = 4, kSpace = 5;
    Ui ui;
    std::optional<double> value = 1.0;
    std::string refusal;
    int moves = 0;
    ImVec2 at_field, at_button;

private:
    static ImVec2 middle() {
        const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
        return {min.x + 5, (min.y + max.y) / 2};
    }
    void take(std::optional<double> typed) {
        if (typed && *typed <= 100) {
            value = typed;
            return;
        }
        keep_pen();
        refusal = "At most 100 mm.";
    }
};

} // namespace

TEST_CASE("a sum that is not whole keeps the pen, and the number typed next is taken") {
    Bench bench;
    bench.write("0.4+");
    bench.press(Bench::kEnter);
    CHECK_FALSE(bench.refusal.empty());
    CHECK(bench.value == 1.0);
    REQUIRE(bench.has_pen()); // nothing goes to the board
    bench.press(Bench::kA, true);
    bench.type("0.42");
    bench.press(Bench::kEnter);
    CHECK(bench.value == 0.42);
    CHECK_FALSE(bench.has_pen());
}

TEST_CASE("what was refused still stands in the field to be mended") {
    Bench bench;
    bench.write("0.4+");
    bench.press(Bench::kEnter);
    REQUIRE(bench.has_pen());
    bench.press(Bench::kEnter); // once more: still no number
    REQUIRE(bench.has_pen());
    CHECK(bench.value == 1.0);
    const ImGuiID none = 0;
    CHECK(refused_text(none) == nullptr);
}

TEST_CASE("a number out of its range keeps the pen as well") {
    Bench bench;
    bench.write("200");
    bench.press(Bench::kEnter);
    CHECK(bench.refusal == "At most 100 mm.");
    CHECK(bench.has_pen());
    bench.press(Bench::kA, true);
    bench.type("50");
    bench.press(Bench::kEnter);
    CHECK(bench.value == 50.0);
}

TEST_CASE("Esc leaves a refused field with the number of before") {
    Bench bench;
    bench.write("0.4+");
    bench.press(Bench::kEnter);
    REQUIRE(bench.has_pen());
    bench.press(Bench::kEscape);
    CHECK_FALSE(bench.has_pen());
    CHECK(bench.value == 1.0);
    bench.write("3");
    bench.press(Bench::kEnter);
    CHECK(bench.value == 3.0);
}

TEST_CASE("a button beside a field that is refused works on no old number; a second click has its way") {
    Bench bench;
    bench.write("0.4+");
    bench.click(bench.at_button);
    CHECK(bench.moves == 0);
    CHECK(bench.has_pen());
    bench.click(bench.at_button);
    CHECK(bench.moves == 1);
    CHECK_FALSE(bench.has_pen());
}
