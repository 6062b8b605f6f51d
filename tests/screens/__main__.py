"""Walk the demonstration journal and save every page in three themes at two sizes."""

import argparse
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, nullcontext
from datetime import UTC, datetime, timedelta
from pathlib import Path

from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

from pitjournal.analysis.trends.language.sentence import parse_sentence
from pitjournal.analysis.trends.question import Sign, Where
from pitjournal.domain.alarm import Alarm, AlarmKind
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.shelf import ShelfKind
from pitjournal.domain.tasting import Mishap
from pitjournal.journal.commands.bench import LogEvent, SetAlarms
from pitjournal.journal.commands.plan import ServeAt
from pitjournal.journal.demonstration import make_demonstration
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.bench.lock import Veil
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.bench.photos.photo_panel import PhotoPanel
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.cooks.model import LINE
from pitjournal.ui.destination import Destination
from pitjournal.ui.findings.page import FindingsPage
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.tokens import TEXT_SIZES
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.shelf.page import OWN, ShelfPage
from pitjournal.ui.start import Shell
from pitjournal.ui.tasting.mishap_panel import MishapPanel
from pitjournal.ui.tasting.page import TastingPage
from pitjournal.ui.trends.filter_panel import FilterPanel
from pitjournal.ui.trends.page import TrendsPage
from pitjournal.ui.window import Window
from tests.screens.lately import more_states
from tests.screens.longer import longer_words

THEMES = ("light", "night", "sun")
SIZES = ((1280, 800), (1024, 700))


def settle(milliseconds: int) -> None:
    """Let the window work; unlike Qt's own wait, this lets workers run too."""
    end = time.monotonic() + milliseconds / 1000
    while time.monotonic() < end:
        QApplication.processEvents()
        time.sleep(0.004)


PICTURES = (
    ("scatter", "time on by weight on and cut"),
    ("months", "yield by month and cut"),
    ("heat", "tenderness by cut and cooker as heat table"),
    ("spread", "lit to last off by cut as distribution"),
    ("panels", "tenderness by treatment and slot and cooker"),
    ("held", "tenderness by cooker holding cut"),
    ("twice", "tenderness (contest) by tenderness"),
)
"""A question for each picture of Trends."""


def _both(*steps: Callable[[], object]) -> Callable[[], None]:
    """Return what takes several steps in turn."""

    def take() -> None:
        for step in steps:
            step()

    return take


def states(window: Window) -> Iterator[tuple[str, Callable[[], object], int]]:
    """Return each state: its name, how to get there, and how long it takes, ms."""
    lines = window.desk.journal.cooks.page()
    best = max(
        (x for x in lines if x.status is CookStatus.DONE), key=lambda x: (len(x.arms), x.pieces)
    )
    running = window.running()
    yield "cooks", lambda: window.go("cooks"), 900
    yield "new-cook", lambda: window.go("new cook"), 300
    yield "new-cook-again", lambda: window.go("new cook", best.id), 1200
    yield "plan", lambda: window.go("cook", best.id, "plan"), 400
    planned = next((x for x in lines if x.status is CookStatus.PLANNED), None)
    if planned is not None:
        yield "plan-planned", lambda: _plan_the_day(window, planned.id), 2500
        yield "plan-day", lambda: _look_at(window, _plan(window).schedule), 300
        yield "plan-own", lambda: _look_at(window, _plan(window).own), 300
        yield "plan-own-new", _plan(window).own.make, 300
        yield "plan-lists", _both(lambda: _close(window), lambda: _plan(window).show_lists()), 300
        yield "plan-below", _both(lambda: _close(window), lambda: _scroll(window)), 300
    if running is not None:
        yield "bench", lambda: window.go("cook", running.id, "bench"), 500
        yield "bench-log", _bench(window).day.turn_on, 300
        yield "bench-photos", _bench(window).day.turn_on, 300
        yield "bench-feel", _bench(window).opens.feel, 300
        yield from _at_the_bench(window, running.id)
        yield (
            "bench-weigh",
            _both(lambda: _close(window), _bench(window).opens.weigh),
            300,
        )
        yield (
            "tasting",
            _both(lambda: _close(window), lambda: window.go("cook", running.id, "tasting")),
            300,
        )
        yield "tasting-paper", lambda: _paper(window), 300
        yield "tasting-lost", _both(lambda: _close(window), lambda: _lost(window)), 300
    yield from _of_photos(window, best.id)
    _close(window)
    yield (
        "tasting-revealed",
        _both(lambda: _close(window), lambda: window.go("cook", best.id, "tasting")),
        3500,
    )
    yield "tasting-set-up", lambda: _tasting(window).start_another(), 300
    yield "tasting-triangle", lambda: _tasting(window).set_up.choose("triangle-1"), 300
    yield from _of_findings(window, best.id)
    yield "share", lambda: window.go("share", best.id), 900
    yield "trends", _both(lambda: _close(window), lambda: window.go("trends")), 900
    for name, sentence in PICTURES:
        yield f"trends-{name}", _asker(window, sentence), 900
    yield "trends-below", lambda: _scroll(window), 300
    yield "trends-matters", lambda: _trends(window)._matter(), 5000
    yield "trends-filter", lambda: _filter(window), 400
    yield "trends-cuts", _both(lambda: _close(window), lambda: _cuts(window)), 400
    yield "trends-save", _both(lambda: _close(window), lambda: _trends(window)._save()), 300
    yield "cooks-narrowed", _both(lambda: _close(window), lambda: _narrow(window)), 900
    yield "compare", lambda: _compare(window), 2500
    yield "compare-below", lambda: _scroll(window), 300
    yield from _besides(window)
    _close(window)
    yield from more_states(window, best.id, None if running is None else running.id)
    yield "find", _both(lambda: _close(window), window._find_box), 200
    yield "parts", _both(lambda: _close(window), lambda: window.go("parts")), 300
    yield "keys", _both(lambda: _close(window), window._show_keys), 200


