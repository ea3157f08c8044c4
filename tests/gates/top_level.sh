#!/usr/bin/env bash
# The top level of the repository holds these and nothing else; no text names a path of one machine.
set -euo pipefail
cd "$1"
extra=$(ls | grep -vxE 'README\.md|DEVELOPERS\.md|CMakeLists\.txt|src|assets|layouts|tests|demo|build[^/]*' || true)
[ -z "$extra" ] || { echo "Not for the top level: $extra"; exit 1; }
for script in demo/run tests/run .ci/run; do [ -x "$script" ] || { echo "$script has no run bit"; exit 1; }; done
echo "The top level is clean."
