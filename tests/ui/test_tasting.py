"""The tasting in the window: set up, read out, mishaps, reveal, and what is said."""

from collections.abc import Sequence
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.domain.piece import Piece
from pitjournal.domain.scheme import Scheme
from pitjournal.domain.shelf import ShelfKind
from pitjournal.domain.tasting import Mishap, Score, Session, Tasting, TastingState
from pitjournal.files.schemes import shipped
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.records import AddCook, Together
from pitjournal.journal.commands.tasting import GiveAnswer, GiveScore, LockTasting, RevealTasting
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.look.parts.chips import Chip, Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.shelf.page import ShelfPage
from pitjournal.ui.tasting.mishap_panel import MishapPanel
from pitjournal.ui.tasting.page import TastingPage
from pitjournal.ui.tasting.paper import PaperPanel
from pitjournal.ui.tasting.sheet import ScoreField
from pitjournal.ui.window import Window
from tests.builders import a_cook, add_comparison
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton
PANEL = ("Ada", "Bruno", "Clio", "Dov")


def page_of(window: Window) -> TastingPage:
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, TastingPage)
    return place.current


def opened(window: Window, *commands: Command) -> TastingPage:
    """Return the tasting page of a comparison after these commands."""
    for command in commands:
        window.desk.journal.do(command)
    (cook,) = window.desk.journal.cooks.page()
    window.go("cook", cook.id, "tasting")
    return page_of(window)


def drawn(
    window: Window, scheme_id: str = "home-panel-1", tasters: Sequence[str] = PANEL
) -> TastingPage:
    add = add_comparison("Does injecting change the bite?")
    window.desk.journal.do(add)
    ways = tuple(arm.id for arm in window.desk.journal.whole(add.cook.id).arms[:2])
    draw = DrawTasting(add.cook.id, tuple(tasters), 4, shipped(scheme_id), ways=ways)
    return opened(window, draw)


def session(window: Window) -> Session:
    tasting = window.desk.journal.find(Tasting)[-1]
    return window.desk.journal.whole(tasting.cook_id).session(tasting)


def read_out(qtbot: QtBot, page: TastingPage, words: str) -> None:
    """Type into whatever has the focus, as the cook would."""
    window = page.window()
    for letter in words:
        focus = window.focusWidget()
        assert focus is not None
        if letter == "\n":
            qtbot.keyClick(focus, Qt.Key.Key_Return)
        else:
            qtbot.keyClicks(focus, letter)


def said(widget: QWidget) -> str:
    QApplication.processEvents()  # what was just made is shown
    return " ".join(label.text() for label in widget.findChildren(QLabel) if not label.isHidden())


def chip(qtbot: QtBot, choice: Choice, text: str) -> None:
    found = [one for one in choice.findChildren(Chip) if one.text() == text]
    qtbot.mouseClick(found[-1], LEFT)


def panel(window: Window, kind: type[Overlay]) -> Overlay:
    found = window.findChild(kind)
    assert found is not None
    return found


@pytest.mark.parametrize("row", ["7687 ", "7 6 8 7 ", "7 6 8 7\n", "7687\n"])
def test_that_scores_are_typed_as_they_are_read_out(
    qtbot: QtBot, open_window: Opener, row: str
) -> None:
    window = open_window()
    page = drawn(window)
    page.scoring.turn("Ada")
    read_out(qtbot, page, row + row)
    first, second, *_ = session(window).served("Ada")
    given = session(window).given
    for sample in (first, second):
        found = [given[sample.id, "Ada", name] for name in session(window).tasting.criteria]
        assert found == [7, 6, 8, 7]
    assert len(given) == 8


def test_that_the_last_score_and_enter_turn_to_the_next_taster(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:2])
    page.scoring.turn("Ada")
    read_out(qtbot, page, ("5555\n" * 9)[:-1])
    assert page.scoring.taster == "Ada"
    read_out(qtbot, page, "\n")
    assert page.scoring.taster == "Bruno"
    read_out(qtbot, page, "6666\n" * 9)
    assert len(session(window).given) == 72
    assert page.window().focusWidget() is page.scoring.lock


