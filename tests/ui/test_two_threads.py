"""What the worker and the window share, used by both at once as hard as it goes."""

import sqlite3
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import numpy as np
import pytest

from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.shelf import OwnVariable
from pitjournal.domain.trace import Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.records import Add
from pitjournal.store import rows
from pitjournal.ui.cook.traces import Align, TraceReader
from pitjournal.units import UnitSystem
from tests.builders import NOON, add_comparison
from tests.journal.test_probe_files import HOURS, a_log, attach, logged_cook

ROUNDS = 300


@contextmanager
def turns() -> Iterator[None]:
    """Let threads take turns as often as they can."""
    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    try:
        yield
    finally:
        sys.setswitchinterval(before)


def hammer(*works: Callable[[int], object]) -> None:
    """Run each work many times in a thread of its own; raise what any of them raised."""
    faults: list[BaseException] = []
    begin = threading.Barrier(len(works))

    def run(work: Callable[[int], object]) -> None:
        begin.wait()
        try:
            for number in range(ROUNDS):
                work(number)
        except BaseException as error:  # noqa: BLE001 - raised below
            faults.append(error)

    threads = [threading.Thread(target=run, args=(work,)) for work in works]
    with turns():
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    if faults:
        raise faults[0]


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with closing(open_journal(tmp_path / "journal", new=True)) as opened:
        yield opened


@pytest.fixture
def whole(journal: Journal) -> WholeCook:
    cook_id = logged_cook(journal)
    attach(journal, cook_id, a_log(NOON, HOURS))
    return journal.whole(cook_id)


def test_that_traces_are_read_by_the_worker_and_the_window_at_once(whole: WholeCook) -> None:
    times = NOON.timestamp() + np.arange(0.0, 3600.0, 60.0)
    values = np.linspace(20, 95, 60).astype(np.float32)

    def samples(_trace: Trace) -> Samples:
        return Samples(times, values)

    reader = TraceReader(samples)
    shown = len(whole.traces)
    units = (UnitSystem.METRIC, UnitSystem.US)

    def draw(number: int) -> None:
        align = (Align.CLOCK, Align.ON)[number // 2 % 2]
        lines = reader.lines(whole, units[number % 2], align)
        assert len(lines) == shown

    def work(number: int) -> None:
        assert len(reader.lines(whole, units[number // 3 % 2])) == shown
        reader.unread(whole, units[0])

    hammer(draw, work, draw)


def test_that_worked_out_values_and_trends_are_asked_from_two_threads(journal: Journal) -> None:
    for number in range(3):
        journal.do(add_comparison(f"Cook {number}"))
    question = Question("thickness", (By("cut"),))

    def ask(number: int) -> None:
        if number % 10:
            return
        journal.trends.ask(question, UnitSystem.METRIC)
        frame = journal.trends.frame()
        assert frame.choices("cut")[0].size == frame.size

    def rows(number: int) -> None:
        if number % 10 == 0:
            assert len({row[1] for row in journal.values()}) >= 3

    def tap(number: int) -> None:
        if number % 30 == 0:
            journal.do(add_comparison(f"More {number}"))

    hammer(ask, rows, tap)
    assert journal.worked_out.agree()


def test_that_filters_are_asked_from_two_threads_while_cooks_come(journal: Journal) -> None:
    for number in range(3):
        journal.do(add_comparison(f"Cook {number}"))
    all_of_them = (Where("cut", Sign.IS, ("St. Louis ribs",)),)
    none_of_them = (Where("cut", Sign.IS, ("back ribs",)),)
    trends = journal.trends

    def every(number: int) -> None:
        if number % 10 == 0:
            assert len(trends.cooks_where(all_of_them)) >= 3

    def none(number: int) -> None:
        if number % 10 == 0:
            assert trends.cooks_where(none_of_them) == []

    def tap(number: int) -> None:
        if number % 50 == 0:
            journal.do(add_comparison(f"More {number}"))

    hammer(every, none, tap)
    assert len(trends.cooks_where(all_of_them)) == journal.cooks.count()


def test_that_what_was_read_before_a_change_is_not_kept_after_it(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal.do(add_comparison("Cook"))
    own = OwnVariable(name="colour of the smoke", level="cook", kind="number")
    read = journal.catalogue

    def slowly() -> Catalogue:
        found = read()
        journal.do(Add((own,), "Add a variable"))  # meanwhile, in the window
        return found

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(journal, "catalogue", slowly)
        journal.trends.ask(Question("thickness", (By("cut"),)), UnitSystem.METRIC)
    asked = journal.trends.ask(Question(f"own.{own.id}", (By("cut"),)), UnitSystem.METRIC)
    assert asked.question.measure == f"own.{own.id}"


def test_that_a_cook_is_read_again_by_two_threads_while_rows_are_forgotten(
    journal: Journal, whole: WholeCook, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rows, "KEPT", 3)  # so that each reading lets go of some

    def read(_number: int) -> None:
        assert journal.whole(whole.cook.id) == whole

    hammer(read, read)


def test_that_a_row_that_differs_in_its_type_alone_is_read_anew(journal: Journal) -> None:
    command = add_comparison()
    journal.do(command)
    piece = journal.whole(command.cook.id).pieces[0]
    with closing(sqlite3.connect(journal.folder / "journal.sqlite", isolation_level=None)) as raw:
        raw.execute("UPDATE piece SET position = ? WHERE id = ?", (1, piece.id))
        assert journal.find(Piece, cook_id=command.cook.id)
        raw.execute("UPDATE piece SET position = ? WHERE id = ?", (b"1", piece.id))
        assert piece.id not in {one.id for one in journal.find(Piece, cook_id=command.cook.id)}
