"""What opens over the bench: repeated, weighed, compared, noted by hand."""

import io
from dataclasses import replace
from datetime import timedelta

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Event, EventKind, Note, Photo
from pitjournal.domain.photo_stage import partner_of, stage_of
from pitjournal.domain.piece import Stage, Weighing
from pitjournal.domain.treatment import FuelLoad
from pitjournal.journal.attaching import attach_photos
from pitjournal.journal.commands.bench import LogEvent, Weigh
from pitjournal.journal.commands.files import KeepPhotos
from pitjournal.journal.commands.records import Remove
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.fuel_panel import FuelPanel
from pitjournal.ui.bench.other_panel import OtherPanel, WeatherPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.bench.panels import WeighPanel
from pitjournal.ui.bench.photos.compare_panel import ComparePanel, FourPanel
from pitjournal.ui.bench.photos.photo_panel import PhotoPanel
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.look.parts.fields import Field
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.window import Window
from tests.builders import NOON, an_event
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton


def type_into(qtbot: QtBot, field: Field, text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    field.commit()


def other(qtbot: QtBot, window: Window, bench: BenchPage) -> OtherPanel:
    qtbot.mouseClick(bench.taps["other"], LEFT)
    panel = window.findChild(OtherPanel)
    assert panel is not None
    return panel


def test_that_the_last_thing_is_logged_again_for_the_same_pieces(
    qtbot: QtBot, open_window: Opener
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    assert bench.whole is not None
    pieces = tuple(piece.id for piece in bench.whole.pieces[:2])
    wrap = an_event(bench.whole.cook.id, EventKind.WRAP, pieces=pieces, wrap="paper")
    window.desk.journal.do(LogEvent(wrap, "Log wrap"))
    clock.now += timedelta(minutes=9)
    panel = other(qtbot, window, bench)
    qtbot.mouseClick(panel.taps["Again"], LEFT)
    again = window.desk.journal.find(Event)[-1]
    assert (again.kind, again.pieces, again.details) == ("wrap", pieces, {"wrap": "paper"})
    assert again.happened_at == clock.now


def test_that_a_kind_of_ones_own_is_a_tap_the_next_time(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    panel = other(qtbot, window, bench)
    qtbot.keyClicks(panel.own, "split added")
    qtbot.keyClick(panel.own, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.findChild(OtherPanel) is None)
    panel = other(qtbot, window, bench)
    assert panel.taps["Split added"].height() >= 60
    qtbot.mouseClick(panel.taps["Split added"], LEFT)
    kinds = [event.kind for event in window.desk.journal.find(Event)]
    assert kinds.count("split added") == 2


def test_that_the_weather_is_kept_by_hand_in_the_cooks_units(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    panel = other(qtbot, window, bench)
    qtbot.mouseClick(panel.taps["Weather"], LEFT)
    weather = window.findChild(WeatherPanel)
    assert weather is not None
    for field, text in ((weather.ambient, "50"), (weather.humidity, "60%"), (weather.sky, "rain")):
        type_into(qtbot, field, text)
    cook = window.desk.journal.find(Cook)[0]
    assert cook.ambient == pytest.approx(10.0)
    assert cook.humidity == pytest.approx(0.6)
    assert cook.weather == "rain"
    type_into(qtbot, weather.wind, "a breeze")
    assert "Try" in weather.wind.error.text()
    assert weather.wind.line.text() == "a breeze"


def test_that_an_unlikely_weight_is_kept_and_asked_about(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    assert bench.whole is not None
    piece = bench.whole.pieces[0]
    window.desk.journal.do(Weigh(piece.cook_id, piece.id, Stage.TRIMMED, 1000.0))
    bench.opens.weigh()
    panel = window.findChild(WeighPanel)
    assert panel is not None
    type_into(qtbot, panel.fields[0], "1200 g")  # heavier on than trimmed
    kept = {w.stage: w.mass for w in window.desk.journal.find(Weighing)}
    assert kept[Stage.ON] == pytest.approx(1200.0)
    assert "is that so?" in panel.fields[0].error.text()
    type_into(qtbot, panel.fields[0], "1000 g")
    assert not panel.fields[0].error.text()


def test_that_the_fire_says_how_it_burns(qtbot: QtBot, open_window: Opener) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)  # lit an hour ago
    bench.opens.fuel()
    panel = window.findChild(FuelPanel)
    assert panel is not None
    assert "Weigh the fuel" in panel.burns.text()
    clock.now -= timedelta(hours=1)
    for pounds, words in (("8 lb", "put in"), ("2 lb", "added")):
        type_into(qtbot, panel.card.fuel, pounds)
        adder = next(b for b in panel.card._stages if b.text() == words)
        qtbot.mouseClick(adder, LEFT)
        clock.now += timedelta(hours=2)
    assert len(window.desk.journal.find(FuelLoad)) == 2
    panel._show_again()
    # 2 lb added two hours after lighting: 1 lb/h, so 10 lb last 10 h, of which 4 h are over.
    assumed = "if what was added is what had burnt"
    assert panel.burns.text() == f"Burns 1.00 lb/h so far, {assumed}. Lasts about 6 h more."
    bench._tick()
    assert "6 h left" in bench.fire.about.text()


def photos_of(window: Window, bench: BenchPage) -> list[Photo]:
    """Add four photos: of two pieces, after on and after the wrap."""
    whole = bench.whole
    assert whole is not None
    window.desk.journal.do(LogEvent(an_event(whole.cook.id, EventKind.WRAP, minutes=60), "Wrap"))
    number = 0
    for minutes in (10, 90):
        for piece in whole.pieces[:2]:
            number += 1
            out = io.BytesIO()
            Image.new("RGB", (40 + number, 30), "#884422").save(out, "PNG")
            taken = NOON + timedelta(minutes=minutes)
            data = [(f"{number}.png", out.getvalue())]
            journal = window.desk.journal
            command = attach_photos(journal, whole.cook.id, data, piece.id, taken)
            assert isinstance(command, KeepPhotos)
            journal.do(command)
    return window.desk.journal.find(Photo)


def test_that_a_photo_is_laid_beside_one_of_its_stage(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock(NOON + timedelta(hours=3)))
    photos = photos_of(window, bench)
    whole = window.desk.journal.whole(photos[0].cook_id)
    assert [stage_of(whole, p) for p in photos] == ["on"] * 2 + ["wrapped"] * 2
    assert partner_of(whole, photos[2]) == photos[3]
    assert stage_of(whole, replace(photos[0], taken_at=None)) == ""
    bench.opens.open_photo(photos[2])
    panel = window.findChild(PhotoPanel)
    assert panel is not None
    qtbot.mouseClick(panel.beside, LEFT)
    compare = window.findChild(ComparePanel)
    assert compare is not None
    assert (compare.left.photo, compare.right.photo) == (photos[2], photos[3])
    qtbot.mouseClick(compare.right.after, LEFT)
    assert compare.right.photo == photos[0]
    qtbot.mouseClick(compare.right.before, LEFT)
    assert compare.right.photo == photos[3]


def read_aloud(bench: BenchPage) -> list[str]:
    """Return what a screen reader says of each photo of the strip."""
    told = QAccessible.queryAccessibleInterface(bench.day.photos.tiles)
    return [told.child(n).text(QAccessible.Text.Name) for n in range(told.childCount())]


def test_that_stage_and_piece_of_a_photo_are_changed_by_a_tap_and_seen_on_it(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench = bench_on(window, Clock(NOON + timedelta(hours=3)))
    photo = photos_of(window, bench)[2]
    bench.day.turn("photos")
    assert bench.whole is not None
    labels = [piece.label for piece in bench.whole.pieces]
    found = read_aloud(bench)
    assert f"photo, {labels[0]}, wrapped, 3.png" in found
    bench.opens.open_photo(photo)
    panel = window.findChild(PhotoPanel)
    assert panel is not None
    assert panel.stage.values() == ("wrapped",)  # by the log
    for choice, text in ((panel.stage, "sliced"), (panel.piece, labels[1])):
        chip = next(one for one in choice.findChildren(Chip) if one.text() == text)
        qtbot.mouseClick(chip, LEFT)
    kept = window.desk.journal.find(Photo, id=photo.id)[0]
    assert (kept.stage, kept.piece_id) == ("sliced", bench.whole.pieces[1].id)
    panel.close_panel()
    found = read_aloud(bench)
    assert f"photo, {labels[1]}, sliced, 3.png" in found
    window.desk.bridge.undo()
    assert window.desk.journal.find(Photo, id=photo.id)[0].piece_id == photo.piece_id


def test_that_photos_of_a_stage_lie_four_side_by_side(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock(NOON + timedelta(hours=3)))
    photos = photos_of(window, bench)
    bench.day.turn("photos")
    qtbot.mouseClick(bench.day.photos.four, LEFT)
    panel = window.findChild(FourPanel)
    assert panel is not None
    assert panel.stages.values() == ("on",)
    assert list(panel.shown) == photos[:2]
    chip = next(c for c in panel.stages.findChildren(Chip) if c.text() == "wrapped 2")
    qtbot.mouseClick(chip, LEFT)
    assert list(panel.shown) == photos[2:]


def test_that_one_photo_alone_has_no_partner(open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    photo = photos_of(window, bench)[0]
    whole = window.desk.journal.whole(photo.cook_id)
    assert partner_of(replace(whole, photos=(photo,)), photo) is None


def test_that_the_window_of_each_piece_draws_while_it_is_felt(
    qtbot: QtBot, open_window: Opener
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    bench.opens.feel()
    panel = window.findChild(FeelPanel)
    assert panel is not None
    assert not panel.windows.isVisible()
    assert bench.whole is not None
    first = bench.whole.pieces[0]
    for feel in (2, 4, 5, 6):  # under, right, right, over: 15 min apart
        panel.pieces.choose(first.id)
        qtbot.mouseClick(panel.taps[feel - 1], LEFT)
        assert panel.windows.isVisible() is (feel > 2)  # under alone is no window yet
        clock.now += timedelta(minutes=15)
    panel.pieces.choose(first.id)
    panel._show()
    assert panel.windows.isVisible()
    # By hand: under at 0, right at 15 and 30, over at 45 minutes.
    assert panel.windows.table()[1][:5] == [first.label, "0 min", "15 min", "30 min", "45 min"]
    assert panel.windows.sentence() == f"{first.label} right for at least 15 min"


@pytest.mark.parametrize(
    "opened", ["feel", "weigh", "fuel", "weather", "other", "alarms", "follow"]
)
def test_that_a_panel_goes_with_its_cook_and_undo_brings_the_cook_back(
    open_window: Opener, opened: str
) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    assert bench.whole is not None
    cook = bench.whole.cook
    getattr(bench.opens, opened)()
    assert window.findChildren(Overlay)
    window.desk.bridge.do(Remove(Cook, cook.id, "Remove the cook"))
    assert not window.findChildren(Overlay)
    assert window.place is window.cooks
    window.desk.bridge.undo()
    assert window.desk.journal.whole(cook.id).cook == cook


def test_that_a_note_that_was_typed_and_not_logged_stands_there_the_next_time(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    panel = other(qtbot, window, bench)
    qtbot.keyClicks(panel.own, "moved")
    qtbot.keyClicks(panel.note, "bark was dark by noon")
    qtbot.waitUntil(lambda: bool(window.desk.journal.drafts.all()))  # a kill comes here
    qtbot.keyClicks(panel.note, ", and dry")
    qtbot.keyClick(panel, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: window.findChild(OtherPanel) is None)
    panel = other(qtbot, window, bench)
    assert (panel.own.text(), panel.note.text()) == ("moved", "bark was dark by noon, and dry")
    qtbot.keyClick(panel.note, Qt.Key.Key_Return)
    assert [note.text for note in window.desk.journal.find(Note)][-1] == (
        "bark was dark by noon, and dry"
    )
    qtbot.waitUntil(lambda: window.findChild(OtherPanel) is None)
    panel = other(qtbot, window, bench)
    assert (panel.own.text(), panel.note.text()) == ("moved", "")
    qtbot.keyClick(panel.own, Qt.Key.Key_Return)
    assert not window.desk.journal.drafts.all()
