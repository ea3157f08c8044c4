#!/usr/bin/env bash
# clang-tidy over the sources with the list in .clang-tidy. Usage: tidy.sh ROOT BUILD
set -uo pipefail
root=$1 build=$2
tool=$(command -v clang-tidy-14 || command -v clang-tidy) || { echo "clang-tidy is missing: skipped"; exit 77; }
find "$root/src" -name '*.cpp' | sort | xargs -P "$(nproc)" -n 4 "$tool" -p "$build" --quiet --extra-arg=-Wno-unknown-warning-option 2>/dev/null
status=$?
[ $status -eq 0 ] && echo "clang-tidy has nothing to say."
exit $status
