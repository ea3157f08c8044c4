#include "page/send_back.hpp"

#include <fmt/format.h>

#include "page/markup.hpp"
#include "scene/checklist.hpp"
#include "scene/words.hpp"

namespace padchart::page {
namespace {

using scene::ChecklistEntry;

/// What the chart says is done stays so: a colleague adds, and takes nothing away.
std::string entry_markup(const ChecklistEntry& entry, std::size_t number) {
    std::string more = element("small", entry.reason);
    std::string who = entry.by + (entry.by.empty() || entry.date.empty() ? "" : ", ") + entry.date;
    if (entry.done) more += element("small", who.empty() ? "done" : "done: " + who);
    return fmt::format("<li><input type=\"checkbox\" id=\"check-{0}\" data-task=\"{1}\" data-target=\"{2}\" "
                       "data-tick=\"{3}\" data-words=\"{4}\"{5}><label for=\"check-{0}\">{4} {6}</label></li>\n",
                       number, escaped(entry.task), escaped(entry.target.text), escaped(entry.tick.text),
                       escaped(entry.text), entry.done ? " checked disabled" : "", more);
}

std::string checklist_markup(const document::Chart& chart) {
    const std::vector<ChecklistEntry> entries = scene::checklist_of(chart);
    if (entries.empty()) return {};
    std::string out = "<section class=\"checks needs-script\" aria-labelledby=\"checks-title\">\n"
                      "<h2 id=\"checks-title\">After rework, before the power</h2>\n<ol class=\"checklist\">\n";
    for (std::size_t i = 0; i < entries.size(); ++i)
        out += entry_markup(entries[i], i + 1);
    return out + "</ol>\n</section>\n";
}

template <class Enum>
std::string options_markup(Enum usual) {
    std::string out;
    for (const document::Word<Enum>& word : document::words<Enum>())
        out += fmt::format("<option value=\"{}\"{}>{}</option>", escaped(word.text),
                           word.value == usual ? " selected" : "", escaped(scene::plain_words(word.value)));
    return out;
}

std::string field(std::string_view id, std::string_view label, std::string_view attributes) {
    return fmt::format(
        "<div><label for=\"reading-{0}\">{1}</label><input id=\"reading-{0}\" type=\"text\" {2}></div>\n", id, label,
        attributes);
}

template <class Enum>
std::string choice(std::string_view id, std::string_view label, Enum usual) {
    return fmt::format("<div><label for=\"reading-{0}\">{1}</label><select id=\"reading-{0}\">{2}</select></div>\n", id,
                       label, options_markup(usual));
}

std::string reading_markup() {
    using document::Leads;
    using document::PowerState;
    using document::Quantity;
    return "<details class=\"reading\" id=\"reading-form\"><summary>Add a reading</summary>\n<div class=\"fields\">\n" +
           choice("quantity", "What", Quantity::DiodeDrop) +
           field("value", "Value (a number, OL, short, unstable)", "inputmode=\"decimal\" autocomplete=\"off\"") +
           field("unit", "Unit", "autocomplete=\"off\" value=\"V\" size=\"5\"") +
           field("pad", "Pad", "autocomplete=\"off\" size=\"5\"") +
           field("reference", "Against", "autocomplete=\"off\" value=\"GND\" size=\"8\"") +
           field("meter", "Meter", "autocomplete=\"off\"") + choice("leads", "Leads", Leads::NotStated) +
           choice("power", "Power", PowerState::NotStated) +
           "</div>\n<p><button type=\"button\" id=\"reading-add\" class=\"strong\">Add this reading</button></p>\n"
           "</details>\n";
}

constexpr std::string_view kBegin =
    "<section class=\"notes needs-script\" aria-labelledby=\"notes-title\">\n"
    "<h2 id=\"notes-title\">To send back</h2>\n"
    "<p id=\"note-about\" class=\"muted\">About the whole board. Tap a part or a place to speak of that.</p>\n"
    "<label for=\"note-author\">Your name or initials</label><input id=\"note-author\" type=\"text\" "
    "autocomplete=\"name\">\n"
    "<label for=\"note-text\">Note</label><textarea id=\"note-text\" rows=\"3\"></textarea>\n"
    "<p><button type=\"button\" id=\"note-add\" class=\"strong\">Add this note</button></p>\n";

constexpr std::string_view kEnd =
    "<ol id=\"note-list\"></ol>\n"
    "<div id=\"note-send\" hidden>\n<p><button type=\"button\" id=\"note-file\" class=\"strong\">Save as a "
    "file</button> <button type=\"button\" id=\"note-share\" hidden>Share</button> <button type=\"button\" "
    "id=\"note-copy\">Copy as text</button></p>\n"
    "<label for=\"note-letters\">The same as text, for a mail</label>\n"
    "<textarea id=\"note-letters\" rows=\"5\" readonly spellcheck=\"false\"></textarea>\n"
    "<p class=\"muted\">Whoever sent you this page puts it into the chart: padchart merge CHART --notes FILE "
    "-o OUT</p>\n</div>\n<p id=\"note-kept\" class=\"muted\" role=\"status\"></p>\n</section>\n";

} // namespace

std::string send_back_markup(const document::Chart& chart) {
    return checklist_markup(chart) + std::string(kBegin) + reading_markup() + std::string(kEnd);
}

} // namespace padchart::page
