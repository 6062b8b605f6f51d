"""The columns follow the journal: after any change they are what reading all anew gives."""

import contextlib
import random
import sqlite3
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError

from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.domain.cook import Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import OwnValue, OwnVariable, ShelfItem
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.records import Add, Change, Remove
from pitjournal.journal.jobs import CancelledJobError, Progress
from pitjournal.journal.queries.values import TOGETHER, worked_out
from pitjournal.store.database import Database
from pitjournal.store.derived_blocks import DerivedBlocks
from pitjournal.units import UnitSystem
from tests.analysis.trends.frames import frame_of
from tests.journal.trends.conftest import COOKERS, a_mixed_cook

KEYS = ("cut", "yield_off", "cooker", "date", "non_intact", "score.tenderness")
QUESTION = Question("thickness", (By("cut"),))


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with closing(a_journal(tmp_path / "journal")) as opened:
        yield opened


def a_journal(folder: Path, cooks: int = 12) -> Journal:
    """Return a journal with some mixed cooks, always the same but for their ids."""
    journal = open_journal(folder, new=True)
    journal.do(Add(COOKERS, "Cookers"))
    lot = random.Random(3)
    for number in range(cooks):
        journal.do(a_mixed_cook(number, lot))
    return journal


def anew(journal: Journal) -> Frame:
    """Return the columns worked out from all records, with nothing kept."""
    rows = []
    for cook_id, values in worked_out(journal, [c.id for c in journal.find(Cook)]).items():
        rows.append((cook_id, cook_id, "cook", values.cook))
        rows += [(piece, cook_id, "piece", own) for piece, own in values.pieces.items()]
    return frame_of(rows)


def told(frame: Frame) -> dict[tuple[str, str], list[object]]:
    """Return what a frame says of each piece, and of each cook without any."""
    columns: list[list[object]] = []
    for key in KEYS:
        numbers = [None if np.isnan(n) else n for n in frame.numbers(key).tolist()]
        codes, names = frame.choices(key)
        texts = [None if code < 0 else names[code] for code in codes.tolist()]
        columns += [numbers, texts]
    ids = zip(frame.cook_ids, frame.piece_ids, strict=True)
    return dict(zip(ids, map(list, zip(*columns, strict=True)), strict=True))


def agrees(journal: Journal) -> None:
    frame, wanted = journal.trends.frame(), anew(journal)
    assert told(frame) == told(wanted)
    for key in KEYS:
        assert set(frame.choices(key)[1]) == set(wanted.choices(key)[1])
    assert journal.worked_out.agree()


def any_of(journal: Journal, kind: type[Cook] | type[Piece], place: int) -> str | None:
    found = journal.find(kind)
    return found[place % len(found)].id if found else None


def change_cut(journal: Journal, place: int) -> None:
    piece = any_of(journal, Piece, place)
    if piece:
        journal.do(Change(Piece, piece, {"cut": f"cut {place}"}))


def change_cooker(journal: Journal, place: int) -> None:
    cook = any_of(journal, Cook, place)
    if cook:
        journal.do(Change(Cook, cook, {"cooker_id": COOKERS[place % 2].id}))


def remove_piece(journal: Journal, place: int) -> None:
    piece = any_of(journal, Piece, place)
    if piece:
        journal.do(Remove(Piece, piece))


def remove_cook(journal: Journal, place: int) -> None:
    cook = any_of(journal, Cook, place)
    if cook:
        journal.do(Remove(Cook, cook))


def add_cook(journal: Journal, place: int) -> None:
    journal.do(a_mixed_cook(place, random.Random(place)))


def rename_cooker(journal: Journal, place: int) -> None:
    journal.do(Change(ShelfItem, COOKERS[place % 2].id, {"name": f"cooker {place}"}))


def undo(journal: Journal, _place: int) -> None:
    journal.undo()


def redo(journal: Journal, _place: int) -> None:
    journal.redo()


def ask(journal: Journal, _place: int) -> None:
    journal.trends.ask(QUESTION, UnitSystem.US)


def help_on(journal: Journal, place: int) -> None:
    journal.worked_out.help_on(place)


STEPS = (
    change_cut,
    change_cooker,
    remove_piece,
    remove_cook,
    add_cook,
    rename_cooker,
    undo,
    redo,
    ask,
    help_on,
)


@settings(max_examples=25, deadline=None)
@given(steps=st.lists(st.tuples(st.sampled_from(STEPS), st.integers(0, 40)), max_size=12))
def test_that_the_columns_are_those_of_reading_all_anew(
    tmp_path_factory: pytest.TempPathFactory,
    steps: list[tuple[Callable[[Journal, int], None], int]],
) -> None:
    with closing(a_journal(tmp_path_factory.mktemp("walk") / "journal")) as journal:
        agrees(journal)
        for step, place in steps:
            step(journal, place)
        agrees(journal)


def test_that_one_edit_after_another_is_followed(journal: Journal) -> None:
    agrees(journal)
    for place, step in enumerate((change_cut, remove_piece, rename_cooker, remove_cook, undo)):
        step(journal, place)
        agrees(journal)


def test_that_a_frame_in_use_stays_as_it_was(journal: Journal) -> None:
    frame = journal.trends.frame()
    before = told(anew(journal))
    remove_piece(journal, 3)
    change_cut(journal, 5)
    journal.trends.frame()
    assert told(frame) == before  # its columns are read only now


