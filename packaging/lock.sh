#!/usr/bin/env bash
# Write the lock files anew from pyproject.toml. Needs uv: in the environment, or on the PATH.
#
#   bash packaging/lock.sh              keep the versions that still fit
#   bash packaging/lock.sh --upgrade    take the newest that fit
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
uv=.venv/bin/uv
[[ -x $uv ]] || uv=uv

lock() {
    local target=packaging/$1
    shift
    "$uv" pip compile pyproject.toml --quiet --generate-hashes --universal --python-version 3.11 \
        --no-emit-index-url --no-emit-find-links --no-annotate \
        --custom-compile-command "bash packaging/lock.sh" -o "$target" "$@"
}

lock requirements.lock "$@"
lock requirements-dev.lock --group dev -c packaging/requirements.lock
cp packaging/requirements-dev.lock packaging/requirements-noqt.lock
lock requirements-noqt.lock --group dev -c packaging/requirements-dev.lock \
    --no-emit-package pyside6-essentials --no-emit-package shiboken6 \
    --no-emit-package pyqtgraph --no-emit-package pytest-qt \
    --no-emit-package mypy --no-emit-package ruff --no-emit-package scipy-stubs
