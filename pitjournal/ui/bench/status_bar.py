"""The top band of the bench: the clock, the next thing, when it comes off; and the fire."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from pitjournal.analysis.bench.fire import burning
from pitjournal.analysis.bench.live import Live
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.day.schedule import due as steps_due
from pitjournal.domain.event import EventKind
from pitjournal.domain.fires import fuel_used, left_weighed
from pitjournal.domain.times.moments import show_ago, show_moment, show_time
from pitjournal.domain.treatment import FuelStage
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bench.fuel_panel import lasts_short
from pitjournal.ui.bench.model import Due, Life, PieceNow, next_due, running_time
from pitjournal.ui.bench.off_card import OffCard
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.reflow import NARROW, WIDE, ByWidth
from pitjournal.ui.look.parts.words import Elided, column, row, words
from pitjournal.ui.look.theme import letters_wider, px, sized
from pitjournal.units import Dimension, UnitSystem, show

LOW_BAND, LOW_DUE = 52, 68
"""The heights of the cards where the three have no room side by side, px."""

SIDE_BY_SIDE = 740
"""So wide three cards can stand side by side, px."""

LATER = timedelta(minutes=10)
NOTHING = Due("", "")

ROOMY = 560
"""What is next is said larger where its card is so wide, px."""


class ClockCard(Card):
    """What the cook's own clock shows, how long the meat has been on, when to serve."""

    def __init__(self) -> None:
        super().__init__()
        self.clock = words("", "clock", wrap=False, tabular=True)
        self.running = words("", "strong", wrap=False)
        self.serving = words("", "quiet", wrap=False)
        self.body.addLayout(
            row(self.clock, column(None, self.running, self.serving, None, space=2), space=12)
        )

    def say_shortly(self, *, shortly: bool) -> None:
        """Show a smaller clock, without the time of the turn-in, where there is little room."""
        role = "big" if shortly else "clock"
        if self.clock.property("role") != role:
            self.clock.setProperty("role", role)
            self.clock.style().polish(self.clock)
        self.serving.setVisible(not shortly)

    def show_cook(self, whole: WholeCook, now: datetime) -> None:
        """Show the time of a cook."""
        cook = whole.cook
        self.clock.setText(show_time(now, cook.zone))
        self.running.setText(running_time(whole, now))
        serve = cook.serve_at
        said = "" if serve is None else f"serve {show_moment(serve, cook.zone, now)}"
        self.serving.setText(said or {CookStatus.DONE: "done"}.get(cook.status, ""))


class DueCard(Card):
    """The next thing to do, which one tap does or puts off."""

    def __init__(
        self,
        do_it: Callable[[], object],
        look_again: Callable[[], object],
        finish: Callable[[], object],
    ) -> None:
        super().__init__(role="due")
        self.due = NOTHING
        self._snoozed: dict[tuple[str, str], datetime] = {}
        self._cook_id = ""
        self._now: datetime | None = None
        self._look_again = look_again
        self.heading_line = Elided("", "next")
        self.why = words("", wrap=True)
        self.do_it = button("Do it", do_it, "primary", about="now")
        self.later = button("Later", self._snooze)
        self.finish = button("Finish the cook", finish, "primary")
        box = QHBoxLayout()
        box.addLayout(column(None, self.heading_line, self.why, None, space=4), 1)
        box.addLayout(row(self.do_it, self.later, self.finish))
        self.body.addLayout(box)

    def show_cook(self, whole: WholeCook, now: datetime, pieces: Sequence[PieceNow]) -> None:
        """Show what is next."""
        self._now, self._cook_id = now, whole.cook.id
        due = next_due(whole, now, pieces)
        snoozed = self._snoozed.get((whole.cook.id, due.heading))
        if snoozed is not None and now < snoozed:
            due = replace(due, heading="Nothing is due", words="You said later.", tap="")
        done = whole.cook.status is CookStatus.DONE
        if done:
            due = replace(due, heading="This cook is done", words="Later notes count too.", tap="")
        self.due = due
        self.heading_line.show_text(due.heading)
        self.why.setText(due.words)
        self.do_it.setVisible(bool(due.tap))
        self.do_it.setText({"feel": "Probe", "weigh": "Weigh"}.get(due.tap, due.tap.capitalize()))
        self.later.setVisible(bool(due.tap))
        off = bool(pieces) and all(piece.life is Life.OFF for piece in pieces)
        boxes = any(step.kind == StepKind.TURN_IN for step in steps_due(whole.events))
        running = whole.cook.status is CookStatus.RUNNING
        self.finish.setVisible(off and running and not boxes)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say what is next as large as there is room for."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        finish = 0 if self.finish.isHidden() else self.finish.sizeHint().width()
        role = "next" if self.width() - finish >= px(ROOMY) else "next-small"
        if self.heading_line.property("role") != role:
            self.heading_line.setProperty("role", role)
            self.heading_line.style().polish(self.heading_line)

    def _snooze(self) -> None:
        if self._now is not None:
            self._snoozed[self._cook_id, self.due.heading] = self._now + LATER
            self._look_again()