def _of_findings(window: Window, cook_id: str) -> Iterator[tuple[str, Callable[[], object], int]]:
    """Return the plate, all drawers open, how it was worked out, and leeway in degrees."""
    yield "findings", lambda: window.go("cook", cook_id, "findings"), 3500
    yield "findings-drawers", lambda: _all_drawers(window), 300
    yield "findings-below", lambda: _scroll(window), 300
    yield "findings-how", lambda: _findings(window)._how(), 400
    yield "findings-degrees", _both(lambda: _close(window), lambda: _degrees(window)), 300


def _besides(window: Window) -> Iterator[tuple[str, Callable[[], object], int]]:
    """Return what is of no one cook."""
    yield from _of_the_season(window)
    yield from _on_the_shelf(window)


def _of_the_season(window: Window) -> Iterator[tuple[str, Callable[[], object], int]]:
    """Return the season, a contest of it, and that contest further down."""
    contests = window.desk.journal.contests.all()
    yield "season", lambda: window.go("season"), 3000
    yield "season-below", lambda: _scroll(window), 300
    if contests:
        there = Destination(place="contest", contest_id=contests[0].contest.id)
        yield "contest", lambda: window.go_to(there), 400
        yield "contest-below", lambda: _scroll(window), 300


def _on_the_shelf(window: Window) -> Iterator[tuple[str, Callable[[], object], int]]:
    """Return the Shelf with its schemes and the cook's own variables, and the settings."""
    yield "shelf", lambda: window.go("shelf"), 300
    yield "shelf-schemes", lambda: _schemes(window), 300
    yield "shelf-own", lambda: _own_variables(window), 300
    yield "settings", lambda: window.go("settings"), 200


def _of_photos(window: Window, cook_id: str) -> Iterator[tuple[str, Callable[[], object], int]]:
    """Return photos two side by side, one opened, and four of a stage."""

    def opened(run: Callable[[Window], object]) -> Callable[[], None]:
        return _both(lambda: _close(window), lambda: run(window))

    there = lambda: window.go("cook", cook_id, "bench")  # noqa: E731 - a step
    yield "bench-compare", _both(there, lambda: _two_photos(window)), 400
    yield "bench-photo", opened(_one_photo), 300
    yield "bench-four", opened(_four_photos), 300


