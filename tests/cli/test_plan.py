"""The day of a planned cook on the command line."""

import json
import sys
from datetime import timedelta
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Event
from pitjournal.journal import open_journal
from pitjournal.journal.commands.plan import GiveSteps, NameHands
from pitjournal.journal.commands.records import Add
from tests.builders import NOON
from tests.cli.conftest import Answer


@pytest.fixture
def planned(folder: Path) -> Path:
    """Return a journal whose comparison, cook 2, is lit at 8:00 and on at 9:00 in Chicago."""
    journal = open_journal(folder)
    cook = next(cook for cook in journal.find(Cook) if cook.number == 2)
    piece = journal.whole(cook.id).pieces[0]
    for kind, hour, pieces in (("lit", 1, ()), ("on", 2, (piece.id,))):
        at = NOON + timedelta(hours=hour)  # noon UTC is 7:00 there in May
        step = Event(
            cook_id=cook.id,
            kind=kind,
            planned_at=at,
            happened_at=None,
            entered_at=NOON,
            pieces=pieces,
        )
        journal.do(Add((step,), "Plan"))
    journal.close()
    return folder


def test_that_the_day_is_told(planned: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(planned), "2"]) == 0
    told = capsys.readouterr().out
    assert "08:00  Light the fire" in told
    assert "09:00  On" in told


def test_that_the_day_is_answered(planned: Path, answer: Answer) -> None:
    found = answer("plan", planned, 2)
    assert [(step["kind"], step["at"]) for step in found["steps"]] == [
        ("lit", "2026-05-02T08:00:00-05:00"),
        ("on", "2026-05-02T09:00:00-05:00"),
    ]
    assert found["steps"][1]["pieces"] == ["A1"]
    assert found["steps"][1]["happened_at"] is None
    assert found["serve_at"] is None


def test_that_the_day_is_written_as_a_calendar(planned: Path, answer: Answer) -> None:
    target = planned.parent / "day.ics"
    assert answer("plan", planned, 2, "--to", target) == {"file": str(target)}
    text = target.read_bytes().decode()
    assert text.count("BEGIN:VEVENT\r\n") == 2
    assert "DTSTART:20260502T080000\r\n" in text  # the clock of the cooker, in Chicago
    assert "SUMMARY:On (A1)\r\n" in text


def test_that_what_can_not_be_written_is_said_in_one_line(
    planned: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for words, said in (
        (["1", "--to", str(planned / "day.ics")], "no step that is still to do"),
        (["2", "--to", str(planned / "day.txt")], "End it in .ics or .pdf."),
        (["2", "--to", str(planned / "no folder" / "day.ics")], "cannot be written"),
    ):
        assert main(["plan", str(planned), *words]) == 2
        told = capsys.readouterr().err
        assert said in told
        assert told.count("\n") <= 2
    assert main(["plan", str(planned), "1"]) == 0
    assert "No step is planned" in capsys.readouterr().out


def test_that_a_calendar_needs_no_window(planned: Path, answer: Answer) -> None:
    before = {name for name in sys.modules if name.startswith("PySide6")}
    answer("plan", planned, 2, "--to", planned.parent / "day.ics")
    assert {name for name in sys.modules if name.startswith("PySide6")} == before
    assert json.dumps(answer("plan", planned, 2))


def test_that_the_card_of_one_hand_is_told_answered_and_written(
    planned: Path, answer: Answer, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    journal = open_journal(planned)
    cook = next(cook for cook in journal.find(Cook) if cook.number == 2)
    lit = next(e for e in journal.find(Event, cook_id=cook.id) if e.kind == "lit" and e.planned_at)
    journal.do(NameHands(cook.id, ("Ana", "Ben")))
    journal.do(GiveSteps({lit.id: "Ana"}))
    journal.close()
    assert [step["by"] for step in answer("plan", planned, 2)["steps"]] == ["Ana", None]
    own = answer("plan", planned, 2, "--hand", "ana")["steps"]
    assert [step["kind"] for step in own] == ["lit"]
    assert main(["plan", str(planned), "2", "--hand", "Ana"]) == 0
    assert "08:00  Light the fire" in capsys.readouterr().out
    target = tmp_path / "ana.txt"
    assert main(["plan", str(planned), "2", "--hand", "Ana", "--to", str(target)]) == 0
    assert "Light the fire" in target.read_text(encoding="utf-8")
    assert main(["plan", str(planned), "2", "--hand", "Di"]) == 2
    assert "There are Ana, Ben." in capsys.readouterr().err
