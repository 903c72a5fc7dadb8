#!/usr/bin/env bash
# Sets everything up, then runs the tests, one process for each processor:
# bash tests/run.sh [what pytest takes; -n 0 keeps them in one process]
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
bash "$root/resources/setup.sh" test

cd "$root"
# A test that ends its process by a signal is named, and another process goes on in its place.
exec "${LOGBOOK_VENV:-$root/.venv}/bin/python" -m pytest -n auto --dist worksteal "$@"
