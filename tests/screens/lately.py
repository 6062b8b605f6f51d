"""States of what opens over a cook, of the rest of the Shelf, and of a bundle before it is kept."""

import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from pitjournal.domain.shelf import ShelfKind
from pitjournal.files.bundle.content import SUFFIX
from pitjournal.files.summary.content import Choice
from pitjournal.journal.bundles.gathering import bundle_bytes
from pitjournal.ui.bench.bench_panels import BenchPanels
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.cooks.page import CooksPage
from pitjournal.ui.findings.share_extras import CLASS
from pitjournal.ui.findings.share_panel import SharePanel
from pitjournal.ui.look.parts.overlay import put_away_all
from pitjournal.ui.old_cooks.page import BringPage
from pitjournal.ui.season.page import SeasonPage
from pitjournal.ui.shelf.page import ShelfPage
from pitjournal.ui.summary_formats import PICTURE
from pitjournal.ui.window import Window
from tests.screens.contest_day import contest_day_states

State = tuple[str, Callable[[], object], int]


def more_states(window: Window, done_id: str, running_id: str | None) -> Iterator[State]:
    """Return each state: its name, how to get there, and how long it takes, ms."""
    if running_id is not None:
        yield "bench-ahead", lambda: _over_bench(window, running_id).ahead(), 4000
        yield "bench-paper", lambda: _over_bench(window, running_id).paper(), 300
    yield "share-data", lambda: _share_as(window, done_id, SUFFIX), 900
    yield "share-card", lambda: _share_as(window, done_id, PICTURE), 900
    yield "share-class", lambda: _share_as(window, done_id, CLASS), 900
    yield "season-report", lambda: _season_report(window), 3000
    yield "cooks-report", lambda: _cooks_report(window), 1500
    yield "shelf-probes", lambda: _shelf(window, ShelfKind.PROBE), 600
    yield "shelf-recipes", lambda: _shelf(window, ShelfKind.RECIPE), 600
    yield "old-cooks", lambda: window.go("old cooks"), 300
    yield "old-cooks-bundle", lambda: _bundle(window, done_id), 4000
    yield from contest_day_states(window)
    put_away_all(window)


def _over_bench(window: Window, cook_id: str) -> BenchPanels:
    put_away_all(window)
    window.go("cook", cook_id, "bench")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, BenchPage)
    return place.current.opens


def _share_as(window: Window, cook_id: str, sort: str) -> None:
    put_away_all(window)
    window.go("share", cook_id)
    form = window.findChildren(SharePanel)[-1].form
    form.choose(sort)
    form.chosen.emit(sort)


def _season_report(window: Window) -> None:
    put_away_all(window)
    window.go("season")
    page = window.place
    assert isinstance(page, SeasonPage)
    page.write_report()


def _cooks_report(window: Window) -> None:
    put_away_all(window)
    window.go("cooks")
    page = window.place
    assert isinstance(page, CooksPage)
    page.choose()
    page.list.selectAll()


def _shelf(window: Window, kind: ShelfKind) -> None:
    put_away_all(window)
    window.go("shelf")
    shelf = window.place
    assert isinstance(shelf, ShelfPage)
    shelf.turn(kind)


def _bundle(window: Window, cook_id: str) -> None:
    page = window.place
    assert isinstance(page, BringPage)
    file = Path(tempfile.mkdtemp()) / f"friends{SUFFIX}"
    file.write_bytes(bundle_bytes(window.desk.journal, [cook_id], Choice(), file.stem))
    page.open_file(file)
