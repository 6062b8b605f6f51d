"""170 photos added at once: what the program's memory grows by while it reads and keeps them.

They are of five megabytes each, as phones make them. No turn of the event loop may take longer
than 50 ms of the window's thread meanwhile. The process is one of its own, so that its peak
(the kernel's VmHWM) is of this alone; the limit is the peer.
"""

import io
import os
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

import numpy as np
from PIL import Image

from pitjournal.journal import open_journal
from tests.benchmarks.measure import ONCE, Measurement, size
from tests.builders import add_comparison

LIMIT = 1.0
MOST = 60e6
"""Bytes that adding them may take at its peak."""

PHOTOS = size(170, 4)
PICTURES = 3
ROOT = Path(__file__).resolve().parents[2]

WORK = """
import os, sys
from pathlib import Path
from tests.benchmarks.page_switch import application, our_window
from tests.benchmarks.turns import MOST, Turns, visit_all
from pitjournal.domain.event import Photo

def held(name):
    status = dict(line.split(":", 1) for line in open("/proc/self/status"))
    return int(status[name].split()[0]) * 1024

application()
journal, photos = Path(sys.argv[1]), sorted(Path(sys.argv[2]).iterdir())
window = our_window(journal)
cook = window.desk.journal.cooks.page("", 0, 1)[0].id
visit_all(window, cook)
bench = window.place.current
bench.day.turn("photos")
bench.opens.add_photos(photos[:2])  # what reading photos needs is loaded once
turns = Turns()
turns.until("two", lambda: len(window.desk.journal.find(Photo)) == 2)
before = held("VmRSS")
Path("/proc/self/clear_refs").write_text("5")  # the peak counts from here on
turns = Turns()
turns.do("add", lambda: bench.opens.add_photos(photos[2:]))  # a photo is kept once
turns.until("added", lambda: len(window.desk.journal.find(Photo)) == len(photos))
for _ in range(20):
    turns.do("painted", lambda: None)
print(held("VmHWM") - before, turns.longest, turns.slowest)
window.close()
from pitjournal.files import apart
apart.close()
"""


def write(folder: Path, photos: int) -> None:
    """Write photos of twelve megapixels, each with other bytes behind the picture."""
    lot = np.random.default_rng(11)
    folder.mkdir()
    pictures = []
    for _ in range(PICTURES):
        pixels = lot.integers(0, 255, (1500, 2000, 3), dtype=np.uint8)
        out = io.BytesIO()
        large = Image.fromarray(pixels).resize((4000, 3000), Image.Resampling.BICUBIC)
        large.save(out, "JPEG", quality=80)
        pictures.append(out.getvalue())
    for number in range(photos):
        data = pictures[number % PICTURES] + f"{number}".encode()
        (folder / f"{number:04d}.jpg").write_bytes(data)


def run() -> Measurement:
    """Measure the growth, and that no turn is long."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write(folder / "photos", PHOTOS + 2)
        with closing(open_journal(folder / "journal", new=True)) as journal:
            journal.do(add_comparison())
        found = subprocess.run(
            [sys.executable, "-c", WORK, str(folder / "journal"), str(folder / "photos")],
            cwd=ROOT,
            check=True,
            capture_output=True,
            text=True,
        )
    grown, longest, slowest = found.stdout.split()
    if ONCE not in os.environ and float(longest) > 0.05:
        raise AssertionError(f"{slowest} took {1e3 * float(longest):.0f} ms")
    return Measurement("photos-170", max(float(grown), 1.0), MOST, LIMIT, unit="B")
