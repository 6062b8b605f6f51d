import os
import subprocess
import sys
from contextlib import closing
from pathlib import Path

from pypdf import PdfReader

from pitjournal.journal import open_journal
from tests.builders import add_comparison

ROOT = Path(__file__).parents[2]


def test_that_a_pdf_is_written_with_no_display(tmp_path: Path) -> None:
    with closing(open_journal(tmp_path / "j", new=True)) as journal:
        journal.do(add_comparison())
    away = {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}
    environment = {name: value for name, value in os.environ.items() if name not in away}
    target = tmp_path / "cook.pdf"
    done = subprocess.run(
        [sys.executable, "-m", "pitjournal", "summary", tmp_path / "j", "1", "--to", target],
        env={**environment, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=False,
        timeout=120,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    text = " ".join(" ".join(p.extract_text() for p in PdfReader(target).pages).split())
    assert "Does injecting change the bite?" in text
    assert "Injected meat counts as non-intact" in text
