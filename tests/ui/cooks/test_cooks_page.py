"""The list of cooks: filters as in Trends, and a few cooks side by side."""

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.analysis.trends.question import Sign, Where
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.cooks.compare_page import ComparePage
from pitjournal.ui.cooks.lines import columns
from pitjournal.ui.cooks.model import LINE
from pitjournal.ui.trends.filter_panel import FilterPanel
from tests.analysis.makers import compared
from tests.ui.conftest import Opener
from tests.ui.invented import with_cooks
from tests.ui.test_findings_page import add
from tests.ui.test_window import unnamed

SELECT = QItemSelectionModel.SelectionFlag.Select


def press(text: str, inside: QWidget) -> None:
    found = [b for b in inside.findChildren(QAbstractButton) if b.text() == text]
    assert found, text
    found[-1].click()


def test_that_filters_narrow_the_list_and_go_again(open_window: Opener) -> None:
    window = open_window()
    with_cooks(window, 12)
    page = window.cooks
    page.narrowing.add()
    panel = window.findChildren(FilterPanel)[-1]
    press("brisket", panel)
    press("Add the filter", panel)
    assert page.model.total == 4
    assert page.header.beside.text() == "4 found"
    titles = [page.model.index(n).data(LINE).title for n in range(4)]
    assert titles == ["Cook 9", "Cook 6", "Cook 3", "Cook 0"]
    page.search.setText("Cook 9")
    page._look()
    assert page.model.total == 1
    page.search.setText("")
    press("cut is brisket", page.narrowing)
    assert page.model.total == 12


def test_that_a_filter_and_the_cooks_of_a_mark_hold_together(open_window: Opener) -> None:
    window = open_window()
    ids = with_cooks(window, 12)
    page = window.cooks
    page.limit(ids[:6], "the first six")
    page.narrowing.take((Where("cut", Sign.IS, ("brisket",)),))
    assert page.model.total == 2
    page.limit(None)
    assert page.model.total == 4
    page.narrowing.take((Where("cut", Sign.IS, ("goose",)),))
    assert page.model.total == 0
    assert page.header.beside.text() == "none found"
    page.narrowing.take((Where("own.gone", Sign.IS, ("x",)),))
    assert "no longer there" in page.problem.text()


def test_that_more_than_a_page_of_narrowed_cooks_is_fetched(open_window: Opener) -> None:
    window = open_window()
    with_cooks(window, 130)
    page = window.cooks
    page.narrowing.take((Where("place", Sign.IS, ("yard", "field")),))
    assert page.model.total == 130
    while page.model.canFetchMore(page.list.rootIndex()):
        page.model.fetchMore(page.list.rootIndex())
    titles = [page.model.index(n).data(LINE).title for n in range(page.model.rowCount())]
    assert titles == [f"Cook {n}" for n in reversed(range(130))]


def test_that_a_cook_that_cannot_be_read_is_left_out_and_each_other_stands_there_once(
    open_window: Opener,
) -> None:
    window = open_window()
    ids = with_cooks(window, 130)
    page, journal = window.cooks, window.desk.journal
    for cook_id, column, value in (
        (ids[5], "starts_at", "not a time"),
        (ids[120], "zone", "Nowhere/Town"),
        (ids[121], "status", "burnt"),
    ):
        with journal.database.writing() as connection:
            query = f"UPDATE cook SET {column} = ? WHERE id = ?"
            connection.exec_driver_sql(query, (value, cook_id))
    page._look()
    assert page.model.total == 127
    while page.model.canFetchMore(page.list.rootIndex()):
        page.model.fetchMore(page.list.rootIndex())
    assert page.header.beside.text() == "127, 3 left out that cannot be read"
    shown = [page.model.index(n).data(LINE).title for n in range(page.model.rowCount())]
    assert shown == [f"Cook {n}" for n in reversed(range(130)) if n not in {5, 120, 121}]
    page.search.setText("Cook 12")  # 12, and 120 to 129
    page._look()
    assert page.header.beside.text() == "9 found"
    assert page.model.rowCount() == 9


def test_that_two_to_six_cooks_stand_side_by_side(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    with_cooks(window, 9)
    page = window.cooks
    press("Side by side", page.header)
    selection = page.list.selectionModel()
    assert not page.compare.isEnabled()
    for row in range(7):
        selection.select(page.model.index(row), SELECT)
        assert page.compare.isEnabled() is (2 <= row + 1 <= 6)
    page.list.clicked.emit(page.model.index(0))
    assert window.place is page  # a tap chooses, and opens nothing
    selection.select(page.model.index(6), QItemSelectionModel.SelectionFlag.Deselect)
    page.compare.click()
    compared = window.place
    assert isinstance(compared, ComparePage)
    assert len(compared.cook_ids) == 6
    assert page.choose_bar.isHidden()
    qtbot.waitUntil(lambda: compared.differs._grid.count() > 0, timeout=20_000)
    qtbot.waitUntil(lambda: not compared.none.isHidden(), timeout=20_000)
    labels = {label.text() for label in compared.differs.findChildren(QLabel)}
    assert {"date", "cut", "thickness", "set point"} <= labels
    assert not unnamed(window)
    window.grab()
    links = compared.findChildren(QAbstractButton)
    next(b for b in links if b.text().endswith("Cook 8")).click()
    assert isinstance(window.place, CookPlace)


def test_that_the_list_offers_what_the_journal_has_most_of_with_counts_that_follow(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    with_cooks(window, 12)
    page = window.cooks
    page._look()

    def offered() -> list[str]:
        return [chip.text() for chip in page.narrowing.findChildren(QAbstractButton)]

    qtbot.waitUntil(lambda: "brisket 4" in offered(), timeout=20_000)
    press("brisket 4", page.narrowing)
    assert page.model.total == 4
    qtbot.waitUntil(lambda: "brisket 4" not in offered(), timeout=20_000)


def test_that_a_line_has_its_picture_on_one_axis_and_is_read_out_with_its_answer(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    whole = compared(("Left alone", "Injected"), ((5, 6, 7), (6, 7, 8.2)))
    cook_id = add(window, whole)
    page = window.cooks
    window.go("cooks")
    qtbot.waitUntil(lambda: cook_id in page._showed, timeout=20_000)
    spark = page._showed[cook_id].sparks.arms[0]
    assert (spark.look, round(spark.estimate, 3)) == (1, 1.067)  # the mean of 1, 1 and 1.2
    line = page.model.index(page.model.place_of(cook_id))
    assert page._showed[cook_id].words in str(line.data(Qt.ItemDataRole.AccessibleTextRole))
    names = [[name for name, *_ in columns(width)] for width in (1100, 860)]
    assert "cooker" in names[0]
    assert "cooker" not in names[1]
    for width in (1100, 860):
        placed = columns(width)
        assert all(left + size <= placed[n + 1][1] for n, (_, left, size) in enumerate(placed[:-1]))
        assert placed[-1][1] + placed[-1][2] <= width
