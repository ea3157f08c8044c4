#pragma once
// Pieces of the survey panel. Private to it.

#include "app/panels/panels.hpp"
#include "app/survey_desk.hpp"

namespace padchart::app {

/// The usual answers at one touch. In a low window they stand before everything else of the part.
void usual_answers(Ui& ui, Session& session, const document::Footprint& part);
/// The questions about a part's state, each with its own answer, and the usual answers.
void state_section(Ui& ui, Session& session, const document::Footprint& part);
/// The part with its pads to be picked, and what is said of the one in hand.
void pad_section(Ui& ui, Session& session, const document::Footprint& part);

/// As draw_part; answers where the part's frame lies on the screen, identity where there is nothing to draw.
geometry::Affine draw_part_framed(const Ui& ui, const document::Footprint& part, const geometry::Box& box_px,
                                  const Drawing& how);

/// Notes and readings of the chart, or of one part; a click goes there.
void note_rows(Ui& ui, Session& session, const document::Id& of_part = {});
void reading_rows(Ui& ui, Session& session, const document::Id& of_part = {});
/// Keep-outs and shields of the chart.
void area_rows(Ui& ui, Session& session);

/// What is about to be put down. False where nothing is.
bool pin_form(Ui& ui, Session& session);
/// Where one that is typed waits while another part is looked at: that it does, and the way back to it.
void waiting_pin(Ui& ui, Session& session);
/// The fields of a note, a reading, a keep-out or a shield.
void thing_form(Ui& ui, Session& session, const document::Id& id);

} // namespace padchart::app
