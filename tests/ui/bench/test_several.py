"""Several meats on one bench, and several cooks that run at once."""

from datetime import timedelta
from pathlib import Path

from PIL import Image
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.alarm import Alarm, AlarmKind
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import Event, EventKind, Photo
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import Setting
from pitjournal.journal import open_journal
from pitjournal.journal.commands.bench import SetAlarms
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.bench.photos.photo_panel import keep_photos
from pitjournal.ui.bench.piece_selector import MEAT
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.start import Shell
from pitjournal.ui.window import Window
from tests.builders import NOON, a_cook
from tests.ui.bench.clock import Clock
from tests.ui.conftest import Opener


def running_cook(window: Window, title: str, *cuts: str, hours: int = 0) -> str:
    cook = a_cook(title, status=CookStatus.RUNNING, starts_at=NOON + timedelta(hours=hours))
    pieces = [
        Piece(cook_id=cook.id, position=place, label=f"{cut[:1].upper()}{place}", cut=cut)
        for place, cut in enumerate(cuts)
    ]
    window.desk.journal.do(AddCook(cook, tuple(pieces)))
    return cook.id


def bench_of(window: Window, cook_id: str = "") -> BenchPage:
    if cook_id:
        window.go("cook", cook_id, "bench")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, BenchPage)
    return place.current


def test_that_pieces_of_several_meats_say_theirs_and_for_takes_a_meat(open_window: Opener) -> None:
    window = open_window()
    bench = bench_of(window, running_cook(window, "Four meats", "ribs", "brisket", "ribs"))
    assert [card.accessibleName().split(", ")[1] for card in bench.pieces.cards[:3]] == [
        "ribs",
        "brisket",
        "ribs",
    ]
    bench.selector.choose(f"{MEAT}ribs")
    assert bench.shown is not None
    assert bench.chosen == tuple(p.id for p in bench.shown.pieces if p.cut == "ribs")
    bench.log(EventKind.FLIP)
    (event,) = window.desk.journal.find(Event)
    assert set(event.pieces) == set(bench.chosen)
    bench.selector.choose("all")
    assert bench.chosen == ()


def test_that_pieces_of_one_meat_do_not_repeat_it(open_window: Opener) -> None:
    window = open_window()
    bench = bench_of(window, running_cook(window, "Ribs", "ribs", "ribs"))
    assert "ribs" not in bench.pieces.cards[0].accessibleName()


def test_that_all_running_cooks_stand_on_the_rail_and_each_leads_to_its_own_bench(
    open_window: Opener,
) -> None:
    window = open_window()
    one = running_cook(window, "Brisket", "brisket")
    two = running_cook(window, "Ribs", "ribs", hours=3)
    assert window.rail.running.text() == "Cook 2"
    (other,) = [button for button in window.rail._others if not button.isHidden()]
    assert other.text() == "Cook 1"
    other.click()
    bench = bench_of(window)
    assert bench.whole is not None
    assert bench.whole.cook.id == one
    bench.log(EventKind.LID)
    assert [event.cook_id for event in window.desk.journal.find(Event)] == [one]
    window.rail.running.click()
    whole = bench_of(window).whole
    assert whole is not None
    assert whole.cook.id == two


def test_that_an_alarm_names_its_cook_where_two_run_and_done_leads_there_first(
    open_window: Opener, qtbot: QtBot
) -> None:
    del qtbot
    window, clock = open_window(), Clock()
    clock.wind(window)
    one = running_cook(window, "Brisket", "brisket")
    two = running_cook(window, "Ribs", "ribs")
    alarm = Alarm(
        cook_id=one, kind=AlarmKind.AT, words="Wrap it", set_at=clock.now, at=clock.now, does="wrap"
    )
    bench = bench_of(window, two)
    window.desk.journal.do(SetAlarms((alarm,), "Alarm"))
    window.desk.watch.look()
    assert "Cook 1: Brisket" in bench.alarm.why.accessibleName()
    bench.alarm.done.click()
    there = bench_of(window).whole
    assert there is not None
    assert there.cook.id == one
    assert not window.desk.journal.find(Event)


