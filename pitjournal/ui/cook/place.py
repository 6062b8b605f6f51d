"""One cook: its head, and the pages of its life."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime

from PySide6.QtCore import QTimer
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QApplication, QStackedWidget, QVBoxLayout, QWidget

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.times.moments import show_day
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.journal import Changes
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.overlay import Action, put_away_all
from pitjournal.ui.look.parts.tabs import Tabs
from pitjournal.ui.look.theme import look
from pitjournal.ui.page import Header, Page
from pitjournal.units import Dimension, UnitSystem, show

ELSEWHERE = frozenset({"shelf_item", "setting", "own_variable", "contest", "category"})
"""What a page of a cook shows that is not its own."""

RIBBON = frozenset({"tasting", "findings"})
"""On these pages the day stands in a thin strip under the title; the others have it larger."""

PAGES = (("plan", "Plan"), ("bench", "Bench"), ("tasting", "Tasting"), ("findings", "Findings"))


class CookPage(Page):
    """A page of one cook; `whole` is the cook as it is now."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.whole: WholeCook | None = None

    def settle(self) -> None:
        """Do what is left of making it: in a turn of its own, or before it is first shown."""

    def spare(self) -> bool:
        """Make a thing that the first cook will need, in a turn of its own; return if it did."""
        return False

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook."""
        raise NotImplementedError

    def to_bench(self) -> None:
        """Go to the bench of the cook that is shown."""
        if self.whole is not None:
            self.desk.go("cook", self.whole.cook.id, "bench")


Maker = Callable[[Desk], CookPage]


class CookPlace(Page):
    """The head of a cook with four tabs over its pages; a page is made when it is first seen."""

    GROUND = False

    def __init__(self, desk: Desk, makers: Mapping[str, Maker]) -> None:
        from pitjournal.ui.charts.ribbon.ribbon_strip import (  # noqa: PLC0415 - numpy
            THIN_ABOVE,
            THIN_BAR,
            RibbonStrip,
        )

        super().__init__(desk)
        self.setObjectName("place")
        self._makers = makers
        self._pages: dict[str, CookPage] = {}
        self._settled: set[str] = set()
        self._of: dict[str, str] = {}
        """Which cook each page was shown for last."""
        self.cook_id = ""
        self.page = ""
        self._whole: WholeCook | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        self.header = Header(ruled=True)
        self.header.right.setSpacing(0)
        self.tabs = Tabs("Pages of the cook", PAGES)
        self.tabs.turned.connect(lambda page: self.open(self.cook_id, page))
        self.header.right.addWidget(self.tabs)
        outer.addWidget(self.header)
        self.ribbon = RibbonStrip(bar=THIN_BAR, lines=1, above=THIN_ABOVE)
        self._strip = QWidget()
        below = QVBoxLayout(self._strip)
        below.setContentsMargins(tokens.XL, tokens.XS, tokens.XL, 0)
        below.addWidget(self.ribbon)
        self._strip.hide()
        outer.addWidget(self._strip)
        self._minute = QTimer(self, interval=20_000)
        self._minute.timeout.connect(self._show_ribbon)
        self.stack = QStackedWidget()
        outer.addWidget(self.stack, 1)

    def showEvent(self, event: QShowEvent) -> None:
        """Let what stands over the pages wear the look of now; the pages see to it themselves."""
        for part in (self.header, self._strip):
            look().restyling.catch_up(part)
        QWidget.showEvent(self, event)

    def meet(self, there: Destination) -> None:
        """Show the cook that is gone to."""
        if there.cook_id:
            self.open(there.cook_id, there.page)

    def take(self, there: Destination) -> None:
        """Let the page take over what led here."""
        if self.current is not None and there.view:
            self.current.take(there)

    def open(self, cook_id: str, page: str = "") -> None:
        """Show a page of a cook; with none named, the one its life is at."""
        if self.page in self._pages:
            self._pages[self.page].leave()
        whole = self.desk.journal.whole(cook_id)
        if cook_id != self.cook_id:
            for made in self._pages.values():
                made.whole = None
        self.cook_id, self._whole = cook_id, whole
        self._stale = False  # it was read this moment: to arrive is not to read it again
        self._show_page(page or natural_page(whole))

    def load(self, name: str) -> None:
        """Load what a page needs; from any thread."""
        load = getattr(self._makers[name], "load", None)
        if load is not None:
            load()

    def settle(self, name: str) -> None:
        """Do what is left of making a page."""
        self.prepare(name)
        if name not in self._settled:
            self._settled.add(name)
            self._pages[name].settle()

    def spare(self, name: str) -> bool:
        """Make one more thing that a page will need; return whether there was any."""
        return self._pages[name].spare()

    def prepare(self, name: str) -> None:
        """Make a page before it is first seen."""
        if name not in self._pages:
            self._pages[name] = self._makers[name](self.desk)
            self.stack.addWidget(self._pages[name])

    def _show_page(self, name: str) -> None:
        self.page = name
        self.tabs.show_page(name)
        self.settle(name)
        focus = QApplication.focusWidget()
        if focus is not None and self.stack.isAncestorOf(focus):
            self.tabs.setFocus()  # or Qt looks for one below, and scrolls there
        self.stack.setCurrentWidget(self._pages[name])
        self._give()
        self.turned.emit()

    def _give(self) -> None:
        """Show the head, and give the page the cook as it is now."""
        whole = self._whole
        if whole is None:
            return
        self.header.show_title(whole.cook.title or "A cook", over_line(whole, self.desk.system))
        self._show_ribbon()
        page = self._pages[self.page]
        if page.whole is not whole:
            page.whole = whole
            page.show_cook(whole)
            # Not at each save: hands are at work there.
            if self._of.get(self.page) != whole.cook.id:
                self._of[self.page] = whole.cook.id
                page.to_top()

    def _show_ribbon(self) -> None:
        from pitjournal.domain.day.ribbon import ribbon_of  # noqa: PLC0415 - not for the list of cooks

        """Show the day in a thin strip on the pages that have none of their own."""
        whole = self._whole
        wanted = whole is not None and self.page in RIBBON
        if wanted and whole is not None:
            now = self.desk.now().replace(second=0, microsecond=0)
            self.ribbon.show_ribbon(ribbon_of(self.desk.seen(whole), now), whole.cook.zone)
        self._strip.setVisible(wanted and bool(self.ribbon.ribbon))

    @property
    def current(self) -> CookPage | None:
        """The page that is seen."""
        return self._pages.get(self.page)

    @property
    def own_bar(self) -> MessageBar | None:
        """Where the page that is seen says itself what was saved."""
        return None if self.current is None else self.current.own_bar

    def take_key(self, event: QKeyEvent) -> bool:
        """Let the page that is seen take a key that nothing else took."""
        return self.current is not None and self.current.take_key(event)

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done on the page that is seen."""
        turns = [
            Action(text, f"Alt+{place}", self._opener(name))
            for place, (name, text) in enumerate(PAGES, start=1)
        ]
        return (*(self.current.actions_here() if self.current else ()), *turns)

    def _opener(self, name: str) -> Callable[[], None]:
        return lambda: self.open(self.cook_id, name)

    def concerned(self, changes: Changes) -> bool:
        """Whether the change touches this cook, or what it is made of."""
        return self.cook_id in changes.cooks or bool(changes.kinds & ELSEWHERE)

    def refresh(self) -> None:
        """Read the cook again and show it."""
        if not self.cook_id:
            return
        try:
            self._whole = self.desk.journal.whole(self.cook_id)
        except JournalError:
            self.cook_id = ""
            put_away_all(self.window())
            self.desk.go("cooks")
            return
        for page in self._pages.values():
            page.whole = None
        self._give()

    def arrive(self) -> None:
        """Be shown."""
        super().arrive()
        self._minute.start()
        self._show_ribbon()
        if self.current is not None:
            self.current.arrive()

    def leave(self) -> None:
        """Save what still stands in a field of the page."""
        self._minute.stop()
        if self.current is not None:
            self.current.leave()


