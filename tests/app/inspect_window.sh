#!/usr/bin/env bash
# Drives the inspect stage of the real window on a display of its own: freeze, walk over the parts, views, the list after
# rework, and a merge's conflict settled. Believes the saved file and the program's own log.
# Usage: inspect_window.sh PADCHART-WINDOW REPOSITORY
set -uo pipefail
program=$1 root=$2
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
    : >"$work/trace"
    "$program" "$work/board.chart.json" "$@" --size 1280x800 --smooth 0 >"$work/output" 2>&1 &
    window=$!
    id=$(timeout 30 xdotool search --sync --onlyvisible --name 'Padchart' 2>/dev/null | head -1)
    [ -n "$id" ] || fail "the window does not open"
    await 'open: '
    xdotool windowfocus --sync "$id"
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
save
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
echo "The inspect stage does what it should."
