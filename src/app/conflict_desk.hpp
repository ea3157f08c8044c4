#pragma once
// Settling what a merge left open, one statement after the other. No panels.

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/session.hpp"
#include "json/settle.hpp"

namespace padchart::app {

/// What is told of an opened chart with conflicts begins so; it goes once they are being settled.
inline constexpr std::string_view kToBeSettled = "To be settled";

/// One statement in conflict, with both sides of it ready to be drawn.
struct OpenConflict {
    std::size_t position = 0;        ///< in the chart's list of conflicts
    std::vector<std::size_t> fields; ///< positions of all that belong to the statement
    json::ConflictKind kind = json::ConflictKind::Field;
    std::string what;                     ///< "C7, mark and bearing deg"
    std::string ours_label, theirs_label; ///< who
    /// The part as ours, theirs and the base have it, where it is one, the value still fits and is known.
    std::array<std::optional<document::Footprint>, 3> part;
};

class ConflictDesk {
public:
    /// Statements of the chart, each once, in the order of its list.
    [[nodiscard]] static std::vector<std::size_t> open(const document::Chart& chart);
    /// The one in hand; nothing where none is open. Kept until chart or choice are others.
    [[nodiscard]] const std::optional<OpenConflict>& current(const std::shared_ptr<const document::Chart>& chart);
    /// Number of the one in hand among open(); 0 without any.
    [[nodiscard]] std::size_t number() const { return number_; }
    void stand_at(std::size_t number) { number_ = number; }

private:
    std::size_t number_ = 0, made_number_ = 0;
    std::shared_ptr<const document::Chart> made_of_;
    std::optional<OpenConflict> made_;
};

/// "C7 and another", "3 conflicts of a merge".
[[nodiscard]] std::string conflicts_in_words(const document::Chart& chart);

/// Settles the statement in hand and stays at the place in the list, where the next one moves up. One step of history.
void settle_conflict(Session& session, json::Settle choice);
/// As above with a value typed in. A value of the wrong kind is told and changes nothing.
void settle_conflict_with(Session& session, const std::string& typed);
/// Shows the panel and, where it is a part, goes to what the statement in hand speaks of.
void show_conflicts(Session& session);
void step_conflict(Session& session, int by);

} // namespace padchart::app
