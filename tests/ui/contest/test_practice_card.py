"""What practice brought to a contest, in the window: on the contest, on the findings, on the season."""

from datetime import timedelta
from pathlib import Path

import pytest
from PIL import Image
from pytestqt.qtbot import QtBot

from pitjournal.domain.contest import Carried, Category, Contest
from pitjournal.domain.cook import CookKind, CookStatus
from pitjournal.domain.event import Photo
from pitjournal.domain.piece import Piece
from pitjournal.files.schemes import shipped
from pitjournal.journal.commands.contests import CarryInto, EnterCards, JudgeBy
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.ui.bench.photos.photo_panel import keep_photos
from pitjournal.ui.contest.page import ContestPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.destination import Destination
from pitjournal.ui.findings.page import FindingsPage
from pitjournal.ui.plan.new_cook import NewCookPage
from pitjournal.ui.season.page import SeasonPage
from pitjournal.ui.window import Window
from tests.builders import NOON, a_cook
from tests.ui.conftest import Opener


def practice(window: Window, title: str, cut: str = "spare ribs", *, days: int = 7) -> str:
    """Add a cook that was done so many days before the contest."""
    cook = a_cook(
        title,
        status=CookStatus.DONE,
        kind=CookKind.PRACTICE,
        starts_at=NOON - timedelta(days=days),
    )
    piece = Piece(cook_id=cook.id, position=0, label="A1", cut=cut)
    window.desk.journal.do(AddCook(cook, (piece,)))
    return cook.id


def contest(window: Window) -> Category:
    """Add a contest of pork ribs with six cards, which hold back on taste alone."""
    made = Contest(name="Spring", starts_at=NOON, zone="America/Chicago", field=20)
    ribs = Category(contest_id=made.id, position=0, name="ribs", meat="pork ribs")
    window.desk.journal.do(Add((made, ribs), "A contest"))
    window.desk.journal.do(JudgeBy(ribs.id, shipped("contest-2")))
    card = {"appearance": 9.0, "taste": 7.0, "tenderness": 9.0}
    window.desk.journal.do(EnterCards(ribs.id, (card,) * 6))
    return ribs


def page_of(window: Window, ribs: Category) -> ContestPage:
    window.go_to(Destination(place="contest", contest_id=ribs.contest_id, page=ribs.id))
    assert isinstance(window.place, ContestPage)
    return window.place


def test_that_a_practice_cook_of_such_meat_before_it_is_carried_in_and_taken_out(
    open_window: Opener,
) -> None:
    window = open_window()
    mine = practice(window, "Wrap or no wrap")
    practice(window, "A brisket", "brisket")
    practice(window, "Too late", days=-2)
    page = page_of(window, contest(window))
    assert [page.practice.add.box.itemText(n) for n in range(page.practice.add.box.count())] == [
        "choose a cook",
        "1 · Wrap or no wrap · 25 Apr 2026",
    ]
    page.practice.add._taken(1)
    (carried,) = window.desk.journal.find(Carried)
    assert (carried.cook_id, carried.what) == (mine, "Wrap or no wrap")
    (row,) = [row for row in page.practice.rows.rows if not row.isHidden()]
    row.what.line.setText("in foil at 160 °F")  # type: ignore[attr-defined]
    row.what.line.setModified(True)  # type: ignore[attr-defined]
    row.what.commit()  # type: ignore[attr-defined]
    assert window.desk.journal.find(Carried)[0].what == "in foil at 160 °F"
    row._remove()  # type: ignore[attr-defined]
    assert not window.desk.journal.find(Carried)


def test_that_the_findings_of_the_practice_cook_say_where_it_went(open_window: Opener) -> None:
    window = open_window()
    mine = practice(window, "Wrap or no wrap")
    ribs = contest(window)
    window.desk.journal.do(CarryInto(ribs.id, mine, "in foil"))
    window.go("cook", mine, "findings")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, FindingsPage)
    assert not place.current.carried.isHidden()
    place.current.carried._goer(window.desk.journal.contests.carried_from(mine)[0][1])()
    assert isinstance(window.place, ContestPage)


@pytest.mark.parametrize("photographed", [True, False])
def test_that_a_cook_for_itself_shows_its_pictures_and_is_called_no_lack(
    open_window: Opener, qtbot: QtBot, tmp_path: Path, *, photographed: bool
) -> None:
    window = open_window()
    mine = practice(window, "Ribs for the neighbours")
    if photographed:
        picture = tmp_path / "ribs.png"
        Image.new("RGB", (40, 30), "#803020").save(picture)
        keep_photos(window.desk, mine, [picture], None, lambda: None)
        qtbot.waitUntil(lambda: bool(window.desk.journal.find(Photo)), timeout=20_000)
    window.go("cook", mine, "findings")
    place = window.place
    assert isinstance(place, CookPlace)
    page = place.current
    assert isinstance(page, FindingsPage)
    qtbot.waitUntil(lambda: page.shown is not None, timeout=20_000)
    assert page.pictures.isHidden() is not photographed
    assert page.next_line.heading.text() == "Cook it again"


def test_that_the_season_names_what_to_practise_and_plans_it(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    contest(window)
    window.go("season")
    page = window.place
    assert isinstance(page, SeasonPage)
    qtbot.waitUntil(lambda: page._cooks is not None, timeout=20_000)
    assert page._cooks is not None
    first = page._cooks.practice[0]
    # Five cards count, each two points under 9 on taste: 10 × 2.2972; common practice, no source.
    assert (first.category, first.criterion) == ("ribs", "taste")
    assert first.lost == pytest.approx(22.972)
    page._planner(first)()
    (asked,) = window.findChildren(NewCookPage)
    assert asked.question.value == "What makes ribs better in taste?"
    assert asked.cut.value == "pork ribs"
