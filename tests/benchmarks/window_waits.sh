#!/usr/bin/env bash
# How long the window keeps a hand waiting on a chart of 5,000 parts and 50,000 pads: it is driven through all stages,
# panned, zoomed, edited, undone, compared, saved, written as a sheet and opened anew, and says after each what its
# longest round of the main loop was: by the clock, and by what its own thread worked ("own"). With a busy machine only
# the second number tells something. Software GL: what a graphics card does is in "display".
# Usage: window_waits.sh PADCHART-WINDOW MAKE_LARGE_CHART [PARTS PADS-A-PART]
set -uo pipefail
program=$1 maker=$2 parts=${3:-5000} pads=${4:-10}
screen=1600x1000 patience=1200
opens_within=120
. "$(dirname "$0")/../app/window_tour.sh"

keys() { xdotool key "$@"; }
drag() { xdotool mousemove --window "$id" 500 500 mousedown 2; for i in $(seq 12); do xdotool mousemove_relative -- "$1" "$2"; sleep 0.05; done; xdotool mouseup 2; }
# What has been logged since the last step: the longest of the rounds over 100 ms.
told=0
step() {
    sleep "${2:-2}"
    tail -n +$((told + 1)) "$work/trace" | awk -v name="$1" '
        /^slow: / { n++; if ($2 + 0 > most) { most = $2 + 0; line = $0 } if ($5 + 0 > own) own = $5 + 0 }
        END { if (n) printf "%-28s %d rounds over 100 ms, longest %d ms, own at most %d ms\n%30s%s\n", name, n, most, own, "", line
              else printf "%-28s no round over 100 ms\n", name }'
    told=$(wc -l <"$work/trace")
}

"$maker" "$work/board.chart.json" "$parts" "$pads" || fail "no chart"
open_chart "$work/board.chart.json" --size 1600x1000
step "first picture" 6
drag 20 10; step "pan, all in view"
keys plus plus plus plus plus plus plus plus; step "zoom in" 3
drag -30 12; step "pan, names on show"
keys Home; step "whole chart" 2
xdotool mousemove --window "$id" 600 420 click 1; step "click a part" 3
keys shift+bracketleft; await 'edit: '; step "turn it" 5
keys ctrl+z; await 'undo: '; step "undo" 5
keys ctrl+y; await 'redo: '; step "redo" 5
for stage in F3:orient F4:heat F5:access F6:inspect F7:hand-over F2:survey; do
    keys "${stage%%:*}"; await "stage: ${stage##*:}"; step "stage ${stage##*:}" 5
done
keys ctrl+a; step "select all" 4
keys Escape; step "select nothing" 2
keys ctrl+s; await 'save: board' 1; step "save" 4
keys F6; keys ctrl+b; await 'freeze: '; step "freeze and compare" 10
keys F7; sleep 0.5; keys slash; sleep 0.5; xdotool type 'Write the sheet'; step "list of actions" 1
keys Return; sleep 1; keys ctrl+a; xdotool type --delay 0 "$work/sheet.pdf"; keys Return
await 'sheet: '; step "sheet as PDF" 6
keys ctrl+o; sleep 0.7; keys ctrl+a; xdotool type --delay 0 "$work/board.chart.json"; keys Return
await 'open: ' 2; step "open anew" 8
keys ctrl+q
for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || break; sleep 0.1; done
window=0
grep -E '^(longest|hardest) round' "$work/trace"
