#!/usr/bin/env bash
# Brings traces into the real window one after the other: what was said of one is not taken over by another drawing of
# the same name, is told where it is, and forgotten at one press; the scale is asked for in every trace that has none;
# a corrected trace tells the pad that moved. Believes the program's own log.
# Usage: import_again_window.sh PADCHART-WINDOW REPOSITORY [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 pictures=${3:-}
. "$(dirname "$0")/window_tour.sh"

picture() { [ -n "$pictures" ] && { sleep 0.7; import -window root "$pictures/$1.png"; }; }
keys() { xdotool key "$@"; sleep 0.3; }
count() { grep -c -- "$1" "$work/trace"; }
click() { xdotool mousemove --window "$id" "$1" "$2" click 1; sleep 0.4; }
named() {
    sleep 0.5; keys ctrl+a; xdotool type --delay 0 "$1"; sleep 0.3
    local n; n=$(count 'import preview: '); keys Return; await 'import preview: ' $((n + 1)); sleep 1.5
}
begin() { keys ctrl+i; named "$1"; }
# Something was said: the question whether to give it up is answered with yes.
give_up() {
    local n; n=$(count 'import left')
    act 'up what is being brought' leave-import; sleep 0.5
    click 766 429; await 'import left' $((n + 1))
}

mkdir "$work/one" "$work/other"
cp "$root/demo/power-corner.svg" "$work/one/board.svg"
# Another board under the same name: all that has no id of its own stands elsewhere.
sed 's/translate(\([0-9.]*\) \([0-9.]*\))/translate(\1 \2) translate(0.4 0.3)/' "$work/one/board.svg" >"$work/other/board.svg"
sed 's/ width="44mm" height="32mm"//' "$work/one/board.svg" >"$work/no-size.svg"
sed 's/id="U1-1" class="pad" x="-2.347"/id="U1-1" class="pad" x="-2.747"/' "$work/one/board.svg" >"$work/corrected.svg"
cmp -s "$work/one/board.svg" "$work/corrected.svg" && fail "the demo's trace has no pad U1-1 to move"

cp "$root/demo/river-logger.chart.json" "$work/logger.chart.json"
open_chart "$work/logger.chart.json" --size 1280x800; sleep 1

echo "asks for the scale of a trace without one, the second time as the first"
for round in 1 2; do
    begin "$work/no-size.svg"
    click 300 300; await 'scale point' $((2 * round - 1))
    click 600 400; await 'scale point' $((2 * round))
    sleep 0.5; picture "scale-$round"
    keys Escape; keys Escape; keys Escape; keys Escape; sleep 0.3 # the field, both points, the tool
    keys Escape; await 'import left' "$round"
done
begin "$work/no-size.svg"
click 300 300; click 600 400; await 'scale point' 6
xdotool type 42; keys Tab; keys Escape
act 'that was measured' take-scale; await 'import scale: 1 unit = '
await 'import preview: ' 4; sleep 1.5
click 500 400; await 'import chosen: '; picture scale-taken
give_up

echo "knows a shape again in the same drawing, not in another one of that name"
begin "$work/one/board.svg"
n=$(count 'import chosen: '); click 640 520; await 'import chosen: ' $((n + 1))
[ "$(count 'scale point')" -eq 6 ] || fail "a click on a trace with a scale still measures"
n=$(count 'import preview: '); keys 0; await 'import preview: ' $((n + 1)); picture said
give_up
begin "$work/other/board.svg"
[ "$(count 'import remembers: ')" -eq 0 ] || fail "what was said of one board holds for another one"
keys Escape; await 'import left' 5
begin "$work/one/board.svg"
await 'import remembers: 1 shapes, 1 left out'; picture remembered
click 1085 ${forget_y:-326}; await 'import forgets: 1 shapes'; picture forgotten
give_up
begin "$work/one/board.svg"
[ "$(count 'import remembers: ')" -eq 1 ] || fail "what was forgotten came back"
keys Escape; await 'import left' 7

echo "tells the pad that moved in a corrected trace"
act 'corrected drawing' corrected-trace; named "$work/corrected.svg"; picture corrected
tail -n 3 "$work/trace" | grep -q 'import preview: [0-9]* parts, 1 changed' || fail "one part was changed in the corrected trace"
keys Escape; await 'import left' 8
echo "One trace after the other comes in as what it is."
