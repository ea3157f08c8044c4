#!/usr/bin/env bash
# Brings a trace of more than 20 MB into the real window: while it is read the window answers keys, Cancel gives it up
# at once, and on the preview nothing touches the chart behind it. Believes the program's own log; prints for how long
# the window did not answer.
# Usage: import_window.sh PADCHART-WINDOW REPOSITORY [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 pictures=${3:-}
patience=1500
opens_within=60
. "$(dirname "$0")/window_tour.sh"

picture() { [ -n "$pictures" ] && import -window root "$pictures/$1.png"; }
keys() { xdotool key "$@"; sleep 0.2; }
count() { grep -c -- "$1" "$work/trace"; }
# The first line of one kind must stand before the first of another.
before() {
    local a b
    a=$(grep -n -- "$1" "$work/trace" | head -1 | cut -d: -f1) b=$(grep -n -- "$2" "$work/trace" | head -1 | cut -d: -f1)
    [ -n "$a" ] && { [ -z "$b" ] || [ "$a" -lt "$b" ]; } || fail "\"$1\" does not come before \"$2\""
}
begin() {
    local n; n=$(count 'import reads')
    keys ctrl+i; sleep 0.5; keys ctrl+a; xdotool type --delay 0 "$1"; sleep 0.3; xdotool key Return
    await 'import reads' $((n + 1))
}

python3 - "$work/large.svg" "$work/huge.svg" <<'PY'
import sys
def write(path, rows, columns):
    with open(path, "w") as out:
        out.write('<svg xmlns="http://www.w3.org/2000/svg" xmlns:d="urn:draw" width="400mm" height="300mm" viewBox="0 0 400 300">\n')
        out.write('<g d:label="edge"><path d="M1 1 H399 V299 H1 Z"/></g>\n<g d:label="copper">\n')
        for y in range(rows):
            for x in range(columns):
                out.write(f'<rect id="s{y}-{x}" style="fill:#c85;fill-opacity:0.5;stroke:#333333;stroke-width:0.05" '
                          f'x="{3 + x * 394 / columns:.5f}" y="{3 + y * 294 / rows:.5f}" '
                          f'width="{200 / columns:.5f}" height="{150 / rows:.5f}"/>\n')
        out.write('</g></svg>\n')
write(sys.argv[1], 380, 400)
write(sys.argv[2], 700, 800)
PY
[ "$(stat -c %s "$work/large.svg")" -gt 20000000 ] || fail "the trace is too small"

cp "$root/demo/river-logger.chart.json" "$work/board.chart.json"
open_chart "$work/board.chart.json" --size 1280x800; sleep 1
xdotool mousemove --window "$id" 650 480; xdotool click 1; await 'select: '
keys Right; await 'edit: Nudge'

echo "reads a trace of 80 MB, answers meanwhile, and gives it up at Escape"
keys ctrl+s; await 'save: board.chart.json'
begin "$work/huge.svg"; sleep 0.3; picture reading
keys F11; await 'action: theme'
keys Escape; await 'import left'
sleep 1
[ "$(count 'import begun')" -eq 0 ] || fail "what was given up came all the same"

echo "reads a trace of more than 20 MB and takes no edits of the chart behind it"
begin "$work/large.svg"
keys o; await 'side: bottom'; keys o; await 'side: top'
keys ctrl+z; keys Right; keys Insert
await 'import begun: large.svg'; await 'import preview: '
before 'side: bottom' 'import begun'
picture preview
[ "$(count 'undo: ')" -eq 0 ] && [ "$(count 'edit: Nudge')" -eq 1 ] || fail "the chart behind the preview was changed"

echo "says what a layer is, and goes on answering while the outcome is made"
xdotool mousemove --window "$id" 500 400; xdotool click 1; await 'import chosen: '
keys 4; n=$(count 'action: zoom-in'); keys plus; await 'action: zoom-in' $((n + 1))
await 'import preview: ' 2; picture said
keys ctrl+z; keys Delete; keys Insert; sleep 0.3
[ "$(count 'undo: ')" -eq 0 ] || fail "the chart behind the preview was changed"
keys Escape; sleep 0.3; keys Escape; sleep 0.5; picture asks
[ "$(count 'import left')" -eq 1 ] || fail "an import in which something was said was left without a question"
keys Escape; sleep 0.3
n=$(count 'action: fit'); keys Home; await 'action: fit' $((n + 1)) # still there, still answering
grep -q 'layer\|s[0-9]' "$work/config/padchart/trace-meanings" || fail "what was said is not remembered"

echo "leaves it, and the chart is as it was"
act 'up what is being brought' leave-import; sleep 0.5
xdotool mousemove --window "$id" 766 429; xdotool click 1; await 'import left' 2
keys ctrl+z; await 'undo: Nudge'
keys ctrl+y; await 'redo: Nudge'
keys ctrl+q
for _ in $(seq 200); do kill -0 "$window" 2>/dev/null || { window=0; break; }; sleep 0.1; done
[ "$window" -eq 0 ] || fail "the window does not close"
grep '^longest round\|^hardest round' "$work/trace" || fail "the window does not tell its longest wait"
echo "A large trace comes in while the window goes on."
