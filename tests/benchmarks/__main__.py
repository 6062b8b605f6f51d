"""Run benchmarks by name, print what they measured, exit 1 where one is not held.

python -m tests.benchmarks [NAME]...
python -m tests.benchmarks --once       each takes one round of little: does it still run?
"""

import argparse
import json
import os
import sys
import traceback
from importlib import import_module
from pathlib import Path

from tests.benchmarks.measure import ONCE, Measurement

NAMES = (
    "first-paint",
    "tap",
    "commit-checks",
    "tap-1000",
    "tick",
    "list-open",
    "list-search",
    "page-switch",
    "typing",
    "chart-pan",
    "chart-length",
    "zoom",
    "trends-warm",
    "schedule",
    "forecast",
    "findings",
    "trends-cold",
    "trends-after-edit",
    "memory",
    "idle-block",
    "first-visit",
    "keep-20MB",
    "summary-photos",
    "summary-pdf",
    "theme-switch",
    "follow-cpu",
    "check-10k",
    "backup",
    "wide-sheet",
    "photos-2000",
    "photos-170",
    "bundle",
    "probe-import",
    "probe-pandas",
)

BY_NAME = ("growth",)
"""Run only when asked for: they take minutes."""


def main() -> int:
    """Run them."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks")
    parser.add_argument(
        "names", metavar="NAME", nargs="*", choices=[*NAMES, *BY_NAME, []], default=[]
    )
    parser.add_argument("--json", metavar="FILE", type=Path)
    parser.add_argument("--once", action="store_true")
    arguments = parser.parse_args()
    if arguments.once:
        os.environ[ONCE] = "1"
    if sys.platform == "linux" and not os.environ.get("DISPLAY", os.environ.get("WAYLAND_DISPLAY")):
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    found: list[Measurement] = []
    broken = False
    sys.stdout.write(f"{'name':<18}{'ours':>12}{'peer':>12}{'ratio':>8}{'limit':>8}\n")
    usual = [*NAMES, *BY_NAME] if arguments.once else NAMES
    for name in arguments.names or usual:
        module = import_module(f"tests.benchmarks.{name.replace('-', '_').lower()}")
        try:
            one: Measurement = module.run()
        except Exception:
            if not arguments.once:
                raise
            sys.stdout.write(f"{name:<18}DID NOT RUN\n{traceback.format_exc()}")
            broken = True
            continue
        found.append(one)
        held = "ran" if arguments.once else "held" if one.held else "NOT HELD"
        sys.stdout.write(
            f"{one.name:<18}{one.shown(one.ours):>12}{one.shown(one.peer):>12}"
            f"{one.ratio:>8.2f}{one.limit:>8.2f}  {held}\n"
        )
        sys.stdout.flush()
    if arguments.json is not None:
        rows = [{**vars(one), "ratio": one.ratio, "held": one.held} for one in found]
        arguments.json.write_text(json.dumps(rows, indent=2), encoding="utf-8")
    held_all = arguments.once or all(one.held for one in found)
    return 0 if held_all and not broken else 1


if __name__ == "__main__":
    raise SystemExit(main())
