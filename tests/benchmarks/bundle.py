"""Fifty cooks with five hundred photos as one bundle, beside a ZIP that packs nothing.

The peer writes the same files into a ZIP as they are, and takes the SHA-256 of each: what a
bundle cannot do without. At most twice its time, and 150 MB above what the process had.
"""

import hashlib
import tempfile
import time
import zipfile
from contextlib import closing
from pathlib import Path

import numpy as np

from pitjournal.domain.cook import Cook
from pitjournal.files.bundle import write_bundle
from pitjournal.files.writing import whole_file
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bundles.gathering import bundle_of
from pitjournal.journal.bundles.leaving import EVERYTHING
from tests.benchmarks.backup import keep_photos
from tests.benchmarks.measure import Measurement, seconds, size
from tests.builders import add_comparison

LIMIT = 2.0
COOKS, PHOTOS, BYTES = size(50, 2), 10, size(2_000_000, 20_000)
MOST = 150e6
"""Bytes above what the process had before."""


def fill(journal: Journal) -> None:
    """Add cooks, each with photos that no packing makes smaller."""
    lot = np.random.default_rng(3)
    for number in range(COOKS):
        command = add_comparison(f"Cook {number}")
        journal.do(command)
        keep_photos(journal, command.cook, lot, PHOTOS, BYTES)


def run() -> Measurement:
    """Write both, in turns, and take the best of each."""
    ours, peers = [], []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with closing(open_journal(folder / "journal", new=True)) as journal:
            fill(journal)
            cook_ids = [cook.id for cook in journal.find(Cook)]
            files = sorted(path for path in (folder / "journal").rglob("*/*/*") if path.is_file())
            before = _resident("VmRSS")
            for _ in range(size(3, 1)):
                _forget_the_most()
                ours.append(
                    seconds(
                        lambda: _bundle(journal, cook_ids, folder / "all.eln"), time.process_time
                    )
                )
                most = _resident("VmHWM") - before
                if most > MOST:
                    raise AssertionError(f"{most / 1e6:.0f} MB more")
                peers.append(seconds(lambda: _plain(files, folder / "all.zip"), time.process_time))
    return Measurement("bundle", min(ours), min(peers), LIMIT)


def _bundle(journal: Journal, cook_ids: list[str], target: Path) -> None:
    with whole_file(target) as file:
        write_bundle(bundle_of(journal, cook_ids, EVERYTHING, "all").bundle, file)


def _plain(files: list[Path], target: Path) -> None:
    with whole_file(target) as file, zipfile.ZipFile(file, "w", zipfile.ZIP_STORED) as made:
        for path in files:
            data = path.read_bytes()
            hashlib.sha256(data).hexdigest()
            made.writestr(path.name, data)


def _resident(name: str) -> float:
    """Return a figure of this process, bytes; 0 where the system does not tell it."""
    try:
        told = Path("/proc/self/status").read_text(encoding="ascii")
    except OSError:
        return 0.0
    line = next(line for line in told.splitlines() if line.startswith(f"{name}:"))
    return 1024.0 * int(line.split()[1])


def _forget_the_most() -> None:
    """Let the system begin anew with the most that was used (proc(5), clear_refs)."""
    path = Path("/proc/self/clear_refs")
    if path.exists():
        path.write_text("5", encoding="ascii")
