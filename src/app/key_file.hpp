#pragma once
// Keys of one's own. A text file, one action a line, read when the window opens:
//
//     # what stands behind a # is for people
//     save = Ctrl+S
//     redo = Ctrl+Y or Ctrl + Shift + Z
//     cut =
//
// Names are the ids of the table of actions; "=" with nothing behind it leaves the action without a key. Actions that
// are not named keep the keys they have, unless a line gives one of them to another. Upper and lower case and spaces
// mean nothing in keys. Nothing in the file can keep the window from opening: what is not understood, or given twice,
// is told and left out.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/key.hpp"
#include "base/diagnostic.hpp"
#include "base/result.hpp"

namespace padchart::app {

struct Session;

/// "ctrl + shift+s", "F5", "+", "Page up". Nothing where it is no key that an action can have: Esc and the modifiers
/// alone belong to the window.
[[nodiscard]] std::optional<Chord> chord_from(std::string_view text);

/// An action and its keys, for the functions below to be tested without the table.
struct KeyedAction {
    std::string id;
    std::vector<Chord> keys;
};
/// Gives the actions the keys of the file. The findings say what was left out, with the line.
[[nodiscard]] Diagnostics apply_keys(std::string_view file, std::vector<KeyedAction>& actions);

/// $XDG_CONFIG_HOME/padchart/keys.txt, else below ~/.config (XDG Base Directory Specification 0.8); empty without a
/// home.
[[nodiscard]] std::filesystem::path key_file_path();
/// Reads the file where there is one; what there is to say becomes the notice.
void load_key_file(Session& session);
/// Writes all actions with the keys in force, each behind a #, for people to edit. Never replaces a file.
void write_key_file(Session& session);

} // namespace padchart::app
