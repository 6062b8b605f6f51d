"""The card in the middle of the bench: the chart, the log or the photos."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime

from PySide6.QtCore import QSize, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy, QStackedWidget, QWidget

from pitjournal.domain.day.ribbon import Fan, ribbon_of
from pitjournal.domain.day.ribbon_axis import RibbonAxis
from pitjournal.domain.event import Photo
from pitjournal.domain.log_checks import Oddity, oddities
from pitjournal.domain.record import Record
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bench.ahead import AheadLine, fan_of
from pitjournal.ui.bench.log import LogList, entries
from pitjournal.ui.bench.photos.photo_strip import PhotoStrip
from pitjournal.ui.bench.unsaved_taps import NOT_SAVED, tapped_of
from pitjournal.ui.charts.ribbon.ribbon_strip import RibbonStrip, axis_of_chart
from pitjournal.ui.cook.day_chart import DayChart
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice, Flow
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.words import row
from pitjournal.units import Dimension, show

VIEWS = ("chart", "log", "photos")

SOON = 30
"""Milliseconds after a tap the ribbon follows: what was tapped is painted first."""

BAR, ABOVE = 28, 24
"""The bar of the ribbon over the chart, and the room for the present above it, px."""


class Head(QWidget):
    """A line that breaks where it must: its least height is that of one line."""

    def sizeHint(self) -> QSize:
        """Return the size of its largest part."""
        layout = self.layout()
        return QSize() if layout is None else layout.minimumSize()

    def minimumSizeHint(self) -> QSize:
        """Return the same."""
        return self.sizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the height of all lines, where large words break it."""
        super().resizeEvent(event)
        layout = self.layout()
        if layout is not None:
            self.setMinimumHeight(layout.heightForWidth(self.width()))


class LowStack(QStackedWidget):
    """Views of which each scrolls or shrinks by itself: it asks for no more than it must have."""

    def sizeHint(self) -> QSize:
        """Return the least size."""
        return self.minimumSizeHint()

    def hasHeightForWidth(self) -> bool:
        """Ask for no height that goes with its width either."""
        return False


