#pragma once
// What hangs on things that are to be deleted, in words.

#include <span>
#include <string>

#include "document/chart.hpp"

namespace padchart::app {

/// What goes when these are removed (document::remove): "its heat plan", "its 2 heat plans and its tick on
/// the list". Empty where nothing hangs on them.
[[nodiscard]] std::string what_goes_along(const document::Chart& chart, std::span<const document::Id> ids);
/// Which heat plans go on without shields that are removed: "The heat plan \"lift U4\" is without it now." Empty where
/// none had one of them.
[[nodiscard]] std::string who_loses_a_shield(const document::Chart& chart, std::span<const document::Id> ids);
/// What keeps its place and its words but speaks of no part any longer: "its note and its 2 readings".
[[nodiscard]] std::string what_stays_behind(const document::Chart& chart, std::span<const document::Id> ids);

} // namespace padchart::app
