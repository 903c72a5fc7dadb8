#!/usr/bin/env bash
# Makes the environment the program runs in: bash resources/setup.sh [test|devices]
#
# Finds Python, makes .venv (or the folder named by LOGBOOK_VENV), installs the program and the
# named extra into it, and sees that the system's libraries for the window are there. What is
# missing is installed with apt by root; anyone else gets the one line to run. A second run, with
# pyproject.toml unchanged, only looks and is quick.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
venv=${LOGBOOK_VENV:-$root/.venv}
extra=${1:-}
export PIP_DISABLE_PIP_VERSION_CHECK=1

say() { printf '%s\n' "$*" >&2; }
stop() { say "$@"; exit 1; }

packages() { grep -v '^#' "$root/resources/debian-packages" | tr '\n' ' '; }

# Installs the packages of the list, or says how and stops. $1 says what is missing.
install_packages() {
  say "$1"
  if ! command -v apt-get >/dev/null; then
    stop "This system has no apt. Install the counterparts of resources/debian-packages, then run this again."
  fi
  if [ "$(id -u)" -ne 0 ]; then
    stop "This line installs what is missing; then run this again:
sudo apt-get install -y $(packages)"
  fi
  say "Installing the packages in resources/debian-packages ..."
  # shellcheck disable=SC2046  # one word a package
  { apt-get update -q && DEBIAN_FRONTEND=noninteractive \
    apt-get install -q -y --no-install-recommends $(packages); } >&2 ||
    stop "The packages could not be installed. The lines above say why."
}

is_fit() {
  "$1" -c 'import sys; raise SystemExit(not (3, 11) <= sys.version_info[:2] < (3, 15))' 2>/dev/null
}

# The system's own Python first: its venv package is in the list.
find_python() {
  local candidate
  for candidate in python3 python3.13 python3.12 python3.11 python3.14; do
    if command -v "$candidate" >/dev/null && is_fit "$candidate"; then
      command -v "$candidate"
      return
    fi
  done
  return 1
}

make_environment() {
  local python
  if [ -e "$venv" ] && [ ! -e "$venv/pyvenv.cfg" ] && [ -n "$(ls -A "$venv")" ]; then
    stop "$venv holds something else. Nothing was changed there; name another folder with LOGBOOK_VENV."
  fi
  if ! python=$(find_python); then
    install_packages "Python 3.11 to 3.14 was not found."
    python=$(find_python) || stop "This system's Python is not 3.11 to 3.14, and no other was found."
  fi
  "$python" -c 'import ensurepip, venv' 2>/dev/null ||
    install_packages "$python can't make environments yet."
  say "Making $venv with $("$python" --version) ..."
  "$python" -m venv --clear "$venv"
}

# Says what keeps a window from starting: nothing when all is well.
libraries_missing() {
  local answer missing plugins
  if command -v ldd >/dev/null; then
    # For every kind of screen this computer may have. Qt's own libraries lie beside its plugins.
    plugins=$(echo "$venv"/lib/python3*/site-packages/PySide6/Qt/plugins/platforms)
    missing=$(ldd "$plugins"/libqoffscreen.so "$plugins"/libqxcb.so "$plugins"/libqwayland.so |
      awk '/not found/ && !/libQt6/ {print $1}' | sort -u)
    if [ -n "$missing" ]; then
      echo "${missing//$'\n'/ }"
      return
    fi
  fi
  # A window that is never shown. What it says on the way is of no concern if it succeeds.
  answer=$(QT_QPA_PLATFORM=offscreen "$venv/bin/python" -c '
from PySide6 import QtNetwork, QtWidgets
application = QtWidgets.QApplication([])' 2>&1) || echo "$answer" | tail -n 1
}

is_fit "$venv/bin/python" || make_environment

# One stamp for each extra: what was installed, for which checkout, under which Python.
stamp=$venv/.logbook-installed-${extra:-plain}
now=$({ cat "$root/pyproject.toml" "$root/resources/debian-packages"
        echo "$root"; "$venv/bin/python" --version; } | sha256sum | cut -d' ' -f1)
if [ "$(cat "$stamp" 2>/dev/null)" = "$now" ]; then
  exit 0
fi

say "Installing Fingerstick Logbook into $venv. The first time takes a few minutes ..."
"$venv/bin/python" -m pip install -q -e "$root${extra:+[$extra]}" >&2 ||
  stop "The installation did not finish. The lines above say why; running this again goes on from there."

missing=$(libraries_missing)
if [ -n "$missing" ]; then
  install_packages "The window needs libraries that are not there: $missing."
  missing=$(libraries_missing)
  [ -z "$missing" ] || stop "The window still can't start: $missing."
fi

echo "$now" >"$stamp"
say "Ready."
