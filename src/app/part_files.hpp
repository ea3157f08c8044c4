#pragma once
// Files about one part: patterns to be used again, the donor's chart, the orientation card.

#include "app/session.hpp"

namespace padchart::app {

/// The pattern hangs on the pointer. Errors: as json::load_pattern.
[[nodiscard]] Result<void> load_pattern(Session& session, const std::string& path);
/// The selected part as a pattern that bears the name of its file. Errors: no part selected; as json::save_pattern.
[[nodiscard]] Result<void> save_pattern(Session& session, const std::string& path);
/// Keeps the selected part among the user's own families, under its name or the next free one. Tells what was done.
void keep_among_own_families(Session& session);
/// Opens the donor's chart and shows it beside the selected part. Errors: as DonorDesk::open.
[[nodiscard]] Result<void> open_donor(Session& session, const std::string& path);
/// Orientation card of the selected part by the ending of the path: .pdf, .svg or .png.
/// Errors: no part selected, another ending, a file that cannot be written.
[[nodiscard]] Result<void> write_card(Session& session, const std::string& path);

} // namespace padchart::app
