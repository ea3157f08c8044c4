#include "scene/compared.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/counted.hpp"

namespace padchart::scene {
namespace {

// Beyond it the list is no longer read on paper; the window tells them all.
constexpr std::size_t kMostLines = 30;

void add_doubts(const Diagnostics& findings, std::vector<std::string>& lines) {
    for (const Diagnostic& finding : findings)
        if (finding.severity != Severity::Note) lines.push_back(finding.message);
}

std::vector<std::string> lines_of(const analysis::CompareReport& report) {
    std::vector<std::string> lines;
    std::size_t harmless = 0;
    for (const analysis::Change& change : report.changes) {
        if (change.harmless)
            ++harmless;
        else
            lines.push_back(change.message);
    }
    for (const analysis::LeftInPlace& left : report.left_in_place)
        lines.push_back(left.message);
    if (lines.size() > kMostLines) {
        const std::size_t rest = lines.size() - kMostLines;
        lines.resize(kMostLines);
        lines.push_back(fmt::format("And {} more; the chart itself tells them all.", rest));
    }
    if (harmless > 0) lines.push_back(counted(harmless, "harmless difference") + " not listed.");
    return lines;
}

} // namespace

Outcome outcome_of(const analysis::SweepProgress& progress) {
    if (progress.parts == 0) return {Outcome::Kind::NoPart, "Neither chart holds a part.", ""};
    const std::string words = analysis::in_words(progress) + ".";
    if (const std::size_t differ = progress.all_that_differ(); differ > 0)
        return {Outcome::Kind::Differs, differ == 1 ? "One part differs." : fmt::format("{} parts differ.", differ),
                words};
    if (progress.not_checked() == 0) return {Outcome::Kind::AsBefore, "Everything is as it was.", words};
    return {Outcome::Kind::NotAllSeen, "Not everything was looked at again.", words};
}

SheetSection compared_section(const document::Chart& before, const document::Chart& after,
                              const Diagnostics& findings) {
    const analysis::CompareReport report = analysis::compare(before, after);
    const Outcome outcome = outcome_of(analysis::sweep_progress(after, analysis::sweep_of(before, after, report)));
    SheetSection section{outcome.headline, {}};
    if (!outcome.words.empty()) section.paragraphs.push_back(outcome.words);
    for (std::string& line : lines_of(report))
        section.paragraphs.push_back(std::move(line));
    add_doubts(findings, section.paragraphs);
    add_doubts(report.findings, section.paragraphs);
    return section;
}

} // namespace padchart::scene
