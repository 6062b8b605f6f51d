"""No turn of the event loop is long from the first paint on, nor in what a cook does after it.

The window's thread reads neither a column nor a large file meanwhile. `idle_walk` walks in a process of its own. What is measured is the processor time of the window's
thread; the limit is the peer. Each turn that takes longer is named, with file and line.
"""

import json
import os
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

from tests.benchmarks.idle_walk import COOKS
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement
from tests.benchmarks.turns import MOST

LIMIT = 1.0
ROOT = Path(__file__).resolve().parents[2]
ACTIONS = 22


@cache
def walked() -> dict[str, Any]:
    """Return what one walk took."""
    large_journal(COOKS)  # made once, and not while the walk is measured
    with tempfile.TemporaryDirectory() as name:
        out = Path(name) / "walk.json"
        subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.idle_walk", str(out)],
            cwd=ROOT,
            env={**os.environ, "PITJOURNAL_SETTINGS": str(Path(name) / "settings.json")},
            check=True,
            capture_output=True,
        )
        found: dict[str, Any] = json.loads(out.read_text("utf-8"))
    return found


def run() -> Measurement:
    """Measure the longest turn."""
    found = walked()
    assert len(found["actions"]) == ACTIONS
    for one in found["long"]:
        where = "\n    ".join(one["where"])
        sys.stderr.write(f"{1e3 * one['took']:.0f} ms in “{one['what']}”:\n    {where}\n")
    if found["reads"]:
        raise AssertionError("read on the window's thread: " + "; ".join(found["reads"]))
    return Measurement("idle-block", found["longest"], MOST, LIMIT)
