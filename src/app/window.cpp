#include "app/window.hpp"

#include <algorithm>
#include <cctype>
#include <chrono>
#include <cstdlib>
#include <iostream>

#include <SFML/Graphics/Image.hpp>
#include <SFML/Graphics/RenderTexture.hpp>
#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/Graphics/Texture.hpp>
#include <SFML/System/Sleep.hpp>

#include "app/access_desk.hpp"
#include "app/clipboard.hpp"
#include "app/display.hpp"
#include "app/documents.hpp"
#include "app/drafts.hpp"
#include "app/frame_watch.hpp"
#include "app/habits.hpp"
#include "app/hints.hpp"
#include "app/import_flow.hpp"
#include "app/input_adapter.hpp"
#include "app/inspect_edits.hpp"
#include "app/keeper.hpp"
#include "app/key_file.hpp"
#include "app/shell.hpp"
#include "app/start_desk.hpp"
#include "app/trace_log.hpp"
#include "cli/user_folders.hpp"

namespace padchart::app {
namespace {

/// A drawing is not opened but brought in, with its preview.
Result<void> take_up(Session& s, const WindowOptions& options) {
    std::string ending = std::filesystem::path(options.chart).extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) { return std::tolower(c); });
    if (ending != ".svg") return open_chart(s, options.chart);
    Result<void> begun = begin_import(s, options.chart);
    if (begun && !options.snapshot.empty()) wait_for_import(s);
    return begun;
}

Result<void> prepare(Shell& shell, const WindowOptions& options) {
    if (Result<void> ready = shell.set_up(options.theme, options.scale); !ready) return ready;
    shell.smooth(options.smoothing);
    Session& s = shell.session();
    s.editor.start_new(new_chart());
    load_key_file(s);
    if (!options.chart.empty())
        if (Result<void> opened = take_up(s, options); !opened) {
            if (!options.snapshot.empty()) return opened;
            // Opened from a desktop nobody reads what a program prints: the window comes and says why.
            const std::string why = describe(opened.error());
            std::cerr << "padchart-window: " << why << '\n';
            s.editor.tell(Severity::Fault, why);
            trace("not opened", why);
            return {};
        }
    if (options.stage) s.show_stage(*options.stage);
    s.seen_from = options.side;
    s.wants_fit = true;
    if (options.select.empty()) return {};
    const auto at = document::find_part_named(s.editor.chart(), options.select);
    if (!at) return Error{"No part of the chart is called \"" + options.select + "\".", options.chart};
    const document::Footprint& part = s.editor.chart().parts[*at];
    s.seen_from = part.placement.side;
    s.editor.select({part.id});
    return {};
}

Result<void> write_snapshot(const WindowOptions& options) {
    sf::RenderTexture target;
    const unsigned smoothing = std::min(options.smoothing, sf::RenderTexture::getMaximumAntialiasingLevel());
    if (!target.create(options.width_px, options.height_px, sf::ContextSettings(0, 0, smoothing)))
        return Error{"A picture of this size cannot be made; ask for a smaller one.", options.snapshot};
    target.setActive(true);
    Shell shell;
    shell.draw_at_once();
    FrameWatch watch;
    if (Result<void> ready = prepare(shell, options); !ready) return ready;
    // The first frames settle sizes and reports; the last is the picture.
    for (int i = 0; i < 10; ++i) {
        target.setActive(true);
        shell.frame(target, watch);
        if (i == 1) shell.session().background.wait();
        if (i == 1) shell.session().wait_for_heat();
        if (i == 1) wait_for_access(shell.session());
        if (i == 1 && shell.session().stage == scene::Stage::Access) look_near(shell.session());
        if (i == 1) wait_for_inspection(shell.session());
        if (i == 1) shell.wait_for_photos();
        if (i == 1) shell.session().wants_fit = true; // names have moved for what has come
    }
    target.display();
    if (!target.getTexture().copyToImage().saveToFile(options.snapshot))
        return Error{"The picture cannot be written; is the folder there, and does the name end with .png?",
                     options.snapshot};
    return {};
}

