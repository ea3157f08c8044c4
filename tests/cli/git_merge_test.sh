#!/bin/sh
# Two clones of a git repository edit one chart; git merges them through padchart.
# Usage: git_merge_test.sh PADCHART    Exit code 77: git is not installed.
set -eu
padchart=$1
command -v git >/dev/null || { echo "skipped: git is not installed"; exit 77; }
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
export HOME="$folder" GIT_CONFIG_NOSYSTEM=1 GIT_AUTHOR_NAME=bench GIT_AUTHOR_EMAIL=bench@example.invalid
export GIT_COMMITTER_NAME=bench GIT_COMMITTER_EMAIL=bench@example.invalid
git config --global merge.padchart.driver "'$padchart' merge %O %A %B -o %A --label-ours here --label-theirs there"
git config --global diff.padchart.xfuncname '^ *"name": "(.*)",$'
git config --global init.defaultBranch main
git config --global pull.rebase false

fail() { echo "$1"; exit 1; }
holds() { grep -qF -- "$2" "$1" || fail "$1 does not hold $2"; }
commit() { git -C "$1" commit -qam "$2"; }
# edit CLONE OLD NEW: the first OLD of the chart becomes NEW; a test must not pass by editing nothing.
edit() {
    holds "$1/board.chart.json" "$2"
    awk -v old="$2" -v new="$3" '!done && (at = index($0, old)) {
        $0 = substr($0, 1, at - 1) new substr($0, at + length(old)); done = 1 } { print }' \
        "$1/board.chart.json" >"$folder/edited"
    cp "$folder/edited" "$1/board.chart.json"
}

git init -q --bare "$folder/shop.git"
git clone -q "$folder/shop.git" "$folder/one" 2>/dev/null
cat >"$folder/one/board.chart.json" <<'CHART'
{
  "format": "padchart",
  "version": 1,
  "parts": [
    {
      "id": "u1",
      "name": "U1",
      "at_mm": [4, 5]
    },
    {
      "id": "c2",
      "name": "C2",
      "at_mm": [9, 5]
    }
  ]
}
CHART
echo '*.chart.json merge=padchart diff=padchart' >"$folder/one/.gitattributes"
git -C "$folder/one" add .
commit "$folder/one" "the chart"
git -C "$folder/one" push -q origin HEAD:main
git clone -q -b main "$folder/shop.git" "$folder/two"

# Neighbouring lines: a merge by lines could not do it.
edit "$folder/one" '"name": "U1"' '"name": "U1", "value": "buck"'
commit "$folder/one" "value of U1"
git -C "$folder/one" push -q origin HEAD:main
edit "$folder/two" '"name": "U1"' '"name": "U1", "comment": "seen under the loupe"'
commit "$folder/two" "comment on U1"
git -C "$folder/two" pull -q origin main >/dev/null 2>&1 || fail "independent edits did not merge"
holds "$folder/two/board.chart.json" '"value": "buck"'
holds "$folder/two/board.chart.json" '"comment": "seen under the loupe"'
git -C "$folder/two" push -q origin HEAD:main
git -C "$folder/one" pull -q origin main

# The same field.
edit "$folder/one" '"value": "buck"' '"value": "buck 3V3"'
commit "$folder/one" "more of U1"
git -C "$folder/one" push -q origin HEAD:main
edit "$folder/two" '"value": "buck"' '"value": "boost"'
commit "$folder/two" "U1 is another"
if git -C "$folder/two" pull -q origin main >/dev/null 2>&1; then fail "a conflict was merged without a word"; fi
git -C "$folder/two" status --porcelain | grep -q '^UU board.chart.json' || fail "git does not know of the conflict"
holds "$folder/two/board.chart.json" '"value": "boost"'
holds "$folder/two/board.chart.json" '"theirs": "buck 3V3"'
holds "$folder/two/board.chart.json" '"ours_from": "here"'
"$padchart" check "$folder/two/board.chart.json" >"$folder/out" 2>&1 || true
grep -qF 'there says "buck 3V3"' "$folder/out" || fail "check does not list the conflict"

# A file that is no chart stops git instead of passing for merged.
git -C "$folder/two" merge --abort
echo 'no chart' >"$folder/one/board.chart.json"
commit "$folder/one" "broken"
git -C "$folder/one" push -q origin HEAD:main
if git -C "$folder/two" pull -q origin main >/dev/null 2>&1; then fail "a broken chart was merged"; fi
holds "$folder/two/board.chart.json" '"value": "boost"'

