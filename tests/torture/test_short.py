"""Each torture, shortened: its long form runs by name (`python -m tests.torture.NAME`)."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytest.importorskip("PySide6")

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    ("name", "rounds"), [("killed_typing", 1), ("robot", 80), ("hours", 12), ("settings", 40)]
)
def test_that_nothing_is_lost_and_nothing_faults(name: str, rounds: int, tmp_path: Path) -> None:
    there = os.environ | {
        "QT_QPA_PLATFORM": "offscreen",
        "TMPDIR": str(tmp_path),
        "PITJOURNAL_SETTINGS": str(tmp_path / "settings.json"),
    }
    command = [sys.executable, "-m", f"tests.torture.{name}", str(rounds), "--seed", "17"]
    run = subprocess.run(
        command, cwd=ROOT, env=there, capture_output=True, text=True, timeout=500, check=False
    )
    assert run.returncode == 0, run.stdout + run.stderr
    assert "seed 17" in run.stdout
    assert "wrong 0" in run.stdout
