#include "app/shell.hpp"

#include <algorithm>

#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include "app/access_desk.hpp"
#include "app/actions.hpp"
#include "app/dialogs/dialogs.hpp"
#include "app/escape.hpp"
#include "app/import_flow.hpp"
#include "app/input_adapter.hpp"
#include "app/inspect_edits.hpp"
#include "app/key_repeat.hpp"
#include "app/name_walk.hpp"
#include "app/panels/body.hpp"
#include "app/panels/panels.hpp"
#include "app/photo_desk.hpp"
#include "app/proposal_watch.hpp"
#include "app/trace_log.hpp"
#include "app/work_desk.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

constexpr int kFits = 5;
constexpr int kFreeFits = 3; // the first ones: before the picture has been laid out for about this zoom

/// Long enough to be read: five seconds, or about 17 letters a second.
std::chrono::milliseconds reading_time(const std::string& text) {
    return std::max(std::chrono::milliseconds(5000), std::chrono::milliseconds(60 * static_cast<long>(text.size())));
}

/// Pixels about the upper left corner of the canvas.
paint::View pixel_view(const Session& s, const Layout& layout) {
    return {Vec2{layout.canvas.width(), layout.canvas.height()} / 2.0, layout.canvas, 1.0, s.ui_scale};
}

bool is_popup_open() {
    return ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
}

/// The panels' library presses what has the focus on Space alone.
void press_on_enter(ImGuiIO& io) {
    const bool is_down = io.KeysDown[ImGui::GetKeyIndex(ImGuiKey_Enter)];
    if (is_down && io.NavVisible && !io.WantTextInput) io.NavInputs[ImGuiNavInput_Activate] = 1.0F;
}

bool moves_focus(Key key) {
    return key >= Key::Left && key <= Key::PageDown;
}

/// Keys by which a panel is walked through; they stay with it while it has the focus.
bool walks_panels(Key key) {
    return moves_focus(key) || key == Key::Enter || key == Key::Tab || key == Key::Space;
}

/// A key has one effect: where no focus is to be seen in a panel, arrows move what is on the board and nothing there.
bool is_for_board_alone(const InputEvent& event, const Session& s) {
    if (event.kind != InputEvent::Kind::KeyChange || !event.down || !moves_focus(event.key)) return false;
    const ImGuiIO& io = ImGui::GetIO();
    return !io.NavVisible && !io.WantTextInput && !s.has_dialog() && !is_popup_open();
}

} // namespace

Shell::~Shell() {
    if (!has_panels_) return;
    ImGui_ImplOpenGL3_Shutdown();
    ImGui::DestroyContext();
}

Result<void> Shell::set_up(const std::string& theme, double scale) {
    if (Result<void> loaded = fonts_.load(); !loaded) return loaded;
    const paint::Theme* found = paint::find_theme(theme);
    session_.theme = found != nullptr ? theme : "paper";
    session_.ui_scale = scale;
    ImGui::CreateContext();
    connect_panels_input();
    if (Result<void> ready = ui_.set_up(found != nullptr ? *found : paint::paper_theme(), scale, fonts_); !ready) {
        ImGui::DestroyContext();
        return ready;
    }
    if (!ImGui_ImplOpenGL3_Init("#version 120")) {
        ImGui::DestroyContext();
        return Error{"The graphics driver offers no OpenGL 2.1 or later.", ""};
    }
    has_panels_ = true;
    icons_ = load_icons();
    session_.use_tool(session_.resting_tool()); // the one that knows the session's desks
    return {};
}

void Shell::use_theme() {
    const paint::Theme* theme = paint::find_theme(session_.theme);
    if (theme != nullptr && theme != &ui_.theme()) ui_.set_theme(*theme);
}

void Shell::push(const InputEvent& event) {
    queue_.push(event);
    redraw();
}

bool Shell::wants_frame() {
    // Reports of a large chart are done, or a notice has been read long enough.
    if (session_.background.update(session_.editor.snapshot())) redraw();
    if (session_.update_heat()) redraw();
    if (update_import(session_)) redraw();
    if (update_proposals(session_)) redraw();
    if (session_.desks.get<WorkDesk>().update(session_)) redraw();
    if (update_access(session_)) redraw();
    if (update_inspection(session_)) redraw();
    if (update_photos(session_) || photos_.wants_frame()) redraw();
    if (canvas_.has_news()) redraw();
    if (board_painter_.wants_frame()) frames_wanted_ = std::max(frames_wanted_, 1);
    const bool notice_over = session_.editor.notice() && session_.editor.notice()->severity == Severity::Note &&
                             std::chrono::steady_clock::now() - notice_since_ > reading_time(notice_text_);
    return frames_wanted_ > 0 || !queue_.empty() || notice_over;
}

void Shell::wait_for_photos() {
    update_photos(session_);
    session_.desks.get<PhotoDesk>().store.wait();
    photos_.hurry();
}

