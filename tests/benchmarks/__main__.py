"""Run benchmarks by name, print what they measured, exit 1 where one is not held."""

import argparse
import json
import sys
from importlib import import_module
from pathlib import Path

from tests.benchmarks.measure import Measurement

NAMES = (
    "startup",
    "tap",
    "tick",
    "list-open",
    "list-search",
    "page-switch",
    "typing",
    "chart-pan",
    "chart-length",
    "trends-warm",
    "schedule",
    "findings",
    "trends-cold",
    "trends-after-edit",
    "memory",
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
    arguments = parser.parse_args()
    found: list[Measurement] = []
    sys.stdout.write(f"{'name':<18}{'ours':>12}{'peer':>12}{'ratio':>8}{'limit':>8}\n")
    for name in arguments.names or NAMES:
        module = import_module(f"tests.benchmarks.{name.replace('-', '_')}")
        one: Measurement = module.run()
        found.append(one)
        held = "held" if one.held else "NOT HELD"
        sys.stdout.write(
            f"{one.name:<18}{one.shown(one.ours):>12}{one.shown(one.peer):>12}"
            f"{one.ratio:>8.2f}{one.limit:>8.2f}  {held}\n"
        )
        sys.stdout.flush()
    if arguments.json is not None:
        rows = [{**vars(one), "ratio": one.ratio, "held": one.held} for one in found]
        arguments.json.write_text(json.dumps(rows, indent=2), encoding="utf-8")
    return 0 if all(one.held for one in found) else 1


if __name__ == "__main__":
    raise SystemExit(main())
