# shellcheck shell=bash
# Functions shared by run.sh and test.sh: bring a bare machine to where the program can run.
# A stamp in the virtual environment makes every later start immediate: no pip, no apt.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
packaging=$root/packaging

say() { printf '%s\n' "$*" >&2; }

die() {
    say "$@"
    exit 1
}

# Print the packages of the named lists that dpkg does not know as installed.
missing_packages() {
    local name
    command -v dpkg-query >/dev/null || return 0
    cat "$@" | sed -e 's/#.*//' -e '/^[[:space:]]*$/d' | while read -r name; do
        [[ $(dpkg-query -W -f '${db:Status-Status}' "$name" 2>/dev/null) == installed ]] ||
            printf '%s\n' "$name"
    done
}

# Install packages when this is root on a machine with apt-get; fail otherwise.
install_packages() {
    [[ $EUID -eq 0 ]] && command -v apt-get >/dev/null || return 1
    say "Installing system packages: $*"
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -qq >/dev/null || say "apt-get update failed; trying with the lists that are here."
    apt-get install -y -qq --no-install-recommends "$@" >/dev/null
}

# Print a Python of version 3.11 or later.
find_python() {
    local name
    for name in python3.11 python3 python3.12 python3.13 python3.14 python; do
        if "$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            command -v "$name"
            return
        fi
    done
    return 1
}

# Make sure that a Python able to make virtual environments is there, and print it.
need_python() {
    local python
    if ! python=$(find_python); then
        install_packages python3 python3-venv ||
            die "Pitjournal needs Python 3.11 or later. Install it with: sudo apt-get install -y python3 python3-venv"
        python=$(find_python) || die "Pitjournal needs Python 3.11 or later; this system has an older one."
    fi
    if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
        install_packages python3-venv ||
            die "Python here cannot make virtual environments. Run: sudo apt-get install -y python3-venv"
    fi
    printf '%s\n' "$python"
}

# Whether Qt and its window plug-in find every library they are linked with.
qt_loads() {
    "$1/bin/python" - 2>/dev/null <<'PYTHON'
import ctypes
from pathlib import Path

import PySide6
from PySide6 import QtSvg, QtWidgets

for name in ("libqxcb.so", "libqoffscreen.so"):
    ctypes.CDLL(str(Path(PySide6.__file__).parent / "Qt" / "plugins" / "platforms" / name))
PYTHON
}

# Install the system packages of the named lists, or print the one line that does.
need_packages() {
    local venv=$1 missing
    shift
    mapfile -t missing < <(missing_packages "$@")
    ((${#missing[@]})) && ! install_packages "${missing[@]}" && [[ $EUID -eq 0 ]] &&
        say "Some system packages could not be installed."
    if [[ $* == *-dev.txt* ]]; then
        command -v Xvfb >/dev/null && command -v pdftotext >/dev/null || needs_line "$@"
    fi
    qt_loads "$venv" || needs_line "$@"
}

needs_line() {
    mapfile -t missing < <(missing_packages "$@")
    ((${#missing[@]})) || die "Qt cannot load a system library that it needs on this machine."
    die "System libraries are missing. Run this once, then start again:" \
        $'\n'"sudo apt-get install -y --no-install-recommends ${missing[*]}"
}

# What a set-up depends on, as one hash.
wanted_stamp() {
    { cat "$packaging/setup.sh" "$@" && printf '%s' "$root"; } | sha256sum
}

# need_venv VENV LOCK: an environment with exactly the locked packages, hashes checked,
# that finds this checkout, and has the command `pitjournal`.
need_venv() {
    local venv=$1 lock=$2 python site
    python=$(need_python)
    [[ -x $venv/bin/python ]] || "$python" -m venv "$venv"
    say "Installing the locked packages of ${lock##*/} into ${venv##*/} ..."
    "$venv/bin/python" -m pip install -qq --no-input --disable-pip-version-check \
        --require-hashes -r "$lock" >&2
    site=$("$venv/bin/python" -c 'import sysconfig; print(sysconfig.get_path("purelib"))')
    printf '%s\n' "$root" >"$site/pitjournal.pth"
    printf '#!%s\nimport sys\n\nfrom pitjournal.app import main\n\nsys.exit(main())\n' \
        "$venv/bin/python" >"$venv/bin/pitjournal"
    chmod +x "$venv/bin/pitjournal"
}

# set_up VENV LOCK [PACKAGES...]: everything above, unless the stamp says it was done.
set_up() {
    local venv=$1 lock=$2 stamp wanted
    shift 2
    stamp=$venv/.set-up-${lock##*/}
    wanted=$(wanted_stamp "$lock" "$@")
    [[ -x $venv/bin/python && -r $stamp && $(<"$stamp") == "$wanted" ]] && return
    need_venv "$venv" "$lock"
    (($#)) && need_packages "$venv" "$@"
    printf '%s\n' "$wanted" >"$stamp"
}
