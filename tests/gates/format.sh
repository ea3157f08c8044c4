#!/usr/bin/env bash
# Every source file reads as clang-format 14 writes it.
set -uo pipefail
cd "$1"
tool=$(command -v clang-format-14 || command -v clang-format) || { echo "clang-format is missing: skipped"; exit 77; }
find src tests -name '*.hpp' -o -name '*.cpp' | sort | xargs "$tool" --dry-run -Werror && echo "All files are formatted."
