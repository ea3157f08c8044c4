#include "app/orient_desk.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <unordered_map>

#include <fmt/format.h>

#include "analysis/fit_onto.hpp"
#include "analysis/photo_doubts.hpp"
#include "app/evidence_photo.hpp"
#include "app/orientation.hpp"
#include "app/today.hpp"
#include "document/edits.hpp"
#include "patterns/marks.hpp"

namespace padchart::app {
namespace {

using analysis::PartFit;
using document::Footprint;
using document::RecordState;

/// All that the fit looks at, and what it tells of the record.
bool is_same_for_fit(const Footprint& a, const Footprint& b) {
    return a.id == b.id && a.pads == b.pads && a.body == b.body && a.part_class == b.part_class &&
           a.harmless_turns_deg == b.harmless_turns_deg && a.stated_pad_count == b.stated_pad_count &&
           a.orientation.state == b.orientation.state;
}

const PartFit* fit_in(const Computed* reports, const Footprint& part) {
    if (reports == nullptr) return nullptr;
    const auto at = document::find_part(*reports->chart, part.id);
    if (!at || !is_same_for_fit(reports->chart->parts[*at], part)) return nullptr;
    assert(*at < reports->fit.parts.size());
    return &reports->fit.parts[*at];
}

/// Something was chosen or typed beyond what a draft begins with.
bool is_touched(const OrientDraft& draft, const document::Orientation& from) {
    const document::Orientation& now = draft.orientation;
    if (draft.has_place != (from.state == RecordState::Recorded)) return true;
    if (now.mark != from.mark || now.meaning != from.meaning || now.bearing != from.bearing) return true;
    if (from.state != RecordState::NotRecorded) return now.evidence != from.evidence;
    return now.evidence.note != from.evidence.note || now.evidence.photo != from.evidence.photo;
}

/// It has something to lose, and the chart is still what it began from.
bool is_worth_keeping(const Session& s, const OrientDraft& draft, const document::Orientation& from) {
    const auto at = document::find_part(s.editor.chart(), draft.part);
    return at && s.editor.chart().parts[*at].orientation == from && is_touched(draft, from);
}

/// The draft under the pen waits while another part is looked at.
void set_aside(const Session& s, OrientDesk& desk) {
    std::erase_if(desk.waiting, [&](const WaitingDraft& one) { return one.draft.part == s.orient.part; });
    if (is_worth_keeping(s, s.orient, desk.on_chart)) desk.waiting.push_back({s.orient, desk.on_chart});
}

/// Takes up what waited for the part. False where nothing did.
bool take_up(Session& s, OrientDesk& desk, const Footprint& part) {
    const auto found = std::find_if(desk.waiting.begin(), desk.waiting.end(),
                                    [&](const WaitingDraft& one) { return one.draft.part == part.id; });
    if (found == desk.waiting.end()) return false;
    const WaitingDraft taken = *found;
    desk.waiting.erase(found);
    if (taken.on_chart != part.orientation) return false;
    s.orient = taken.draft;
    desk.on_chart = taken.on_chart;
    return true;
}

/// It is on record all the same: only the hand knows where else it looked.
void tell_doubt(Session& s, const document::Id& id) {
    const std::string words = record_doubt(s, s.editor.chart().parts[*document::find_part(s.editor.chart(), id)]);
    if (!words.empty()) s.editor.tell(Severity::Warning, words);
}

/// Nobody saw on this photo what is said now. What rested on it when its file was there may go on resting on it.
std::string refusal_of(const Session& s, const document::Orientation& said, const document::Orientation& known) {
    const bool says_the_same = said.state == known.state && said.mark == known.mark && said.bearing == known.bearing &&
                               said.evidence.photo == known.evidence.photo &&
                               said.evidence.crop_px == known.evidence.crop_px;
    return says_the_same ? "" : evidence_refusal(s, said.evidence.photo);
}

bool record(Session& s, RecordState state) {
    const Footprint* selected = s.editor.selected_part();
    if (selected == nullptr) return false;
    const Footprint part = *selected;
    document::Orientation o = orient_draft(s, part).orientation;
    o.state = state;
    if (state == RecordState::NoMark) {
        o.mark = document::MarkKind::Unknown;
        o.meaning = document::Meaning::Unknown;
        o.bearing = Angle();
    }
    if (const std::string refusal = refusal_of(s, o, part.orientation); !refusal.empty()) {
        s.editor.tell(Severity::Warning, refusal);
        return false;
    }
    const std::string label =
        (state == RecordState::Recorded ? "Record the mark of " : "Record that no mark is on ") + part.name;
    s.desks.get<OrientDesk>().by = o.evidence.by;
    if (!s.editor.commit(document::set_orientation(s.editor.chart(), part.id, o), label)) return false;
    s.orient = {};
    tell_doubt(s, part.id);
    s.background.update(s.editor.snapshot());
    if (s.computed() == nullptr) return true;
    if (const auto next = next_unrecorded(s.computed()->fit, part.id)) s.go_to(*next);
    return true;
}

} // namespace

const PartFit& LiveFit::of(const Footprint& part, const Computed* reports) {
    if (const PartFit* known = fit_in(reports, part)) return *known;
    if (is_known_ && is_same_for_fit(part_, part)) return fit_;
    fit_ = analysis::fit_of(part, reports != nullptr ? reports->fit.uncertainty_mm : analysis::kLeastUncertainty_mm);
    part_ = part;
    is_known_ = true;
    return fit_;
}

const std::vector<TurnedLand>& TurnedLands::of(const Footprint& part) {
    if (pads_ == part.pads) return rows_;
    pads_ = part.pads;
    rows_.clear();
    const auto first = std::find_if(pads_.begin(), pads_.end(),
                                    [](const document::Pad& pad) { return pad.number == "1" || pad.number == "A1"; });
    if (first == pads_.end()) return rows_;
    const auto at = static_cast<std::size_t>(first - pads_.begin());
    for (const analysis::OntoTurn& turn : analysis::turns_onto(part, part, analysis::kExactTolerance_mm)) {
        const std::string& onto = pads_[turn.partner[at]].number;
        if (turn.turn_deg != 0.0 && !onto.empty()) rows_.push_back({turn.turn_deg, first->number, onto});
    }
    return rows_;
}

const std::vector<RecordRow>& RecordRows::of(const std::shared_ptr<const Computed>& reports) {
    if (reports == reports_) return rows_;
    reports_ = reports;
    rows_.clear();
    recorded_ = doubtful_ = 0;
    if (!reports) return rows_;
    const auto& parts = reports->fit.parts;
    std::vector<RecordRow> doubtful, sure;
    for (std::size_t i = 0; i < parts.size(); ++i) { // the report is in chart order
        if (!parts[i].needs_record) continue;
        const bool is_doubtful =
            parts[i].has_record && analysis::doubtful_evidence(*reports->chart, reports->chart->parts[i]) != nullptr;
        (!parts[i].has_record ? rows_ : is_doubtful ? doubtful : sure).push_back({i, i, is_doubtful});
    }
    recorded_ = doubtful.size() + sure.size();
    doubtful_ = doubtful.size();
    rows_.insert(rows_.end(), doubtful.begin(), doubtful.end());
    rows_.insert(rows_.end(), sure.begin(), sure.end());
    return rows_;
}

std::string RecordRows::words() const {
    if (rows_.empty()) return "No part can go back wrong";
    std::string words = fmt::format("{} of {} recorded", recorded_, rows_.size());
    if (doubtful_ == 1 && recorded_ == 1) return words + ", off a doubtful photo";
    return doubtful_ == 0 ? words : words + fmt::format(", {} of them off a doubtful photo", doubtful_);
}

std::optional<FitInHand> fit_in_hand(Session& s) {
    const Computed* reports = s.computed();
    const Footprint* part = s.editor.selected_part();
    if (reports == nullptr || part == nullptr) return std::nullopt;
    const auto at = document::find_part(*reports->chart, part->id);
    if (!at) return std::nullopt;
    const PartFit& fit = s.desks.get<OrientDesk>().live.of(*part, reports);
    if (&fit == &reports->fit.parts[*at]) return std::nullopt;
    return FitInHand{*at, fit};
}

OrientDraft& orient_draft(Session& s, const Footprint& part) {
    auto& desk = s.desks.get<OrientDesk>();
    if (s.orient.part == part.id && desk.on_chart == part.orientation) return s.orient;
    if (s.orient.part != part.id) {
        set_aside(s, desk);
        if (take_up(s, desk, part)) return s.orient;
    }
    desk.on_chart = part.orientation;
    s.orient = {part.id, part.orientation, part.orientation.state == RecordState::Recorded};
    if (part.orientation.state != RecordState::NotRecorded) return s.orient;
    document::Evidence& evidence = s.orient.orientation.evidence;
    if (evidence.kind == document::EvidenceKind::NotStated) evidence.kind = document::EvidenceKind::SeenHere;
    if (evidence.date.empty()) evidence.date = today();
    if (evidence.by.empty()) evidence.by = desk.by;
    return s.orient;
}

void draft_mark(Session& s, const Footprint& part, document::MarkKind mark) {
    document::Orientation& o = orient_draft(s, part).orientation;
    o.mark = mark;
    // A form may begin with what the trade agrees on; where marks mislead it begins with "unknown".
    o.meaning = patterns::suggested_meaning(part.part_class, mark);
}

void draft_place(Session& s, const Footprint& part, std::size_t place) {
    const std::vector<MarkPlace> places = mark_places(part);
    if (places.empty()) return;
    assert(place < places.size());
    OrientDraft& draft = orient_draft(s, part);
    draft.orientation.bearing = places[place].bearing;
    draft.has_place = true;
}

Footprint as_drafted(const Session& s, const Footprint& part) {
    Footprint drafted = part;
    if (s.orient.part != part.id) return drafted;
    drafted.orientation = s.orient.orientation;
    drafted.orientation.state = s.orient.has_place ? RecordState::Recorded : RecordState::NotRecorded;
    return drafted;
}

std::vector<document::Id> parts_with_drafts(const Session& s) {
    std::vector<document::Id> ids;
    const auto* desk = s.desks.find<OrientDesk>();
    if (desk == nullptr) return ids;
    if (is_worth_keeping(s, s.orient, desk->on_chart)) ids.push_back(s.orient.part);
    for (const WaitingDraft& one : desk->waiting)
        if (is_worth_keeping(s, one.draft, one.on_chart)) ids.push_back(one.draft.part);
    return ids;
}

const OrientDraft* unrecorded_draft(const Session& s, const document::Id& part) {
    const auto* desk = s.desks.find<OrientDesk>();
    if (desk == nullptr) return nullptr;
    if (s.orient.part == part) return is_worth_keeping(s, s.orient, desk->on_chart) ? &s.orient : nullptr;
    for (const WaitingDraft& one : desk->waiting)
        if (one.draft.part == part && is_worth_keeping(s, one.draft, one.on_chart)) return &one.draft;
    return nullptr;
}

FitVerdict verdict_in_hand(const Session& s, const Footprint& part, const PartFit& fit) {
    FitVerdict says = verdict_of(part, fit);
    if (part.orientation.state == RecordState::NotRecorded || unrecorded_draft(s, part.id) == nullptr) return says;
    return {FitTone::Open, "What you changed is not recorded yet.", says.sentence + " " + says.reason};
}

bool has_drafted_place(const Session& s, const document::Id& part) {
    const OrientDraft* draft = unrecorded_draft(s, part);
    return draft != nullptr && draft->has_place;
}

void await_draft(Session& s, OrientDraft draft) {
    const auto at = document::find_part(s.editor.chart(), draft.part);
    assert(at);
    s.desks.get<OrientDesk>().waiting.push_back({std::move(draft), s.editor.chart().parts[*at].orientation});
}

namespace {

std::string name_for_hand(const Session& s, const document::Id& id) {
    const Footprint& part = s.editor.chart().parts[*document::find_part(s.editor.chart(), id)];
    return part.name.empty() ? "a part without a name" : part.name;
}

/// Requires: the part has a draft with a place.
bool record_draft(Session& s, const document::Id& id) {
    auto& desk = s.desks.get<OrientDesk>();
    document::Orientation o = unrecorded_draft(s, id)->orientation;
    o.state = RecordState::Recorded;
    const document::Orientation& known = s.editor.chart().parts[*document::find_part(s.editor.chart(), id)].orientation;
    if (const std::string refusal = refusal_of(s, o, known); !refusal.empty()) {
        s.editor.tell(Severity::Warning, name_for_hand(s, id) + ": " + refusal);
        return false;
    }
    const std::string label = "Record the mark of " + name_for_hand(s, id);
    if (!s.editor.commit(document::set_orientation(s.editor.chart(), id, o), label)) return false;
    if (s.orient.part == id) s.orient = {};
    std::erase_if(desk.waiting, [&](const WaitingDraft& one) { return one.draft.part == id; });
    return true;
}

} // namespace

void record_complete_drafts(Session& s) {
    for (const document::Id& id : parts_with_drafts(s))
        if (has_drafted_place(s, id)) (void)record_draft(s, id);
}

bool record_drafts(Session& s) {
    for (const document::Id& id : parts_with_drafts(s)) {
        if (!has_drafted_place(s, id)) {
            s.show_stage(scene::Stage::Orient);
            s.go_to(id);
            s.editor.tell(Severity::Warning,
                          "The mark of " + name_for_hand(s, id) + " has no place yet: choose it, or discard it.");
            return false;
        }
        if (!record_draft(s, id)) return false;
    }
    return true;
}

bool can_record(const Session& s) {
    const Footprint* part = s.editor.selected_part();
    return s.stage == scene::Stage::Orient && s.panel == Panel::Stage && part != nullptr && s.orient.part == part->id &&
           s.orient.has_place;
}

bool record_mark(Session& s) {
    return can_record(s) && record(s, RecordState::Recorded);
}

bool record_no_mark(Session& s) {
    return record(s, RecordState::NoMark);
}

void go_to_next_unrecorded(Session& s) {
    if (s.computed() == nullptr) return;
    const document::Id current = s.editor.selected_part() != nullptr ? s.editor.selected_part()->id : document::Id{};
    if (const auto next = next_unrecorded(s.computed()->fit, current)) {
        s.show_stage(scene::Stage::Orient);
        s.go_to(*next);
    } else {
        s.editor.tell(Severity::Note, "Every other part that could go back wrong has its answer.");
    }
}

bool orient_key(Session& s, const Chord& chord) {
    const Footprint* part = s.editor.selected_part();
    if (part == nullptr || chord.ctrl || chord.shift || chord.alt) return false;
    // Upper left, up, upper right, right, lower right, down, lower left, left: the order of mark_places().
    constexpr std::array kPad = {Key::Digit7, Key::Digit8, Key::Digit9, Key::Digit6,
                                 Key::Digit3, Key::Digit2, Key::Digit1, Key::Digit4};
    const auto found = std::find(kPad.begin(), kPad.end(), chord.key);
    if (found == kPad.end()) return false;
    draft_place(s, *part, static_cast<std::size_t>(found - kPad.begin()));
    return true;
}

} // namespace padchart::app
