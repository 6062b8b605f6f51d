"""Values that cannot be, in records that can be read: named, kept, and calculated with by nobody."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.tasting import Sample, Score, Tasting
from pitjournal.errors import JournalError
from pitjournal.journal import open_journal
from pitjournal.journal.checks import check_folder
from pitjournal.journal.commands.bench import Choose
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.journal.repair import repair_folder
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook, add_comparison


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A journal of two cooks; the second has a weight, a check, an event and a scored sample."""
    path = tmp_path / "cooks"
    with closing(open_journal(path, new=True)) as journal:
        journal.do(AddCook(a_cook("First")))
        command = add_comparison()
        journal.do(command)
        cook = command.cook.id
        piece = journal.find(Piece, cook_id=cook)[0].id
        tasting = Tasting(
            cook_id=cook, scheme="home", criteria=("bite",), low=1.0, high=9.0, tasters=("Ada",)
        )
        sample = Sample(cook_id=cook, tasting_id=tasting.id, piece_id=piece, code="123")
        score = Score(
            cook_id=cook,
            tasting_id=tasting.id,
            sample_id=sample.id,
            taster="Ada",
            criterion="bite",
            value=7.0,
        )
        more = (
            Weighing(cook_id=cook, piece_id=piece, stage=next(iter(Stage)), mass=900.0),
            DonenessCheck(cook_id=cook, piece_id=piece, at=NOON, internal=95.0, feel=4),
            Event(
                cook_id=cook,
                kind=EventKind.LID,
                happened_at=NOON,
                entered_at=NOON,
                pieces=(piece,),
            ),
        )
        journal.do(Add((tasting, sample, score, *more), "log"))
        journal.do(Choose("targets", "[]", "targets"))
    return path


ODD = {
    "weighing": "mass = -250.0",
    "score": "value = 1000.0",
    "doneness_check": "internal = -400.0, feel = 99",
    "event": """pieces = '["nobody"]'""",
    "setting": "value = '{{{'",
}


def _spoil(folder: Path, odd: dict[str, str]) -> None:
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection:
        for table, change in odd.items():
            connection.execute(f"UPDATE {table} SET {change}")
        connection.commit()


def test_that_a_check_names_each_value_that_cannot_be_and_a_repair_changes_none(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert check_folder(folder).held
    _spoil(folder, ODD)
    found = {(row.kind, row.why.split()[0]): row.why for row in check_folder(folder).impossible}
    assert found == {
        ("weighing", "mass"): "mass is -250.0. A weight must be more than nothing.",
        ("score", "value"): "value is 1000.0. The scale is 1 to 9.",
        ("doneness_check", "internal"): (
            "internal is -400.0. No meat is colder than −40 °F (−40 °C) inside."
        ),
        ("doneness_check", "feel"): "feel is 99. A feel is 1 to 7.",
        ("event", "pieces"): "pieces names 'nobody', which no piece is called.",
        ("setting", "value"): "value is no list of targets.",
    }
    repaired = repair_folder(folder)
    assert {row.why for row in repaired.check.impossible} == set(found.values())
    capsys.readouterr()
    assert main(["check", str(folder)]) == 1
    said = capsys.readouterr().out
    assert "NOT HELD  every value is one that can be" in said
    assert "held      every record can be read" in said
    assert "count it as not recorded" in said


def test_that_a_scale_that_ends_where_it_begins_holds_no_score(folder: Path) -> None:
    _spoil(folder, {"tasting": "low = 9.0, high = 1.0"})
    why = {row.kind: row.why for row in check_folder(folder).impossible}
    assert why["tasting"] == "low is 9.0. A scale must end above 9."
    assert set(why) == {"tasting", "score"}


def test_that_nothing_is_worked_out_of_a_value_that_cannot_be(folder: Path) -> None:
    _spoil(folder, {"tasting": "state = 'revealed'"})
    _spoil(folder, ODD)
    with closing(open_journal(folder)) as journal:
        (check,) = journal.find(DonenessCheck)
        known = [values for owner, _, _, values in journal.values([check.cook_id])]
        numbers = [v for values in known for v in values.values() if isinstance(v, float)]
        assert not {-250.0, 1000.0, -400.0, 99.0} & set(numbers)
        assert journal.targets()  # as shipped
        journal.findings.of(check.cook_id, UnitSystem.US)


def test_that_a_repair_gives_each_cook_a_number_and_each_kept_file_its_size(
    folder: Path,
) -> None:
    with closing(open_journal(folder)) as journal:
        kept = journal.files.keep(b"time,1\n", "text/csv", "log.csv")
        noted = [(kept.sha, kept.size, kept.media_type, kept.name)]
        journal.database.change("keep", lambda t: t.name_attachments(noted))
    _spoil(folder, {"cook": "number = 13", "attachment": "size = 1"})
    with closing(open_journal(folder)) as journal, pytest.raises(JournalError, match="--repair"):
        journal.cooks.find("13")
    found = check_folder(folder)
    assert sorted(row.kind for row in found.impossible) == ["attachment", "cook"]
    assert not found.held
    repaired = repair_folder(folder)
    assert repaired.check.held
    with closing(open_journal(folder)) as journal:
        numbers = {line.title: line.number for line in journal.cooks.page()}
        assert numbers == {"First": 13, "Does injecting change the bite?": 14}
        assert list(journal.database.attachment_sizes().values()) == [7]
