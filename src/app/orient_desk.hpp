#pragma once
// What the orient stage works with: the record under the pen, the fit of the part as it is drawn at this moment, the
// list of parts to be recorded. Knows no panel.
//
// Recording takes three actions at most: the kind of mark, its place, Enter; the next part without a record is then
// selected. What is under the pen reaches the chart with the last of them only.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/session.hpp"

namespace padchart::app {

struct FitVerdict;

enum class ZeroShown { None, LevelA, LevelB };

/// The fit of one part as it is shown, also while its pads are being edited and the reports are still of before.
class LiveFit {
public:
    /// From the reports where they speak of the same copper and kind, else worked out here.
    [[nodiscard]] const analysis::PartFit& of(const document::Footprint& part, const Computed* reports);

private:
    document::Footprint part_; ///< that fit_ speaks of
    analysis::PartFit fit_;
    bool is_known_ = false;
};

/// Where land 1 comes to lie in a turn that seats.
struct TurnedLand {
    double turn_deg = 0.0;
    std::string land; ///< "1" or "A1"
    std::string onto; ///< the number of the land under it then
};
/// For every such turn but 0; made anew when the lands are others.
class TurnedLands {
public:
    [[nodiscard]] const std::vector<TurnedLand>& of(const document::Footprint& part);

private:
    std::vector<document::Pad> pads_;
    std::vector<TurnedLand> rows_;
};

/// A row of the list: positions in the chart and in the fit report.
struct RecordRow {
    std::size_t part = 0, fit = 0;
    bool is_doubtful = false; ///< its record rests on a photo that does not lie where it says
};
/// Parts that need a record, those without one first, then those of doubtful ones; made anew when the reports are
/// others.
class RecordRows {
public:
    [[nodiscard]] const std::vector<RecordRow>& of(const std::shared_ptr<const Computed>& reports);
    [[nodiscard]] std::size_t all() const { return rows_.size(); }
    /// Doubtful ones too.
    [[nodiscard]] std::size_t recorded() const { return recorded_; }
    [[nodiscard]] std::size_t doubtful() const { return doubtful_; }
    /// "2 of 9 recorded, 1 of them off a doubtful photo". Of the last reports.
    [[nodiscard]] std::string words() const;

private:
    std::shared_ptr<const Computed> reports_;
    std::vector<RecordRow> rows_;
    std::size_t recorded_ = 0, doubtful_ = 0;
};

/// A draft of a part that is not looked at just now.
struct WaitingDraft {
    OrientDraft draft;
    document::Orientation on_chart; ///< that it began from
};

struct OrientDesk {
    ZeroShown zero = ZeroShown::None;
    std::string by;                 ///< who recorded last
    document::Orientation on_chart; ///< what the draft began from: an undo begins a new one
    std::vector<WaitingDraft> waiting;
    LiveFit live;
    RecordRows rows;
    TurnedLands turned;
    float footer_height = 0; ///< of the panel, px, as it was last drawn
};

/// The fit of the selected part as it is shown at this moment, where the reports' own is of before; nothing without
/// reports.
struct FitInHand {
    std::size_t at = 0; ///< in the reports
    analysis::PartFit fit;
};
[[nodiscard]] std::optional<FitInHand> fit_in_hand(Session& session);

/// What is under the pen for the part. That of the last part waits. Another record on the chart begins a new draft:
/// seen on this board, today, by who recorded last, unless something is on record.
OrientDraft& orient_draft(Session& session, const document::Footprint& part);

/// The mark with what it usually means on such a part.
void draft_mark(Session& session, const document::Footprint& part, document::MarkKind mark);
/// The place by its position in mark_places(). Requires: place < 8.
void draft_place(Session& session, const document::Footprint& part, std::size_t place);
/// The part with the record under the pen, as it would be on the chart.
[[nodiscard]] document::Footprint as_drafted(const Session& session, const document::Footprint& part);

/// Parts with something chosen or typed that is not on record, the one under the pen first.
[[nodiscard]] std::vector<document::Id> parts_with_drafts(const Session& session);
/// All of them go on record, a step each. False where one has no place yet: it is shown, and the user is told.
bool record_drafts(Session& session);
/// Those with a place go on record, a step each.
void record_complete_drafts(Session& session);
/// A place was chosen in the draft of the part.
[[nodiscard]] bool has_drafted_place(const Session& session, const document::Id& part);
/// A draft from elsewhere waits for its part. Requires: the part is on the chart.
void await_draft(Session& session, OrientDraft draft);
/// As verdict_of() what is on record, but no promise of it where the draft says something else.
[[nodiscard]] FitVerdict verdict_in_hand(const Session& session, const document::Footprint& part,
                                         const analysis::PartFit& fit);
/// The draft of the part that is not on record; null where there is none.
[[nodiscard]] const OrientDraft* unrecorded_draft(const Session& session, const document::Id& part);

/// A place was chosen for the selected part.
[[nodiscard]] bool can_record(const Session& session);
/// Puts the draft on the chart and goes to the next part without a record. False where nothing was recorded.
bool record_mark(Session& session);
/// Says that no mark is to be seen, and goes on.
bool record_no_mark(Session& session);
/// Selects the next part without a record; a notice where there is none.
void go_to_next_unrecorded(Session& session);

/// Digits as they lie on a number pad choose the place of the mark. True where the key was one.
bool orient_key(Session& session, const Chord& chord);

} // namespace padchart::app
