#!/usr/bin/env bash
# Arranges, copies and pastes in real windows with mouse and keys on a display of its own, and believes the saved files.
# Usage: edit_window.sh PADCHART-WINDOW REPOSITORY [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 pictures=${3:-}
screen=1600x1000
. "$(dirname "$0")/window_tour.sh"
first=0 second=0
clean_up() {
    for process in $first $second $server; do [ "$process" -gt 0 ] && kill "$process" 2>/dev/null; done
    wait 2>/dev/null
    rm -rf "$work"
}
fail() { echo "FAILED: $*"; for log in "$work"/*.trace "$work"/*.output; do echo "--- $log"; tail -30 "$log"; done; exit 1; }

# open_window NAME CHART: sets `process` and `id`.
open_window() {
    local known; known=$(xdotool search --onlyvisible --name 'Padchart' 2>/dev/null; echo none)
    trace=$work/$1.trace
    : >"$trace"
    PADCHART_TRACE=$trace "$program" "$2" --size 1280x800 --smooth 0 >"$work/$1.output" 2>&1 &
    process=$!
    for _ in $(seq 300); do
        id=$(xdotool search --onlyvisible --name 'Padchart' 2>/dev/null | grep -vxF "$known" | head -1)
        [ -n "$id" ] && break
        sleep 0.1
    done
    [ -n "$id" ] || fail "the window of $1 does not open"
    await 'open: '
    await 'view: at rest'
    xdotool windowfocus --sync "$id"
}
await() {
    for _ in $(seq 300); do
        [ "$(grep -c -- "$1" "$trace")" -ge "${2:-1}" ] && return
        kill -0 "$process" 2>/dev/null || break
        sleep 0.1
    done
    fail "waited in vain for \"$1\""
}
await_end() {
    for _ in $(seq 100); do kill -0 "$process" 2>/dev/null || { wait "$process"; return; }; sleep 0.1; done
    fail "the window does not close"
}
at() { xdotool mousemove --window "$id" "$1" "$2"; }
click() { at "$1" "$2"; xdotool click 1; }
keys() { xdotool key "$@"; }
write() { xdotool type --delay 0 "$1"; }
act() {
    local before; before=$(grep -c 'action: actions' "$trace")
    keys slash; await 'action: actions' "$((before + 1))"
    write "$1"; sleep 0.3; keys Return
}
picture() { [ -z "$pictures" ] || { sleep 0.7; import -window "$id" "$pictures/$1.png"; }; }
ask() { python3 - "$1" "$2" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
part = {p.get("name", ""): p for p in chart["parts"]}
def at(name): return part[name]["at_mm"]
def near(a, b): return abs(a - b) < 1e-6
if not eval(sys.argv[2]):
    print("the saved file says otherwise:", sys.argv[2], {n: p["at_mm"] for n, p in part.items() if n.startswith("R7")})
    sys.exit(1)
PY
}

find_board() {
    click 300 740; await 'click: board' 1
    click 700 740; await 'click: board' 2
    read -r scale left top < <(grep 'click: board' "$trace" | tail -2 | awk '
        NR == 1 { x = $3; y = $4 } NR == 2 { k = 400 / ($3 - x); print k, 300 - k * x, 740 - k * y }')
}
to() { read -r px py < <(awk -v k="$scale" -v l="$left" -v t="$top" -v x="$1" -v y="$2" 'BEGIN { printf "%d %d", l + k * x, t + k * y }'); at "$px" "$py"; sleep 0.2; }

cp "$root/demo/river-logger.chart.json" "$work/one.chart.json"
cp "$root/demo/river-logger.chart.json" "$work/two.chart.json"

echo "adds a part, types sums with units as its place"
open_window one "$work/one.chart.json"; first=$process
find_board
keys Insert; await 'action: add-part'
write '1608M'; keys Return; keys Return
to 10.5 24.5; xdotool click 1; await 'edit: Add '
click 1160 158; keys ctrl+a; write 'R70'; keys Tab; await 'edit: Name of'
keys Escape Escape
keys ctrl+s; await 'save: one'
ask "$work/one.chart.json" '"R70" in part' || fail "the added part"
to 10.5 24.5; xdotool click 1; await 'select: R70'
click 1160 158; keys Tab Tab Tab Tab Tab; keys ctrl+a; write '10+12mil'; keys Return; await 'edit: x of R70'
keys Escape Escape
keys ctrl+s; await 'save: one' 2
ask "$work/one.chart.json" 'near(at("R70")[0], 10.3048)' || fail "the sum with a unit"

echo "makes a row of copies, takes the row back and does it again"
to 10.5 24.5; xdotool click 1; await 'select: R70' 2
act 'copies in a grid'; sleep 0.5 # shows its numbers and gives the first of them the pen
keys Escape; act 'copies in a grid'; await 'edit: Copy R70 to a grid of 2 x 1'
keys ctrl+z; await 'undo: Copy R70'
keys ctrl+y; await 'redo: Copy R70'
picture grid
keys ctrl+s; await 'save: one' 3
ask "$work/one.chart.json" 'near(at("R71")[0] - at("R70")[0], 2) and near(at("R71")[1], at("R70")[1])' || fail "the row"

echo "brings two parts in line"
to 10 24.5; xdotool click 1; sleep 0.3; to 12.8 24.5; xdotool keydown shift; xdotool click 1; xdotool keyup shift; await 'select: R70 and R71'
act 'bring left edges'; await 'edit: Bring left edges of R70 and R71 in line'
keys ctrl+s; await 'save: one' 4
ask "$work/one.chart.json" 'near(at("R71")[0], at("R70")[0])' || fail "the line"
keys ctrl+z; await 'undo: Bring left edges'

echo "walks through the history by keys"
keys j; await 'action: history'
picture history
keys Up; await 'step: '
keys Down; await 'step: ' 2
keys Escape Escape

echo "copies to another window on the same screen"
sleep 0.3; to 10.5 24.5; xdotool click 1; await 'select: R70$' 4
keys ctrl+c; await 'copy: R70$'
one_trace=$trace one_id=$id
open_window two "$work/two.chart.json"; second=$process
find_board
keys ctrl+v; await 'action: paste'
to 11.5 25.5
picture paste
xdotool click 1; await 'edit: Paste R70'
keys Left; await 'edit: Nudge R70'
keys ctrl+z; await 'undo: Nudge'
keys ctrl+s; await 'save: two'
ask "$work/two.chart.json" '"R70" in part and part["R70"]["id"] != ""' || fail "the pasted part"

echo "locks a part, which then stays"
keys b; await 'edit: Lock R70'
keys Left; sleep 0.5
[ "$(grep -c 'edit: Nudge' "$trace")" -eq 1 ] || fail "a locked part was moved"
keys b; await 'edit: Unlock R70'

echo "measures and keeps it on show"
keys l; await 'action: measure'
to 10 20; xdotool mousedown 1; to 11 21; to 13 24; xdotool mouseup 1; await 'measure: '
picture measure
keys Escape; sleep 0.2
act 'take all measured'; await 'action: dismiss-measures'

echo "hides layers, shows them again"
keys y; await 'action: layers'
picture layers
keys Escape

echo "garbage on the clipboard is refused in words"
if command -v xclip >/dev/null; then
    echo 'a shopping list' | xclip -selection clipboard
    keys ctrl+v; await 'refused: What lies on the clipboard is no part'
fi

echo "writes the key file, and a window opened later obeys it"
act 'write the key file'; await 'keys: written'
keys ctrl+s; sleep 0.5; keys ctrl+q; await_end; second=0
sed -i 's/^#duplicate = .*/duplicate = F9/' "$work/config/padchart/keys.txt"
echo 'nobody = F8' >>"$work/config/padchart/keys.txt"
open_window two "$work/two.chart.json"; second=$process
await 'keys: 1 findings'
picture keys
find_board
to 11.5 25.5; xdotool click 1; await 'select: R70'
keys F9; await 'edit: Duplicate R70'
keys ctrl+s; await 'save: two'
keys ctrl+q; await_end; second=0

process=$first; trace=$one_trace
xdotool windowfocus --sync "$one_id"
keys ctrl+s; await 'save: one' 5
keys ctrl+q; await_end; first=0
"$program" --help | grep -q -- '--snapshot' || fail "--help says nothing"
echo "The windows do what they should."