class DayCard(Card):
    """What happened so far, in one of three ways; buttons stand at the right of its head."""

    def __init__(
        self,
        desk: Desk,
        correct: Callable[[Record], None],
        remove: Callable[[Record], None],
        mend: Callable[[Oddity], None],
        open_photo: Callable[[Photo], None],
        *beside: QPushButton,
        ahead: Callable[[], object],
    ) -> None:
        super().__init__()
        self._desk = desk
        self._odd = 0
        self._only = ""
        self._whole: WholeCook | None = None
        self._stale = set(VIEWS)
        self._drawn: tuple[WholeCook, datetime, Fan | None] | None = None
        self._ribbon_soon = QTimer(self, interval=SOON, singleShot=True)
        self._ribbon_soon.timeout.connect(self._draw_ribbon)
        self.tall()
        self.view = Choice("what is shown")
        self.view.offer((name, name, -1) for name in VIEWS)
        self.view.choose("chart")
        self.view.chosen.connect(lambda name: self.turn(str(name)))
        top = Head()
        flow = Flow(tokens.L, ends=len(beside))
        top.setLayout(flow)
        for part in (self.view, *beside):
            flow.addWidget(part)
        self.view.keep_in_a_row()
        top.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.body.addWidget(top)
        self.ahead = AheadLine(desk)
        self._line = QWidget()
        self.what_if = button("What if", ahead, "link", about="something is changed now", tip="W")
        line = row(self.ahead, self.what_if)
        line.setStretch(0, 1)
        self._line.setLayout(line)
        self.body.addWidget(self._line)
        self.ribbon = RibbonStrip(bar=BAR, lines=0, above=ABOVE)
        self.ribbon.axis_from = self._axis
        self.body.addWidget(self.ribbon)
        self.stack = LowStack()
        self.chart = DayChart(desk)
        self.chart.chart.names_spans = False  # the ribbon over it says what it was wrapped in
        self.chart.chart.looked.connect(self.ribbon.update)
        self.log = LogList(correct, remove, mend)
        self.photos = PhotoStrip(desk, open_photo)
        self.stack.addWidget(self.chart)
        self.stack.addWidget(scroll(self.log, "log"))
        self.stack.addWidget(self.photos)
        self.body.addWidget(self.stack, 1)

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's day; the views that are not seen wait until they are."""
        self._whole = whole
        self._stale = set(VIEWS)
        odd = oddities(whole, self._desk.now())
        self._count(len(odd))
        self._fill(odd)

    def show_ribbon(self, whole: WholeCook, now: datetime) -> None:
        """Show the day as a ribbon, on the axis of the chart while that is seen.

        It moves once in a minute.
        """
        minute = now.replace(second=0, microsecond=0)
        before, fan = self._drawn, fan_of(self._desk.forecasts.found(whole.cook.id), self._only)
        if before is not None and before[0] is whole and before[1:] == (minute, fan):
            return
        self._drawn = whole, minute, fan
        self._ribbon_soon.start()  # a tap is painted first

    def _draw_ribbon(self) -> None:
        if self._drawn is None:
            return
        whole, minute, fan = self._drawn
        ribbon = ribbon_of(whole, minute).with_fan(fan)
        self.ribbon.setVisible(bool(ribbon))
        if ribbon != self.ribbon.ribbon:
            self.ribbon.show_ribbon(ribbon, whole.cook.zone)
            self.chart.chart.look_again()

    def show_ahead(self, whole: WholeCook, chosen: Sequence[str]) -> None:
        """Show when it comes off; the fan is that of a piece chosen alone, else of the first off."""
        self._only = chosen[0] if len(chosen) == 1 else ""
        system, forecasts = self._desk.system, self._desk.forecasts
        forecasts.want(whole, self._only)
        self.ahead.show_cook(whole, lambda at: show(at, Dimension.TEMPERATURE, system))
        self.what_if.setVisible(not self.ahead.isHidden())
        outlook = forecasts.outlook(whole.cook.id)
        if outlook is None or self._only in {"", outlook.piece_id}:
            fan = fan_of(forecasts.found(whole.cook.id), self._only)
            self.chart.show_ahead(outlook, None if fan is None else fan.late)

    def keep_low(self, *, low: bool) -> None:
        """Leave to the chart what height there is: when it comes off stands in the band too."""
        self._line.setVisible(not low)
        self.chart.keep_low(low=low)

    def _axis(self) -> RibbonAxis | None:
        return axis_of_chart(self.chart.chart.span()) if self.stack.currentIndex() == 0 else None

    def _fill(self, odd: Sequence[Oddity] | None = None) -> None:
        name, whole = VIEWS[self.stack.currentIndex()], self._whole
        if whole is None or name not in self._stale:
            return
        self._stale.remove(name)
        if name == "chart":
            self.chart.show_cook(whole)
        elif name == "log":
            now = self._desk.now()
            held = {one.id for one in tapped_of(self._desk.bridge.waiting, whole.cook.id)}
            found = entries(whole, self._desk.system, oddities(whole, now) if odd is None else odd)
            said = [
                replace(entry, text=f"{entry.text}: {NOT_SAVED}")
                if entry.record.id in held
                else entry
                for entry in found
            ]
            self.log.show_entries(said, whole.cook.zone, now)
        else:
            self.photos.show_cook(whole)

    def _count(self, odd: int) -> None:
        """Say on its chip how many lines of the log want a look."""
        if odd != self._odd:
            self._odd = odd
            more = f", {odd} to look at" if odd else ""
            self.view.offer((name, name + more * (name == "log"), -1) for name in VIEWS)
            self.view.keep_in_a_row()
            self.view.choose(VIEWS[self.stack.currentIndex()])

    def turn(self, name: str) -> None:
        """Show the chart, the log or the photos."""
        self.view.choose(name)
        self.stack.setCurrentIndex(VIEWS.index(name))
        self.ribbon.update()
        self._fill()

    def turn_on(self) -> None:
        """Show the next of the three."""
        self.turn(VIEWS[(self.stack.currentIndex() + 1) % len(VIEWS)])
