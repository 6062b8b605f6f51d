"""From a pause in typing to the list's paint, against hand-written SQL for the same lines.

What is measured of both is the processor time of the window's thread.
"""

import os
import sqlite3
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from itertools import cycle
from pathlib import Path

from pitjournal.analysis.trends.question import Sign, Where
from pitjournal.ui.cooks.model import FIRST
from pitjournal.ui.window import Window
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, alternately, rounds
from tests.benchmarks.page_switch import application, our_window

LIMIT = 3.0
MOST = 0.016
"""A frame, s: typing never blocks one."""

ROUNDS = rounds(60)
TYPED = ("s", "smo", "smoke", "smoke ba", "wi", "brisk", "zzz")
NARROWED = (Where("set_point", Sign.AT_LEAST, (110.0,)),)
HAVING = "SELECT rowid FROM cook_words WHERE cook_words MATCH ?"
CHOSEN = (
    "SELECT cook.id FROM cook JOIN cook_text ON cook_text.cook_id = cook.id "
    f"WHERE cook_text.seq IN ({HAVING}) AND cook.set_point >= 110 "
    "ORDER BY cook.starts_at DESC, cook.number DESC"
)


def run() -> Measurement:
    """Measure a search that is narrowed by a filter too."""
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        folder = large_journal(10_000)
        window = our_window(folder)
        with closing(sqlite3.connect(folder / "journal.sqlite")) as connection:
            _at_rest(window)
            window.cooks.narrowing.take(NARROWED)
            words = cycle(TYPED)
            same = cycle(TYPED)
            measured = alternately(
                _search(window, lambda: next(words)),
                lambda: _by_hand(connection, next(same)),
                ROUNDS,
                time.thread_time,
            )
        window.close()
    return Measurement("list-search", *measured, LIMIT, MOST)


def _at_rest(window: Window) -> None:
    """Wait until all places are made and all cooks read."""
    window.desk.journal.trends.frame()
    end = time.monotonic() + 7.0
    while time.monotonic() < end:
        application().processEvents()
        time.sleep(0.01)


def _search(window: Window, words: Callable[[], str]) -> Callable[[], None]:
    def search() -> None:
        window.cooks.search.setText(words())
        window.cooks.look_now()
        application().processEvents()

    return search


def _by_hand(connection: sqlite3.Connection, typed: str) -> list[tuple[object, ...]]:
    """Return how many cooks there are, and the lines of the newest with cuts and arms."""
    match = " ".join(f'"{word}"*' for word in typed.split())
    ids = [row[0] for row in connection.execute(CHOSEN, (match,))]
    first = ids[:FIRST]
    places = ", ".join("?" * len(first))
    lines = connection.execute(
        "SELECT cook.*, shelf_item.name FROM cook LEFT JOIN shelf_item "
        f"ON shelf_item.id = cook.cooker_id WHERE cook.id IN ({places})",
        first,
    ).fetchall()
    for part in ("cook_id, name, control FROM arm", "cook_id, cut, count(*) FROM piece"):
        grouped = "GROUP BY cook_id, cut" if "count" in part else ""
        query = f"SELECT {part} WHERE cook_id IN ({places}) {grouped}"
        lines += connection.execute(query, first).fetchall()
    return lines
