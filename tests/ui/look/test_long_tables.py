"""A long table is made in turns, and written anew where only its cells say something else."""

from collections.abc import Sequence

from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from pitjournal.ui.look.parts.table import A_TURN, AT_ONCE, FactTable

HEADS = (("1", None), ("2", None))


def rows(count: int, word: str, quiet: int = 0) -> list[tuple[str, Sequence[str]]]:
    """Return rows of which the first few are not known in the second cook."""
    return [
        (f"own number {place}", (f"{place} {word}", "–" if place < quiet else f"{word}"))
        for place in range(count)
    ]


def cells(table: FactTable) -> list[tuple[str, ...]]:
    """Return what is read in each row, from left to right."""
    found: dict[int, dict[int, str]] = {}
    for place in range(table._grid.count()):
        item = table._grid.itemAt(place)
        assert item is not None
        widget = item.widget()
        position = table._grid.getItemPosition(place)
        assert isinstance(position, tuple)
        below, beside = position[:2]
        if isinstance(widget, QLabel) and below > 1:
            found.setdefault(below, {})[beside] = widget.text()
    return [tuple(row[beside] for beside in sorted(row)) for _, row in sorted(found.items())]


def test_that_a_long_table_is_whole_after_some_turns(qtbot: QtBot) -> None:
    table = FactTable("what differs")
    qtbot.addWidget(table)
    many = rows(AT_ONCE + 2 * A_TURN + 1, "lb")
    table.show_rows(HEADS, many)
    assert len(cells(table)) == AT_ONCE
    qtbot.waitUntil(lambda: len(cells(table)) == len(many), timeout=5_000)
    assert cells(table) == [(label, *both) for label, both in many]


def test_that_what_only_reads_differently_keeps_its_widgets(qtbot: QtBot) -> None:
    table = FactTable("what differs")
    qtbot.addWidget(table)
    table.show_rows(HEADS, rows(AT_ONCE + 1, "lb", quiet=3))
    before = table.findChildren(QLabel)
    metric = rows(AT_ONCE + 1, "kg", quiet=3)
    table.show_rows(HEADS, metric)  # one row is not made yet, and is made as it reads now
    assert set(before) <= set(table.findChildren(QLabel))
    qtbot.waitUntil(lambda: len(cells(table)) == len(metric), timeout=5_000)
    assert cells(table) == [(label, *both) for label, both in metric]


def test_that_another_table_takes_the_place_of_one_half_made(qtbot: QtBot) -> None:
    table = FactTable("what differs")
    qtbot.addWidget(table)
    table.show_rows(HEADS, rows(AT_ONCE + 3, "lb"))
    table.show_rows(HEADS, rows(2, "kg", quiet=1))
    assert cells(table) == [("own number 0", "0 kg", "–"), ("own number 1", "1 kg", "kg")]
    qtbot.wait(20)
    assert len(cells(table)) == 2
    table.show_rows(HEADS[:1], [("own number 0", ("0 kg",))])
    assert cells(table) == [("own number 0", "0 kg")]
