#!/usr/bin/env bash
# Drives the access stage of the real window on a display of its own: another part, another tool, a height typed in.
# Believes the program's own log and the saved file. Usage: access_window.sh PADCHART-WINDOW REPOSITORY
set -uo pipefail
program=$1 root=$2
. "$(dirname "$0")/window_tour.sh"

at() { xdotool mousemove --window "$id" "$1" "$2"; }
ask() { python3 - "$work/board.chart.json" "$1" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
part = {p.get("name", ""): p for p in chart["parts"]}
if not eval(sys.argv[2]):
    print("the saved file says otherwise:", sys.argv[2])
    sys.exit(1)
PY
}
save() { local n; n=$(grep -c 'save: board' "$work/trace"); xdotool key ctrl+s; await 'save: board.chart.json' $((n + 1)); }

# A neighbour whose height nobody has measured.
python3 - "$root/demo/river-logger.chart.json" "$work/board.chart.json" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
for part in chart["parts"]:
    if part.get("name") == "J2":
        del part["body"]["above_board_mm"]
json.dump(chart, open(sys.argv[2], "w"))
PY
open_chart "$work/board.chart.json" --stage access --select U4 --size 1280x800

echo "answers for the part it was opened with and says that a height is missing"
await 'access: U4 .*works'
await 'access-unknown: J2'

echo "begins at the top of its panel for another part, not for the same one"
at 1150 400; for _ in 1 2 3 4; do xdotool click 5; sleep 0.1; done
n=$(grep -c 'panel: at its top' "$work/trace")
at 500 300; xdotool click 1; sleep 0.5 # where there is nothing: U4 stays what is asked about
[ "$(grep -c 'panel: at its top' "$work/trace")" -eq "$n" ] || fail "the panel of the same part jumped to its top"
at 313 412; xdotool click 1; await 'access: R9'; await 'panel: at its top' $((n + 1))
at 471 448; xdotool click 1; await 'access: U4' 2; await 'panel: at its top' $((n + 2))

echo "follows the tool, the other side and the other stages"
act 'Another tool' access-tool
act 'steeper' access-steeper
act 'near by' access-near
act 'Flip side' flip-side; act 'Flip side' flip-side
act 'turned as told' access-turned
xdotool key F2; await 'stage: survey'
xdotool key F5; await 'stage: access'

echo "a part that is moved away and back again"
n=$(grep -c 'access: U4' "$work/trace")
xdotool key F2; await 'stage: survey' 2; xdotool key shift+Left; await 'edit: Nudge U4' # where parts are moved
xdotool key F5; await 'access: U4' $((n + 1))
xdotool key ctrl+z; await 'undo: '; await 'access: U4' $((n + 2))
save
ask 'part["U4"]["at_mm"] == [21.505, 20.9935]' || fail "the part did not come back"

xdotool key ctrl+q
for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || break; sleep 0.1; done
kill -0 "$window" 2>/dev/null && fail "the window does not close"
wait "$window"; status=$?; window=0
[ "$status" -eq 0 ] || fail "closing a saved chart answers $status"
echo "The access stage does what it should."
