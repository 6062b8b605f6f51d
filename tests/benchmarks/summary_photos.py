"""A summary with thirty photos, written from its panel: the longest turn, and the file's size.

What is measured is the processor time of the window's thread in one turn of the event loop; the
limit is the peer. The file may have two megabytes.
"""

import io
import os
import tempfile
from contextlib import closing
from pathlib import Path

import numpy as np
from PIL import Image

from pitjournal.files.summary.content import PrivatePart
from pitjournal.journal import open_journal
from pitjournal.journal.attaching import attach_photos
from pitjournal.ui.findings.share_panel import SharePanel
from tests.benchmarks.measure import Measurement, size
from tests.benchmarks.page_switch import application, our_window
from tests.benchmarks.turns import MOST, Turns, visit_all
from tests.builders import add_comparison

LIMIT = 1.0
PHOTOS = size(30, 3)
LARGEST = 2_000_000
"""Bytes that the file may have."""


def photograph(lot: np.random.Generator) -> bytes:
    """Return a picture with large and small shapes and a camera's noise."""
    large = Image.fromarray(lot.integers(0, 255, (24, 32, 3), dtype=np.uint8))
    small = Image.fromarray(lot.integers(0, 255, (240, 320, 3), dtype=np.uint8))
    wide = (1600, 1200)
    whole = Image.blend(
        large.resize(wide, Image.Resampling.BICUBIC),
        small.resize(wide, Image.Resampling.BICUBIC),
        0.25,
    )
    noise = lot.normal(0.0, 8.0, (wide[1], wide[0], 3))
    out = io.BytesIO()
    Image.fromarray((np.asarray(whole) + noise).clip(0, 255).astype(np.uint8)).save(out, "JPEG")
    return out.getvalue()


def run() -> Measurement:
    """Measure the longest turn from the button to the file, as PDF and as HTML."""
    application()
    lot = np.random.default_rng(5)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["PITJOURNAL_SETTINGS"] = str(folder / "settings.json")
        command = add_comparison()
        with closing(open_journal(folder / "journal", new=True)) as journal:
            journal.do(command)
            photos = [(f"{number}.jpg", photograph(lot)) for number in range(PHOTOS)]
            journal.do(attach_photos(journal, command.cook.id, photos))
        window = our_window(folder / "journal")
        visit_all(window, command.cook.id)
        turns = Turns()
        for target in (folder / "cook.pdf", folder / "cook.html"):
            panel = SharePanel(window.desk, window, command.cook.id)
            turns.do("panel", panel.open_panel)
            panel.parts.choose(PrivatePart.PHOTOS)
            panel.target.setText(str(target))
            turns.do("write", panel.write.click)
            turns.until("written", target.exists)
            turns.until("told", panel.write.isEnabled)
            held = target.stat().st_size
            if held > LARGEST:
                raise AssertionError(f"{target.name} has {held / 1e6:.1f} MB")
        window.close()
    return Measurement("summary-photos", turns.longest, MOST, LIMIT)
