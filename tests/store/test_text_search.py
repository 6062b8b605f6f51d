"""Words are found whoever wrote them, and are gone when their record is."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Note
from pitjournal.domain.piece import Piece
from pitjournal.store import text_search
from pitjournal.store.cook_list import cooks_having, count, page
from pitjournal.store.database import Database
from tests.builders import NOON, a_cook


@pytest.fixture
def database(tmp_path: Path) -> Database:
    return Database(tmp_path / "journal", new=True)


def add(database: Database, *records: Cook | Note | Piece) -> None:
    database.change("Add", lambda transaction: transaction.add(*records))


def titles(database: Database, words: str) -> list[str]:
    return [line.title for line in page(database, words=words)]


@pytest.mark.parametrize(
    "words",
    [
        "lemon",
        "LEM",
        "facade",
        "façade lemon",
        "12",
        "windy",
        "lemon wind",
        "lemon-pepper",
        'said "low"',
        "brisk",
        "“low”",
    ],
)
def test_that_words_and_their_beginnings_are_found_wherever_they_stand(
    database: Database, words: str
) -> None:
    cook = a_cook("Lemon-pepper façade, 12 hours", note='She said "low"')
    note = Note(cook_id=cook.id, text="A windy day", at=NOON)
    piece = Piece(cook_id=cook.id, position=0, label="A1", cut="brisket")
    add(database, cook, note, piece, a_cook("Another"))
    assert titles(database, words) == [cook.title]
    assert count(database, words) == 1
    assert cooks_having(database, words) == {cook.id}


@pytest.mark.parametrize(
    "words", ["lemons", "emon", "lemon another", "NOT lemon", "lemon AND another", "note:lemon"]
)
def test_that_what_is_not_there_is_not_found(database: Database, words: str) -> None:
    add(database, a_cook("Lemon"), a_cook("Another"))
    assert titles(database, words) == []


@pytest.mark.parametrize("words", ["", "  ", "*", '"', "-- ()"])
def test_that_without_a_word_every_cook_is_there(database: Database, words: str) -> None:
    add(database, a_cook("Lemon"), a_cook("Another"))
    assert count(database, words) == 2
    assert len(cooks_having(database, words)) == 2


def test_that_words_follow_changes_undo_and_removal(database: Database) -> None:
    cook = a_cook("Ribs")
    note = Note(cook_id=cook.id, text="cherry", at=NOON)
    add(database, cook)
    add(database, note)
    database.change("Edit", lambda t: t.put(note, replace(note, text="apple")))
    assert (titles(database, "apple"), titles(database, "cherry")) == (["Ribs"], [])
    database.undo()
    assert (titles(database, "apple"), titles(database, "cherry")) == ([], ["Ribs"])
    database.undo()
    assert titles(database, "cherry") == []
    database.redo()
    assert titles(database, "cherry") == ["Ribs"]
    database.change("Remove", lambda t: t.remove(Cook, cook.id))
    assert titles(database, "cherry") == titles(database, "ribs") == []
    database.undo()
    assert titles(database, "cherry rib") == ["Ribs"]


def test_that_an_older_journal_is_searched_too(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook("Ribs")
    add(database, cook, Note(cook_id=cook.id, text="cherry", at=NOON))
    database.close()
    with closing(sqlite3.connect(tmp_path / "journal.sqlite")) as old, old:
        triggers = old.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
        assert triggers
        for (name,) in triggers:
            old.execute(f"DROP TRIGGER {name}")
        old.execute("DROP TABLE cook_words")
        old.execute("DROP TABLE cook_text")
        old.execute("CREATE TABLE derived (owner_id TEXT PRIMARY KEY, numbers TEXT)")
        old.execute("INSERT INTO note SELECT 'late', cook_id, 'plum', at, piece_id FROM note")
        old.execute("UPDATE schema_version SET minor = 0")
    again = Database(tmp_path, new=True)
    assert titles(again, "plum cherry rib") == ["Ribs"]
    add(again, Note(cook_id=cook.id, text="quince", at=NOON))
    assert titles(again, "quince") == ["Ribs"]
    assert again.integrity() == (True, True)
    again.close()


def test_that_another_writer_of_the_file_is_followed(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    cook = a_cook("Ribs")
    add(database, cook)
    with closing(sqlite3.connect(tmp_path / "journal.sqlite")) as other, other:
        other.execute("UPDATE cook SET title = 'Turkey'")
    assert (titles(database, "turkey"), titles(database, "ribs")) == (["Turkey"], [])
    database.close()


def test_that_to_prepare_again_changes_nothing(database: Database) -> None:
    add(database, a_cook("Ribs"))
    with database.quiet_write() as connection:
        text_search.prepare(connection)
    assert titles(database, "ribs") == ["Ribs"]


@pytest.mark.parametrize("many", [1, 10_000])
def test_that_a_page_is_the_same_by_day_and_by_what_was_found(
    database: Database, monkeypatch: pytest.MonkeyPatch, many: int
) -> None:
    monkeypatch.setattr(text_search, "MANY", many)
    days = [
        a_cook(f"Lemon {n}" if n % 2 else f"Oak {n}", starts_at=NOON + timedelta(days=(7 * n) % 20))
        for n in range(20)
    ]
    add(database, *days)
    by_hand = [
        cook.title
        for cook in sorted(days, key=lambda cook: cook.starts_at, reverse=True)
        if cook.title.startswith("Lemon")
    ]
    assert titles(database, "lem") == by_hand
    assert [line.title for line in page(database, words="lem", start=3, most=4)] == by_hand[3:7]
    assert count(database, "lem") == 10
