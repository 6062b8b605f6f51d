import os
import subprocess
import sys
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.cli.output import clean, table, width
from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import AddCook
from tests.builders import a_cook

ROOT = Path(__file__).parents[2]


def run_process(*words: object, **variables: str) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **variables}
    return subprocess.run(
        [sys.executable, "-m", "pitjournal", *map(str, words)],
        env=environment,
        capture_output=True,
        check=False,
        timeout=60,
    )


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["cooks", "/nowhere/at/all"], "There is no journal in /nowhere/at/all."),
        (["cooks"], "The following arguments are required: JOURNAL."),
        (["cooks", "x", "--nonsense"], "Unrecognized arguments: --nonsense."),
        (["backup", "x", "--to"], "Argument --to: expected one argument."),
        (["bakcup"], "There is no command “bakcup”. Try: pitjournal backup"),
    ],
)
def test_that_a_refusal_is_one_line_with_a_hint(
    words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"pitjournal: {said}")
    assert told.err.count("\n") == 1
    assert "Traceback" not in told.err
    assert "pitjournal " in told.err


def test_that_no_display_is_told(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    assert main([]) == 2
    assert "no display" in capsys.readouterr().err


def test_that_a_reader_who_stops_early_is_no_fault(folder: Path) -> None:
    script = 'set -o pipefail; "$@" | true; exit ${PIPESTATUS[0]}'
    done = subprocess.run(
        ["bash", "-c", script, "-", sys.executable, "-m", "pitjournal", "cooks", str(folder)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=False,
        timeout=60,
    )
    assert (done.returncode, done.stderr) == (0, b"")


def test_that_a_terminal_without_the_signs_gets_plain_ones(folder: Path) -> None:
    journal = open_journal(folder)
    journal.do(AddCook(a_cook("Épaule – 225 °F × 2")))
    journal.close()
    done = run_process("cooks", folder, PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert b"?paule - 225 F x 2" in done.stdout
    done = run_process("cooks", folder, "--json", PYTHONIOENCODING="ascii")
    assert b"\\u00c9paule \\u2013 225 \\u00b0F" in done.stdout


def test_that_commands_do_not_load_what_they_do_not_need(folder: Path) -> None:
    script = (
        "import sys; from pitjournal.app import main; main(sys.argv[1:]);"
        "print(sorted({'PySide6', 'scipy', 'statsmodels', 'polars', 'pint', 'jinja2'}"
        " & set(sys.modules)), file=sys.stderr)"
    )
    for words in (["--help"], ["cooks", str(folder)], ["backup", str(folder)]):
        done = subprocess.run(
            [sys.executable, "-c", script, *words],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            check=True,
            timeout=60,
        )
        assert done.stderr == b"[]\n"


def test_that_words_cannot_steer_a_terminal() -> None:
    assert clean("ribs\x1b[2J\nand\tbutt") == "ribs [2J and butt"


def test_that_columns_stay_aligned(capsys: pytest.CaptureFixture[str]) -> None:
    table(("Title", "n"), [("Café", "1"), ("Cafe\N{COMBINING ACUTE ACCENT}", "12")], right=(1,))
    lines = capsys.readouterr().out.splitlines()
    assert {width(line) for line in lines} == {9}