void Shell::age_notice() {
    const auto& notice = session_.editor.notice();
    const auto now = std::chrono::steady_clock::now();
    const std::string text = notice ? notice->text : std::string();
    if (text != notice_text_) {
        notice_text_ = text;
        notice_since_ = now;
    } else if (notice && notice->severity == Severity::Note && now - notice_since_ > reading_time(text)) {
        session_.editor.clear_notice();
    }
}

bool Shell::is_over_board(Vec2 px) const {
    return layout_.canvas.contains(px) && !ImGui::GetIO().WantCaptureMouse;
}

void Shell::take_key(const InputEvent& event) {
    if (event.key == Key::Space) canvas_.set_space(event.down && !ImGui::GetIO().WantTextInput);
    if (!event.down || is_modifier(event.key)) return;
    const ImGuiIO& io = ImGui::GetIO();
    WorkDesk& work = session_.desks.get<WorkDesk>();
    if (event.key == Key::Escape && work.holds_hands()) return work.cancel(session_);
    if (session_.has_dialog()) {
        if (event.key == Key::Escape) {
            session_.dialog = std::monostate{};
            session_.after_saving.reset();
        }
        return;
    }
    const Chord chord{event.key, event.ctrl, event.shift, event.alt};
    // A text field keeps every key but those with Ctrl that mean nothing to it.
    const bool is_field_key = !event.ctrl || event.key == Key::A || event.key == Key::C || event.key == Key::V ||
                              event.key == Key::X || event.key == Key::Z || event.key == Key::Y;
    if (io.WantTextInput && is_field_key && !(event.key >= Key::F1 && event.key <= Key::F12)) return;
    if (!io.WantTextInput && panel_key(session_, chord)) return;
    if (io.NavVisible && walks_panels(event.key)) return;
    if (had_popup_ || is_popup_open()) return;
    if (io.WantTextInput) ui_.commit_draft();
    if (canvas_.key(chord, session_)) return;
    if (chord.key == Key::Escape) return leave_by_escape(session_);
    if (held_back(session_, chord)) {
        typed_beside_ = is_meant_for_field(session_);
        return;
    }
    if (const Action* action = action_for(chord)) {
        if (event.repeated && !may_repeat(action->id)) return;
        run(*action, session_);
        // What it opened may have a field for the letters to come.
        if (session_.has_dialog() || session_.panel == Panel::AddPart || session_.desks.get<NameWalk>().wants_focus ||
            awaits_words(session_))
            ui_.await_focus();
    }
}

void Shell::take(const std::vector<InputEvent>& events) {
    for (const InputEvent& event : events) {
        if (event.kind == InputEvent::Kind::KeyChange) take_key(event);
        // The letter of that key belongs into the field as well, which takes the keys from the next frame on.
        if (event.kind == InputEvent::Kind::Text && typed_beside_) queue_.put_back(event);
        if (event.kind == InputEvent::Kind::Text && std::exchange(typed_beside_, false)) ui_.await_focus();
        // A gesture under way keeps the pointer, whatever it passes over.
        const bool over = !session_.has_dialog() && is_over_board(event.at_px);
        if (event.kind == InputEvent::Kind::Button && event.down && over) ImGui::SetWindowFocus(nullptr);
        if (over && (event.kind == InputEvent::Kind::Button || event.kind == InputEvent::Kind::Wheel)) leave_view();
        canvas_.handle(event, session_, over);
    }
}

void Shell::panels() {
    ui_.wants_frame = false;
    rulers(ui_, session_, layout_);
    status_bar(ui_, session_, layout_, canvas_);
    notice(ui_, session_, layout_, {*canvas_.scene(), key_height_px_, fits_wanted_ == 0});
    ImGui::BeginDisabled(session_.has_dialog());
    top_bar(ui_, session_, layout_);
    ImGui::BeginDisabled(is_importing(session_)); // another stage would leave the import
    rail(ui_, session_, layout_, icons_);
    ImGui::EndDisabled();
    side_panel(ui_, session_, layout_);
    ImGui::EndDisabled();
    dialogs(ui_, session_);
    work_strip(ui_, session_, layout_);
    ui_.end_frame();
}

void Shell::paint(sf::RenderTarget& target) {
    const paint::Theme& theme = ui_.theme();
    if (is_patient_) canvas_.paint_for(theme_over_photos(session_, theme));
    canvas_.refresh(session_);
    target.clear(paint::sfml_colour(theme.palette.paper));
    ground_painter_.set_scene(std::make_shared<scene::Scene>(grid_scene(session_)));
    ground_painter_.draw(target, view_of(session_), theme);
    const paint::View view = view_of(session_);
    photos_.draw(target, view, session_);
    board_painter_.draw(target, canvas_, view, theme_over_photos(session_, theme));
    const std::shared_ptr<const scene::Scene> overlay = canvas_.overlay(session_);
    overlay_painter_.set_scene(overlay);
    overlay_painter_.draw(target, view, theme);
    KeyPicture key = key_picture(session_, layout_, *canvas_.scene(), fonts_);
    key_height_px_ = key.height_px;
    canvas_.keep_free_below(key_height_px_);
    session_.legend_is_cut = key.leaves_out;
    key_painter_.set_scene(std::make_shared<scene::Scene>(std::move(key.scene)));
    key_painter_.draw(target, pixel_view(session_, layout_), theme);
    if (const auto at = canvas_.pointer_scene(session_))
        photos_.draw_loupe(target, view, *at, session_, theme, canvas_.paints(), overlay);
}

