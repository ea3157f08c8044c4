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

git -C "$folder/one" diff HEAD~1 HEAD~2 >/dev/null
git -C "$folder/one" show HEAD~1 | grep -q '^@@.*@@' || fail "git shows no readable diff"
echo "two clones of a chart were merged by git"
