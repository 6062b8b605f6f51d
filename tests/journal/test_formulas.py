"""A journal of yesterday: what was worked out by older formulas is worked out anew."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from pitjournal.domain.catalogue import SCORES_FORMULA, Catalogue, formulas
from pitjournal.domain.event import Event, EventKind
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.checks import check_folder
from pitjournal.journal.commands.records import Add
from tests.builders import NOON, add_comparison


@pytest.fixture
def of_yesterday(tmp_path: Path) -> Iterator[Path]:
    """A journal whose kept values an older program made: the lid was counted otherwise."""
    folder = tmp_path / "cooks"
    with closing(open_journal(folder, new=True)) as journal:
        command = add_comparison()
        journal.do(command)
        for kind, minute in ((EventKind.ON, 0), (EventKind.LID, 10), (EventKind.OFF, 90)):
            at = NOON.replace(minute=minute % 60, hour=NOON.hour + minute // 60)
            event = Event(cook_id=command.cook.id, kind=kind, happened_at=at, entered_at=at)
            journal.do(Add((event,), "log"))
        assert _lids(journal) == 1.0
    with closing(sqlite3.connect(folder / "journal.sqlite")) as database:
        database.execute("DELETE FROM derived_column WHERE key = 'lid_openings'")
        database.execute("PRAGMA user_version = 7")
        database.commit()
    yield folder
    shutil.rmtree(folder)


def _lids(journal: Journal) -> object:
    return next(
        values.get("lid_openings") for *_, level, values in journal.values() if level == "cook"
    )


def test_that_a_variable_of_today_reaches_the_cooks_of_yesterday(of_yesterday: Path) -> None:
    with closing(open_journal(of_yesterday)) as journal:
        assert journal.worked_out.stale()
        assert _lids(journal) == 1.0
    assert check_folder(of_yesterday).held


def test_that_a_check_calls_older_values_older_and_not_damaged(of_yesterday: Path) -> None:
    found = check_folder(of_yesterday)
    assert found.held
    assert found.older


def test_that_a_journal_that_can_only_be_read_answers_with_todays_formulas(
    of_yesterday: Path,
) -> None:
    with closing(open_journal(of_yesterday, read_only=True)) as journal:
        assert _lids(journal) == 1.0
    with closing(sqlite3.connect(of_yesterday / "journal.sqlite")) as database:
        assert database.execute("PRAGMA user_version").fetchone() == (7,)


def test_that_the_number_changes_with_each_version_and_with_nothing_else(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    before = formulas()
    assert formulas() == before
    first, *rest = Catalogue.BUILT_IN
    monkeypatch.setattr(Catalogue, "BUILT_IN", (replace(first, label="another word"), *rest))
    assert formulas() == before
    monkeypatch.setattr(Catalogue, "BUILT_IN", (replace(first, formula=2), *rest))
    assert formulas() != before
    monkeypatch.setattr(Catalogue, "BUILT_IN", tuple(rest))
    assert formulas() != before
    monkeypatch.undo()
    monkeypatch.setitem(formulas.__globals__, "SCORES_FORMULA", SCORES_FORMULA + 1)
    assert formulas() != before
