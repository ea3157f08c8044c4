# What every tour of the real window begins with; sourced, not run. Sets up a display and folders of its own, so that no
# tour sees or touches what belongs to the user, and takes them away at the end.
# Before: `program`, the window; `screen` (default 1280x800), `patience` in tenths of a second (default 400),
# `opens_within` in seconds (default 30).
# After: `work`, a folder; `window`, the process to be ended with the tour, once it is started; the functions below.
for tool in Xvfb xdotool python3; do
    command -v "$tool" >/dev/null || { echo "$tool is missing: skipped"; exit 77; }
done

work=$(mktemp -d)
server=0 window=0
clean_up() {
    [ "$window" -gt 0 ] && kill "$window" 2>/dev/null
    [ "$server" -gt 0 ] && kill "$server" 2>/dev/null
    wait 2>/dev/null
    rm -rf "$work"
}
trap clean_up EXIT
fail() { echo "FAILED: $*"; echo "--- trace"; cat "$work/trace" 2>/dev/null; echo "--- output"; cat "$work/output" 2>/dev/null; exit 1; }

Xvfb -displayfd 3 -screen 0 "${screen:-1280x800}x24" +extension GLX -nolisten tcp -noreset 3>"$work/display" >/dev/null 2>"$work/xvfb.log" &
server=$!
for _ in $(seq 100); do [ -s "$work/display" ] && break; sleep 0.1; done
[ -s "$work/display" ] || { echo "Xvfb does not start: skipped"; exit 77; }
export DISPLAY=:$(cat "$work/display") LIBGL_ALWAYS_SOFTWARE=1 LANG=C.UTF-8 PADCHART_TRACE=$work/trace \
    XDG_STATE_HOME=$work/state XDG_CONFIG_HOME=$work/config XDG_DATA_HOME=$work/data
unset WAYLAND_DISPLAY

# Starts `program` with these arguments, its log anew, and waits for its window; `window` and `id` are known afterwards.
open_window() {
    : >"$work/trace"
    "$program" "$@" --smooth 0 >"$work/output" 2>&1 &
    window=$!
    id=$(timeout "${opens_within:-30}" xdotool search --sync --onlyvisible --name 'Padchart' 2>/dev/null | head -1)
    [ -n "$id" ] || fail "the window does not open"
}
# As open_window, with a chart: waits until it is open, its view rests and it has the keys.
open_chart() {
    open_window "$@"
    await 'open: '
    await 'view: at rest'
    xdotool windowfocus --sync "$id"
}
# Waits for a line of the trace; the number tells how many such lines there must be.
await() {
    for _ in $(seq "${patience:-400}"); do
        [ "$(grep -c -- "$1" "$work/trace")" -ge "${2:-1}" ] && return
        kill -0 "$window" 2>/dev/null || break
        sleep 0.1
    done
    fail "waited in vain for \"$1\""
}
# Looks an action up in the list by words and runs it: WORDS ID.
act() {
    local before lists; before=$(grep -c "action: $2\$" "$work/trace"); lists=$(grep -c 'action: actions$' "$work/trace")
    xdotool key slash; await 'action: actions$' $((lists + 1)); sleep 0.2
    xdotool type --delay 0 "$1"; sleep 0.2; xdotool key Return
    await "action: $2\$" $((before + 1)); sleep 0.2
}
