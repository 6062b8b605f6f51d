"""What is kept beside the records may be damaged by itself: indexes, and what was worked out."""

import sqlite3
import struct
from collections.abc import Iterable, Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from pitjournal.analysis.trends.question import By, Question
from pitjournal.domain.cook import Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.journal import Journal, open_journal
from pitjournal.units import UnitSystem
from tests.builders import add_comparison

QUESTION = Question("thickness", (By("cut"),))


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with closing(open_journal(tmp_path / "journal", new=True)) as opened:
        for number in range(3):
            opened.do(add_comparison(f"Cook {number}"))
        yield opened


def test_that_a_record_that_an_index_has_under_another_cook_is_left_out(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = journal.find(Cook)[0].id
    piece = journal.whole(first).pieces[0]
    of_cooks = journal.database.of_cooks

    def as_damaged(
        kinds: Iterable[type[Record]], cook_ids: Iterable[str]
    ) -> dict[type[Record], list[Record]]:
        """Give the row that the index of this cook leads to, whose own cook is another."""
        found = of_cooks(kinds, cook_ids)
        found[Piece] = [
            replace(one, cook_id="lost") if isinstance(one, Piece) and one.id == piece.id else one
            for one in found[Piece]
        ]
        return found

    monkeypatch.setattr(journal.database, "of_cooks", as_damaged)
    every = [line.id for line in journal.cooks.page()]
    assert len(journal.wholes(every)) == 3
    assert piece.id not in {one.id for one in journal.whole(first).pieces}
    assert "cook" in journal.database.missed["piece", piece.id]


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("codes", struct.pack("<i", 77)),
        ("codes", b"\1\0\0"),
        ("numbers", b"\0" * 9),
        ("codes", "text"),
        ("names", "[[1]]"),
    ],
)
def test_that_a_column_that_was_damaged_is_worked_out_anew(
    journal: Journal, column: str, value: object
) -> None:
    rows = journal.values()
    answer = journal.trends.ask(QUESTION, UnitSystem.US)
    path = journal.folder / "journal.sqlite"
    journal.close()
    with closing(sqlite3.connect(path)) as connection, connection:
        if isinstance(value, bytes) and len(value) == 4:
            connection.execute(
                "UPDATE derived_column SET codes = ? || substr(codes, 5) WHERE codes IS NOT NULL",
                (value,),
            )
            connection.execute("UPDATE derived_column SET codes = CAST(codes AS BLOB)")
        else:
            connection.execute(f"UPDATE derived_column SET {column} = ?", (value,))
    with closing(open_journal(journal.folder)) as opened:
        assert opened.trends.ask(QUESTION, UnitSystem.US) == answer
        assert opened.values() == rows
