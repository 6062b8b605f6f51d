"""The band over the bench while an alarm is due: it cannot be overlooked, and says what to do."""

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout

from pitjournal.domain.alarm import AlarmKind, AlarmState
from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.times.moments import show_ago, show_moment, show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bench.ahead import rests_words
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import Tap
from pitjournal.ui.look.parts.words import Elided, column, row
from pitjournal.ui.look.theme import sized
from pitjournal.ui.silence import is_silence
from pitjournal.ui.watch import Called
from pitjournal.units import Dimension, show
from pitjournal.units.first_letter import capital

ANSWERS = {"": "Done", "feel": "Probe", "lit": "Fuel"}
"""What does what an alarm is for, where it is not the event's own word."""


class AlarmBar(QFrame):
    """The first alarm that is due, with what silences it and what does it."""

    def __init__(self, desk: Desk, do_it: Callable[[Called], None]) -> None:
        super().__init__()
        self._desk, self._do_it = desk, do_it
        self.called: Called | None = None
        self.setProperty("role", "alarm")
        sized(self, lines=3, height=tokens.BAND_HEIGHT)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(tokens.L, 0, tokens.M, 0)  # a tap is as high as the band
        layout.setSpacing(tokens.M)
        self.said = Elided("", "alarm-said")
        self.why = Elided("", "alarm-why")
        layout.addLayout(column(None, self.said, self.why, None, space=4), 1)
        self.hear = self._tap("Heard", desk.watch.hear)
        self.later = self._tap("In 10 min", desk.watch.put_off)
        self.done = self._tap("Done", self._do_it)
        layout.addLayout(row(self.hear, self.later, self.done))
        desk.watch.changed.connect(self.show_alarms)
        self.hide()  # shown by the page, once it is on it

    def _tap(self, text: str, run: Callable[[Called], None]) -> Tap:
        tap = Tap(text)
        sized(tap, width=tokens.ANSWER_WIDTH)

        def take() -> None:
            if self.called is not None:
                run(self.called)

        tap.clicked.connect(lambda *_: take())
        tap.held.connect(take)
        return tap

    def show_alarms(self) -> None:
        """Show what rings, else what was heard and is not done; with neither, nothing."""
        found = self._desk.watch.called
        self.called = found[0] if found else None
        self.setVisible(bool(found))
        if self.called is None:
            return
        ringing = self.called.state is AlarmState.RINGING
        if bool(self.property("ringing")) != ringing:
            self.setProperty("ringing", ringing)
            for part in (self, self.said, self.why):
                part.setProperty("ringing", ringing)
                part.style().unpolish(part)
                part.style().polish(part)
        more = f", and {len(found) - 1} more" if len(found) > 1 else ""
        heading = "" if ringing else "Heard, not done: "
        self.said.show_text(f"{heading}{self.called.words}{more}")
        self.why.show_text(self._why(self.called))
        self.setAccessibleName(f"alarm: {self.said.accessibleName()}. {self.why.accessibleName()}")
        self.hear.setVisible(ringing)
        self.later.setVisible(ringing)
        self.done.setText(ANSWERS.get(self.called.does, capital(self.called.does)))

    def _why(self, called: Called) -> str:
        first, zone = called.alarms[0], called.whole.cook.zone
        now = self._desk.now()
        parts = [f"Now {show_time(now, zone)}"]
        if len(self._desk.journal.find(Cook, status=CookStatus.RUNNING)) > 1:
            parts.insert(0, f"Cook {called.whole.cook.number}: {called.whole.cook.title}")
        if first.due is not None and not is_silence(first.alarm):
            ago = (now - first.due).total_seconds()
            parts.append(f"Due {show_moment(first.due, zone, now)}, {show_ago(max(ago, 0.0))}")
        if first.reading is not None and first.read_at is not None:
            degrees = show(first.reading, Dimension.TEMPERATURE, self._desk.system)
            parts.append(f"{degrees} at {show_moment(first.read_at, zone, now)}")
        rests = self._desk.forecasts.of(first.alarm.cook_id, first.alarm.piece_id)
        if first.alarm.kind is AlarmKind.BEFORE_OFF and rests is not None:
            parts.append(rests_words(rests, zone, now))
        if first.over:
            parts.append("back within its limit")
        if first.alarm.source:
            parts.append(first.alarm.source)
        return " · ".join(parts)


def next_alarm(desk: Desk, whole: WholeCook) -> str:
    """Return when the next alarm is due, or that a probe has fallen silent."""
    waiting = [a for a in desk.watch.of_cook(whole.cook.id) if not a.is_open]
    if any(a.state is AlarmState.UNKNOWN and a.reading is not None for a in waiting):
        return "no reading"
    due = [a.due for a in waiting if a.due is not None and a.due > desk.now()]
    if due:
        return show_moment(min(due), whole.cook.zone, desk.now())
    return f"{len(waiting)} set" if waiting else ""