def test_that_half_points_wait_for_what_follows(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    add = add_comparison()
    rules = {"criteria": [{"name": "bark", "scale": "half points"}, {"name": "bite"}]}
    scheme = Scheme(name="bark", rules=rules)
    page = opened(window, add, DrawTasting(add.cook.id, ("Ada",), 1, scheme))
    page.scoring.turn("Ada")
    read_out(qtbot, page, "6.5 8\n7 9")
    assert sorted(session(window).given.values()) == [6.5, 7, 8, 9]


def test_that_a_bad_score_says_what_and_where_and_stays_to_be_mended(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window)
    page.scoring.turn("Ada")
    code = session(window).served("Ada")[0].code
    read_out(qtbot, page, "12\n")
    scoring = page.scoring
    assert f"{code}, juiciness" not in scoring.problem.text()
    field = next(iter(scoring.sheet.fields.values()))
    field.arrive(by_itself=False)
    qtbot.keyClicks(field, "0")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert scoring.problem.text() == (
        f"{code}, tenderness: 0 is not on the scale: 1 to 9. Type it again."
    )
    assert field.text() == "0"
    scoring.lock_scores()
    assert "still to be mended" in scoring.problem.text()
    assert session(window).tasting.state is TastingState.OPEN
    read_out(qtbot, page, "seven\n")
    assert "“seven” is no score" in scoring.problem.text()
    field.selectAll()
    read_out(qtbot, page, "7")
    assert not field.wrong
    assert scoring.problem.text() == ""


def test_that_no_score_shifts_after_a_short_row_a_long_one_or_a_refused_digit(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:2])
    page.scoring.turn("Ada")
    read_out(qtbot, page, "76\n")  # short: the rest stays blank
    read_out(qtbot, page, "68756")  # a digit too many
    assert "This row is full" in page.scoring.problem.text()
    read_out(qtbot, page, "\n50")
    assert "0 is not on the scale" in page.scoring.problem.text()
    read_out(qtbot, page, "432\n")  # typed again in its own place
    given, names = session(window).given, session(window).tasting.criteria
    rows = [
        [given.get((sample.id, "Ada", name)) for name in names]
        for sample in session(window).served("Ada")[:3]
    ]
    assert rows == [[7, 6, None, None], [6, 8, 7, 5], [5, 4, 3, 2]]
    assert len(given) == 10


def test_that_a_click_on_a_score_takes_it_whole(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window)
    page.scoring.turn("Ada")
    read_out(qtbot, page, "7687")
    field = list(page.scoring.sheet.fields.values())[1]
    qtbot.mouseClick(field, LEFT)
    assert field.selectedText() == "6"
    read_out(qtbot, page, "9")
    assert field.text() == "9"


def test_that_the_last_row_of_a_sheet_takes_no_digit_too_many(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:2])
    page.scoring.turn("Ada")
    read_out(qtbot, page, "5555\n" * 8 + "123456789")
    assert sorted(session(window).given.values())[:4] == [1, 2, 3, 4]
    assert page.scoring.taster == "Ada"
    assert len(session(window).given) == 36


def test_that_blanks_are_asked_about_before_the_lock(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:1])
    page.scoring.turn("Ada")
    read_out(qtbot, page, "7687\n" * 6 + "765\n")
    qtbot.mouseClick(page.scoring.lock, LEFT)
    assert "9 are blank: lock all the same?" in page.scoring.problem.text()
    assert session(window).tasting.state is TastingState.OPEN
    blank = page.scoring.sheet.first_blank()
    assert blank is not None
    qtbot.mouseClick(blank, LEFT)
    read_out(qtbot, page, "5")  # something changed: asked anew
    assert page.scoring.lock.text() == "Lock the scores"
    qtbot.mouseClick(page.scoring.lock, LEFT)
    assert session(window).tasting.state is TastingState.OPEN
    qtbot.mouseClick(page.scoring.lock, LEFT)
    assert session(window).tasting.state is TastingState.LOCKED


