#!/usr/bin/env bash
# Lays a photo under the chart in the real window, on a display of its own: the photo is made here through a camera that
# is known, five spots are clicked in it and on the board, and the saved file is held against the camera.
# Usage: photo_window.sh PADCHART-WINDOW REPOSITORY MAKE_PHOTO [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 maker=$3 pictures=${4:-}
. "$(dirname "$0")/window_tour.sh"
PYTHONPATH=$(dirname "$(readlink -f "$0")") PYTHONDONTWRITEBYTECODE=1
export PYTHONPATH PYTHONDONTWRITEBYTECODE
fail() { echo "FAILED: $*"; echo "--- trace"; tail -40 "$work/trace" 2>/dev/null; echo "--- output"; cat "$work/output" 2>/dev/null; picture failed; exit 1; }
picture() { [ -n "$pictures" ] && import -window root "$pictures/$1.png"; }

at() { xdotool mousemove --window "$id" "$1" "$2"; sleep 0.2; }
click() { at "$1" "$2"; xdotool click 1; }
# Looks an action up in the list and runs it.
act() {
    local before; before=$(grep -c "action: $2\$" "$work/trace")
    xdotool key slash; sleep 0.4; xdotool type --delay 0 "$1"; sleep 0.3; xdotool key Return
    await "action: $2\$" $((before + 1)); sleep 0.2
}
# Finds out where the board lies on the screen, from two clicks beside it and what the trace says of them.
find_board() {
    click 300 740; await 'click: board' 1
    click 700 740; await 'click: board' 2
    read -r scale left top < <(grep 'click: board' "$work/trace" | tail -2 | awk '
        NR == 1 { x = $3; y = $4 } NR == 2 { k = 400 / ($3 - x); print k, 300 - k * x, 740 - k * y }')
}
# Where on the screen the spot of the photo is that shows this place of the board, and where the place itself is.
where() { python3 - "$truth" "$(grep 'photo-map: ' "$work/trace" | tail -1 | cut -d' ' -f2-)" "$scale" "$left" "$top" "$1" "$2" <<'PY'
import sys
from homography import through
numbers = lambda text: [float(word) for word in text.split()]
truth, shown = numbers(sys.argv[1]), numbers(sys.argv[2])
scale, left, top, x, y = map(float, sys.argv[3:])
u, v = through(shown, *through(truth, x, y))
print(round(left + scale * u), round(top + scale * v), round(left + scale * x), round(top + scale * y))
PY
}
point() {
    local n; n=$(grep -c 'photo-point: ' "$work/trace")
    read -r px py bx by < <(where "$1" "$2")
    click "$px" "$py"; await 'photo-spot: ' $((n + 1)); picture "spot-$((n + 1))"
    click "$bx" "$by"; await 'photo-point: ' $((n + 1)); sleep 0.3
}

cp "$root/demo/river-logger.chart.json" "$work/board.chart.json"
truth=$("$maker" "$work/board.chart.json" "$work/top.jpg" 2000 1500 18 11) || fail "the photo is not made"
# Middles of lands far apart: two corners of the region and two more.
places=$(python3 - "$work/board.chart.json" <<'PY'
import json, math, sys
chart = json.load(open(sys.argv[1]))
lands = []
for part in chart["parts"]:
    if part.get("side", "top") != "top":
        continue
    turn = math.radians(part.get("turn_deg", 0))
    for pad in part["pads"]:
        x, y = pad["at_mm"]
        c, s = math.cos(turn), math.sin(turn)
        lands.append((part["at_mm"][0] + c * x + s * y, part["at_mm"][1] - s * x + c * y))
for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
    print(*max(lands, key=lambda p: a * p[0] + b * p[1]))
PY
)

open_chart "$work/board.chart.json" --size 1280x800
find_board

echo "brings in a photo and lays it down by four points"
act 'bring in a photo' add-photo; sleep 0.3
xdotool type --delay 0 "$work/top.jpg"; sleep 0.3; xdotool key Return
await 'edit: Add photo top.jpg'; await 'photo-map: '; sleep 0.5; picture added
while read -r x y; do point "$x" "$y"; done <<<"$places"
picture laid
xdotool key ctrl+s; await 'save: board.chart.json'
python3 - "$work/board.chart.json" "$truth" <<'PY' || fail "the place of the photo"
import json, sys
from homography import through
chart = json.load(open(sys.argv[1]))
truth = [float(word) for word in sys.argv[2].split()]
photo = chart["photos"][0]
ring = chart["board"]["outline_mm"][0]
xs, ys = [p[0] for p in ring], [p[1] for p in ring]
worst = 0.0
for i in range(11):
    for k in range(11):
        x = min(xs) + (max(xs) - min(xs)) * i / 10
        y = min(ys) + (max(ys) - min(ys)) * k / 10
        u, v = through(photo["board_from_pixel"], *through(truth, x, y))
        worst = max(worst, ((u - x) ** 2 + (v - y) ** 2) ** 0.5)
size = max(max(xs) - min(xs), max(ys) - min(ys))
print(f"worst {worst:.3f} mm of {size:.1f} mm: {100 * worst / size:.2f} %")
sys.exit(0 if len(photo["points"]) == 4 and worst < 0.005 * size and photo["path"] == "top.jpg" else 1)
PY

echo "drops a spot with Escape, ends with another, takes the last point back"
read -r px py bx by < <(where 10 10)
click "$px" "$py"; await 'photo-spot: ' 5
xdotool key Escape; sleep 0.3; xdotool key Escape; sleep 0.3
xdotool key ctrl+z; await 'undo: Point 4 of photo top.jpg'
xdotool key ctrl+y; await 'redo: Point 4 of photo top.jpg'

echo "hides it, locks it, and finds it gone when its file is"
act 'hide or show the photo' hide-photo; await 'edit: Hide photo top.jpg'
act 'hide or show the photo' hide-photo; await 'edit: Show photo top.jpg'
act 'lock or unlock the photo' lock-photo; await 'edit: Lock photo top.jpg'
mv "$work/top.jpg" "$work/elsewhere.jpg"
at 600 400; sleep 1; picture gone
kill -0 "$window" 2>/dev/null || fail "the window does not outlive a missing photo"
xdotool key ctrl+s; await 'save: board.chart.json' 2
xdotool key ctrl+q
for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || break; sleep 0.1; done
kill -0 "$window" 2>/dev/null && fail "the window does not close"
wait "$window"; status=$?; window=0
[ "$status" -eq 0 ] || fail "closing answers $status"
echo "traces over a photo from nothing: no scale until two points and mm are given, then lengths are true"
# Seen straight from above, so that millimetres are the same everywhere in the picture.
straight=$("$maker" "$work/board.chart.json" "$work/straight.jpg" 2000 1500 0 0) || fail "the photo is not made"
open_window --size 1280x800
xdotool windowfocus --sync "$id"; sleep 1
act 'photos' photos
act 'bring in a photo' add-photo; sleep 0.3
xdotool key ctrl+a; xdotool type --delay 0 "$work/straight.jpg"; sleep 0.3; xdotool key Return
await 'edit: Add photo straight.jpg'; await 'action: scale$'; sleep 1.5; picture asks-for-scale
click 300 300; await 'scale point: ' 1
click 700 300; await 'scale point: ' 2
mm=$(python3 - "$straight" "$(grep 'photo-lies: ' "$work/trace" | tail -1 | cut -d' ' -f2-)" \
    $(grep 'scale point: ' "$work/trace" | awk '{ print $3, $4 }') <<'PY'
import sys
from homography import through
numbers = lambda text: [float(word) for word in text.split()]
def back(h):
    a, b, c, d, e, f, g, i, k = h
    return [e * k - f * i, c * i - b * k, b * f - c * e, f * g - d * k, a * k - c * g, c * d - a * f,
            d * i - e * g, b * g - a * i, a * e - b * d]
board_from_pixel, pixel_from_chart = back(numbers(sys.argv[1])), back(numbers(sys.argv[2]))
ends = [float(word) for word in sys.argv[3:]]
a, b = (through(board_from_pixel, *through(pixel_from_chart, *ends[k:k + 2])) for k in (0, 2))
print(f"{((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5:.4f}")
PY
)
sleep 0.5; xdotool key ctrl+a; xdotool type --delay 0 "$mm"; sleep 0.5; picture scale-typed
xdotool key Return # takes it
await 'scale: 1 unit'; sleep 1.5; picture scale-taken
xdotool key 3 r; sleep 0.3 # a body, a rectangle
at 500 300; xdotool mousedown 1; at 560 330; at 620 360; xdotool mouseup 1
await 'edit: Draw the body'; sleep 0.3; picture body
at 700 420; xdotool mousedown 1; at 730 440; at 760 460; xdotool mouseup 1
await 'edit: Draw the body' 2; sleep 0.5; picture bodies
xdotool key ctrl+shift+s; sleep 0.5; xdotool key ctrl+a; xdotool type --delay 0 "$work/traced.chart.json"; xdotool key Return
await 'save: traced.chart.json'
python3 - "$work/traced.chart.json" "$straight" <<'PY' || fail "what was traced is not in true mm"
import json, sys
from homography import through
chart = json.load(open(sys.argv[1]))
truth = [float(word) for word in sys.argv[2].split()]
photo = chart["photos"][0]
# 10 mm of the board as the camera saw them, laid back by the chart's own map: 10 mm again.
a, b = (through(photo["board_from_pixel"], *through(truth, x, 5)) for x in (5, 15))
length = ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
sizes = [(p["body"]["width_mm"], p["body"]["height_mm"]) for p in chart["parts"]]
print(f"10 mm of the board are {length:.3f} mm on the chart; bodies {sizes}; {chart['scale']}")
# 120 x 60 px and 60 x 40 px were drawn: the photo did not move between the two.
same = abs(sizes[0][0] / sizes[1][0] - 2) < 0.05 and abs(sizes[0][1] / sizes[1][1] - 1.5) < 0.08
sys.exit(0 if same and abs(length - 10) < 0.02 and chart["scale"]["source"] == "two-points" else 1)
PY
xdotool key ctrl+q
for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || { window=0; break; }; sleep 0.1; done
[ "$window" -eq 0 ] || fail "the window does not close after tracing"
echo "Photos do what they should."
