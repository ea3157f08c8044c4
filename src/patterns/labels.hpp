#pragma once
// The words of the closed lists as people read them in panels and sheets: short plain English, lower case. The spelling
// for files and machines is document::to_text.

#include <string>
#include <string_view>

#include "document/vocabulary.hpp"
#include "patterns/marks.hpp"

namespace padchart::patterns {

[[nodiscard]] std::string_view label_of(document::PartClass value);
[[nodiscard]] std::string_view label_of(document::MarkKind value);
[[nodiscard]] std::string_view label_of(document::Meaning value);
[[nodiscard]] std::string_view label_of(document::EvidenceKind value);
[[nodiscard]] std::string_view label_of(document::RecordState value);
[[nodiscard]] std::string_view label_of(document::Presence value);
[[nodiscard]] std::string_view label_of(document::Seating value);
[[nodiscard]] std::string_view label_of(document::JointState value);
[[nodiscard]] std::string_view label_of(document::BodyState value);
[[nodiscard]] std::string_view label_of(document::LandState value);
[[nodiscard]] std::string_view label_of(Certainty value);

/// How badly a wrong turn ends, by grade 0 (no effect) to 4 (hazard to people): common practice, no source.
/// Requires: 0 <= grade <= 4.
[[nodiscard]] std::string_view consequence_text(int grade);

} // namespace padchart::patterns
