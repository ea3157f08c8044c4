#!/usr/bin/env bash
# A large chart in the real window: its board is drawn over several frames, and in the end looks as a picture that is
# drawn at once. A part that is turned is seen turned at once, and stays so.
# Usage: large_window.sh PADCHART-WINDOW REPOSITORY MAKE_LARGE_CHART [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 maker=$3 pictures=${4:-}
patience=900 opens_within=90
. "$(dirname "$0")/window_tour.sh"
for tool in import compare; do command -v "$tool" >/dev/null || { echo "$tool is missing: skipped"; exit 77; }; done

seen() { xdotool mousemove --window "$id" 2 798; sleep 1; import -window "$id" "$work/$1.png"; [ -z "$pictures" ] || cp "$work/$1.png" "$pictures/large-$1.png"; }
at_once() { "$program" "$1" --size 1280x800 --smooth 0 --snapshot "$work/$2.png" >/dev/null || fail "no picture"; }
# Pixels of the board that differ by more than a shade; the chart fills the middle of the canvas.
differing() { compare -metric AE -fuzz 12% "$work/$1.png[600x480+200+90]" "$work/$2.png[600x480+200+90]" null: 2>&1 | cut -d' ' -f1; }

"$maker" "$work/board.chart.json" 1200 10 || fail "no chart"
echo "opens 1,200 parts with 12,000 pads"
open_chart "$work/board.chart.json" --size 1280x800
await 'picture: '
sleep 3; xdotool key Home; sleep 3
seen whole
at_once "$work/board.chart.json" whole-at-once
n=$(differing whole whole-at-once)
echo "$n of 288000 pixels differ from the picture drawn at once"
[ "$n" -lt 2000 ] || fail "the board drawn in pieces looks another way"

echo "goes near and comes back"
for _ in 1 2 3 4 5; do xdotool key plus; sleep 0.2; done
sleep 3
seen near
[ "$(differing near whole)" -gt 50000 ] || fail "the zoom is not to be seen"
xdotool key Home; sleep 3; xdotool key Home; sleep 3 # once more: names laid out for the view near by are gone now
seen back
n=$(differing back whole)
[ "$n" -lt 500 ] || fail "$n pixels are another way after coming back"

echo "moves everything by keys, and takes it back"
before=$(grep -c 'picture: ' "$work/trace")
xdotool key ctrl+a; sleep 0.5; xdotool key shift+bracketleft; await 'edit: '
await 'picture: ' $((before + 1)); sleep 5
seen turned
[ "$(differing turned whole)" -gt 10000 ] || fail "the turn is not to be seen"
xdotool key ctrl+z; await 'undo: '; xdotool key Escape; sleep 6
seen undone
n=$(differing undone whole)
[ "$n" -lt 500 ] || fail "$n pixels are another way after undoing"
echo "passed"
