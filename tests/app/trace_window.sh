#!/usr/bin/env bash
# Drives the way from a drawing to a chart in the real window: import with meanings and scale, tracing by hand, corners
# moved, loose pads put together, a corrected drawing. Believes the saved file and the program's own log.
# Usage: trace_window.sh PADCHART-WINDOW REPOSITORY
set -uo pipefail
program=$1
patience=300
. "$(dirname "$0")/window_tour.sh"

at() { xdotool mousemove --window "$id" "$1" "$2"; sleep 0.2; }
click() { at "$1" "$2"; xdotool click 1; sleep 0.2; }
keys() { xdotool key "$@"; sleep 0.2; }
write() { xdotool type --delay 0 "$1"; sleep 0.2; }
act() {
    local before; before=$(grep -c "action: $2\$" "$work/trace")
    keys slash; sleep 0.3; write "$1"; keys Return
    await "action: $2\$" $((before + 1))
}
# Where the board lies on the screen, from two clicks and what the trace says of them: PREFIX X1 Y1 X2 Y2 of the clicks.
learn() {
    read -r scale left top < <(grep "$1" "$work/trace" | tail -2 | awk -v p="$2" -v q="$3" -v r="$4" '
        { x = ""; n = split($0, w, " "); for (i = 1; i < n && x == ""; i++) if (w[i] ~ /^-?[0-9.]+$/) { x = w[i]; y = w[i + 1] } }
        NR == 1 { a = x; b = y } NR == 2 { k = (r - p) / (x - a); print k, p - k * a, q - k * b }')
}
to() { read -r px py < <(awk -v k="$scale" -v l="$left" -v t="$top" -v x="$1" -v y="$2" 'BEGIN { printf "%d %d", l + k * x, t + k * y }'); at "$px" "$py"; }
press() { to "$1" "$2"; xdotool click 1; sleep 0.2; }
pull() { to "$1" "$2"; xdotool mousedown 1; to "$(awk "BEGIN { print ($1 + $3) / 2 }")" "$(awk "BEGIN { print ($2 + $4) / 2 }")"; to "$3" "$4"; xdotool mouseup 1; sleep 0.3; }
ask() { python3 - "$work/board.chart.json" "$1" <<'PY' || fail "$2"
import json, sys
chart = json.load(open(sys.argv[1]))
part = {p.get("name", ""): p for p in chart["parts"]}
if not eval(sys.argv[2]):
    print("the saved file says otherwise:", sys.argv[2])
    sys.exit(1)
PY
}

cat >"$work/loose.svg" <<'SVG'
<svg xmlns="http://www.w3.org/2000/svg" xmlns:d="urn:draw" viewBox="0 0 400 300">
 <g d:label="Copper"><rect x="200" y="100" width="6" height="8"/><rect x="214" y="100" width="6" height="8"/></g>
 <g d:label="bodies"><rect id="R1" x="104" y="99" width="16" height="10"/></g>
 <g d:label="edge"><path d="M20 20 H380 V280 H20 Z"/></g>
</svg>
SVG

echo "brings in a drawing that states no size: says what a layer is, measures the scale on the preview"
open_window --size 1280x800 "$work/loose.svg" # a drawing named at the start is brought in at once
xdotool windowfocus --sync "$id"; sleep 1
rest() { grep -c 'view: at rest' "$work/trace"; }
await 'import begun: loose.svg with 4 shapes'
await 'view: at rest'
# No scale is known: the pointer measures from the start.
click 300 300; await 'scale point: ' 1
click 700 300; await 'scale point: ' 2
mm=$(grep 'scale point: ' "$work/trace" | awk '{ x[NR] = $3; y[NR] = $4 } END { printf "%.3f", sqrt((x[2]-x[1])^2 + (y[2]-y[1])^2) / 10 }')
sleep 0.5; keys ctrl+a; write "$mm"; sleep 0.3
rests=$(rest)
keys Return # takes it, and gives the keys back to the board
await 'import scale: 1 unit = 0.1' || fail "the scale"
await 'view: at rest' $((rests + 1))
click 300 620; await 'click: board' 1; click 700 620; await 'click: board' 2
learn 'click: board' 300 620 700
press 20.3 10.4; await 'import chosen: rect'
keys 4; sleep 0.2; press 21.7 10.4; sleep 0.2; keys 4; sleep 0.3
act 'Accept what' accept-import
await 'import: loose.svg'
keys ctrl+shift+s; sleep 0.4; keys ctrl+a; write "$work/board.chart.json"; keys Return; await 'save: board.chart.json'
ask 'chart["scale"]["source"] == "two-points" and abs(chart["scale"]["mm_per_unit"] - 0.1) < 0.001' "the scale in the file"
ask 'sum(len(p.get("pads", [])) for p in chart["parts"]) == 2' "the pads"

echo "puts the loose pads together as proposed"
act 'Put all loose pads' accept-groups
await 'grouped: '
keys ctrl+z; await 'undo: Put'; keys ctrl+y; await 'redo: Put'
keys Escape; sleep 0.2; keys Escape; sleep 0.2

echo "draws a keep-out with a hole and a shield, takes a point back, undoes, moves a corner, adds and takes one"
keys i; await 'action: trace'
keys p; xdotool keydown Control_L; click 300 620; await 'trace point: ' 1; click 700 620; await 'trace point: ' 2; xdotool keyup Control_L
learn 'trace point: ' 300 620 700
keys Escape
keys 5; keys r; pull 5 15 9 18; await 'edit: Draw a keep-out'
keys 7; pull 5.5 15.5 6.5 16.5; await 'edit: Draw a hole in keep-out 1'; keys ctrl+z; await 'undo: Draw a hole'; keys ctrl+y; await 'redo: Draw a hole'
keys 6; keys p; press 15 15; press 20 15; press 24 24; keys BackSpace; press 20 20; press 15 20; keys Return; await 'edit: Draw a shield'
keys 1; keys ctrl+z; await 'undo: Draw a shield'; keys ctrl+y; await 'redo: Draw a shield'
keys v; await 'action: reshape'
press 7 15; await 'reshape: keep-out 1'
pull 9 18 11 20; await 'edit: Reshape keep-out 1'
pull 7 15 7 13; await 'edit: Add a corner to keep-out 1'
keys Delete; await 'edit: Take a corner from keep-out 1'
to 11 20; xdotool mousedown 1; to 13 23; keys Escape; xdotool mouseup 1; sleep 0.3
[ "$(grep -c 'edit: Reshape keep-out 1' "$work/trace")" -eq 1 ] || fail "Escape does not drop a corner's move"
keys Escape; keys Escape; sleep 0.2
keys ctrl+s; await 'save: board.chart.json' 2
ask 'len(chart["keep_outs"]) == 1 and any(abs(x - 11) < 0.1 and abs(y - 20) < 0.1 for x, y in chart["keep_outs"][0]["outline_mm"][0])' "the corner that was moved"
ask 'len(chart["keep_outs"][0]["outline_mm"][0]) == 4' "the corner taken away"
ask 'len(chart["keep_outs"][0]["outline_mm"]) == 2' "the hole drawn into the keep-out"
ask 'len(chart["shields"]) == 1' "the shield"

echo "brings in the corrected drawing and keeps what was said"
sed 's/x="104" y="99"/x="107" y="99"/' "$work/loose.svg" >"$work/next.svg"
cp "$work/next.svg" "$work/loose.svg"
act 'corrected drawing' corrected-trace
sleep 0.4; keys ctrl+a; write "$work/loose.svg"; keys Return; await 'import begun: ' 2
act 'Accept what' accept-import
await 'edit: Corrected trace loose.svg'
keys ctrl+s; await 'save: board.chart.json' 3
ask 'abs(part["R1"]["at_mm"][0] - 11.5) < 0.05' "the place of the corrected part"
ask 'len(chart["keep_outs"]) == 1 and len(chart["shields"]) == 1' "what was drawn by hand stays"
keys ctrl+q
for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || { window=0; break; }; sleep 0.1; done
[ "$window" -eq 0 ] || fail "the window does not close"
[ -s "$work/config/padchart/trace-meanings" ] || fail "nothing was remembered for the next drawing"
echo "The way from a drawing to a chart does what it should."
