#!/usr/bin/env bash
# A newcomer's first five minutes in the real window, every action of the hand counted: from the empty start page a trace
# is brought in, five parts are named, two orientations recorded, heat planned for one part, and the sheet written.
# A click, a press of a key or of a chord, and a field filled are one action each. Believes the files.
# Usage: five_minutes_window.sh PADCHART-WINDOW REPOSITORY [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 pictures=${3:-}
most=26
opens_within=60
. "$(dirname "$0")/window_tour.sh"

actions=0
click() { xdotool mousemove --window "$id" "$1" "$2"; sleep 0.3; xdotool click 1; actions=$((actions + 1)); sleep 0.3; }
press() { xdotool key "$1"; actions=$((actions + 1)); sleep 0.3; }
fill() { xdotool type --delay 0 "$1"; actions=$((actions + 1)); sleep 0.4; }
done_so_far=0
part() { echo "  $1: $((actions - done_so_far)) actions"; done_so_far=$actions; picture "$2"; }
picture() { [ -z "$pictures" ] || { sleep 0.7; import -window root "$pictures/$1.png" 2>/dev/null; }; }

cd "$work" || fail "no folder"
cp "$root/demo/power-corner.svg" "$work/trace.svg"
open_window --size 1280x800
xdotool windowfocus --sync "$id"; sleep 1.5
picture start

echo "a trace becomes a chart"
click 1080 "${IMPORT_Y:-225}"; await 'action: import'; sleep 0.5
fill "trace.svg"; press Return
await 'import begun: trace.svg'; sleep 0.5
picture import
click 1180 "${ACCEPT_Y:-756}"; await 'import: trace.svg'
part "import" imported

echo "five parts get their names, one after the other"
press e; await 'action: name-parts'; sleep 0.4
named=0
for name in RT1 RT2 RT3 QX1 RX4; do
    fill "$name"; press Return
    named=$((named + 1)); await "edit: Name of" "$named"; sleep 0.5
done
press Escape
part "five names" named

echo "two marks are recorded"
press F3; await 'stage: orient'
press u; await 'action: next-unrecorded'
for n in 1 2; do
    press 7; press Return
    await 'edit: Record the mark' "$n"
done
part "two orientations" recorded

echo "heat is planned for a part"
press F4; await 'stage: heat'; await 'heat-plan: '; await 'heat: estimate'
press ctrl+p; await 'edit: Save the heat plan for'
part "heat plan" heat

echo "the sheet is written"
press ctrl+h; await 'action: write-sheet'; sleep 0.6
press Return
await 'sheet: trace.pdf' # named as the trace is
part "sheet" sheet
head -c 5 "$work/trace.pdf" | grep -q '%PDF-' || fail "the sheet is no PDF"

xdotool key ctrl+s; sleep 0.6; xdotool key ctrl+a; xdotool type --delay 0 "$work/board.chart.json"; xdotool key Return
await 'save: board.chart.json'
python3 - "$work/board.chart.json" <<'PY' || fail "the saved chart says otherwise"
import json, sys
chart = json.load(open(sys.argv[1]))
names = {p.get("name") for p in chart["parts"]}
recorded = [p for p in chart["parts"] if p.get("orientation", {}).get("mark_seen") or p.get("orientation", {}).get("evidence", {}).get("date")]
assert {"RT1", "RT2", "RT3", "QX1", "RX4"} <= names, names
assert len(recorded) == 2, recorded
assert len(chart["heat_plans"]) == 1
PY
echo "From nothing to a sheet in $actions actions."
[ "$actions" -le "$most" ] || fail "that is more than $most"
xdotool key ctrl+q
for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || { wait "$window"; window=0; break; }; sleep 0.1; done
[ "$window" -eq 0 ] || fail "the window does not close"
