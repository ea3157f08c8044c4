#pragma once
// The few building blocks of every panel, in the program's own look.

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>

#include "app/ui.hpp"
#include "document/vocabulary.hpp"
#include "patterns/labels.hpp"

namespace padchart::app {

enum class ButtonKind { Plain, Outlined, Filled };

/// Width 0: as wide as the label needs; below 0: the rest of the line.
bool button(const Ui& ui, const char* label, ButtonKind kind = ButtonKind::Plain, float width = 0.0F,
            bool enabled = true, float height = 0.0F);
/// Two or three buttons of equal width over the line; call before each.
[[nodiscard]] float share_of_line(int count);

void heading(const Ui& ui, std::string_view text);
void title(const Ui& ui, std::string_view text);
void muted(const Ui& ui, std::string_view text);
void wrapped(const Ui& ui, std::string_view text);
/// The first of them, as many as find room whole, with a point between them.
[[nodiscard]] std::string joined_within(std::span<const std::string> words, float room);
/// Broken at blanks where it is wider than `room`.
[[nodiscard]] std::string in_lines(ImFont* font, std::string_view text, float room);
void rule(const Ui& ui);
void gap(const Ui& ui, double design_px);
/// Label at the left, the answer in bold at the right; the answer is wrapped below where the line is too short.
void fact(const Ui& ui, const char* label, std::string_view value);

enum class Tone { Plain, Fine, Unknown, Danger };
/// The sentence a panel begins with, and why.
void verdict(const Ui& ui, Tone tone, std::string_view sentence, std::string_view reason);
void progress(const Ui& ui, double fraction);
/// A round sign at the start of a line: filled, or a ring, so that it reads without colour.
void dot(const Ui& ui, Tone tone, bool filled);

using Commit = std::function<void(const std::string&)>;

/// `commit` is called once, when the pen leaves the field, and only if the text has changed. `id` must be unique in the
/// panel and name the thing it edits.
void text_field(Ui& ui, const char* label, const std::string& value, const Commit& commit, const char* hint = "");
/// As above, for several sentences: some lines below the label, broken as one types. Enter hands over, Shift+Enter
/// begins a line.
void note_field(Ui& ui, const char* label, const std::string& value, const Commit& commit, const char* hint = "");
/// The same lines for a text that is kept as it is typed. True when Enter is pressed in it.
bool note_entry(const Ui& ui, const char* id, std::string& text, const char* hint);
/// As above; takes what base/typed_number.hpp takes in this unit. An empty field is nothing. What is no number calls
/// `refuse`.
void number_field(Ui& ui, const char* label, std::optional<double> value, const char* unit,
                  const std::function<void(std::optional<double>)>& commit,
                  const std::function<void(std::string)>& refuse);
/// A choice among words; long lists get a search field. Calls `commit` with the position chosen.
void choice_field(Ui& ui, const char* label, std::span<const std::string> words, std::size_t chosen,
                  const std::function<void(std::size_t)>& commit);

/// As much of the text as fits, with dots where some is left out; in the current font.
[[nodiscard]] std::string fitted(const std::string& text, float room);

/// As much of the text as fits the rest of the line; all of it at the pointer where some is cut and `hovered`.
/// True where it shows that.
bool fitted_with_tip(const Ui& ui, const std::string& text, bool hovered);

/// "not-checked" as people read it: "not checked".
[[nodiscard]] std::string spoken(std::string_view word);

template <class Enum>
void word_field(Ui& ui, const char* label, Enum value, std::function<void(Enum)> commit) {
    std::vector<std::string> words;
    std::size_t chosen = 0;
    for (const document::Word<Enum>& word : document::words<Enum>()) {
        if (word.value == value) chosen = words.size();
        if constexpr (std::is_same_v<Enum, document::PartClass>)
            words.emplace_back(patterns::label_of(word.value));
        else
            words.push_back(spoken(word.text));
    }
    choice_field(ui, label, words, chosen, [commit](std::size_t i) { commit(document::words<Enum>()[i].value); });
}

/// True where every word of `filter` occurs in the text, case ignored.
[[nodiscard]] bool matches(std::string_view text, std::string_view filter);

} // namespace padchart::app