def natural_page(whole: WholeCook) -> str:
    """Return the page where a cook's life is: Plan, Bench, Tasting or Findings."""
    if whole.cook.status is CookStatus.PLANNED:
        return "plan"
    return "bench" if whole.cook.status is CookStatus.RUNNING else "findings"


def over_line(whole: WholeCook, system: UnitSystem) -> str:
    """Return the quiet line over a cook's title: number, day, cooker, set point, status."""
    cook = whole.cook
    parts = [f"Cook {cook.number}", show_day(cook.starts_at, cook.zone)]
    at = "" if cook.set_point is None else show(cook.set_point, Dimension.TEMPERATURE, system)
    cooker = whole.cooker.name if whole.cooker else ""
    parts.append(", ".join(part for part in (cooker, at) if part))
    parts.append(
        {CookStatus.RUNNING: "running", CookStatus.DONE: "done"}.get(cook.status, "planned")
    )
    if cook.brought_from:
        parts.append(f"brought along from {cook.brought_from}")
    return " · ".join(part for part in parts if part)


def since(start: datetime, now: datetime) -> str:
    """Return the time since a start as a clock: "5:12"."""
    minutes = max(0, int((now - start).total_seconds() // 60))
    return f"{minutes // 60}:{minutes % 60:02d}"
