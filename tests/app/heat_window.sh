#!/usr/bin/env bash
# Drives the heat stage of the real window on a display of its own: nozzle by hand and by keys, plans kept, undone,
# reopened and compared, the curve, shields, readings, advice. Believes the saved file and the program's own log.
# Usage: heat_window.sh PADCHART-WINDOW REPOSITORY
set -uo pipefail
program=$1 root=$2
. "$(dirname "$0")/window_tour.sh"

at() { xdotool mousemove --window "$id" "$1" "$2"; }
to() { read -r px py < <(awk -v k="$scale" -v l="$left" -v t="$top" -v x="$1" -v y="$2" 'BEGIN { printf "%d %d", l + k * x, t + k * y }'); at "$px" "$py"; sleep 0.2; }
ask() { python3 - "$work/board.chart.json" "$1" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
plans = chart["heat_plans"]
if not eval(sys.argv[2]):
    print("the saved file says otherwise:", sys.argv[2], plans)
    sys.exit(1)
PY
}
save() { local n; n=$(grep -c 'save: board' "$work/trace"); xdotool key ctrl+s; await 'save: board.chart.json' $((n + 1)); }

lines() { grep -c -- "$1" "$work/trace"; }
# Until nothing more is painted: what was asked for by wheel and click has been done.
rest() {
    local now before=-1
    for _ in $(seq 60); do
        sleep 0.4
        now=$(wc -l <"$work/trace")
        [ "$now" -eq "$before" ] && return
        before=$now
    done
}
page() { at 1085 600; for _ in $(seq 60); do xdotool click "$1"; done; rest; }
# Clicks up a column of the panel until the log says so: X FROM TO LINE.
climb() {
    local before y; before=$(lines "$4")
    for y in $(seq "$2" -8 "$3"); do
        at "$1" "$y"; sleep 0.05; xdotool click 1; sleep 0.35
        [ "$(lines "$4")" -gt "$before" ] && return
    done
    fail "nothing between $3 and $2 says \"$4\""
}

cp "$root/demo/river-logger.chart.json" "$work/board.chart.json"
open_chart "$work/board.chart.json" --stage heat --select U4 --size 1280x800

echo "shows the chart's plan with an estimate and, after a while, the no-aim map"
await 'heat-plan: lift U4'
await 'heat: estimate'
await 'heat-map: finished'

