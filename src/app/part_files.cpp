#include "app/part_files.hpp"

#include <algorithm>
#include <filesystem>

#include "app/own_families.hpp"
#include "app/tools/part_tools.hpp"
#include "app/trace_log.hpp"
#include "cli/photo_pictures.hpp"
#include "cli/shared.hpp"
#include "paint/cairo_painter.hpp"
#include "patterns/own_pattern.hpp"
#include "scene/card.hpp"
#include "json/pattern_file.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kPatternEnding = ".pattern.json";

std::string file_name(const std::string& path) {
    return std::filesystem::path(path).filename().string();
}

std::string without_ending(std::string name) {
    if (name.ends_with(kPatternEnding)) name.resize(name.size() - kPatternEnding.size());
    return name;
}

Error nothing_selected() {
    return {"Select one part first.", ""};
}

} // namespace

Result<void> load_pattern(Session& s, const std::string& path) {
    Result<json::PatternFile> file = json::load_pattern(path);
    if (!file) return file.error();
    // The name is the pattern's own; the part gets a free one of its class.
    document::Footprint part = std::move(file->pattern);
    part.name.clear();
    s.use_tool(make_place_tool(std::move(part), s.desks.get<SnapDesk>()));
    s.panel = Panel::Stage;
    trace("pattern", file_name(path));
    return {};
}

Result<void> save_pattern(Session& s, const std::string& path) {
    const document::Footprint* part = s.editor.selected_part();
    if (part == nullptr) return nothing_selected();
    if (!path.ends_with(kPatternEnding)) return Error{"The name must end with .pattern.json.", path};
    json::PatternFile file;
    file.pattern = patterns::as_pattern(*part);
    file.pattern.name = without_ending(file_name(path));
    Result<void> saved = json::save_pattern(file, path);
    if (!saved) return saved;
    s.editor.tell(Severity::Note, "Pattern saved: " + file_name(path));
    trace("pattern saved", file_name(path));
    return {};
}

void keep_among_own_families(Session& s) {
    const document::Footprint* part = s.editor.selected_part();
    if (part == nullptr) return;
    auto& own = s.desks.get<OwnFamilies>();
    const std::string wanted = part->name.empty() ? std::string("part") : part->name;
    std::string name = wanted;
    const auto is_kept = [&](const OwnFamily& family) { return family.path.filename() == name + ".pattern.json"; };
    const std::vector<OwnFamily>& all = own.all(true);
    for (int number = 2; std::any_of(all.begin(), all.end(), is_kept); ++number)
        name = wanted + " " + std::to_string(number);
    const Result<std::filesystem::path> kept = own.keep(*part, name);
    if (!kept) return s.editor.tell(Severity::Fault, describe(kept.error()));
    s.editor.tell(Severity::Note, "Kept among your own families: " + kept->filename().string());
    trace("pattern kept", kept->filename().string());
}

Result<void> open_donor(Session& s, const std::string& path) {
    Result<void> opened = s.donor.open(path);
    if (!opened) return opened;
    s.show_stage(scene::Stage::Orient);
    s.panel = Panel::Donor;
    trace("donor", file_name(path));
    return {};
}

Result<void> write_card(Session& s, const std::string& path) {
    constexpr double kPictureDpi = 200;
    const document::Footprint* part = s.editor.selected_part();
    if (part == nullptr) return nothing_selected();
    // The report must be of this very chart, also when the thread behind is late.
    const std::shared_ptr<const Computed> reports = compute(s.editor.snapshot());
    const scene::Document card =
        scene::orientation_cards(*reports->chart, reports->fit, {part->id},
                                 s.editor.path().empty() ? std::vector<scene::EvidencePicture>{}
                                                         : cli::evidence_pictures(*reports->chart, s.editor.path()));
    const paint::Theme& theme = paint::grey_print_theme();
    const std::string ending = cli::lower_case(std::filesystem::path(path).extension().string());
    Result<void> written = Error{"The name must end with .pdf, .svg or .png.", path};
    if (ending == ".pdf") written = paint::write_pdf(card, theme, path);
    if (ending == ".svg") written = paint::write_svg(card.pages.front(), theme, path);
    if (ending == ".png") written = paint::write_png(card.pages.front(), theme, kPictureDpi, path);
    if (!written) return written;
    s.editor.tell(Severity::Note, "Written: " + file_name(path));
    trace("card", file_name(path));
    return {};
}

} // namespace padchart::app