def test_that_the_arrows_go_by_rows(qtbot: QtBot, open_window: Opener) -> None:
    page = drawn(open_window())
    page.scoring.turn("Ada")
    fields = list(page.scoring.sheet.fields.values())
    qtbot.keyClick(fields[0], Qt.Key.Key_Down)
    assert page.window().focusWidget() is fields[4]
    qtbot.keyClick(fields[4], Qt.Key.Key_Up)
    assert page.window().focusWidget() is fields[0]


@pytest.mark.parametrize("scheme_id", ["home-panel-1", "contest-2", "triangle-1", "duo-trio-1"])
def test_that_the_page_tells_nothing_until_the_reveal(
    qtbot: QtBot, open_window: Opener, scheme_id: str
) -> None:
    window = open_window()
    page = drawn(window, scheme_id)
    journal, whole = window.desk.journal, page.whole
    assert whole is not None
    secrets = {p.label for p in whole.pieces} | {a.name for a in whole.arms} | {"pack 1"}
    tasting = session(window).tasting
    for taster in PANEL:
        page.scoring.turn(taster)
        assert not [word for word in secrets if word in said(page)]
        served = [s for s in session(window).served(taster) if not s.reference]
        scores: tuple[Command, ...] = tuple(
            GiveScore(tasting.id, sample.id, taster, name, 6.0)
            for sample in served
            for name in tasting.criteria
        )
        journal.do(Together(scores or (GiveAnswer(tasting.id, taster, served[0].id),), "Enter"))
        assert not [word for word in secrets if word in said(page)]
    page.scoring.lock_scores()
    assert not [word for word in secrets if word in said(page)]
    page.scoring.reveal_codes()
    assert page.result.isVisibleTo(page)
    qtbot.waitUntil(lambda: "Being worked out" not in said(page.result), timeout=30_000)
    assert any(arm.name in said(page.result) for arm in whole.arms)


