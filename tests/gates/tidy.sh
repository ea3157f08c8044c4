#!/usr/bin/env bash
# clang-tidy over the sources with the list in .clang-tidy, over several at once where the build compiles them so.
# Usage: tidy.sh ROOT BUILD
set -uo pipefail
root=$1 build=$2
tool=$(command -v clang-tidy-14 || command -v clang-tidy) || { echo "clang-tidy is missing: skipped"; exit 77; }
units() { # what is compiled of src/, be it a source or several in one
    sed -nE 's/^ *"file": "(.*)",?$/\1/p' "$build/compile_commands.json" | grep -E "^$root/src/|/padchart_[a-z_]*\.dir/Unity/"
}
units | sort -u | xargs -P "$(nproc)" -n 1 "$tool" -p "$build" --quiet --extra-arg=-Wno-unknown-warning-option 2>/dev/null
status=$?
[ $status -eq 0 ] && echo "clang-tidy has nothing to say."
exit $status