def _at_the_bench(window: Window, cook_id: str) -> Iterator[tuple[str, Callable[[], object], int]]:
    """Return what opens over the bench, and the bench locked, blind, odd and called."""

    def opened(run: Callable[[], object]) -> Callable[[], None]:
        return _both(lambda: _close(window), run)

    bench, undo = _bench(window), window.desk.bridge.undo
    yield "bench-follow", opened(bench.opens.follow), 300
    yield "bench-other", opened(bench.opens.other), 300
    yield "bench-own", opened(bench.opens.own), 300
    yield "bench-weather", opened(bench.opens.weather), 300
    yield "bench-fuel", opened(bench.opens.fuel), 300
    yield "bench-alarms", opened(bench.opens.alarms), 300
    yield "bench-odd", opened(lambda: _slip(window, cook_id)), 300
    undo()
    yield "bench-blind", _both(bench.opens.hide_arms, lambda: bench.day.turn("chart")), 300
    undo()
    yield "bench-wall", bench._from_afar, 300
    yield "bench-wall-taps", lambda: _lift(window), 300
    bench.from_afar.put_away()
    yield "bench-locked", bench.opens.lock, 300
    window.findChildren(Veil)[0]._open()
    yield "bench-ringing", lambda: _ring(window, cook_id), 300
    yield "bench-heard", bench.alarm.hear.click, 300
    undo()
    yield "alarm-elsewhere", lambda: window.go("shelf"), 300
    undo()
    window.go("cook", cook_id, "bench")


def _lift(window: Window) -> None:
    """Let the taps for the first tile rise."""
    wall = _bench(window).from_afar.wall
    assert wall is not None
    wall.lift(next(iter(wall.tiles)))


def _slip(window: Window, cook_id: str) -> None:
    """Log a second "on", as a slip of the finger does."""
    now = window.desk.now()
    slip = Event(cook_id=cook_id, kind=EventKind.ON, happened_at=now, entered_at=now)
    window.desk.journal.do(LogEvent(slip, "Log on"))
    _bench(window).day.turn("log")


def _two_photos(window: Window) -> None:
    """Lay two photos of the best cook side by side."""
    bench = _bench(window)
    assert bench.whole is not None
    if bench.whole.photos:
        bench.opens.open_photo(bench.whole.photos[0])
        for panel in window.findChildren(PhotoPanel):
            panel.beside.click()


def _one_photo(window: Window) -> None:
    """Open a photo of the best cook among its others."""
    bench = _bench(window)
    bench.day.turn("photos")
    assert bench.whole is not None
    if bench.whole.photos:
        bench.opens.open_photo(bench.whole.photos[0])


def _four_photos(window: Window) -> None:
    """Lay photos of a stage side by side."""
    bench = _bench(window)
    bench.day.turn("photos")
    bench.day.photos._lay_four()


def _bench(window: Window) -> BenchPage:
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, BenchPage)
    return place.current


def _ring(window: Window, cook_id: str) -> None:
    """Let two alarms ring: one that is due, and one on the pit."""
    now = window.desk.now()
    due = Alarm(
        cook_id=cook_id,
        kind=AlarmKind.AT,
        words="Spritz: 45 min after the last",
        set_at=now,
        at=now - timedelta(minutes=6),
        does="spritz",
    )
    pit = Alarm(
        cook_id=cook_id, kind=AlarmKind.REACHES, words="Pit over 200 °F", set_at=now, high=93.0
    )
    window.desk.journal.do(SetAlarms((due, pit), "Alarms"))


def _trends(window: Window) -> TrendsPage:
    place = window.place
    assert isinstance(place, TrendsPage)
    return place


def _asker(window: Window, sentence: str) -> Callable[[], None]:
    def ask() -> None:
        catalogue, system = window.desk.catalogue, window.desk.system
        _trends(window).ask(parse_sentence(sentence, catalogue, system))

    return ask


def _filter(window: Window) -> None:
    _trends(window).controls.add_where()
    window.findChildren(FilterPanel)[-1].choose("thickness")


def _cuts(window: Window) -> None:
    _asker(window, "yield by thickness")()
    _trends(window).controls.cut(0)


def _narrow(window: Window) -> None:
    window.go("cooks")
    window.cooks.narrowing.take((Where("cut", Sign.IS, ("brisket", "pork butt")),))


def _compare(window: Window) -> None:
    lines = [window.cooks.model.index(row).data(LINE) for row in range(3)]
    window.cooks.narrowing.take(())
    window.go_to(Destination(place="compare", cook_ids=tuple(line.id for line in lines)))


def _plan(window: Window) -> PlanPage:
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, PlanPage)
    return place.current


def _plan_the_day(window: Window, cook_id: str) -> None:
    """Serve seven hours after the meat goes on, and work the day out."""
    cook = window.desk.journal.whole(cook_id).cook
    if cook.serve_at is None:
        window.desk.journal.do(ServeAt(cook_id, cook.starts_at + timedelta(hours=7)))
    window.go("cook", cook_id, "plan")
    _plan(window).schedule.work_out()


