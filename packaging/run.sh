#!/usr/bin/env bash
# Set up what is missing, then open Pitjournal on the demonstration journal.
#
#   bash packaging/run.sh               the window, or without a display the same job as text
#   bash packaging/run.sh WORDS...      any other command, such as: cooks FOLDER
set -euo pipefail
# shellcheck source=packaging/setup.sh
source "$(dirname "${BASH_SOURCE[0]}")/setup.sh"

set_up "$root/.venv" "$packaging/requirements.lock" "$packaging/system-packages.txt"

pitjournal() { "$root/.venv/bin/python" -m pitjournal "$@"; }

# Whether there is a screen to open a window on.
has_display() {
    [[ -n ${WAYLAND_DISPLAY:-} ]] && return
    [[ ${DISPLAY:-} =~ ^:([0-9]+) ]] && [[ -S /tmp/.X11-unix/X${BASH_REMATCH[1]} ]] && return
    [[ -n ${DISPLAY:-} && ${DISPLAY} != :* ]]
}

export PYTHONPATH=$root${PYTHONPATH:+:$PYTHONPATH}
if (($#)); then
    exec "$root/.venv/bin/python" -m pitjournal "$@"
fi
journal=${XDG_DATA_HOME:-${HOME:-/root}/.local/share}/pitjournal/demonstration
if has_display; then
    exec "$root/.venv/bin/python" -m pitjournal demo "$journal"
fi

say "There is no display here, so no window opens; the same job follows as text."
made=$(pitjournal demo "$journal" --no-window --json)
cook=$("$root/.venv/bin/python" -c 'import json, sys; print(json.load(sys.stdin)["comparison"])' <<<"$made")
pitjournal findings "$journal" "$cook"
pitjournal summary "$journal" "$cook" --to "$journal/summary.pdf"
