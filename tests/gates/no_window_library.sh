#!/usr/bin/env bash
# The command line must run where neither display nor GL exists: it may load no libsfml, no GL and no X.
set -euo pipefail
needed=$(ldd "$1")
if grep -E 'libsfml|libGL|libOpenGL|libEGL' <<<"$needed"; then
    echo "padchart loads a window library; it belongs to padchart-window."
    exit 1
fi
env -u DISPLAY "$1" --help >/dev/null
echo "padchart loads no window library."
