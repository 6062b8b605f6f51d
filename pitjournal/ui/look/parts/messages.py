"""The message bar: what was saved, with Undo beside it; what was refused; what takes long."""

from collections.abc import Callable

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QProgressBar, QWidget

from pitjournal.journal.jobs import Job
from pitjournal.ui.bridge import Bridge
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.spoken import announce
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.look.theme import high, sized

STAYS = 9000
"""Milliseconds that "saved" stays; what was refused stays until it is put away."""


def show_fraction(bar: QProgressBar, fraction: float | None) -> None:
    """Show how much is done, from 0 to 1; None keeps the bar moving."""
    bar.setRange(0, 0 if fraction is None else 100)
    bar.setValue(0 if fraction is None else round(100 * fraction))


class MessageBar(QFrame):
    """Listens to the bridge and says what happened, in one line.

    `steady` keeps its room when it says nothing, for a page that has a place for it. A silent
    one hears on, and says the newest once it may.

    Signals
    -------
    shown()
        It says something else than before.
    """

    shown = Signal()

    def __init__(
        self, bridge: Bridge, *, steady: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self._bridge, self._steady = bridge, steady
        self._silent = self._holds = False
        self._job: Job[object] | None = None
        layout = QHBoxLayout(self)
        layout.setContentsMargins(tokens.M, 3, 6, 3)
        layout.setSpacing(tokens.S)
        self.tick = words("✓ saved", "right", wrap=False)
        self.text = words("", wrap=False)
        self.progress = QProgressBar()
        self.progress.setAccessibleName("progress")
        self.progress.setTextVisible(False)
        sized(self.progress, width=140)
        self.undo = button("Undo", bridge.undo, "bar")
        self.stop = button("Stop", self._cancel, "bar", about="the work")
        self.away = button("Put away", self.put_away, "bar", about="the message")
        for part in (self.tick, self.text, self.progress, self.undo, self.stop, self.away):
            layout.addWidget(part)
        self._fade = QTimer(self, interval=STAYS, singleShot=True)
        self._fade.timeout.connect(self.put_away)
        self._poll = QTimer(self, interval=100)
        self._poll.timeout.connect(self._show_progress)
        bridge.saved.connect(self.say_saved)
        bridge.refused.connect(self.say_refused)
        bridge.told.connect(self.say_refused)
        bridge.withdrawn.connect(self.take_back)
        bridge.holding.connect(self._say_holding)
        bridge.working.connect(self._say_working)
        self._show()
        if bridge.unsaved:  # said once it is on its page: shown before, it would be a window
            QTimer.singleShot(0, self, self.put_away)

    def _show(self, *parts: QWidget) -> None:
        for part in (self.tick, self.text, self.progress, self.undo, self.stop, self.away):
            part.setVisible(part in parts)
        self._says = bool(parts)
        self._appear()

    def silence(self, *, silent: bool) -> None:
        """Say nothing while another bar does, or speak again."""
        if silent != self._silent:
            self._silent = silent
            self._appear()

    def _appear(self) -> None:
        self.setVisible((self._says or self._steady) and not self._silent)
        self.adjustSize()
        self.shown.emit()

    def say_saved(self, text: str) -> None:
        """Say that something is on the disk."""
        if self._bridge.unsaved:
            return
        walked = text.startswith(("Undid: ", "Redid: ", "There is nothing"))
        self._say(text)
        self.tick.setText("✓" if walked else "✓ saved")
        announce(self, text if walked else f"Saved: {text}")
        parts: list[QWidget] = [self.text] if walked else [self.tick, self.text]
        self._show(*parts, *([self.undo] if not text.startswith("There is nothing") else []))
        self._fade.start()

    def _say(self, text: str) -> None:
        self.text.setText(text if len(text) < 140 else text[:139] + "…")
        self.setAccessibleName(text)

    def say_refused(self, text: str) -> None:
        """Say what could not be done and what to do; it stays."""
        self._fade.stop()
        self._say(text)
        announce(self, text, urgent=True)
        self._show(self.text, self.away)
        if self._bridge.unsaved:
            self._fade.start()  # then what waits is said again

    def take_back(self, text: str) -> None:
        """Say no longer what holds no longer, if that is what is said."""
        if self.accessibleName() == text:
            self.put_away()

    def _say_holding(self, count: int) -> None:
        if not count:
            if self._holds:
                self._holds = False
                self.put_away()
            return
        self._fade.stop()
        self._holds = True
        names = self._bridge.unsaved_by_name
        held, more = ", ".join(names[:3]), " and more" if len(names) > 3 else ""
        said = f"Not saved yet: {held}{more}. {_reason(self._bridge.why)}"
        self._say(said)
        self.text.setToolTip(said)
        announce(self, said, urgent=True)
        self._show(self.text)

    def _say_working(self, job: Job[object] | None) -> None:
        self._job = job
        if job is None:
            self._poll.stop()
            self.put_away()
            return
        self._fade.stop()
        self._say(job.label)
        announce(self, job.label)
        self._show_progress()
        self._show(self.text, self.progress, self.stop)
        self._poll.start()

    def _show_progress(self) -> None:
        if self._job is None:
            return
        show_fraction(self.progress, self._job.progress.fraction)
        if self._job.progress.words:
            self._say(f"{self._job.label}: {self._job.progress.words}")

    def _cancel(self) -> None:
        if self._job is not None:
            self._job.cancel()

    def put_away(self) -> None:
        """Say nothing more, but for what is not saved yet."""
        self._fade.stop()
        if self._bridge.unsaved:
            self._say_holding(len(self._bridge.unsaved))
        else:
            self._show()


def _reason(why: str) -> str:
    return why.removeprefix("Not saved yet. ")


def place_at_foot(bar: QWidget, over: QWidget) -> Callable[[], None]:
    """Return what puts a bar at the right of the strip at the foot of another widget."""

    def place() -> None:
        bar.adjustSize()
        width = min(bar.sizeHint().width(), over.width() - 2 * tokens.XL)
        height = high(tokens.BAR_HEIGHT) - tokens.S
        left = max(over.width() - width - tokens.XL, tokens.XL)
        bar.setGeometry(left, over.height() - height - tokens.XS, width, height)
        bar.raise_()

    return place
