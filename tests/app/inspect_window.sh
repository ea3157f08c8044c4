#!/usr/bin/env bash
# Drives the inspect stage of the real window on a display of its own: freeze, walk over the parts, views, the list after
# rework, and a merge's conflict settled. Believes the saved file and the program's own log.
# Usage: inspect_window.sh PADCHART-WINDOW REPOSITORY MAKE_PHOTO [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 maker=$3 pictures=${4:-}
. "$(dirname "$0")/window_tour.sh"

ask() { python3 - "$work/board.chart.json" "$1" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
ticks = chart.get("ticks", [])
parts = {part.get("name"): part for part in chart["parts"]}
seen = [tick for tick in ticks if tick["task"] == "same-as-before"]
if not eval(sys.argv[2]):
    print("the saved file says otherwise:", sys.argv[2], ticks, chart.get("conflicts"))
    sys.exit(1)
PY
}
save() { local n; n=$(grep -c 'save: board' "$work/trace"); xdotool key ctrl+s; await 'save: board.chart.json' $((n + 1)); }
start() {
    open_chart "$work/board.chart.json" "$@" --size 1280x800
}
finish() {
    xdotool key ctrl+q
    for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || break; sleep 0.1; done
    kill -0 "$window" 2>/dev/null && fail "the window does not close"
    wait "$window"; status=$?; window=0
    [ "$status" -eq 0 ] || fail "closing a saved chart answers $status"
}

cp "$root/demo/river-logger.chart.json" "$work/board.chart.json"
start --stage inspect
await 'inspect: nothing to compare with'

echo "one key freezes the chart as before, and nothing differs yet"
xdotool key ctrl+b
await 'freeze: board.before.chart.json'
await 'inspect: 0 changes'
[ -s "$work/board.before.chart.json" ] || fail "the copy is not there"
ask 'chart["frozen_before"]["path"] == "board.before.chart.json" and len(chart["frozen_before"]["date"]) == 10' || fail "the record"

echo "the walk: same, same, differs, by one key each"
xdotool key s; await 'inspect same: ' 1
xdotool key s; await 'inspect same: ' 2
xdotool key d; await 'inspect differs: ' 1
xdotool type --delay 60 'sits too low'; xdotool key Return
await 'inspect differs: ' 2
save
ask 'any(tick.get("note") == "sits too low" for tick in seen)' || fail "the letters after the key for what differs"
ask 'len(seen) == 3 and sum(tick.get("done", False) for tick in seen) == 2' || fail "what was seen"

echo "an edit of a part asks for another comparison"
xdotool key 2; await 'edit: '
await 'inspect: [1-9][0-9]* change'
xdotool key ctrl+z; await 'undo: '; await 'inspect: 0 changes' 2

echo "the views change by keys and the flicker runs by itself"
for view in 'x see-difference' 'w see-before' 't see-flicker' 'c see-changes'; do
    read -r key action <<<"$view"
    xdotool key "$key"; await "action: $action\$"; sleep 0.3
done
xdotool key Next; await 'inspect step: ' 3

echo "a second freeze asks first and keeps the older copy"
act 'Freeze as' freeze; sleep 0.5
[ ! -e "$work/board.before-2.chart.json" ] || fail "it did not ask"
act 'Freeze as' freeze; await 'freeze: board.before-2.chart.json'
[ -s "$work/board.before.chart.json" ] || fail "the older copy is gone"
ask 'not seen' || fail "the walk begins anew"
finish

echo "a conflict of a merge is settled in the window"
python3 - "$work/board.chart.json" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
part = next(part for part in chart["parts"] if part.get("name") == "C12")
part["value"] = "1u"
chart["conflicts"] = [{"thing": part["id"], "field": "/value", "base": "470n", "ours": "1u", "theirs": "2u2",
                       "ours_from": "bench 1", "theirs_from": "bench 2"}]
json.dump(chart, open(sys.argv[1], "w"))
PY
start
xdotool key ctrl+m; await 'conflict: C12, value'
act 'second hand' settle-theirs; await 'conflict settled: C12, value'
save
ask 'parts["C12"]["value"] == "2u2" and not chart.get("conflicts")' || fail "what was settled"
finish