bool Shell::go_on() {
    if (!board_painter_.is_at_work()) return false;
    if (!board_painter_.go_on()) redraw(); // a new zoom of the same picture as well
    return true;
}

void Shell::fit_view() {
    // More than once: how much room legend and names take is known only when the picture has been made.
    if (std::exchange(session_.wants_fit, false)) fits_wanted_ = kFits;
    if (fits_wanted_ == 0) return;
    // Names laid out for one zoom may ask for another, whose names ask for the first again: in the end it only shrinks.
    const bool is_free = fits_wanted_ > kFits - kFreeFits;
    session_.camera.fit(canvas_.whole(session_), view_margin_px(session_) * session_.ui_scale, key_height_px_,
                        is_free ? kMostFittedPxPerMm : std::min(session_.camera.px_per_mm(), kMostFittedPxPerMm));
    fitted_ = session_.camera;
    if (--fits_wanted_ == 0) trace("view", "at rest");
}

void Shell::follow(const Layout& before) {
    const Camera& now = session_.camera;
    const bool is_as_fitted = fitted_ && now.centre() == fitted_->centre() && now.px_per_mm() == fitted_->px_per_mm();
    const geometry::Box& was = before.canvas;
    const bool is_resized = was.width() != layout_.canvas.width() || was.height() != layout_.canvas.height();
    // What is written beside the parts of a large chart is known only now.
    const bool has_come = std::exchange(seen_sitting_, canvas_.sitting()) != canvas_.sitting() && !canvas_.is_behind();
    // The window may be resized again before the last fit has come to rest.
    if (is_as_fitted && (is_resized || (has_come && fits_wanted_ == 0))) fits_wanted_ = kFits;
}

void Shell::leave_view() {
    // What the hand points at must not slip away under it.
    if (std::exchange(fits_wanted_, 0) > 0) trace("view", "at rest");
}

void Shell::step(sf::Vector2u size) {
    use_theme();
    const Layout before = std::exchange(layout_, layout_of(ui_, size.x, size.y));
    session_.camera.set_viewport(layout_.canvas);
    follow(before);
    fit_view();
    canvas_.refresh(session_);
    const std::vector<InputEvent> events = ui_.holds_input() ? std::vector<InputEvent>() : queue_.next_frame();
    for (const InputEvent& event : events)
        if (!is_for_board_alone(event, session_)) feed_panels(event);
    ImGuiIO& io = ImGui::GetIO();
    press_on_enter(io);
    io.DisplaySize = {static_cast<float>(size.x), static_cast<float>(size.y)};
    const auto now = std::chrono::steady_clock::now();
    io.DeltaTime = std::clamp(std::chrono::duration<float>(now - std::exchange(last_frame_, now)).count(), 1e-4F, 0.1F);
    ImGui_ImplOpenGL3_NewFrame();
    // Keys are the board's again at once: the focus ring of a question that is gone takes none of them.
    if (std::exchange(had_dialog_, session_.has_dialog()) && !session_.has_dialog()) ImGui::SetWindowFocus(nullptr);
    had_popup_ = is_popup_open(); // the panels close theirs on Escape before the key comes to take_key()
    ImGui::NewFrame();
    panels();
    take(events);
    session_.update_heat(); // what the hand has just moved is worked out while this frame is painted
    age_notice();
    ImGui::Render();
}

void Shell::frame(sf::RenderTarget& target, FrameWatch& watch) {
    using namespace std::chrono_literals;
    // Fast typing fills the queue: its frames are worked through unseen, only the last one is painted. Now and then one
    // is painted all the same, so that a drag never freezes.
    if (session_.stage == scene::Stage::Heat) session_.heat.keep_pace();
    watch.lap("pace");
    const auto began = std::chrono::steady_clock::now();
    do
        step(target.getSize());
    while (!queue_.empty() && std::chrono::steady_clock::now() - began < 60ms);
    // A panel's buttons would be painted below the window's edge, for as long as a frame takes.
    if (take_footer_change()) step(target.getSize());
    watch.lap("panels");
    paint(target);
    watch.lap("paint");
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    if (session_.stage == scene::Stage::Heat) trace("frame", "painted"); // the lag of live answers is counted in these
    watch.lap("panels on screen");
    frames_wanted_ = std::max(frames_wanted_ - 1, 0);
    if (ui_.wants_frame || session_.wants_fit || fits_wanted_ > 0) frames_wanted_ = std::max(frames_wanted_, 1);
}

} // namespace padchart::app