# Things that one clone takes off and the other edits, things both add under one id, photos, keys nobody here knows.
cat >"$folder/one/wide.chart.json" <<'CHART'
{
  "format": "padchart",
  "version": 1,
  "shelf": "A",
  "parts": [
    {"id": "u1", "name": "U1", "at_mm": [4, 5]},
    {"id": "c2", "name": "C2", "at_mm": [9, 5]},
    {"id": "r3", "name": "R3", "at_mm": [12, 5], "drawer": 7}
  ],
  "notes": [
    {"id": "n1", "text": "glued", "at_mm": [1, 1]},
    {"id": "n2", "text": "stale", "at_mm": [1, 2]}
  ],
  "photos": [{"id": "p1", "path": "top.jpg"}]
}
CHART
git -C "$folder/one" checkout -q HEAD~1 -- board.chart.json
git -C "$folder/one" add .
commit "$folder/one" "a chart with more in it"
git -C "$folder/one" push -q origin HEAD:main
git -C "$folder/two" reset -q --hard
git -C "$folder/two" fetch -q
git -C "$folder/two" reset -q --hard origin/main
put() { python3 - "$1/wide.chart.json" "$2" <<'PY'
import json, sys
path, edit = sys.argv[1:]
chart = json.load(open(path))
of = lambda kind, id: next(thing for thing in chart[kind] if thing["id"] == id)
without = lambda kind, id: chart.update({kind: [thing for thing in chart[kind] if thing["id"] != id]})
exec(edit)
json.dump(chart, open(path, "w"), indent=2)
PY
}
ask() { python3 - "$1/wide.chart.json" "$2" <<'PY' || fail "$1 is not so: $2"
import json, sys
chart = json.load(open(sys.argv[1]))
of = lambda kind, id: next((thing for thing in chart[kind] if thing["id"] == id), None)
sys.exit(0 if eval(sys.argv[2]) else 1)
PY
}
put "$folder/one" 'of("parts", "u1")["name"] = "U10"; without("parts", "c2"); without("notes", "n2"); chart["shelf"] = "B"
chart["notes"].append({"id": "n9", "text": "from one", "at_mm": [2, 2]}); of("photos", "p1")["note"] = "before"
of("parts", "r3")["drawer"] = 8'
commit "$folder/one" "one's edits"
git -C "$folder/one" push -q origin HEAD:main
put "$folder/two" 'of("parts", "u1")["value"] = "buck"; of("parts", "c2")["value"] = "10u"
chart["notes"].append({"id": "n9", "text": "from two", "at_mm": [3, 3]}); chart["lamp"] = {"kind": "ring"}
chart["photos"].append({"id": "p2", "path": "after.jpg"})'
commit "$folder/two" "two's edits"
cp "$folder/two/wide.chart.json" "$folder/theirs.chart.json"
if git -C "$folder/two" pull -q origin main >/dev/null 2>&1; then fail "what one took off and two edited passed for merged"; fi
ask "$folder/two" 'of("parts", "u1")["name"] == "U10" and of("parts", "u1")["value"] == "buck"'
ask "$folder/two" 'of("parts", "c2")["value"] == "10u" and of("parts", "r3")["drawer"] == 8'
ask "$folder/two" 'sorted(n["text"] for n in chart["notes"]) == ["from one", "from two", "glued"]'
ask "$folder/two" 'chart["shelf"] == "B" and chart["lamp"] == {"kind": "ring"}'
ask "$folder/two" '[p["path"] for p in chart["photos"]] == ["top.jpg", "after.jpg"] and of("photos", "p1")["note"] == "before"'
ask "$folder/two" 'sorted(c["thing"] for c in chart["conflicts"]) == ["c2", "n9"]'
# The other way round: the same chart, but for who is who.
git -C "$folder/one" show HEAD~1:wide.chart.json >"$folder/base.chart.json"
for way in "theirs one/wide" "one/wide theirs"; do
    set -- $way
    code=0
    "$padchart" merge "$folder/base.chart.json" "$folder/$1.chart.json" "$folder/$2.chart.json" \
        -o "$folder/merged.chart.json" --force --label-ours x --label-theirs x >/dev/null || code=$?
    [ "$code" -eq 1 ] || fail "a merge with conflicts answers $code"
    python3 -c 'import json, sys
chart = json.load(open(sys.argv[1]))
for conflict in chart["conflicts"]:
    print(conflict["thing"], conflict.get("field"), sorted([conflict.get("ours", ""), conflict.get("theirs", "")], key=str))
print([[thing["id"] for thing in chart[kind]] for kind in ("parts", "notes", "photos")])' "$folder/merged.chart.json" >"$folder/way-$(echo "$1" | tr / -)"
done
cmp -s "$folder/way-theirs" "$folder/way-one-wide" || fail "the merge depends on who is ours"
code=0
"$padchart" merge "$folder/none" "$folder/theirs.chart.json" "$folder/theirs.chart.json" -o "$folder/x.chart.json" 2>/dev/null || code=$?
[ "$code" -eq 129 ] || fail "a base that is not there answers $code"
"$padchart" merge "$folder/base.chart.json" "$folder/theirs.chart.json" "$folder/base.chart.json" -o "$folder/x.chart.json" >/dev/null || fail "a merge without conflict does not answer 0"

git -C "$folder/two" merge --abort
git -C "$folder/one" diff HEAD~1 HEAD~2 >/dev/null
git -C "$folder/one" log -p --all | grep -q '^@@.*@@' || fail "git shows no readable diff"
echo "two clones of a chart were merged by git"
