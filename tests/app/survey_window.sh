#!/usr/bin/env bash
# Drives the survey and the orient stage of the real window on a display of its own: the walk over the parts, the search,
# a note, a reading, and parts recorded in three actions each. Believes the saved file and the log of accepted edits.
# Usage: survey_window.sh PADCHART-WINDOW REPOSITORY [FOLDER FOR PICTURES]
set -uo pipefail
program=$1 root=$2 pictures=${3:-}
opens_within=60
. "$(dirname "$0")/window_tour.sh"

count() { grep -c -- "$1" "$work/trace"; }
# Every press and click of the hand that records is counted.
actions=0
press() { xdotool key "$@"; actions=$((actions + 1)); }
click() { xdotool mousemove --window "$id" "$1" "$2"; sleep 0.2; xdotool click 1; actions=$((actions + 1)); }
write() { xdotool type --delay 0 "$1"; }
ask() { python3 - "$work/board.chart.json" "$1" <<'PY'
import json, sys
chart = json.load(open(sys.argv[1]))
part = {p.get("name", ""): p for p in chart["parts"]}
open_ones = [p["name"] for p in chart["parts"] if p.get("condition", {}).get("presence", "not-checked") == "not-checked"]
if not eval(sys.argv[2]):
    print("the saved file says otherwise:", sys.argv[2])
    sys.exit(1)
PY
}
save() { local n; n=$(count 'save: board'); xdotool key ctrl+s; await 'save: board.chart.json' $((n + 1)); }
picture() {
    [ -n "$pictures" ] || return 0
    sleep 0.5; import -window root "$pictures/$1.png" 2>/dev/null || true
}

cp "$root/demo/river-logger.chart.json" "$work/board.chart.json"
open_chart "$work/board.chart.json" --stage survey --size 1280x800