def test_that_a_journal_that_can_only_be_read_answers_afresh_and_keeps_nothing(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "journal"
    with closing(a_journal(folder)) as journal:
        journal.worked_out.catch_up()
        change_cut(journal, 2)
        remove_piece(journal, 4)
    before = (folder / "journal.sqlite").read_bytes()
    with closing(open_journal(folder, read_only=True)) as journal:
        assert len(journal.worked_out.stale()) == 2
        agrees(journal)
        assert not journal.worked_out.help_on(10)
        assert not journal.worked_out.stale()
    assert (folder / "journal.sqlite").read_bytes() == before


def test_that_a_cook_changed_while_it_is_worked_out_stays_behind(journal: Journal) -> None:
    journal.worked_out.catch_up()
    change_cut(journal, 1)
    (cook_id,) = journal.worked_out.stale()
    (number, _), *_ = journal.worked_out._groups([cook_id])
    seen = journal.worked_out.blocks.stale()
    values = worked_out(journal, [cook_id])
    change_cut(journal, 1 + len(journal.find(Piece)))  # the same piece, once more
    journal.worked_out._keep(number, seen, values)
    assert journal.worked_out.stale() == [cook_id]
    agrees(journal)


def test_that_work_is_done_in_helpings_and_can_be_stopped(tmp_path: Path) -> None:
    with closing(a_journal(tmp_path / "journal", TOGETHER + 5)) as journal:
        assert journal.worked_out.help_on(3)
        assert len(journal.worked_out.stale()) == TOGETHER + 2
        said: list[float | None] = []

        class Watched(Progress):
            def report(self, fraction: float | None, words: str = "") -> None:
                super().report(fraction, words)
                said.append(fraction)
                self.cancel()

        with pytest.raises(CancelledJobError):
            journal.worked_out.catch_up(Watched())
        assert said == [0.0]
        assert len(journal.worked_out.stale()) == 2
        agrees(journal)


def test_that_a_full_disk_takes_no_answer_away(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal.worked_out.catch_up()
    change_cut(journal, 2)

    def full() -> contextlib.AbstractContextManager[Connection]:
        cause = sqlite3.OperationalError("database or disk is full")
        cause.sqlite_errorcode = sqlite3.SQLITE_FULL  # as SQLite itself raises it
        raise OperationalError("INSERT", {}, cause)

    with monkeypatch.context() as patched:
        patched.setattr(journal.database, "quiet_write", full)
        assert told(journal.trends.frame()) == told(anew(journal))
        assert not journal.worked_out.help_on(5)
        assert not journal.worked_out.stale()
        change_cut(journal, 3)
        assert len(journal.worked_out.stale()) == 1
        assert told(journal.trends.frame()) == told(anew(journal))
    change_cut(journal, 9)
    agrees(journal)  # now it is on the disk again
    with closing(Database(journal.folder, read_only=True)) as database:
        kept = DerivedBlocks(database)
        assert [kept.read(n) for n in kept.heads()] == [
            journal.worked_out.blocks.read(n) for n in journal.worked_out.blocks.heads()
        ]


def test_that_a_worker_and_the_window_may_work_at_once(journal: Journal) -> None:
    failed: list[BaseException] = []
    over = threading.Event()

    def worker() -> None:
        try:
            while not over.is_set():
                journal.worked_out.help_on(4)
                journal.trends.frame().numbers("yield_off")
        except BaseException as error:  # noqa: BLE001 - to be told by the test
            failed.append(error)

    thread = threading.Thread(target=worker)
    often = sys.getswitchinterval()
    sys.setswitchinterval(1e-5)  # so that the two meet at every turn
    thread.start()
    try:
        for number in range(40):
            (change_cut, remove_piece, undo, add_cook)[number % 4](journal, number)
            found = journal.trends.ask(QUESTION, UnitSystem.US)
            assert sum(group.pieces for group in found.groups) == found.pieces
    finally:
        over.set()
        thread.join()
        sys.setswitchinterval(often)
    assert not failed
    agrees(journal)


def test_that_a_variable_taken_away_is_said_and_its_values_go(journal: Journal) -> None:
    own = OwnVariable(name="butcher", level="cook", kind="choice")
    cook = journal.find(Cook)[0]
    value = OwnValue(cook_id=cook.id, variable_id=own.id, owner_id=cook.id, text='the "new" one')
    journal.do(Add((own, value), "Own"))
    question = Question("thickness", (), (Where(f"own.{own.id}", Sign.IS, ('THE "new" one',)),))
    assert journal.trends.ask(question, UnitSystem.US).groups[0].cook_ids == (cook.id,)
    journal.do(Remove(OwnVariable, own.id))
    with pytest.raises(JournalError, match="no longer there"):
        journal.trends.ask(question, UnitSystem.US)
    agrees(journal)
    journal.undo()
    assert journal.trends.ask(question, UnitSystem.US).groups[0].cook_ids == (cook.id,)


def test_that_values_changed_on_the_disk_are_found_out(tmp_path: Path) -> None:
    folder = tmp_path / "journal"
    with closing(a_journal(folder)) as journal:
        journal.worked_out.catch_up()
        assert journal.worked_out.agree()
    with closing(sqlite3.connect(folder / "journal.sqlite")) as other, other:
        other.execute("DELETE FROM derived_column WHERE key = 'yield_off'")
    with closing(open_journal(folder)) as journal:
        assert not journal.worked_out.agree()
