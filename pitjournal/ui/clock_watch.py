"""The computer's clock was set while a cook runs: said once, and its times mended together."""

from collections.abc import Callable
from datetime import timedelta

from PySide6.QtWidgets import QWidget

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.times.moments import show_time
from pitjournal.journal.commands.clock import MoveTimes
from pitjournal.local_zone import local_zone
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import column, words
from pitjournal.units import Dimension, UnitSystem, show


class ClockWatch:
    """Looks whether the clock or the zone of the computer was changed."""

    def __init__(self, desk: Desk, over: QWidget, show_panel: Callable[[Overlay], None]) -> None:
        self._desk, self._over, self._show = desk, over, show_panel
        self._zone = local_zone()
        self._said = timedelta()

    def look(self) -> None:
        """Say once what was changed."""
        zone = local_zone()
        if zone != self._zone:
            self._zone = zone
            self._desk.bridge.told.emit(
                f"This computer's time zone is now {zone}. Each cook keeps the zone it was begun in."
            )
        jump = self._desk.steady.jump()
        if not jump:
            self._said = jump
            return
        running = self._desk.journal.find(Cook, status=CookStatus.RUNNING)
        if not running:
            self._desk.steady.take_new()
            return
        if abs(jump - self._said) < timedelta(minutes=1):
            return
        self._said = jump
        cook = max(running, key=lambda one: one.starts_at)
        self._show(ClockPanel(self._desk, self._over, cook, jump))


class ClockPanel(Overlay):
    """Which clock is right: what is logged goes on by the old one until that is said."""

    def __init__(self, desk: Desk, over: QWidget, cook: Cook, jump: timedelta) -> None:
        how = "set back" if jump < timedelta() else "set ahead"
        super().__init__(over, f"This computer's clock was {how}", 640)
        self._desk, self._cook, self._jump = desk, cook, jump
        self.far = show(abs(jump).total_seconds(), Dimension.DURATION, UnitSystem.METRIC)
        old = show_time(desk.steady.now(), cook.zone)
        new = show_time(desk.steady.now() + jump, cook.zone)
        text = (
            f"It was {how} by {self.far}: it said {old}, and says {new}. Until you say which is "
            f"right, what you log of “{cook.title}” goes on by the old one, in its order."
        )
        self.body.addWidget(words(text, "large"))
        since = show_time(desk.steady.since, cook.zone)
        self.mend = button(f"{new} is right: move what was logged since {since} too", self._mend)
        self.take = button(f"{new} is right: leave the times that are logged", self._take)
        self.keep = button(f"{old} is right: go on by it", self.close_panel, "primary")
        self.body.addLayout(column(self.keep, self.mend, self.take))

    def _mend(self) -> None:
        steady = self._desk.steady
        way = "back" if self._jump < timedelta() else "ahead"
        label = f"Move what was logged {way} by {self.far}"
        command = MoveTimes(self._cook.id, steady.since, self._jump, label)
        self._take()
        self._desk.bridge.do(command, self)

    def _take(self) -> None:
        self._desk.steady.take_new()
        self.close_panel()