def _look_at(window: Window, card: QWidget) -> None:
    for area in window.place.findChildren(QScrollArea):
        inner = area.widget()
        if inner is not None and inner.isAncestorOf(card):
            area.verticalScrollBar().setValue(card.mapTo(inner, card.rect().topLeft()).y())


def _tasting(window: Window) -> TastingPage:
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, TastingPage)
    return place.current


def _paper(window: Window) -> None:
    _tasting(window).scoring.open_paper()


def _lost(window: Window) -> None:
    scoring = _tasting(window).scoring
    assert scoring.session is not None
    panel = MishapPanel(window.desk, window, scoring.session, scoring.taster, Mishap.SPILLED)
    panel.open_panel()


def _schemes(window: Window) -> None:
    shelf = window.place
    assert isinstance(shelf, ShelfPage)
    shelf.turn(ShelfKind.SCHEME)
    shelf.schemes.turn("contest-2")


def _own_variables(window: Window) -> None:
    shelf = window.place
    assert isinstance(shelf, ShelfPage)
    shelf.turn(OWN)


def _findings(window: Window) -> FindingsPage:
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, FindingsPage)
    return place.current


def _all_drawers(window: Window) -> None:
    page = _findings(window)
    page.drawers.open_only(tuple(one.key for one in page.drawers.all))
    page.next_card.show()
    area = page.findChild(QScrollArea)
    if area is not None:
        area.ensureWidgetVisible(page.drawers.ledger_card)


def _degrees(window: Window) -> None:
    page = _findings(window)
    page.drawers.open_only(("right",))
    page.drawers.leeway_card.axis.choose("temperature")
    page.drawers.leeway_card.axis.chosen.emit("temperature")
    area = page.findChild(QScrollArea)
    if area is not None:
        area.ensureWidgetVisible(page.drawers.leeway_card)


def _close(window: Window) -> None:
    for panel in window.findChildren(Overlay):
        panel.close_panel()


def _scroll(window: Window) -> None:
    for area in window.place.findChildren(QScrollArea):
        if area.isVisible():
            bar = area.verticalScrollBar()
            bar.setValue(bar.maximum())


def main() -> int:
    """Save the pictures."""
    parser = argparse.ArgumentParser(prog="python -m tests.screens")
    parser.add_argument("out", metavar="OUT", type=Path)
    parser.add_argument("--theme", choices=THEMES, action="append")
    parser.add_argument("--text", choices=TEXT_SIZES, default=TEXT_SIZES[0], help="per cent")
    parser.add_argument("--longer", action="store_true", help="words 40 %% longer")
    parser.add_argument("--only", metavar="STATE", action="append", help="keep only these pictures")
    arguments = parser.parse_args()
    arguments.out.mkdir(parents=True, exist_ok=True)
    application = QApplication(["pitjournal"])
    with tempfile.TemporaryDirectory() as name, ExitStack() as stack:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        folder = Path(name) / "demonstration"
        make_demonstration(folder, now=datetime.now(UTC)).close()
        empty = Path(name) / "empty"
        shell = Shell(application, Preferences(text=arguments.text))
        stack.enter_context(longer_words() if arguments.longer else nullcontext())
        sys.excepthook = sys.__excepthook__
        for theme in arguments.theme or THEMES:
            for width, height in SIZES:
                tag = f"{theme}-{width}"
                only = frozenset(arguments.only or ())
                _tour(shell, folder, theme, (width, height), arguments.out, tag, only)
                shell.open(str(empty), new=True)
                assert shell.window is not None
                settle(200)
                shell.window.grab().save(str(arguments.out / f"empty-{tag}.png"))
        assert shell.window is not None
        shell.window.close()
    return 0


def _tour(  # noqa: PLR0917 - one tour
    shell: Shell,
    folder: Path,
    theme: str,
    size: tuple[int, int],
    out: Path,
    tag: str,
    only: frozenset[str],
) -> None:
    from pitjournal.ui.look.theme import look  # noqa: PLC0415 - after the application

    look().choose(theme)
    shell.open(str(folder))
    window = shell.window
    assert window is not None
    window.resize(*size)
    settle(300)
    for name, go, wait in states(window):
        go()
        settle(wait)
        if only and name not in only:
            continue
        window.grab().save(str(out / f"{name}-{tag}.png"))
    _close(window)


if __name__ == "__main__":
    raise SystemExit(main())
