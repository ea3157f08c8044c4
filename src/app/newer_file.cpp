#include "app/newer_file.hpp"

#include <algorithm>

#include "app/file_fingerprint.hpp"

namespace padchart::app {
namespace {

/// The chart in hand is that of the step, or was made from it.
bool comes_from(const document::History& history, const TakenFile& file) {
    const auto& steps = history.steps();
    const auto end = steps.begin() + static_cast<std::ptrdiff_t>(history.position()) + 1;
    return std::any_of(steps.begin(), end, [&](const document::Step& step) { return step.chart == file.chart; });
}

} // namespace

std::optional<std::size_t> expected_fingerprint(const Session& s) {
    const auto* desk = s.desks.find<NewerFileDesk>();
    if (desk != nullptr && desk->sitting == s.editor.sitting())
        for (const TakenFile& file : desk->taken)
            if (!comes_from(s.editor.history(), file)) return file.older;
    return fingerprint_known(s.editor);
}

bool is_file_newer(const Session& s) {
    const auto now = fingerprint_of(s.editor.path()), then = expected_fingerprint(s);
    return now && then && now != then;
}

Result<void> take_as_step(Session& s) {
    auto& desk = s.desks.get<NewerFileDesk>();
    if (desk.sitting != s.editor.sitting()) desk = {{}, s.editor.sitting()};
    const auto older = expected_fingerprint(s);
    std::erase_if(desk.taken, [&](const TakenFile& file) { return !comes_from(s.editor.history(), file); });
    const auto before = s.editor.snapshot();
    if (Result<void> taken = s.editor.take_newer_file(); !taken) return taken;
    if (s.editor.snapshot() != before) desk.taken.push_back({s.editor.snapshot(), older});
    return {};
}

void forget_taken(Session& s) {
    s.desks.get<NewerFileDesk>().taken.clear();
}

} // namespace padchart::app
