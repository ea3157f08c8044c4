#!/usr/bin/env bash
# Drives the real window where it is lowest for its letters: 1280 x 720 px at scale 2. What a hand needs for every part is
# pressed without scrolling, and nothing has left the top bar. Believes the program's own log.
# Usage: low_window.sh PADCHART-WINDOW REPOSITORY [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 pictures=${3:-}
screen=1280x720
. "$(dirname "$0")/window_tour.sh"

click() { xdotool mousemove --window "$id" "$1" "$2"; sleep 0.3; xdotool click 1; }
picture() { [ -z "$pictures" ] || import -window "$id" "$pictures/$1.png"; }

cp "$root/demo/river-logger.chart.json" "$work/board.chart.json"
open_chart "$work/board.chart.json" --stage orient --select U4 --size 1280x720 --scale 2

echo "orient: the place of the mark and the button that records it"
sleep 0.5; picture orient
click 867 501; sleep 0.3; picture orient-place; click 959 634
await 'edit: Record '

echo "survey: the answer for the part, and the way to the next one"
xdotool key F2; await 'action: survey'; sleep 0.5; picture survey
click 946 639; await 'action: good-next'

echo "inspect: same or different"
xdotool key F6; await 'action: inspect'; xdotool key ctrl+b; await 'freeze: '; await 'inspect: 0 changes'
sleep 0.5; picture inspect
click 804 569; await 'inspect same: '
click 1090 569; await 'inspect differs: '

echo "a recent chart is opened from the list of actions"
xdotool key Escape; xdotool key ctrl+s; await 'save: board.chart.json' 2
xdotool key slash; sleep 0.3; xdotool type --delay 20 'recent board.ch'; sleep 0.3; picture recent; xdotool key Return
await 'open: board.chart.json' 2

echo "the top bar still has the photos"
xdotool key Escape; sleep 0.3; click 737 46; await 'action: photos'
echo "all of it is in reach"
