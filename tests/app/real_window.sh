#!/usr/bin/env bash
# Drives the real window with mouse and keys on a display of its own, and believes only the saved file.
# Usage: real_window.sh PADCHART-WINDOW REPOSITORY
set -uo pipefail
program=$1 root=$2
patience=200
. "$(dirname "$0")/window_tour.sh"

start() {
    open_chart "$@" --size 1280x800
}
await_end() {
    for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || { wait "$window"; status=$?; window=0; return; }; sleep 0.1; done
    fail "the window does not close"
}
at() { xdotool mousemove --window "$id" "$1" "$2"; }
click() { at "$1" "$2"; xdotool click 1; }
keys() { xdotool key "$@"; }
write() { xdotool type --delay 0 "$1"; }
ask() { python3 - "$work/board.chart.json" "$1" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
part = {p.get("name", ""): p for p in chart["parts"]}
if not eval(sys.argv[2]):
    print("the saved file says otherwise:", sys.argv[2], part.get("R77"))
    sys.exit(1)
PY
}

# Finds out where the board lies on the screen, from two clicks beside it and what the trace says of them.
find_board() {
    click 300 740; await 'click: board' 1
    click 700 740; await 'click: board' 2
    read -r scale left top < <(grep 'click: board' "$work/trace" | tail -2 | awk '
        NR == 1 { x = $3; y = $4 } NR == 2 { k = 400 / ($3 - x); print k, 300 - k * x, 740 - k * y }')
}
# Moves the pointer to a place on the board, mm.
to() { read -r px py < <(awk -v k="$scale" -v l="$left" -v t="$top" -v x="$1" -v y="$2" 'BEGIN { printf "%d %d", l + k * x, t + k * y }'); at "$px" "$py"; sleep 0.2; }

cp "$root/demo/river-logger.chart.json" "$work/board.chart.json"
cp "$work/board.chart.json" "$work/before.json"

echo "adds a part from a family, names it, says what it does, turns it, takes the turn back, saves"
start "$work/board.chart.json"
find_board
keys Insert; await 'action: add-part'
write '1608M'; keys Return; keys Return
to 10.5 24.5; xdotool click 1; await 'edit: Add '
click 1160 158; keys ctrl+a; write 'R77'; keys Tab; await 'edit: Name of'
keys ctrl+a; write 'sense divider, low leg'; keys Return; await 'edit: What it does of R77'
keys bracketleft; await 'edit: Turn R77 by 15 degrees'
keys ctrl+z; await 'undo: Turn R77'
keys Escape; keys ctrl+s; await 'save: board.chart.json'
ask 'part["R77"]["role"] == "sense divider, low leg"' || fail "the role"
ask 'part["R77"].get("turn_deg", 0) == 0' || fail "the undone turn"
ask 'len(chart["parts"]) == '"$(python3 -c "import json; print(len(json.load(open('$work/before.json'))['parts']) + 1)")" || fail "the number of parts"
keys ctrl+q; await_end
[ "$status" -eq 0 ] || fail "closing a saved chart answers $status"

echo "opens the file again, moves the part by hand, drops one move with Escape, saves"
cp "$work/board.chart.json" "$work/first.json"
start "$work/board.chart.json" --select R77
find_board
to 10.5 24.5; xdotool click 1; await 'select: R77'
xdotool mousedown 1; to 10.7 24.4; to 11.2 24.2; keys Escape; sleep 0.3; xdotool mouseup 1; sleep 0.5
grep -q 'edit: Move' "$work/trace" && fail "Escape does not drop a move"
to 10.5 24.5; xdotool mousedown 1; to 10.7 24.4; to 11.5 24; xdotool mouseup 1; await 'edit: Move R77'
keys ctrl+s; await 'save: board.chart.json'
cmp -s "$work/first.json" "$work/board.chart.json" && fail "the move is not in the file"
ask 'abs(part["R77"]["at_mm"][0] - 11.5) < 0.15 and abs(part["R77"]["at_mm"][1] - 24) < 0.15' || fail "the place it was moved to"

echo "asks before unsaved changes are lost"
keys Left; await 'edit: Nudge R77'
keys ctrl+q; await 'action: quit'; sleep 0.5
kill -0 "$window" 2>/dev/null || fail "unsaved changes were lost without a question"
keys Escape; sleep 0.3
kill -0 "$window" 2>/dev/null || fail "Escape does not cancel the question"
saved=$(grep -c 'save: ' "$work/trace")
keys ctrl+q; await 'action: quit' 2; sleep 0.3; keys Tab; sleep 0.3; keys Tab; sleep 0.3; keys Return; sleep 0.5
kill -0 "$window" 2>/dev/null || fail "Tab does not lead to the last answer"
[ "$(grep -c 'save: ' "$work/trace")" -eq "$saved" ] || fail "the first answer was given"
keys ctrl+z; await 'undo: Nudge R77'
keys Left; await 'edit: Nudge R77' 2
keys ctrl+q; await 'action: quit' 3; sleep 0.3; keys Return; await 'save: board.chart.json' $((saved + 1)); await_end
[ "$status" -eq 0 ] || fail "saving on the way out answers $status"
start "$work/board.chart.json"

echo "goes on showing the whole chart in a window of another size"
rests=$(grep -c 'view: at rest' "$work/trace")
xdotool windowsize "$id" 1000 700; await 'view: at rest' $((rests + 1))
xdotool windowsize "$id" 1280 800; await 'view: at rest' $((rests + 2))
keys ctrl+q; await_end
[ "$status" -eq 0 ] || fail "closing answers $status"

echo "at the largest type in a small window every action that is used most is still a button away"
open_chart "$work/board.chart.json" --size 1280x720 --scale 2
click 628 62; await 'action: flip-side'
click 465 62; await 'action: add-part'
keys Escape; click 1185 62; await 'action: actions'; keys Escape
keys ctrl+q; await_end
[ "$status" -eq 0 ] || fail "closing answers $status"

echo "opens and says why when the chart it was started with cannot be read"
head -c 500 "$root/demo/river-logger.chart.json" >"$work/cut.chart.json"
open_window "$work/cut.chart.json"
await 'not opened: .*cut.chart.json'
grep -q 'cut.chart.json' "$work/output" || fail "nothing for who started it from a terminal"
xdotool windowfocus --sync "$id"; keys ctrl+q; await_end
[ "$status" -eq 0 ] || fail "closing answers $status"

echo "says plainly when there is no display"
env -u DISPLAY "$program" >"$work/output" 2>&1
[ $? -eq 2 ] || fail "without a display the program should answer 2"
grep -q 'DISPLAY is not set' "$work/output" || fail "no plain message without a display"
echo "The window does what it should."
