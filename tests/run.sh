#!/usr/bin/env bash
# Sets everything up, then runs the tests: bash tests/run.sh [what pytest takes]
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
bash "$root/resources/setup.sh" test

cd "$root"
LOGBOOK_CURRENT_TEST=$(mktemp)
export LOGBOOK_CURRENT_TEST
trap 'rm -f "$LOGBOOK_CURRENT_TEST"' EXIT

status=0
"${LOGBOOK_VENV:-$root/.venv}/bin/python" -m pytest "$@" || status=$?
if [ "$status" -gt 128 ]; then
  echo "The tests died by signal $((status - 128)), in $(cat "$LOGBOOK_CURRENT_TEST")." >&2
fi
exit "$status"
