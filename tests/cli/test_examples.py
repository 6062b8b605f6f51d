"""Every example of every page of the manual runs on the demonstration, and answers something."""

import re
import shlex
import shutil
import sys
from collections.abc import Iterator
from contextlib import closing
from importlib.util import find_spec
from pathlib import Path
from subprocess import run

import pytest

from pitjournal.cli import main
from pitjournal.cli.commands import COMMANDS
from pitjournal.cli.main import parser_of
from pitjournal.cli.parser import Arguments, manual_page
from pitjournal.journal import open_journal

FILES = Path(__file__).parent.parent / "files"
FORECAST = Path(__file__).parent.parent / "analysis" / "forecast" / "data"
BROUGHT = {
    "saturday.csv": FILES / "probe_log" / "samples" / "sample_01.csv",
    "butt.csv": FORECAST / "cook_1.csv",
    "mine.csv": FORECAST / "cook_1.past.csv",
    "old-cooks.csv": FILES / "old_cooks" / "samples" / "sheet_1.csv",
    "old-cooks.xlsx": FILES / "old_cooks" / "samples" / "sheet_3.xlsx",
}
"""What the examples call their files."""

WINDOW = {"pitjournal", "pitjournal demo"}
"""These open the window."""

NOTHING = ("No cook has what is asked for", "No step is planned", "No cook is")


def examples() -> Iterator[str]:
    """Yield each command of each page's examples."""
    for page in ("", *COMMANDS):
        (part,) = re.findall(r"^EXAMPLES\n((?:    .*\n)+)", manual_page(page), re.MULTILINE)
        for line in re.findall(r"^    (pitjournal.*)$", part, re.MULTILINE):
            yield from line.split(" && ")


@pytest.fixture
def home(demonstration_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a home with the demonstration in `~/cooks`, which is also the working folder."""
    shutil.copytree(demonstration_folder, tmp_path / "cooks")
    for name, source in BROUGHT.items():
        shutil.copy(source, tmp_path / name)
    (tmp_path / "settled.json").write_text("{}", encoding="utf-8")
    main(["bundle", str(tmp_path / "cooks"), "28", "--to", str(tmp_path / "ribs.eln")])
    main(["backup", str(tmp_path / "cooks"), "--to", str(tmp_path / "saturday.zip")])
    with closing(open_journal(tmp_path / "cooks")) as journal:
        journal.backups.make("by-hand")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("example", sorted(set(examples())))
def test_that_an_example_of_the_manual_runs(
    home: Path, example: str, capsys: pytest.CaptureFixture[str]
) -> None:
    words = [_here(word, home) for word in shlex.split(example)[1:]]
    name = words[0] if words and words[0] in COMMANDS else ""
    if example in WINDOW:
        parser_of(name).parse_args(words[bool(name) :], namespace=Arguments())
        return
    if any(word.endswith((".pdf", ".png")) for word in words) and not find_spec("PySide6"):
        pytest.skip("a PDF is painted")
    if any(word.endswith((".pdf", ".png")) for word in words):
        # In a process of its own: what paints here would stay, and be in the way of a window.
        command = [sys.executable, "-m", "pitjournal", *words]
        done = run(command, check=False, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
        said = done.stdout
    else:
        assert main(words) == 0, capsys.readouterr().err
        said = capsys.readouterr().out
    assert said.strip()
    assert not any(nothing in said for nothing in NOTHING)
    for place, word in enumerate(words):
        if word == "--to":
            assert (home / Path(words[place + 1]).name).stat().st_size > 100


def _here(word: str, home: Path) -> str:
    """Return a word with the folders of the examples in a home of ours."""
    for far in ("~/", "/media/stick/", "/tmp/"):
        if word.startswith(far):
            return str(home / word.removeprefix(far))
    return word


def test_that_every_page_has_an_example_of_its_own_command() -> None:
    shown = {shlex.split(example)[1] for example in examples() if " " in example}
    assert shown >= set(COMMANDS)