echo "one key walks over the parts that nobody has checked"
unchecked=$(python3 -c "
import json
print(sum(1 for p in json.load(open('$work/board.chart.json'))['parts'] if p.get('condition', {}).get('presence', 'not-checked') == 'not-checked'))")
[ "$unchecked" -ge 3 ] || fail "the demo leaves too little to walk over: $unchecked"
actions=0
press f; await 'select: '
for i in $(seq "$unchecked"); do press f; await 'as present and good' "$i"; done
[ "$actions" -eq $((unchecked + 1)) ] || fail "the walk took $actions actions"
save
ask 'open_ones == []' || fail "a part was left out"
picture walk
echo "  $unchecked parts in $actions presses of one key"

echo "the list is searched by keys alone"
xdotool key ctrl+f; sleep 0.4; write 'r7'; sleep 0.3; picture search; xdotool key Return; await 'select: R7'

echo "what is typed before the click of a note or a reading changes nothing"
edits=$(count 'edit: ') runs=$(count 'action: ')
xdotool key shift+n; await 'action: pin-note'; write 'burnt flux 2.1 '; sleep 0.5; picture typed-too-early
xdotool key Escape; xdotool key m; await 'action: pin-reading'; write '1.2k'; sleep 0.5; xdotool key Escape
[ "$(count 'edit: ')" -eq "$edits" ] || fail "typing too early edits the chart"
[ "$(count 'action: ')" -eq $((runs + 2)) ] || fail "typing too early runs actions"

echo "a note and a reading are put down where they belong, and taken away again"
xdotool key shift+n; await 'action: pin-note' 2; click 200 640; sleep 0.5
write 'flux under the foil'; sleep 0.3; picture note; xdotool key Return; await 'edit: Pin a note'
xdotool key m; await 'action: pin-reading' 2; click 220 640; sleep 0.5
write 'ol'; sleep 0.3; picture reading; xdotool key Return; await 'edit: Put down a reading of OL'
xdotool key Delete; await 'edit: Delete reading'
save
ask 'any(n["text"] == "flux under the foil" for n in chart["notes"])' || fail "the note"
ask 'not any(r["value"] == "OL" and r.get("target") is None for r in chart.get("readings", []))' || fail "the deleted reading"

echo "one Escape leaves a note that is being typed, and nothing of it is lost"
xdotool key Escape Escape ctrl+f; sleep 0.4; write 'r7'; sleep 0.3; xdotool key Return; await 'select: R7' 2
act 'note on the selected' note-on-part; sleep 0.4; write 'tilted'; sleep 0.3
xdotool key Escape; await 'pin left: the note about R7'
act 'note on the selected' note-on-part; sleep 0.4; xdotool key Return; await 'edit: Pin a note' 2
save
ask 'any(n["text"] == "tilted" for n in chart["notes"])' || fail "the note that was left for a while"
xdotool key ctrl+z; await 'undo: Pin a note'

echo "a lifted land is the pad that is clicked next"
xdotool key Escape Escape ctrl+f; sleep 0.4; write 'u6'; sleep 0.3; xdotool key Return; await 'select: U6'
click 1168 458; sleep 0.5; picture lifted-land; click 657 155; await 'edit: Land of pad 5 of U6 lifted'
picture land-lifted
xdotool key ctrl+z; await 'undo: Land of pad 5'

echo "a notice goes at a click on it"
sleep 0.3; click 503 104; await 'notice: closed'

echo "the form of another part begins at its head"
xdotool mousemove --window "$id" 1085 600; for _ in $(seq 6); do xdotool click 5; sleep 0.1; done
click 541 266; await 'select: D1'; sleep 0.5; picture head
click 1168 413; await 'edit: Mark D1 as missing'
xdotool key ctrl+z; await 'undo: Mark D1 as missing'

echo "a locked part has its sign and is told at its head"
xdotool key b; await 'edit: Lock D1'; picture locked; xdotool key ctrl+z; await 'undo: Lock D1'
xdotool key Escape Escape

echo "the next part without a record is one key away; mark, place and Enter record it"
xdotool key F3; await 'stage: orient'
xdotool key Escape; xdotool key ctrl+a; xdotool key Escape # nothing is selected now
press u; await 'action: next-unrecorded'; sleep 0.4
picture orient
python3 - "$work/board.chart.json" >"$work/open" <<'PY'
import json, sys
for p in json.load(open(sys.argv[1]))["parts"]:
    if p.get("orientation", {}).get("state", "not-recorded") == "not-recorded" and p["name"] in ("SH1", "U4", "TV2", "X1", "J9"):
        print(p["name"])
PY
[ "$(wc -l <"$work/open")" -ge 3 ] || fail "the demo leaves too little to record"
while [ "$(tail -n +"$(($(count 'edit: Record the mark') + 1))" "$work/open" | wc -l)" -gt 0 ]; do
    done_before=$(count 'edit: Record the mark')
    actions=0
    [ "$done_before" -eq 0 ] && mark_y=${MARK_Y:-489} && click 948 "$mark_y" && sleep 0.2
    press 7
    press Return
    await 'edit: Record the mark' $((done_before + 1))
    [ "$actions" -le 3 ] || fail "recording took $actions actions"
    sleep 0.3
done
picture recorded
save
names=$(sed 's/.*/"&"/' "$work/open" | paste -sd,)
ask "all(part[n].get('orientation', {}).get('state') == 'recorded' for n in [$names])" || fail "a record is not in the file"
ask "all(part[n]['orientation']['evidence']['kind'] == 'seen-here' and len(part[n]['orientation']['evidence']['date']) == 10 for n in [$names])" || fail "the evidence"
ask "sum(1 for n in [$names] if part[n]['orientation'].get('mark', 'unknown') != 'unknown') >= 1" || fail "the kind of mark"
echo "  $(wc -l <"$work/open") parts in at most three actions each"
xdotool key F11; sleep 0.4; picture recorded-dark

echo "the list of files takes the keys; a file that is not there is no end"
xdotool key ctrl+o; await 'action: open'; sleep 0.5
xdotool key End; write 'nothere'; xdotool key Return; sleep 0.5; picture no-such-file; xdotool key Escape
xdotool key ctrl+o; await 'action: open' 2; sleep 0.5
xdotool key End; write 'board'; sleep 0.3; xdotool key Down; sleep 0.2; xdotool key Down; sleep 0.2
xdotool key Return; sleep 0.5; picture file-taken; xdotool key Return; await 'open: board' 2
xdotool key ctrl+q
for _ in $(seq 100); do kill -0 "$window" 2>/dev/null || { wait "$window"; status=$?; window=0; break; }; sleep 0.1; done
[ "$window" -eq 0 ] || fail "the window does not close"
[ "$status" -eq 0 ] || fail "closing answers $status"
echo "Survey and orient do what they should."