class FireNow(QWidget):
    """The pit, the fuel used, and when the fire was lit and fed, in one line."""

    def __init__(self) -> None:
        super().__init__()
        self.heading = words("Fire", "heading", wrap=False)
        self.used = words("", "quiet", wrap=False)
        self.about = Elided("", "quiet")
        line = row(self.heading, self.used, self.about, space=tokens.L)
        line.setStretch(2, 1)
        self.setLayout(line)

    def show_cook(
        self, whole: WholeCook, now: datetime, system: UnitSystem, pit: Live | None
    ) -> None:
        """Show a cook's fire, and what the pit's probe says now."""
        degrees = None if pit is None else show(pit.value, Dimension.TEMPERATURE, system)
        self.heading.setText(f"Fire · pit {degrees} now" if degrees else "Fire")
        used = fuel_used(whole)
        lit = whole.first(EventKind.LIT)
        fed = [load for load in whole.fuel_loads if load.at is not None]
        added = [load for load in whole.fuel_loads if load.stage is FuelStage.ADDED]
        burnt = "used" if left_weighed(whole) else "put in"
        if used is not None:
            said = f"{show(used, Dimension.MASS, system)} {burnt}"
        elif added:  # and nobody weighed what the fire began with
            said = f"{show(sum(load.mass for load in added), Dimension.MASS, system)} added"
        else:
            said = "no fuel weighed"
        self.used.setText(said)
        parts = []
        if lit is not None and lit.happened_at is not None:
            parts.append(f"lit {show_moment(lit.happened_at, whole.cook.zone, now)}")
        found = burning(whole, now) if whole.cook.status is CookStatus.RUNNING else None
        if found is not None:
            parts.append(lasts_short(found))
        if fed and fed[-1].at is not None and whole.cook.status is CookStatus.RUNNING:
            parts.append(f"fed {show_ago((now - fed[-1].at).total_seconds())}")
        if whole.cook.set_point is not None:
            parts.append(f"set {show(whole.cook.set_point, Dimension.TEMPERATURE, system)}")
        self.about.show_text(" · ".join(parts[:2]))


class StatusBar(ByWidth):
    """The three cards side by side; what is next below the others where it has no room."""

    def __init__(self, clock: ClockCard, due: DueCard, off: OffCard) -> None:
        super().__init__(tokens.M)
        self._clock, self._due, self._off = clock, due, off
        for card in (clock, due, off):
            card.body.setContentsMargins(tokens.L, tokens.XS, tokens.L, tokens.XS)
        self.fit()

    def fitting(self) -> int:
        """Return whether the three have room side by side."""
        return WIDE if self.width() >= px(SIDE_BY_SIDE) * letters_wider() else NARROW

    def lay(self, layout: int) -> None:
        """Lay what is next between the others, or below them."""
        wide = layout == WIDE
        for card in (self._clock, self._due, self._off):
            if wide:
                sized(card, lines=4, height=tokens.BAND_HEIGHT)
            elif card is self._due:
                sized(card, lines=3, height=LOW_DUE)
            else:  # large words: one line for the clock and one for what comes off
                sized(card, lines=1, height=LOW_BAND)
        self._clock.say_shortly(shortly=not wide)
        self._off.say_shortly(shortly=not wide)
        self.grid.addWidget(self._clock, 0, 0, 1, 1 if wide else 2)
        if wide:
            self.grid.addWidget(self._due, 0, 1)
        else:
            self.grid.addWidget(self._due, 1, 0, 1, 3)
        self.grid.addWidget(self._off, 0, 2)
        self.grid.setColumnStretch(1, 1)