echo "two photos of a side are shown in turns, and what differs between them"
cp "$root/demo/river-logger.chart.json" "$work/board.chart.json"
rm -f "$work"/board.before*
# Adds a photo of the chart as it is, taken through a camera that is known: FILE TILT TURN ID; then an edit of the chart.
add_photo() {
    local truth; truth=$("$maker" "$work/board.chart.json" "$work/$1" 1600 1200 "$2" "$3") || fail "the photo is not made"
    python3 - "$work/board.chart.json" "$1" "$truth" "$4" <<'PY'
import json, sys
path, name, truth, number = sys.argv[1:]
h = [float(word) for word in truth.split()]
a, b, c, d, e, f, g, i, j = h
k = a * (e * j - f * i) - b * (d * j - f * g) + c * (d * i - e * g)
back = [(e * j - f * i) / k, (c * i - b * j) / k, (b * f - c * e) / k, (f * g - d * j) / k, (a * j - c * g) / k,
        (c * d - a * f) / k, (d * i - e * g) / k, (b * g - a * i) / k, (a * e - b * d) / k]
chart = json.load(open(path))
chart.setdefault("photos", []).append({"id": number, "path": name, "board_from_pixel": [v / back[8] for v in back]})
json.dump(chart, open(path, "w"))
PY
}
add_photo before.jpg 12 5 photo-before
start --stage inspect
xdotool key ctrl+b; await 'freeze: board.before.chart.json'
finish
python3 - "$work/board.chart.json" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
next(part for part in chart["parts"] if part["name"] == "U6")["at_mm"][1] += 3.0
json.dump(chart, open(sys.argv[1], "w"))
PY
add_photo after.jpg 9 -8 photo-after
start --stage inspect
await 'inspect: 1 change'
xdotool key w; await 'inspect photos: before'
xdotool key c; sleep 0.3
xdotool key t; await 'inspect photos: before' 2; await 'inspect photos: now'; await 'inspect photos: before' 3
xdotool key x; await 'inspect photos: difference'; sleep 1
if command -v import >/dev/null; then
    click() { xdotool mousemove --window "$id" "$1" "$2"; sleep 0.2; xdotool click 1; }
    click 300 740; await 'click: board' 1
    click 700 740; await 'click: board' 2
    import -window root "$work/difference.png"
    [ -n "$pictures" ] && cp "$work/difference.png" "$pictures/difference.png"
    # Means of small squares: where U6 was and is now they leave the middle grey, where nothing moved they keep to it.
    places=$(grep 'click: board' "$work/trace" | tail -2 | awk '
        NR == 1 { x = $3; y = $4 } NR == 2 { k = 400 / ($3 - x); print k, 300 - k * x, 740 - k * y }')
    python3 - "$work/board.chart.json" "$work/difference.png" $places <<'PY' || fail "the difference of the photos"
import json, subprocess, sys
chart = json.load(open(sys.argv[1]))
scale, left, top = map(float, sys.argv[3:6])
def grey(x, y):
    px, py, side = left + scale * x, top + scale * y, max(4, round(scale * 0.5))
    words = subprocess.run(["convert", sys.argv[2], "-crop", f"{side}x{side}+{round(px - side / 2)}+{round(py - side / 2)}",
                            "-colorspace", "gray", "-format", "%[fx:mean] %[fx:standard_deviation]", "info:"],
                           capture_output=True, text=True, check=True).stdout.split()
    return abs(float(words[0]) - 128 / 255)
at = {part["name"]: part["at_mm"] for part in chart["parts"]}
moved = max(grey(at["U6"][0] + dx, at["U6"][1] + dy) for dx in (-1, 0, 1) for dy in (-4, -3, 1.5, 2))
still = [grey(at[name][0] + 0.4, at[name][1] + 0.4) for name in ("U1", "D1", "Y1")]
print("moved", moved, "still", still)
sys.exit(0 if moved > 0.06 and max(still) < 0.05 else 1)
PY
fi
[ -n "$pictures" ] && for view in t w; do xdotool key $view; sleep 0.4; import -window root "$pictures/photos-$view.png"; done
finish
echo "The inspect stage does what it should."
