// The mark, what it means, how that is known, and angles as the trade counts them.

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "app/orientation.hpp"
#include "app/panels/orient_parts.hpp"
#include "app/widgets.hpp"
#include "document/edits.hpp"
#include "patterns/labels.hpp"
#include "patterns/marks.hpp"
#include "patterns/zero_orientation.hpp"

namespace padchart::app {
namespace {

using document::Evidence;
using document::EvidenceKind;
using document::Footprint;
using document::MarkKind;
using document::Meaning;

template <class Enum>
void word_choice(Ui& ui, const char* label, std::span<const Enum> values, Enum now,
                 const std::function<void(Enum)>& set) {
    std::vector<std::string> words;
    std::size_t chosen = values.size();
    for (const Enum value : values) {
        if (value == now) chosen = words.size();
        words.emplace_back(patterns::label_of(value));
    }
    if (chosen == values.size()) // an older record may hold what the list does not offer
        words.emplace_back(patterns::label_of(now));
    choice_field(ui, label, words, chosen, [values, set](std::size_t i) {
        if (i < values.size()) set(values[i]);
    });
}

template <class Enum>
std::span<const Enum> all_of() {
    static const std::vector<Enum> kAll = [] {
        std::vector<Enum> all;
        for (const auto& word : document::words<Enum>())
            all.push_back(word.value);
        return all;
    }();
    return kAll;
}

/// The marks such a part usually bears, at one touch each.
void mark_chips(Ui& ui, Session& s, const Footprint& part, MarkKind now) {
    constexpr std::size_t kShown = 5;
    const std::vector<MarkKind> marks = patterns::usual_marks(part.part_class);
    const float room = ImGui::GetContentRegionAvail().x;
    float used = 0;
    for (std::size_t i = 0; i < std::min(kShown, marks.size()); ++i) {
        const std::string label(patterns::label_of(marks[i]));
        const float width = ImGui::CalcTextSize(label.c_str()).x + ui.px(26);
        const float space = ImGui::GetStyle().ItemSpacing.x;
        if (i > 0 && used + space + width <= room) {
            ImGui::SameLine();
            used += space + width;
        } else {
            used = width;
        }
        const bool chosen = marks[i] == now;
        if (button(ui, label.c_str(), chosen ? ButtonKind::Filled : ButtonKind::Plain, width, true, ui.px(30)))
            draft_mark(s, part, marks[i]);
    }
}

void evidence_fields(Ui& ui, Session& s, const Footprint& part) {
    Evidence& evidence = orient_draft(s, part).orientation.evidence;
    word_choice<EvidenceKind>(ui, "Evidence", all_of<EvidenceKind>(), evidence.kind,
                              [&](EvidenceKind kind) { evidence.kind = kind; });
    evidence_photo(ui, s, part);
    const document::Id id = part.id;
    const auto set = [&s, id](std::string Evidence::*field) {
        return [&s, id, field](const std::string& text) {
            if (s.orient.part == id) s.orient.orientation.evidence.*field = text;
        };
    };
    text_field(ui, "Where seen", evidence.note, set(&Evidence::note), "photo 2, upper left");
    text_field(ui, "Who says so", evidence.by, set(&Evidence::by));
    text_field(ui, "When", evidence.date, set(&Evidence::date), "2026-03-14");
}

bool is_risky(const analysis::PartFit& fit, double turn_deg) {
    return std::any_of(fit.risky_turns.begin(), fit.risky_turns.end(),
                       [turn_deg](double risky) { return std::abs(std::remainder(risky - turn_deg, 360.0)) < 1e-6; });
}

} // namespace

void record_fields(Ui& ui, Session& s, const Footprint& part, const analysis::PartFit& fit) {
    const document::Orientation& o = orient_draft(s, part).orientation;
    title(ui, "What mark is it?");
    mark_chips(ui, s, part, o.mark);
    word_choice<MarkKind>(ui, "Mark", all_of<MarkKind>(), o.mark, [&](MarkKind mark) { draft_mark(s, part, mark); });
    word_choice<Meaning>(ui, "What it means here", patterns::possible_meanings(part.part_class), o.meaning,
                         [&](Meaning meaning) { orient_draft(s, part).orientation.meaning = meaning; });
    if (const auto usual = patterns::usual_meaning(part.part_class, o.mark)) {
        const std::string sure = fmt::format("Usual is {}, certainty {}.", patterns::label_of(usual->meaning),
                                             patterns::label_of(usual->certainty));
        muted(ui, usual->remark.empty() ? sure : sure + " " + std::string(usual->remark));
    }
    fact(ui, "If fitted wrong", patterns::consequence_text(static_cast<int>(fit.consequence)));
    rule(ui);
    title(ui, "How is it known?");
    evidence_fields(ui, s, part);
}

void angle_fields(Ui& ui, Session& s, const Footprint& part) {
    title(ui, "Angles");
    const OrientDraft& draft = orient_draft(s, part);
    fact(ui, "Turn of the part", fmt::format("{:.4g}°", part.placement.turn.wrapped().degrees()));
    const double seen = (draft.orientation.bearing + part.placement.turn).wrapped().degrees();
    fact(ui, "Bearing of the mark", draft.has_place ? fmt::format("{:.4g}°", seen) : std::string("not chosen"));
    ZeroShown& zero = s.desks.get<OrientDesk>().zero;
    static const std::array<std::string, 3> kLevels{"not asked for", "level A, IPC-7351", "level B, IEC 61188-7"};
    choice_field(ui, "Zero orientation", kLevels, static_cast<std::size_t>(zero),
                 [&zero](std::size_t i) { zero = static_cast<ZeroShown>(i); });
    if (zero != ZeroShown::None) {
        const bool is_a = zero == ZeroShown::LevelA;
        const auto turn = patterns::turn_from_zero(part, is_a ? patterns::ZeroLevel::A : patterns::ZeroLevel::B);
        fact(ui, is_a ? "Turned from level A" : "Turned from level B",
             turn ? fmt::format("{:.4g}°", turn->degrees()) : std::string("land 1 is not known"));
    }
    muted(ui, "Counter-clockwise, seen from the part's own side; a bearing begins at the right.");
}

void turn_fields(Ui& ui, Session& s, const Footprint& part, const analysis::PartFit& fit) {
    title(ui, "If it were turned");
    for (const TurnedLand& turned : s.desks.get<OrientDesk>().turned.of(part))
        fact(ui, fmt::format("By {:g}°", turned.turn_deg).c_str(),
             fmt::format("land {} on {}{}", turned.land, turned.onto,
                         is_risky(fit, turned.turn_deg) ? "" : ", no harm"));
    text_field(
        ui, "Harmless turns", turns_as_text(fit.harmless_turns),
        [&s, id = part.id, name = part.name](const std::string& text) {
            Result<std::vector<double>> turns = turns_from_text(text);
            if (!turns) return s.editor.tell(Severity::Warning, turns.error().message);
            s.editor.commit(document::set_harmless_turns(s.editor.chart(), id, std::move(*turns)),
                            "Harmless turns of " + name);
        },
        "0 180");
    muted(ui, part.harmless_turns_deg.empty() ? "As the table has it for this kind of part, in degrees."
                                              : "Set for this part; an empty field takes the table again.");
}

void record_conflicts(const Ui& ui, const Session& s, const Footprint& part) {
    if (!s.orient.has_place) return;
    for (const Diagnostic& finding : patterns::orientation_conflicts(as_drafted(s, part)))
        verdict(ui, Tone::Danger, finding.message, "");
}

} // namespace padchart::app