echo "the nozzle follows the hand, and when that rests the plan in the chart has followed in one step"
at 300 740; xdotool click 1; await 'click: board' 1
at 700 740; xdotool click 1; await 'click: board' 2
read -r scale left top < <(grep 'click: board' "$work/trace" | tail -2 | awk '
    NR == 1 { x = $3; y = $4 } NR == 2 { k = 400 / ($3 - x); print k, 300 - k * x, 740 - k * y }')
to 20.6 21; xdotool mousedown 1; to 19.8 20.5; to 18.6 20; xdotool mouseup 1; await 'aim: '
await 'heat: estimate' 2
grep -q 'heat-live: ' "$work/trace" || fail "no quick estimate follows the hand"
await 'edit: Heat plan for U4: aim'; save
ask 'len(plans) == 1 and abs(plans[0]["aim_mm"][0] - 18.6) < 0.2 and abs(plans[0]["aim_mm"][1] - 20) < 0.2' || fail "the aim"
xdotool key ctrl+z; await 'undo: Heat plan for U4: aim'; save
ask 'plans[0]["aim_mm"] == [20.6, 21]' || fail "the aim before"

echo "a second plan goes on from the first, keys aim and set it, and the two are compared"
act 'Begin another' heat-save-another
xdotool key alt+Right; await 'action: aim-right'
act 'hotter' air-hotter
act 'Preheater' preheater
save
ask 'len(plans) == 2 and plans[1].get("preheat_c") is None and plans[1]["set_point_c"] == 355' || fail "the second plan"
act 'Compare with' heat-compare; await 'heat-compared: estimate'
act 'one second later' heat-later
act 'of the peak' heat-peak

echo "a moment is scrubbed in the curve"
page 5
for y in 340 380 300 420; do
    at 1000 "$y"; xdotool mousedown 1; sleep 0.1; at 1020 "$y"; sleep 0.1; at 1046 "$y"; sleep 0.2; xdotool mouseup 1; sleep 0.2
    [ "$(lines 'heat-time: ')" -gt 1 ] && break
done
[ "$(lines 'heat-time: ')" -gt 1 ] || fail "the curve does not follow the mouse"
act 'of the peak' heat-peak

echo "the first plan is opened again from the list and changed, and the second stays"
act 'Fold the list of plans' heat-fold-plans; page 5
climb 960 722 640 'heat-plan: lift U4$'
act 'hotter' air-hotter; save
ask 'plans[0]["set_point_c"] == 355 and plans[1]["set_point_c"] == 355 and plans[0]["aim_mm"] == [20.6, 21] and plans[1]["aim_mm"] != [20.6, 21]' || fail "the reopened plan"
act 'Next plan' heat-next-plan
act 'Fold the list of plans' heat-fold-plans

echo "the other side can be looked at, and Escape drops a drag"
before=$(grep -c 'aim: ' "$work/trace")
act 'Flip side' flip-side; act 'Flip side' flip-side
xdotool key Home; sleep 0.5
to 20.7 21; xdotool mousedown 1; to 22 22; xdotool key Escape; sleep 0.3; xdotool mouseup 1; sleep 0.5
[ "$(grep -c 'aim: ' "$work/trace")" -eq "$before" ] || fail "Escape does not drop the aim"

echo "a click says where the thermocouple is, and the nozzle stays"
act 'thermocouple bead' heat-bead
to 18 24; xdotool click 1; await 'heat-bead: '
[ "$(grep -c 'aim: ' "$work/trace")" -eq "$before" ] || fail "the bead moved the nozzle"

echo "a shield drawn on the canvas acts at once"
asked=$(grep -c 'heat-ask: ' "$work/trace")
xdotool key i; await 'action: trace'; xdotool key 6; sleep 0.2; xdotool key r; sleep 0.2
to 13.5 25; xdotool mousedown 1; to 17 27; to 20.9 29.5; xdotool mouseup 1; await 'edit: Draw a shield'
await 'heat-ask: ' $((asked + 1))
xdotool key Escape; sleep 0.3 # the tool and its panel

echo "a slider is dragged and a number is typed with its unit"
page 4
asked=$(grep -c 'heat-ask: ' "$work/trace")
at 1136 254; xdotool mousedown 1; sleep 0.2; at 1150 254; sleep 0.2; at 1180 254; sleep 0.2; xdotool mouseup 1
await 'heat-ask: ' $((asked + 2))
at 1222 237; xdotool click --repeat 2 --delay 60 1; sleep 0.4; xdotool key ctrl+a; xdotool type --delay 20 '365 C'; xdotool key Return; sleep 0.3
save
ask 'plans[1]["set_point_c"] == 365 and len(plans[1]["shields"]) == 1 + len(plans[0].get("shields", []))' || fail "what was typed and drawn"

echo "a reading that no station gives is refused with the cause, one that fits is kept as a station"
act 'Fold the thermocouple' heat-fold-couple
page 5; at 1140 534; xdotool click 1; sleep 0.3; xdotool type --delay 20 '420 C'; xdotool key Return; sleep 0.3
act 'Take the thermocouple' heat-reading-take; act 'Fit the thermocouple' heat-fit
await 'heat-calibration: readings: .*ikely '
page 5; at 968 229; xdotool click 1; rest; page 5 # strikes it out
at 1140 534; xdotool click 1; sleep 0.3; xdotool type --delay 20 '200'; xdotool key Return; sleep 0.3
act 'Take the thermocouple' heat-reading-take; act 'Fit the thermocouple' heat-fit
await 'heat-calibration: The air leaves the nozzle at'
page 5; at 1160 635; xdotool click 1; sleep 0.3; xdotool type --delay 20 'bench 3'; xdotool key Return; sleep 0.3
act 'Keep the fitted station' heat-station-keep; await 'edit: Keep the station "bench 3"'
save
ask 'chart["stations"][0]["name"] == "bench 3" and plans[1]["station"] == chart["stations"][0]["id"]' || fail "the station"
act 'Fold the thermocouple' heat-fold-couple

echo "a plan that was searched for is applied, with the shields it names"
patience=2400 act 'Find a plan' heat-advise
patience=2400 await 'heat-advice: ready'
page 5; climb 1085 650 300 'heat-apply: U4'
await 'edit: Apply the advised heat plan for U4'; save
ask 'plans[1]["aim_mm"] != [20.8, 21] and all(i in [s["id"] for s in chart["shields"]] for p in plans for i in p.get("shields", []))' || fail "the advised plan"

echo "most answers are seen two frames after the hand has moved, at the latest"
python3 - "$work/trace" <<'PY' || fail "live answers lag"
import sys
frames, asked, lags = 0, {}, []
for line in open(sys.argv[1]):
    words = line.split()
    if words[0] == "frame:": frames += 1
    elif words[0] == "heat-ask:": asked[words[2]] = frames
    elif words[0] == "heat-live:": lags.append(frames - asked[words[4]])
lags.sort()
print(f"{len(lags)} answers, median {lags[len(lags) // 2]} frames, longest {lags[-1]}")
sys.exit(lags[len(lags) // 2] > 2)
PY

echo "a changed plan is asked about before the window closes, and undo takes it back"
act 'hotter' air-hotter
xdotool key ctrl+q; sleep 1
kill -0 "$window" 2>/dev/null || fail "a changed plan is lost without a question"
xdotool key Escape; sleep 0.3; xdotool key ctrl+z; await 'undo: Heat plan for U4: air temperature'

xdotool key ctrl+q
for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || break; sleep 0.1; done
kill -0 "$window" 2>/dev/null && fail "the window does not close"
wait "$window"; status=$?; window=0
[ "$status" -eq 0 ] || fail "closing a saved chart answers $status"

echo "opened again, the plan is computed with the station that was kept"
if [ -x "$(dirname "$program")/padchart" ]; then
    "$(dirname "$program")/padchart" heat "$work/board.chart.json" --target U4 --station 'bench 3' --json >"$work/answer.json" 2>/dev/null
    python3 -c 'import json, sys; a = json.load(open(sys.argv[1])); sys.exit(not (a["calibrated"] and a["station"] == "bench 3"))' "$work/answer.json" ||
        fail "the kept station is not used"
fi
open_chart "$work/board.chart.json" --stage heat --select U4 --size 1280x800
await 'heat: estimate'
echo "The heat stage does what it should."
