#pragma once
// What a mark on a part says about which way round it goes, how far that can be trusted, and where a record contradicts
// what is known. Sources row by row in assets/tables/marks.tsv and class_meanings.tsv: common practice and makers'
// drawings. A table proves nothing about the part in hand: the maker's sheet or a meter wins.

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "document/footprint.hpp"

namespace padchart::patterns {

/// How far the usual meaning of a mark can be trusted.
enum class Certainty {
    Low,    ///< a habit, or no rule at all: unknown until checked
    Medium, ///< usual, with exceptions
    High    ///< the trade agrees
};

struct MarkMeaning {
    document::Meaning meaning = document::Meaning::Unknown;
    Certainty certainty = Certainty::Low;
    std::string_view remark; ///< a plain sentence, or empty
    std::string_view standing;
    std::string_view source;
};

/// The usual meaning of the mark on a part of that class; nothing when the table knows none. The mark of an LED is
/// known to mean nothing until it is metered or lit: meaning Unknown, certainty Low.
[[nodiscard]] std::optional<MarkMeaning> usual_meaning(document::PartClass part_class, document::MarkKind mark);

/// The kinds of mark the table knows on parts of that class, the usual ones first; a form may offer the first few at
/// one touch. For a class the table does not name: dot, bar, notch, cut corner, triangle.
[[nodiscard]] std::vector<document::MarkKind> usual_marks(document::PartClass part_class);

/// What a form may fill in by itself: the usual meaning where its certainty is at least Medium, else Unknown.
[[nodiscard]] document::Meaning suggested_meaning(document::PartClass part_class, document::MarkKind mark);

/// Can a mark on such a part mean this at all? True for class Unknown and meaning Unknown.
[[nodiscard]] bool can_mean(document::PartClass part_class, document::Meaning meaning);
/// The meanings a mark on such a part can have, for a drop-down: Unknown first.
[[nodiscard]] std::span<const document::Meaning> possible_meanings(document::PartClass part_class);

/// Evidence that settles what a mark means: a reading, or the maker's sheet.
[[nodiscard]] bool is_proof(document::EvidenceKind kind);

/// Where the recorded orientation contradicts what is known of such marks. Codes:
/// mark-against-custom     the meaning is the opposite of the usual one (bar on a tantalum as negative)
/// meaning-not-of-class    such a part has no such end (cathode of a resistor, no polarity on a tantalum)
/// polarity-word           positive or negative on a diode, where it should be cathode or anode
/// mark-unproved           a meaning without proof where marks of this kind prove little (any LED)
/// mark-far-from-pin-1     the mark stands for pin 1 but lies on the other side of the part than the land numbered so
/// band-on-ground          the cathode of a Zener or surge diode, or the positive end of a polarised capacitor, lies on
///                         the land of a net called ground while the other land is not on a negative rail
/// mark-without-record     "no mark to be seen" is stated and a mark is named
/// Target is the part's id. Empty for a part without a record.
[[nodiscard]] Diagnostics orientation_conflicts(const document::Footprint& part);

} // namespace padchart::patterns
