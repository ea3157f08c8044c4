#include "support.hpp"
#include <fstream>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <random>
#include <set>

#include "app/actions.hpp"
#include "app/key_file.hpp"

namespace padchart::app {
namespace {

std::vector<KeyedAction> three() {
    return {{"save", {ctrl(Key::S)}}, {"fit", {{Key::Home}}}, {"hide", {{Key::H}}}};
}

std::string all_of(const Diagnostics& findings) {
    std::string text;
    for (const Diagnostic& finding : findings)
        text += finding.where + ": " + finding.message + "\n";
    return text;
}

bool says(const Diagnostics& findings, std::string_view words) {
    return all_of(findings).find(words) != std::string::npos;
}

/// A home of its own, and the usual keys again afterwards.
class OwnHome {
public:
    OwnHome() {
        setenv("XDG_CONFIG_HOME", folder_.path().c_str(), 1);
        for (const Action& action : actions())
            usual_.push_back({std::string(action.id), action.keys});
    }
    OwnHome(const OwnHome&) = delete;
    OwnHome& operator=(const OwnHome&) = delete;
    ~OwnHome() {
        unsetenv("XDG_CONFIG_HOME");
        for (const KeyedAction& action : usual_)
            set_keys(action.id, action.keys);
    }
    void write(const std::string& text) const {
        std::filesystem::create_directories(key_file_path().parent_path());
        std::ofstream(key_file_path()) << text;
    }

private:
    ScratchFolder folder_;
    std::vector<KeyedAction> usual_;
};

TEST_CASE("every key that is shown is read back as it is shown") {
    for (int k = 1; k < kKeyCount; ++k) {
        const Key key = static_cast<Key>(k);
        for (int held = 0; held < 8; ++held) {
            const Chord chord{key, (held & 1) != 0, (held & 2) != 0, (held & 4) != 0};
            const auto read = chord_from(to_text(chord));
            if (key == Key::Escape || is_modifier(key)) {
                CHECK_FALSE(read);
            } else {
                REQUIRE_MESSAGE(read, to_text(chord));
                CHECK(*read == chord);
            }
        }
    }
}

TEST_CASE("case and spaces mean nothing in a key and nonsense is none") {
    CHECK(chord_from("ctrl + SHIFT+s") == ctrl_shift(Key::S));
    CHECK(chord_from("Ctrl++") == ctrl(Key::Plus));
    CHECK(chord_from("page  UP") == Chord{Key::PageUp});
    for (const char* text : {"", "Ctrl+", "Ctrl+Ctrl+S", "Hyper+S", "SS", "F13", "Ctrl", "Esc"})
        CHECK_FALSE_MESSAGE(chord_from(text), text);
}

TEST_CASE("the file gives keys and what it does not name stays") {
    std::vector<KeyedAction> actions = three();
    const Diagnostics findings = apply_keys("# mine\n save = F9 or Ctrl+S # two\n\nhide =\n", actions);
    CHECK(findings.empty());
    CHECK(actions[0].keys == std::vector<Chord>{{Key::F9}, ctrl(Key::S)});
    CHECK(actions[1].keys == std::vector<Chord>{{Key::Home}});
    CHECK(actions[2].keys.empty());
}

TEST_CASE("a key taken from an action that is not named is told") {
    std::vector<KeyedAction> actions = three();
    const Diagnostics findings = apply_keys("save = H", actions);
    CHECK(says(findings, "line 1: H was the key of \"hide\" and is now the key of \"save\"."));
    CHECK(actions[2].keys.empty());
    actions = three();
    CHECK(apply_keys("save = H\nhide = Ctrl+S", actions).empty()); // both named: an exchange
    CHECK(actions[2].keys == std::vector<Chord>{ctrl(Key::S)});
}

TEST_CASE("what is wrong in the file is told with its line and left out") {
    std::vector<KeyedAction> actions = three();
    const Diagnostics findings =
        apply_keys("nobody = F9\nsave F9\nsave = Moon\nfit = F8\nfit = F7\nhide = F8", actions);
    CHECK(findings.size() == 5);
    CHECK(says(findings, "line 1: No action is called \"nobody\"."));
    CHECK(says(findings, "line 2: \"save F9\" is no line of keys"));
    CHECK(says(findings, "line 3: \"Moon\" is no key"));
    CHECK(says(findings, "line 5: \"fit\" stands here a second time"));
    CHECK(says(findings, "line 6: F8 is already the key of \"fit\" in line 4."));
    CHECK(actions[1].keys == std::vector<Chord>{{Key::F8}});
    CHECK(actions[0].keys == three()[0].keys); // a slip of the pen leaves the usual key
    CHECK(actions[2].keys == three()[2].keys);
}

TEST_CASE("no bytes in a key file make it stumble") {
    std::mt19937 random(20260314);
    constexpr std::string_view kLetters = "save=Ctrl+F9,or #\n\r\t\xff=hide";
    for (int i = 0; i < 3000; ++i) {
        std::string text;
        const std::size_t length = random() % 60;
        for (std::size_t k = 0; k < length; ++k)
            text += kLetters[random() % kLetters.size()];
        std::vector<KeyedAction> actions = three();
        const Diagnostics findings = apply_keys(text, actions);
        CHECK(findings.size() <= length);
        CHECK(actions.size() == 3);
    }
}

TEST_CASE("no two actions have the same key and none has a name twice") {
    std::set<std::string> keys, ids;
    for (const Action& action : actions()) {
        CHECK_MESSAGE(ids.insert(std::string(action.id)).second, action.id);
        for (const Chord& chord : action.keys)
            CHECK_MESSAGE(keys.insert(to_text(chord)).second, to_text(chord), " ", action.id);
    }
}

TEST_CASE("the written key file holds all actions and changes nothing when it is read") {
    const OwnHome home;
    Session session;
    write_key_file(session);
    std::vector<KeyedAction> before;
    for (const Action& action : actions())
        before.push_back({std::string(action.id), action.keys});
    session.editor.clear_notice();
    std::ifstream in(key_file_path());
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    for (const Action& action : actions())
        CHECK_MESSAGE(text.find("\n#" + std::string(action.id) + " = ") != std::string::npos, action.id);
    load_key_file(session);
    CHECK_FALSE(session.editor.notice());
    for (std::size_t i = 0; i < before.size(); ++i)
        CHECK(actions()[i].keys == before[i].keys);
    home.write("save = F9\n");
    write_key_file(session); // never replaced
    load_key_file(session);
    CHECK(action_for({Key::F9})->id == "save");
    CHECK(action_for(ctrl(Key::S)) == nullptr);
}

TEST_CASE("a broken key file becomes a notice and the window opens") {
    const OwnHome home;
    home.write("save = F9\nnobody = F8\nfit = Moon\n");
    Session session;
    load_key_file(session);
    REQUIRE(session.editor.notice());
    CHECK(session.editor.notice()->text.find("line 2") != std::string::npos);
    CHECK(session.editor.notice()->text.find("And line 3: \"Moon\" is no key") != std::string::npos);
    CHECK(action_for({Key::F9})->id == "save");
}

TEST_CASE("findings of a key file stand in the order of its lines, whenever they are found") {
    std::vector<KeyedAction> actions = three();
    const Diagnostics findings = apply_keys("save = H\nnonsense\n", actions);
    REQUIRE(findings.size() == 2);
    CHECK(findings[0].where == "line 1"); // only told when all is read: another action had that key
    CHECK(findings[1].where == "line 2");
}

} // namespace
} // namespace padchart::app
