#!/usr/bin/env bash
# Check everything: format, lint, types, layers, tests without Qt and with it, a real window.
set -euo pipefail
# shellcheck source=packaging/setup.sh
source "$(dirname "${BASH_SOURCE[0]}")/setup.sh"
cd "$root"

set_up "$root/.venv" "$packaging/requirements-dev.lock" \
    "$packaging/system-packages.txt" "$packaging/system-packages-dev.txt"
set_up "$root/.venv-noqt" "$packaging/requirements-noqt.lock"

step() {
    printf '\n== %s (%d s so far)\n' "$1" "$SECONDS"
    shift
    "$@"
}

# A settings file of its own, so that nobody's preferences are read or written.
scratch=$(mktemp -d)
server=
finish() {
    [[ -z $server ]] || kill "$server" 2>/dev/null || true
    rm -rf "$scratch"
}
trap finish EXIT
export PITJOURNAL_SETTINGS=$scratch/settings.json

# A real X server; its number comes back through a descriptor once it takes windows.
start_x_server() {
    exec {reply}<> <(:)
    Xvfb -displayfd "$reply" -screen 0 1280x1024x24 -nolisten tcp >"$scratch/x-server.log" 2>&1 &
    server=$!
    read -r -t 30 -u "$reply" display || die "The X server did not start: $(<"$scratch/x-server.log")"
    export DISPLAY=:$display
}

bin=$root/.venv/bin
export QT_QPA_PLATFORM=offscreen
step "format" "$bin/ruff" format --check .
step "lint" "$bin/ruff" check .
step "types" "$bin/mypy"
step "layers" "$bin/lint-imports"
# What does not need Qt is tried where there is none, so that nothing leans on it unseen ...
step "tests below the window, without Qt" \
    "$root/.venv-noqt/bin/python" -m pytest -n 2 --ignore=tests/ui --ignore=tests/window --ignore=tests/journeys
# ... and what behaves differently with Qt (tests/packaging holds this list) once more with it.
# By files, so that what a file makes once for its tests is made once.
step "the window's parts, and what prints" "$bin/python" -m pytest -n 2 --dist loadfile \
    tests/ui tests/torture tests/cli/test_summary.py tests/cli/test_examples.py tests/journal/test_local_zone.py
step "each benchmark once, on little" "$bin/python" -m tests.benchmarks --once
start_x_server
export QT_QPA_PLATFORM=xcb
step "a real window on a real X server" "$bin/python" -m pytest tests/window tests/journeys
