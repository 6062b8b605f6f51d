"""Set an alarm with a second tap; see those that stand."""

from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtWidgets import QGridLayout, QLineEdit, QVBoxLayout, QWidget

from pitjournal.analysis.bench.alarm_offers import Offer, offers, show_level
from pitjournal.analysis.bench.alarms import AlarmNow
from pitjournal.analysis.bench.windows import category_of_alarm
from pitjournal.domain.alarm import Alarm, AlarmKind, AlarmState, Watched
from pitjournal.domain.plausible import limits_of
from pitjournal.domain.times.moments import show_moment, show_time
from pitjournal.domain.times.typed_times import Looking
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import FinishAlarms, SetAlarms
from pitjournal.journal.commands.records import Remove
from pitjournal.ui.bench.ahead import rests_words
from pitjournal.ui.desk import Desk
from pitjournal.ui.event_words import named_pieces
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import Tap, button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.time_fields import TimeField
from pitjournal.ui.look.parts.words import Elided, clear, column, row, words
from pitjournal.units import Dimension, show

COLUMNS = 6


class AlarmPanel(GlovePanel):
    """Taps that each set an alarm, a line for any other, and the alarms that stand."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook, chosen: Sequence[str]) -> None:
        super().__init__(over, "Alarm", 860)
        self._desk, self._whole, self._chosen = desk, whole, tuple(chosen)
        self.body.setSpacing(tokens.S)
        self.taps: list[Tap] = []
        self._grid = QGridLayout()
        self._grid.setSpacing(tokens.S)
        for place in range(COLUMNS):
            self._grid.setColumnStretch(place, 1)
        self.body.addLayout(self._grid)
        for heading, some in offers(whole, desk.now(), chosen, desk.system).items():
            about = (
                f", {named_pieces(whole, chosen)}"
                if "temperature" in heading and whole.pieces
                else ""
            )
            self._add_taps(heading + about, some)
        self._add_own_time()
        self._add_own_level()
        self._standing = QVBoxLayout()
        self._standing.setSpacing(0)
        self.body.addLayout(self._standing)
        self.listen(desk.watch.changed, self._show_standing)
        self._show_standing()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the first tap ready."""
        super().open_panel(first or self.taps[0])

    # setting

    def _add_taps(self, heading: str, some: Sequence[Offer]) -> None:
        """Lay taps below their heading; all stand in the same columns."""
        top = self._grid.rowCount()
        self._grid.addWidget(words(heading, "heading", wrap=False), top, 0, 1, COLUMNS)
        for place, offer in enumerate(some):
            tap = Tap(offer.text)
            tap.say_below(offer.below)
            tap.tell_about(offer.label)
            tap.clicked.connect(self._setter(offer))
            self.taps.append(tap)
            self._grid.addWidget(tap, top + 1 + place // COLUMNS, place % COLUMNS)

    def _setter(self, offer: Offer) -> Callable[..., None]:
        def take(*_: object) -> None:
            self._desk.bridge.do(SetAlarms(offer.alarms, offer.label), self)
            self.close_panel()

        return take

    def _add_own_time(self) -> None:
        self._at: datetime | None = None
        self.what = QLineEdit()
        self.what.setAccessibleName("what the alarm says")
        self.what.setPlaceholderText("such as: turn in box 2")
        self.time = TimeField(
            "At",
            self._whole.cook.zone,
            self._desk.now,
            self._noted_time,
            hint="18:15 or in 40 min",
            looking=Looking.AHEAD,
        )
        self.body.addWidget(words("At another time", "heading", wrap=False))
        what = column(words("What for", "heading", wrap=False), self.what, None)
        what.setSpacing(tokens.XS // 2)
        line = row(self.time, button("Set it", self._set_time, about="at that time"))
        line.insertLayout(0, what)
        self.body.addLayout(line)

    def _noted_time(self, value: object, _typed: str) -> str:
        self._at = value if isinstance(value, datetime) else None
        return ""

    def _set_time(self) -> None:
        self.time.commit()
        if self.time.problem:
            return
        if self._at is None:
            self.time.say("Say at what time, such as 18:15 or in 40 min.")
            return
        clock = show_moment(self._at, self._whole.cook.zone, self._desk.now())
        said = self.what.text().strip() or clock
        alarm = Alarm(
            cook_id=self._whole.cook.id,
            kind=AlarmKind.AT,
            words=said,
            set_at=self._desk.now(),
            at=self._at,
        )
        self._keep((alarm,), self.time.say)

    def _add_own_level(self) -> None:
        self._level: float | None = None
        self.probe = Choice("whose temperature")
        options: list[tuple[object, str, int | None]] = [("pit", "the pit", -1)]
        if self._whole.pieces:
            options.insert(0, ("pieces", named_pieces(self._whole, self._chosen), -1))
        options += [(trace, trace.place or trace.channel, -1) for trace in self._others()]
        self.probe.offer(options)
        self.probe.choose(options[0][0])
        self.side = Choice("over or under")
        self.side.offer((("over", "over", -1), ("under", "under", -1)))
        self.side.choose("over")
        self.level = QuantityField(
            "Temperature",
            Dimension.TEMPERATURE,
            self._desk.system,
            self._noted_level,
            within=limits_of(Alarm.KIND, "high"),
        )
        self.body.addWidget(words("On another temperature", "heading", wrap=False))
        self.side.keep_in_a_row()
        self.body.addWidget(self.probe)
        self.body.addLayout(
            row(
                self.side,
                self.level,
                button("Set it", self._set_level, about="on that temperature"),
            )
        )

    def _others(self) -> tuple[Trace, ...]:
        return tuple(t for t in self._whole.traces if t.sits in {Sits.AIR, Sits.OTHER})

    def _noted_level(self, value: object, _typed: str) -> str:
        self._level = value if isinstance(value, float) else None
        return ""

    def _set_level(self) -> None:
        self.level.commit()
        if self.level.problem:
            return
        if self._level is None:
            self.level.say("Say which temperature.")
            return
        over = self.side.values() == ("over",)
        limit = f"{'over' if over else 'under'} {show_level(self._level, self._desk.system)}"
        chosen = self.probe.values()[0]
        fields: list[tuple[str, dict[str, object]]]
        if chosen == "pieces":
            wanted = [p for p in self._whole.pieces if not self._chosen or p.id in self._chosen]
            fields = [(limit, {"watched": Watched.PIECE, "piece_id": p.id}) for p in wanted]
        elif isinstance(chosen, Trace):
            name = chosen.place or chosen.channel
            fields = [(f"{name} {limit}", {"watched": Watched.PROBE, "trace_id": chosen.id})]
        else:
            fields = [(f"Pit {limit}", {"watched": Watched.PIT})]
        bounds = {"high" if over else "low": self._level}
        alarms = tuple(
            Alarm(
                cook_id=self._whole.cook.id,
                kind=AlarmKind.LEAVES,
                words=said,
                set_at=self._desk.now(),
                **bounds,  # type: ignore[arg-type]
                **where,  # type: ignore[arg-type]
            )
            for said, where in fields
        )
        self._keep(alarms, self.level.say)

    def _keep(self, alarms: tuple[Alarm, ...], say: Callable[[str], None]) -> None:
        command = SetAlarms(alarms, f"Alarm: {alarms[0].words}")
        problem = self._desk.bridge.attempt(command, self)
        if problem:
            say(problem)
            return
        self.close_panel()

    # those that stand

    def _show_standing(self) -> None:
        clear(self._standing)
        found = self._desk.watch.of_cook(self._whole.cook.id)
        self._standing.addWidget(words("Set", "heading", wrap=False))
        if not found:
            self._standing.addWidget(words("No alarm is set. One tap above sets one.", "quiet"))
        labels = {piece.id: piece.label for piece in self._whole.pieces}
        for one in found:
            label = labels.get(one.alarm.piece_id or "", "")
            what = f"{label}: {one.alarm.words}" if label else one.alarm.words
            line = row(Elided(what, "strong"), Elided(self._about(one), "quiet"))
            if not (one.done and category_of_alarm(self._whole, one.alarm.id)):
                away = button("Take it away", self._remover(one), "link", about=what)
                line.addWidget(away)
            line.setStretch(0, 3)
            line.setStretch(1, 4)
            self._standing.addLayout(line)

    def _about(self, one: AlarmNow) -> str:
        zone = self._whole.cook.zone
        parts = [str(one.state)]
        if one.done:
            return "will not ring" if one.state is AlarmState.WAITING else parts[0]
        if one.state is AlarmState.WAITING and one.due is not None and not one.over:
            parts = [show_moment(one.due, zone, self._desk.now())]
        if one.state is AlarmState.UNKNOWN:
            parts = ["unknown: no reading"]
        if one.alarm.kind is AlarmKind.BEFORE_OFF:
            forecast = self._desk.forecasts.of(one.alarm.cook_id, one.alarm.piece_id)
            said = rests_words(forecast, zone, self._desk.now())
            if one.state is AlarmState.UNKNOWN:
                parts = ["not known yet"]
            return ", ".join([*parts, *filter(None, [said])])
        if one.reading is not None and one.read_at is not None:
            degrees = show(one.reading, Dimension.TEMPERATURE, self._desk.system)
            parts.append(f"{degrees} at {show_time(one.read_at, zone)}")
        return ", ".join(parts)

    def _remover(self, one: AlarmNow) -> Callable[[], None]:
        def remove() -> None:
            label = f"Take away the alarm: {one.alarm.words}"
            if category_of_alarm(self._whole, one.alarm.id) is None or one.due is None:
                self._desk.bridge.do(Remove(Alarm, one.alarm.id, label), self)
            else:  # nobody set it: it is answered ahead
                done = FinishAlarms({one.alarm.id: one.due}, (one.alarm,), label)
                self._desk.bridge.do(done, self)

        return remove