/// Waits longer the longer nothing has happened: a hand at work is answered at once, an idle window costs nothing.
class Patience {
public:
    void reset() { last_ = std::chrono::steady_clock::now(); }
    void wait() const {
        using namespace std::chrono_literals;
        const auto idle = std::chrono::steady_clock::now() - last_;
        const auto pause = idle < 300ms ? 2ms : idle < 3s ? 10ms : 30ms;
        sf::sleep(sf::milliseconds(static_cast<sf::Int32>(pause.count())));
    }

private:
    std::chrono::steady_clock::time_point last_ = std::chrono::steady_clock::now();
};

class MainWindow {
public:
    explicit MainWindow(const WindowOptions& options)
        : window_(sf::VideoMode(options.width_px, options.height_px), "Padchart", sf::Style::Default,
                  sf::ContextSettings(0, 0, options.smoothing)) {
        window_.setKeyRepeatEnabled(true);
        // Without a window manager the window would lie half off the screen.
        if (std::getenv("PADCHART_TRACE") != nullptr) window_.setPosition({0, 0});
    }

    Result<void> run(const WindowOptions& options) {
        window_.setActive(true);
        Shell shell;
        if (Result<void> ready = prepare(shell, options); !ready) return ready;
        Keeper keeper(cli::state_folder());
        Hints hints;
        Habits habits(cli::state_folder());
        habits.take_up(shell.session(), options.theme.empty());
        if (options.chart.empty()) greet(shell.session());
        offer_lost_work(shell.session());
        connect_clipboard(shell.session().desks.get<Clipboard>());
        Patience patience;
        FrameWatch watch;
        while (!shell.session().wants_quit) {
            watch.begin_round();
            if (poll(shell)) patience.reset();
            watch.lap("events");
            keeper.look(shell.session());
            habits.look(shell.session());
            hints.look(shell.session());
            watch.lap("journal");
            const bool wants_frame = shell.wants_frame();
            watch.lap("answers");
            if (wants_frame) {
                window_.setActive(true);
                shell.frame(window_, watch);
                window_.display();
                watch.lap("display");
                name_window(shell.session());
            }
            const bool goes_on = !wants_frame && shell.go_on();
            watch.lap("board");
            watch.end_round();
            if (!wants_frame && !goes_on) patience.wait();
        }
        watch.report();
        habits.end(shell.session());
        keeper.end();
        window_.close();
        return {};
    }

private:
    bool poll(Shell& shell) {
        using namespace std::chrono_literals;
        bool any = false;
        for (sf::Event event{}; window_.pollEvent(event);) {
            any = true;
            if (event.type == sf::Event::Closed) ask_or_do(shell.session(), AfterSaving::Quit);
            if (event.type == sf::Event::Resized)
                window_.setView(sf::View(
                    sf::FloatRect(0, 0, static_cast<float>(event.size.width), static_cast<float>(event.size.height))));
            if (event.type == sf::Event::Resized) settles_until_ = now() + 400ms;
            if (const auto input = adapter_.translate(event)) shell.push(*input);
            shell.redraw();
        }
        // The system may tell of another size before the window has it, and once it has, of nothing.
        if (now() < settles_until_) shell.redraw();
        return any;
    }

    static std::chrono::steady_clock::time_point now() { return std::chrono::steady_clock::now(); }

    void name_window(const Session& s) {
        const document::Title& t = s.editor.chart().title;
        std::string name = t.title.empty() ? s.editor.path().filename().string() : t.title;
        if (name.empty()) name = "new chart";
        name = (is_all_kept(s) ? "" : "* ") + name + " - Padchart";
        if (name == name_) return;
        name_ = name;
        window_.setTitle(sf::String::fromUtf8(name.begin(), name.end()));
    }

    sf::RenderWindow window_;
    InputAdapter adapter_;
    std::string name_;
    std::chrono::steady_clock::time_point settles_until_{};
};

} // namespace

Result<void> show_window(const WindowOptions& options) {
    if (const auto reason = why_no_display()) return Error{*reason, ""};
    if (!options.snapshot.empty()) return write_snapshot(options);
    MainWindow window(options);
    return window.run(options);
}

} // namespace padchart::app
