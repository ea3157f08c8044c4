#pragma once
// The panel of the photos of one side.

#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

void photo_panel(Ui& ui, Session& session);
/// The points the photo is laid down by, and the one under the pen. A piece of the panel.
void photo_points(Ui& ui, Session& session, const document::Photo& photo);
/// The part as the photo shows it, in the photo's own turn and mirroring, with its outline, pads and mark over it.
/// Nothing where the photo is not placed or does not show it.
void photo_closeup(Ui& ui, Session& session, const document::Photo& photo, const document::Footprint& part);

} // namespace padchart::app
