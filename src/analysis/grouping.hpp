#pragma once
// Loose pads, traced without bodies, groups or names: which of them are one part? Proposals with their reasons in
// words, to be taken or left; nothing is ever put together unasked. The order in which shapes are looked for: lattices
// (a grid of balls), rows of one pitch with what faces them, threes, pairs that face each other; what remains stands
// alone. How near is near: common practice, no source; every threshold is named in grouping_shapes.cpp.

#include <stop_token>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

/// Positions in the chart: a part without name and body, and a pad of it.
struct LoosePad {
    std::size_t part = 0;
    std::size_t pad = 0;

    auto operator<=>(const LoosePad&) const = default;
};

enum class GroupKind { Single, Pair, Three, Row, Tab, TwoRows, FourRows, Grid };

/// "two-terminal part", "two rows", ...
[[nodiscard]] std::string_view to_text(GroupKind kind);

struct GroupProposal {
    GroupKind kind = GroupKind::Single;
    std::vector<LoosePad> pads;
    /// For each pad: what it bore, else by the rules of its family, else nothing: past a place that has no pad nobody
    /// can count.
    std::vector<std::string> numbers;
    document::Side side = document::Side::Top;
    std::string family; ///< key of the nearest package family, or empty
    std::string like;   ///< "1005M (inch 0402)", or empty
    std::string why;    ///< one sentence
};

struct Grouping {
    std::vector<GroupProposal> proposals; ///< single pads included, in the chart's order of their first pads
    Diagnostics findings;
};

/// Every pad of parts that have neither name nor body nor family. Needs a scale: without one there are no proposals and
/// a finding says so. Told to stop it answers soon, with what it has.
[[nodiscard]] Grouping propose_groups(const document::Chart& chart, const std::stop_token& stop = {});

/// The chart with the loose parts taken apart and each proposal a part of its own, pads in the order of their numbers.
/// Single pads become parts too. What was said of a pad goes along.
/// Errors: a pad that is not there or is in two proposals; told to stop.
[[nodiscard]] Result<document::Chart> accept_groups(const document::Chart& chart,
                                                    const std::vector<GroupProposal>& proposals,
                                                    const std::stop_token& stop = {});

/// Pads that a trace brought in together and that nobody has put together: they may belong to several parts.
[[nodiscard]] bool is_left_loose(const document::Footprint& part);

/// True where loose pads of the chart were put together once: then a corrected trace wants the same.
[[nodiscard]] bool was_grouped(const document::Chart& chart);

/// The chart of a corrected trace with its loose pads put together as those of `current` were: all that is proposed but
/// what lies where `current` has pads that somebody left loose. A part that lies on one of `current` gets no numbers by
/// rule: its pads are told by their places, and one pad less would number all others anew. Both in the same lengths.
/// Errors: as accept_groups.
[[nodiscard]] Result<document::Chart> grouped_as_before(const document::Chart& current, const document::Chart& fresh,
                                                        const std::stop_token& stop = {});

/// Numbers for the pads of a part, each anew, as loose pads would get them: of the family its lands are nearest to,
/// else by the places of a lattice or counter-clockwise from the upper left, a centre land last. Empty words where a
/// pad seems to be lacking. Requires: the part has pads.
[[nodiscard]] std::vector<std::string> numbers_by_rule(const document::Footprint& part);

/// Finding "size-suggested" for every two-pad part without a family: which chips its body could be, with both codes.
[[nodiscard]] Diagnostics size_suggestions(const document::Chart& chart, double measuring_tolerance_mm = 0.1,
                                           const std::stop_token& stop = {});

} // namespace padchart::analysis
