#!/usr/bin/env bash
# Sets everything up, then shows the program with an invented log: bash resources/start.sh
# What follows is handed to `fingerstick-logbook demo`, for example --folder DIR.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
bash "$root/resources/setup.sh"
exec "${LOGBOOK_VENV:-$root/.venv}/bin/fingerstick-logbook" demo "$@"