def test_that_whoever_opens_a_journal_while_a_cook_runs_lands_on_its_bench(
    qtbot: QtBot, tmp_path: Path
) -> None:
    del qtbot
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    for name, invented in (("own", False), ("demo", True)):
        journal = open_journal(tmp_path / name, new=True)
        journal.do(AddCook(a_cook("Ribs", status=CookStatus.RUNNING)))
        if invented:
            journal.do(Add((Setting(id="demonstration", value="invented"),), "Invented"))
        journal.close()
    shell = Shell(application, Preferences())
    shell._asked(str(tmp_path / "own"), new=False)
    assert shell.window is not None
    assert isinstance(bench_of(shell.window), BenchPage)
    shell._asked(str(tmp_path / "demo"), new=False)
    assert not isinstance(shell.window.place, CookPlace)
    shell.window.close()
    shell.window.deleteLater()


def two_benches(window: Window) -> tuple[str, str]:
    return running_cook(window, "Brisket", "brisket"), running_cook(window, "Ribs", "ribs", "ribs")


def test_that_later_on_one_bench_puts_nothing_off_on_another(open_window: Opener) -> None:
    window = open_window()
    one, two = two_benches(window)
    bench = bench_of(window, one)
    bench.due.later.click()
    assert bench.due.due.tap == ""
    bench = bench_of(window, two)
    assert (bench.due.due.heading, bench.due.due.tap) == ("Light the fire", "lit")
    assert bench_of(window, one).due.due.tap == ""


def test_that_a_choice_of_pieces_and_an_open_panel_stay_with_their_own_cook(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    window.show()
    qtbot.waitExposed(window)
    one, two = two_benches(window)
    bench = bench_of(window, two)
    bench.selector.pick(window.desk.journal.find(Piece, cook_id=two)[0].id)
    bench.opens.feel()
    assert window.findChildren(FeelPanel)
    bench = bench_of(window, one)
    assert not [panel for panel in window.findChildren(FeelPanel) if panel.isVisible()]
    assert bench.chosen == ()
    bench.log(EventKind.ON)
    bench.log(EventKind.OFF)
    assert {event.cook_id for event in window.desk.journal.find(Event)} == {one}


def test_that_a_photo_goes_to_the_bench_it_was_asked_for_on_whatever_is_shown_once_it_is_read(
    open_window: Opener, qtbot: QtBot, tmp_path: Path
) -> None:
    window = open_window()
    one, two = two_benches(window)
    picture = tmp_path / "ribs.png"
    Image.new("RGB", (40, 30), "#803020").save(picture)
    bench_of(window, two)
    keep_photos(window.desk, two, [picture], None, lambda: None)
    bench_of(window, one)  # while it is still being read
    qtbot.waitUntil(lambda: bool(window.desk.journal.find(Photo)), timeout=20_000)
    assert [photo.cook_id for photo in window.desk.journal.find(Photo)] == [two]


def test_that_a_repeat_and_what_is_heard_are_of_the_bench_that_is_shown(
    open_window: Opener,
) -> None:
    window, clock = open_window(), Clock()
    clock.wind(window)
    one, two = two_benches(window)
    bench_of(window, one).log(EventKind.LID)
    bench = bench_of(window, two)
    bench.repeat()  # nothing was logged on this one yet
    assert [event.cook_id for event in window.desk.journal.find(Event)] == [one]
    alarms = [
        Alarm(cook_id=cook, kind=AlarmKind.AT, words="Wrap", set_at=clock.now, at=clock.now)
        for cook in (one, two)
    ]
    window.desk.journal.do(SetAlarms(tuple(alarms), "Alarms"))
    window.desk.watch.look()
    assert len(window.desk.watch.ringing) == 2
    called = bench.alarm.called
    assert called is not None
    bench.alarm.hear.click()
    heard = [alarm.cook_id for alarm in window.desk.journal.find(Alarm) if alarm.heard]
    assert heard == [called.whole.cook.id]