def test_that_the_cook_chooses_how_it_is_asked(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = opened(window, add_comparison())
    set_up = page.set_up
    assert [c.text() for c in set_up.scheme.findChildren(Chip)][:3] == [
        "home panel",
        "contest, 1",
        "contest, 2",
    ]
    qtbot.keyClicks(set_up.names, "Ada, Bruno, Clio, Ada")
    assert "With 3, each sample is met 1 or 2 times" in set_up.balance.text()
    chip(qtbot, set_up.each, "all 9 to everyone")
    chip(qtbot, set_up.extras, "one piece under two codes")
    chip(qtbot, set_up.extras, "a warm-up first, not scored")
    page.draw_codes()
    tasting = session(window).tasting
    assert tasting.tasters == ("Ada", "Bruno", "Clio")
    assert tasting.warm_up
    assert len(session(window).samples) == 10
    qtbot.mouseClick(page.scoring.again, LEFT)
    again = session(window)
    assert again.tasting.id != tasting.id
    assert (len(again.samples), bool(again.tasting.warm_up)) == (10, True)


def test_that_a_triangle_is_set_up_and_answered_by_code(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = opened(window, add_comparison())
    set_up = page.set_up
    set_up.names.setText("Ada, Bruno, Clio, Dov, Elif, Fee")
    chip(qtbot, set_up.scheme, "triangle")
    chip(qtbot, set_up.ways, "Injected")
    page.draw_codes()
    assert "Choose the two arms" in set_up.problem.text()
    chip(qtbot, set_up.ways, "Needled")
    page.draw_codes()
    scoring = page.scoring
    first = session(window)
    wanted = first.served("Ada")[1]
    scoring.turn("Ada")
    qtbot.keyClicks(scoring.answers.code, "000")
    assert "is not among these" in scoring.problem.text()
    qtbot.keyClicks(scoring.answers.code, wanted.code)
    assert session(window).given == {(wanted.id, "Ada", "answer"): 1.0}
    assert scoring.problem.text() == ""
    qtbot.keyClick(scoring.answers.code, Qt.Key.Key_Return)
    assert scoring.taster == "Bruno"
    qtbot.mouseClick(next(iter(scoring.answers.taps.values())), LEFT)
    assert len(session(window).given) == 2
    qtbot.mouseClick(scoring.again, LEFT)


def test_that_bad_set_ups_are_said(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = opened(window, add_comparison())
    page.draw_codes()
    assert page.set_up.problem.text() == "Name at least one taster."
    page.set_up.names.setText("Ada")
    for name in ("tenderness", "juiciness", "flavour", "appearance"):
        chip(qtbot, page.set_up.criteria, name)
    page.draw_codes()
    assert page.set_up.problem.text() == "Choose at least one thing to score."


def test_that_an_absent_taster_takes_one_tap(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window)
    page.scoring.turn("Dov")
    qtbot.mouseClick(page.scoring.missing, LEFT)
    assert "Dov is absent" in page.scoring.away.text()
    assert page.scoring.progress.text() == "0 of 108 scores"
    window.desk.bridge.undo()
    assert page.scoring.progress.text() == "0 of 144 scores"


def test_that_a_lost_sample_and_a_swap_take_one_action_each(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window)
    page.scoring.turn("Ada")
    read_out(qtbot, page, "1111\n9999")
    one, two, three, *_ = session(window).served("Ada")
    qtbot.mouseClick(page.scoring.swapped, LEFT)
    swap = cast("MishapPanel", panel(window, MishapPanel))
    qtbot.mouseClick(swap.note, LEFT)
    assert "Choose the two codes" in swap.problem.text()
    chip(qtbot, swap.codes, one.code)
    chip(qtbot, swap.codes, two.code)
    qtbot.mouseClick(swap.note, LEFT)
    assert session(window).given[one.id, "Ada", "flavour"] == 9.0
    qtbot.waitUntil(lambda: window.findChild(MishapPanel) is None)
    qtbot.mouseClick(page.scoring.spilled, LEFT)
    lost = cast("MishapPanel", panel(window, MishapPanel))
    qtbot.mouseClick(lost.note, LEFT)
    assert lost.problem.text() == "Choose the code."
    chip(qtbot, lost.codes, three.code)
    qtbot.mouseClick(lost.note, LEFT)
    assert page.scoring.lost.text() == f"Lost: {three.code}."
    assert [note.mishap for note in session(window).notes] == [Mishap.SWAPPED, Mishap.SPILLED]


def revealed(window: Window, page: TastingPage) -> None:
    journal, found = window.desk.journal, session(window)
    tasting = found.tasting
    scores = tuple(
        GiveScore(tasting.id, sample.id, taster, name, 5.0 + place % 2)
        for place, taster in enumerate(tasting.tasters)
        for sample in found.served(taster)
        for name in tasting.criteria
    )
    journal.do(Together(scores, "Enter the scores"))
    journal.do(LockTasting(tasting.id))
    journal.do(RevealTasting(tasting.id))
    assert page.result.isVisibleTo(page)


def test_that_a_correction_needs_a_reason_and_is_shown(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, tasters=("Ada", "Bruno"))
    revealed(window, page)
    sample = session(window).served("Ada")[0]
    page.result._teller(Mishap.CORRECTED)()
    fix = cast("MishapPanel", panel(window, MishapPanel))
    chip(qtbot, fix.codes, sample.code)
    qtbot.keyClicks(fix.value, "8")
    qtbot.mouseClick(fix.note, LEFT)
    assert "Write down why" in fix.problem.text()
    qtbot.keyClicks(fix.why, "read 5 for 8")
    qtbot.keyClick(fix.why, Qt.Key.Key_Return)
    assert session(window).given[sample.id, "Ada", "tenderness"] == 8.0
    shown = said(page.result.notes_card)
    assert f"{sample.code}, tenderness, of Ada: 8 instead of 5. read 5 for 8" in shown
    qtbot.waitUntil(lambda: "Being worked out" not in said(page.result), timeout=30_000)


def test_that_totals_and_places_of_a_contest_are_shown(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, "contest-2", (*PANEL, "Elif", "Fee"))
    revealed(window, page)
    # cards of 5 and 6: 4 × 5 = 20 three times, one left out, 4 × 6 = 24 three times: 112
    assert said(page.result.pieces_card).count("112.0") == 9
    assert "A total adds 6 weighted cards, the lowest 1 left out; at most 180." in said(page.result)
    qtbot.waitUntil(lambda: "Being worked out" not in said(page.result), timeout=30_000)


def test_that_four_cards_of_six_say_why_there_is_no_total(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, "contest-2")
    revealed(window, page)
    assert "A total takes 6 whole cards; some pieces have 4" in said(page.result)
    qtbot.waitUntil(lambda: "Being worked out" not in said(page.result), timeout=30_000)


def test_that_a_cook_may_have_a_second_tasting(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, tasters=("Ada", "Bruno"))
    revealed(window, page)
    page.start_another()
    assert page.set_up.isVisibleTo(page)
    qtbot.mouseClick(page.set_up.back, LEFT)
    assert page.result.isVisibleTo(page)
    page.start_another()
    assert page.set_up.names.text() == "Ada, Bruno"
    page.set_up.names.setText("Ada")
    page.draw_codes()
    assert page.scoring.isVisibleTo(page)
    chip(qtbot, page.sessions, "home panel")
    assert page.result.isVisibleTo(page)
    chip(qtbot, page.sessions, "home panel 2")
    assert page.scoring.isVisibleTo(page)
    assert not [
        s for s in window.desk.journal.find(Score) if s.tasting_id == session(window).tasting.id
    ]
    qtbot.waitUntil(lambda: not window.desk.bridge._waits, timeout=30_000)


def test_that_the_serving_is_recorded(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window(units="us")
    page = drawn(window)
    warm = page.scoring.warm
    warm.line.setFocus()
    qtbot.keyClicks(warm.line, "140")
    qtbot.keyClick(warm.line, Qt.Key.Key_Return)
    assert session(window).tasting.served_temperature == pytest.approx(60.0)
    portion = page.scoring.portion
    portion.line.setFocus()
    qtbot.keyClicks(portion.line, "bone 4")
    qtbot.keyClick(portion.line, Qt.Key.Key_Return)
    assert session(window).tasting.portion == "bone 4"


def test_that_sheets_and_map_are_written_and_the_map_is_shown_only_when_asked_for(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window = open_window()
    page = drawn(window)
    page.scoring.open_paper()
    paper = cast("PaperPanel", panel(window, PaperPanel))
    assert page.whole is not None
    labels = {piece.label for piece in page.whole.pieces}
    assert not [label for label in labels if label in said(paper).split()]
    folder = tmp_path
    paper.write_sheets(folder / "sheets.pdf")
    paper.write_map(folder / "map.pdf")
    qtbot.waitUntil((folder / "map.pdf").exists, timeout=20_000)
    assert (folder / "sheets.pdf").read_bytes().startswith(b"%PDF")
    assert (folder / "map.pdf").stat().st_size > 1000
    paper.write_map(folder / "nowhere" / "map.pdf")
    qtbot.waitUntil(lambda: "cannot be written" in paper.problem.text(), timeout=20_000)
    paper._show_map()
    assert all(label in said(paper).split() for label in labels)


def test_that_a_scheme_is_changed_on_the_shelf_and_stays_once_used(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    window.go("shelf")
    page = cast("ShelfPage", window.place)
    page.turn(ShelfKind.SCHEME)
    schemes = page.schemes
    first = schemes.rows[0]
    qtbot.mouseClick(first.open, LEFT)
    assert "tenderness: 1 to 9" in said(first.editor)
    page.new.setText("Sunday")
    qtbot.mouseClick(page.plus, LEFT)
    (made,) = window.desk.journal.find(Scheme)
    assert made.title == "Sunday, version 1"
    row = next(row for row in schemes.rows if row.name.text() == made.title)
    assert row.editor.isVisibleTo(page)
    row.editor._put(0, high=7.0)
    row.editor._put(1, high=0.0)
    assert "must end above 1" in row.editor.problem.text()
    row.editor._add()
    (made,) = window.desk.journal.find(Scheme)
    assert made.reads.names == ("tenderness", "juiciness", "flavour", "appearance", "something new")
    assert made.reads.criteria[0].high == 7.0
    add = add_comparison()
    window.desk.journal.do(add)
    window.desk.journal.do(DrawTasting(add.cook.id, ("Ada",), 1, made))
    assert "used in one tasting, so it stays as it is" in row.about.text()
    assert not row.away.isVisibleTo(page)
    qtbot.mouseClick(row.version, LEFT)
    assert [scheme.version for scheme in window.desk.journal.find(Scheme)] == [1, 2]
    assert not page.findChildren(ScoreField)


def test_that_just_about_right_is_said_by_way(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, "just-about-right-1", ("Ada", "Bruno"))
    journal, found = window.desk.journal, session(window)
    scores = tuple(
        GiveScore(found.tasting.id, sample.id, taster, name, 6.0 if name == "liking" else 3.0)
        for taster in ("Ada", "Bruno")
        for sample in found.served(taster)
        for name in found.tasting.criteria
    )
    journal.do(Together(scores, "Enter the scores"))
    journal.do(LockTasting(found.tasting.id))
    assert not page.result.right_card.isVisibleTo(page)
    journal.do(RevealTasting(found.tasting.id))
    qtbot.waitUntil(lambda: "Being worked out" not in said(page.result), timeout=30_000)
    shown = said(page.result.right_card)
    # three pieces of each way, two tasters: six answers, all in the middle
    assert "Injected: too little 0 %, just right 100 %, too much 0 % of 6 answers." in shown
    assert {"Tender", "Salt", "Smoke"} <= set(shown.split())


def test_that_another_cook_begins_afresh(open_window: Opener) -> None:
    window = open_window()
    page = opened(window, add_comparison("The first"))
    page.set_up.names.setText("Ada")
    other = add_comparison("The second")
    window.desk.journal.do(other)
    window.go("cook", other.cook.id, "tasting")
    assert page_of(window).set_up.names.text() == ""


def test_that_one_way_and_one_taster_say_what_cannot_be_said(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    cook = a_cook("One way")
    pieces = tuple(
        Piece(cook_id=cook.id, position=place, label=f"R{place + 1}", cut="back ribs")
        for place in range(2)
    )
    page = opened(window, AddCook(cook, pieces), DrawTasting(cook.id, ("Ada",), 1))
    revealed(window, page)
    qtbot.waitUntil(lambda: "Being worked out" not in said(page.result), timeout=30_000)
    shown = said(page.result)
    assert "Ada scored alone" in shown
    assert "agreement takes two tasters" in shown
    assert not page.result.arms_card.isVisibleTo(page)
    buttons = {b.text(): b for b in page.result.findChildren(QPushButton) if b.isVisibleTo(page)}
    assert "Another tasting" in buttons
    qtbot.mouseClick(buttons["See the findings"], LEFT)
    assert cast("CookPlace", window.place).page == "findings"
