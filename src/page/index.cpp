#include "page/index.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/counted.hpp"
#include "page/markup.hpp"
#include "page/page_frame.hpp"
#include "page/theme_style.hpp"

namespace padchart::page {
namespace {

std::size_t count_of(const IndexEntry& entry, Severity severity) {
    return static_cast<std::size_t>(std::count_if(entry.findings.begin(), entry.findings.end(),
                                                  [&](const Diagnostic& f) { return f.severity == severity; }));
}

std::string links_markup(const IndexEntry& entry) {
    std::string out;
    for (const IndexLink& link : entry.links)
        out += fmt::format("{}<a href=\"{}\">{}</a>", out.empty() ? "" : " · ", escaped(link_path(link.path)),
                           escaped(link.label));
    return out;
}

/// The most urgent ones; the chart's own page and `padchart check` have them all.
std::string findings_markup(const IndexEntry& entry) {
    constexpr std::size_t kShown = 3;
    if (entry.findings.empty()) return "none";
    const std::size_t open = entry.findings.size() - count_of(entry, Severity::Note);
    std::string items;
    for (std::size_t i = 0; i < std::min(entry.findings.size(), kShown); ++i)
        items += element("li", entry.findings[i].message,
                         entry.findings[i].severity == Severity::Note ? "" : " class=\"urgent\"");
    if (entry.findings.size() > kShown)
        items += element("li", fmt::format("and {} more", entry.findings.size() - kShown));
    return fmt::format("<details><summary>{}, {}</summary><ul>{}</ul></details>", counted(open, "warning"),
                       counted(count_of(entry, Severity::Note), "remark"), items);
}

std::string parts_in_words(const IndexEntry& entry) {
    std::string text = fmt::format("{} top, {} bottom", entry.top_parts, entry.bottom_parts);
    if (entry.absent > 0) text += fmt::format("; {} not on the board", entry.absent);
    if (entry.unrecorded > 0) text += fmt::format("; {} could go back wrong", entry.unrecorded);
    return text;
}

std::string row(const IndexEntry& entry) {
    const std::string name = fmt::format("<small>{}</small>", escaped(entry.name));
    if (entry.error)
        return fmt::format(
            "<tr class=\"broken\"><th scope=\"row\">{}</th><td colspan=\"4\" class=\"urgent\">Could not be "
            "read: {}</td><td>{}</td></tr>\n",
            name, escaped(*entry.error), links_markup(entry));
    const std::string title = entry.title.title.empty() ? "Chart without a title" : entry.title.title;
    const std::string dated = entry.title.chart_revision.empty()
                                  ? entry.title.date
                                  : fmt::format("{}, {}", entry.title.chart_revision, entry.title.date);
    return fmt::format("<tr><th scope=\"row\">{}<br>{}</th><td>{}</td><td "
                       "class=\"day\">{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n",
                       name_markup(title), name, escaped(board_in_words(entry.title)), escaped(dated),
                       escaped(parts_in_words(entry)), findings_markup(entry), links_markup(entry));
}

std::string summary(const std::vector<IndexEntry>& entries) {
    const auto broken = static_cast<std::size_t>(
        std::count_if(entries.begin(), entries.end(), [](const IndexEntry& entry) { return entry.error.has_value(); }));
    std::size_t warnings = 0;
    for (const IndexEntry& entry : entries)
        warnings += entry.findings.size() - count_of(entry, Severity::Note);
    std::string text = counted(entries.size(), "chart") + ", " + counted(warnings, "warning");
    if (broken > 0) text += fmt::format(", {} could not be read", broken);
    return text + ".";
}

} // namespace

std::string link_path(std::string_view path) {
    std::string out;
    for (const char c : path) {
        const bool stays = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                           std::string_view("-._~/").find(c) != std::string_view::npos;
        out += stays ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
    return out;
}

std::string index_page(const std::string& heading, const std::vector<IndexEntry>& entries) {
    const std::string style = std::string(page_asset("page/page.css")) + theme_style();
    std::string out = page_head(heading, style, {});
    out += "<body>\n<header><h1>" + escaped(heading) + "</h1>\n" + element("p", summary(entries)) +
           "</header>\n<main class=\"plain\">\n";
    out += "<div class=\"table\" tabindex=\"0\" role=\"region\" aria-label=\"Charts\"><table><thead><tr>";
    for (const char* column : {"Chart", "Board", "Revision, day", "Parts", "Findings", "Files"})
        out += element("th", column, " scope=\"col\"");
    out += "</tr></thead>\n<tbody>\n";
    for (const IndexEntry& entry : entries)
        out += row(entry);
    return out + "</tbody></table></div>\n</main>\n</body>\n</html>\n";
}

} // namespace padchart::page
