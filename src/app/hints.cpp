#include "app/hints.hpp"

#include <algorithm>

#include "app/remembered.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kRead = "hints-read.txt";
constexpr std::size_t kMostHints = 32;

std::string word_of(scene::Stage stage) {
    for (const StageInfo& info : stages())
        if (info.stage == stage) return std::string(info.word);
    return {};
}

} // namespace

std::string_view hint_for(scene::Stage stage) {
    switch (stage) {
    case scene::Stage::Survey: return "Click a part to say what it is. The key / lists everything that can be done.";
    case scene::Stage::Orient:
        return "Parts with a violet ? could go back the wrong way round. Click one, then the corner where its mark is.";
    case scene::Stage::Heat: return "Drag the nozzle ring over the board. Hatched: do not aim there.";
    case scene::Stage::Access: return "Choose the part to lift: the open sectors are where the tweezers come in.";
    case scene::Stage::Inspect: return "Freeze the chart as it was before the heat; afterwards compare part by part.";
    case scene::Stage::HandOver: return "Write the sheet as PDF or as one page for a browser, and print it at 100 %.";
    }
    return {};
}

bool Hints::is_read(const std::string& word) {
    const std::vector<std::string> read = remembered(kRead);
    return std::find(read.begin(), read.end(), word) != read.end();
}

void Hints::look(Session& s) {
    // A hint speaks of its stage alone.
    if (last_ && s.stage != *last_ && s.editor.notice() && s.editor.notice()->text == hint_for(*last_))
        s.editor.clear_notice();
    if (s.stage == last_ || s.editor.notice() || s.has_dialog()) return;
    // An empty chart has nothing to click on yet: the start page speaks for it.
    if (s.editor.chart().parts.empty()) return;
    last_ = s.stage;
    const std::string word = word_of(s.stage);
    if (word.empty() || is_read(word)) return;
    s.editor.tell(Severity::Note, std::string(hint_for(s.stage)));
    remember(kRead, word, kMostHints);
}

} // namespace padchart::app
