#pragma once
// Pieces of the orient panel. Private to it.

#include "app/orient_desk.hpp"
#include "app/panels/panels.hpp"

namespace padchart::app {

/// The part as it sits with the eight places a mark can be at, and beside it the turns that seat as well. A click
/// between the places takes the bearing as it is.
void place_picker(Ui& ui, Session& session, const document::Footprint& part, const analysis::PartFit& fit);
/// Kind of mark at one touch, what it means, evidence.
void record_fields(Ui& ui, Session& session, const document::Footprint& part, const analysis::PartFit& fit);
/// The photo the mark is seen on and the piece of it, of the record under the pen.
void evidence_photo(Ui& ui, Session& session, const document::Footprint& part);
/// Bearing of the mark, and the turn from zero orientation where it is asked for.
void angle_fields(Ui& ui, Session& session, const document::Footprint& part);
/// Which turns do no harm, by the table or as somebody says for this part, and where land 1 lies in the others.
void turn_fields(Ui& ui, Session& session, const document::Footprint& part, const analysis::PartFit& fit);
/// What contradicts the record under the pen.
void record_conflicts(const Ui& ui, const Session& session, const document::Footprint& part);
/// Every part that needs a record; a click goes there.
void record_rows(Ui& ui, Session& session);

} // namespace padchart::app
