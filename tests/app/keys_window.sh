#!/usr/bin/env bash
# The real window by keys alone: the pointer rests in a corner and no button is pressed. A part is added and led to its
# place, numbers are typed where the list of actions asks for them, a land is lifted, the list after rework ticked, a
# merge settled, a recent chart opened. Believes the saved file and the program's own log.
# Usage: keys_window.sh PADCHART-WINDOW REPOSITORY [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 pictures=${3:-}
. "$(dirname "$0")/window_tour.sh"

keys() { for key in "$@"; do xdotool key "$key"; sleep 0.1; done; }
picture() { [ -z "$pictures" ] || { sleep 0.3; import -window "$id" "$pictures/keys-$1.png"; }; }
save() { local n; n=$(grep -c 'save: board' "$work/trace"); keys ctrl+s; await 'save: board.chart.json' $((n + 1)); }
ask() { python3 - "$work/board.chart.json" "$1" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
part = {p.get("name", ""): p for p in chart["parts"]}
if not eval(sys.argv[2]):
    print("the saved file says otherwise:", sys.argv[2])
    sys.exit(1)
PY
}

python3 - "$root/demo/river-logger.chart.json" "$work/board.chart.json" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
part = next(p for p in chart["parts"] if p["name"] == "C12")
chart["conflicts"] = [{"thing": part["id"], "field": "/value", "base": "470n", "ours": "1u", "theirs": "2u2",
                       "ours_label": "bench 1", "theirs_label": "bench 2"}]
json.dump(chart, open(sys.argv[2], "w"))
PY
open_chart "$work/board.chart.json" --select U6 --size 1280x800
xdotool mousemove --window "$id" 2 2

echo "settles what a merge left open"
keys ctrl+m; await 'conflict: C12, value'; picture conflict
keys alt+2; await 'conflict settled: C12, value'
keys Escape Escape

echo "adds a part and leads it to its place"
keys Insert; await 'action: add-part'; sleep 0.3
xdotool type --delay 20 '1608M'; keys Return Return; sleep 0.3
keys Right Right shift+Down; picture led
keys Return; await 'edit: Add '; await 'select: '
name=$(grep -o 'edit: Add [A-Z0-9]*' "$work/trace" | tail -1 | cut -d' ' -f3)

echo "asks for the numbers before it copies"
act 'copies in a grid' copy-grid; sleep 0.5; picture numbers
! grep -q 'edit: Copy' "$work/trace" || fail "copies were made before anybody typed a number"
keys ctrl+a; xdotool type --delay 20 '3'; keys Return; await "edit: Copy $name to a grid of 3 x 1"
keys ctrl+z; await 'undo: Copy'

echo "Tab goes from the last number to the button and round again"
act 'move by a distance' move-by; sleep 0.5
keys ctrl+a; xdotool type --delay 20 '2'; keys Tab; sleep 0.2; keys Tab; sleep 0.3; picture button
keys Return; await "edit: Move $name"
keys Tab; sleep 0.3; keys ctrl+a; xdotool type --delay 20 '4'; sleep 0.2; picture round; keys Return
await "edit: Move $name" 2
keys Escape; sleep 0.2; keys Return; sleep 0.3
! grep -q 'refused: Record' "$work/trace" || fail "Enter spoke of a mark where nobody had asked for one"
keys ctrl+z ctrl+z; await 'undo: Move' 2

echo "Tab goes round the ring of copies: its numbers, the tick, the button; Shift goes back"
act 'copies in a ring' copy-ring; sleep 0.5
keys ctrl+a; xdotool type --delay 20 '2'; keys Tab Tab Tab; sleep 0.2; picture ring-last
keys Tab; sleep 0.3; picture ring-tick; keys Tab; sleep 0.3; picture ring-button
keys Return; await "edit: Copy $name to a ring of 2"; keys ctrl+z; await 'undo: Copy' 2
act 'copies in a ring' copy-ring; sleep 0.5
keys ctrl+a; xdotool type --delay 20 '5'; keys shift+Tab; sleep 0.3 # the button
keys shift+Tab; sleep 0.3; keys shift+Tab; sleep 0.3; picture ring-back # the tick, the last number
keys ctrl+a; xdotool type --delay 20 '3'; keys shift+Tab shift+Tab shift+Tab; sleep 0.3
keys ctrl+a; xdotool type --delay 20 '3'; sleep 0.2; keys Return; await "edit: Copy $name to a ring of 3"
keys ctrl+z; await 'undo: Copy' 3

echo "Tab goes round the fold: the line, the button, which way it lies"
act 'fold to the far side' fold; sleep 0.5
keys ctrl+a; xdotool type --delay 20 '9'; keys Tab; sleep 0.3; picture fold-button
keys Tab; sleep 0.3; picture fold-way; keys Tab; sleep 0.3
keys ctrl+a; xdotool type --delay 20 '12'; sleep 0.2; keys Return; await "edit: Fold $name to the far side"
keys ctrl+z; await 'undo: Fold'; keys ctrl+z; await 'undo: Add'

echo "a lifted land: the pad by keys, then Enter"
keys Escape Escape; sleep 0.3
keys period; await 'action: part-after'; sleep 0.3
act 'land lifted' state-lifted; picture lifting
keys ctrl+period ctrl+period; await 'pad: Pad '; picture pad
keys Return; await 'edit: Land of pad '

echo "the list after rework"
keys F6; await 'stage: inspect'
keys ctrl+Next ctrl+Next; await 'line: ' 2; picture line
keys ctrl+k; await 'tick: '
save
ask 'part["C12"]["value"] == "2u2" and not chart.get("conflicts")' || fail "the merge"
ask 'sum(tick.get("done", False) for tick in chart["ticks"]) == 1' || fail "the tick"
ask 'any(pad.get("land") == "lifted" for p in chart["parts"] for pad in p["pads"])' || fail "the lifted land"

echo "a recent chart"
act 'recent charts' recent-charts; sleep 0.3; picture recent; keys Return; await 'open: board.chart.json' 2
echo "All of it by keys alone."
