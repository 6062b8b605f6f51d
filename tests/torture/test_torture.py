"""The scripts of torture, shortened: each runs whole by its name."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    ("name", "rounds"), [("kills", 10), ("disk_full", 8), ("folders", 8), ("damage", 6)]
)
def test_that_nothing_acknowledged_is_lost(name: str, rounds: int) -> None:
    done = subprocess.run(
        [sys.executable, "-m", f"tests.torture.{name}", str(rounds), "--seed", "11"],
        cwd=ROOT,
        env={**os.environ, "NO_MOUNT": "1"},
        capture_output=True,
        text=True,
        check=False,
        timeout=600,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"{name}: seed 11, " in done.stdout
    assert done.stdout.count("\n") == 1
