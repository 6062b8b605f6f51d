"""The clock of a probe file: typed, dragged, told by a lid dip, or taken as proposed."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.journal.commands.files import SetClock
from pitjournal.ui.charts.trace.annotations import clock
from pitjournal.ui.charts.trace.chart import EventMark, Line, TraceChart
from pitjournal.ui.cook.traces import marks
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Flow
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.units import Dimension, show, to_display, unit_label

NO_MATTER = 60.0
"""A clock that is off by less is left alone, s."""

HOUR = 3600.0
MOST_DIPS = 12
NEAR = 3 * HOUR
"""An event further from a dip is not offered for it, s."""


class FileClock(QWidget):
    """What is added to a device's clock, and how to find it."""

    def __init__(
        self, desk: Desk, whole: WholeCook, file: ProbeFile, traces: Sequence[Trace]
    ) -> None:
        super().__init__()
        self._desk, self._whole, self._file = desk, whole, file
        first = min(traces, key=lambda trace: trace.starts_at, default=None)
        self._shift = first.shift if first else 0.0
        self._drift = first.drift if first else 0.0
        self._pit = next((trace for trace in traces if trace.sits is Sits.PIT), first)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(tokens.S)
        self.shift = self._field("Add to its clock", self._shift, self._set_shift, "3 min or −90 s")
        self.drift = self._field(
            "and for each hour it ran", self._drift * HOUR, self._set_drift, "2 s"
        )
        outer.addLayout(row(self.shift, self.drift, space=tokens.L))
        self.problem = Problem()
        outer.addWidget(self.problem)
        self.dips: list[ChoiceBox] = []
        self._said: dict[float, float] = {}
        self.chart: TraceChart | None = None
        if self._pit is not None:
            self._show_pit(outer, self._pit)

    def _field(self, label: str, value: float, save: object, hint: str) -> QuantityField:
        field = QuantityField(
            label,
            Dimension.DURATION,
            self._desk.system,
            save,  # type: ignore[arg-type]
            hint=hint,
        )
        field.set_value(value or None)
        return field

    # setting it

    def _set(self, shift: float, drift: float) -> str:
        label = f"Set the clock of {self._file.name}"
        return self._desk.bridge.attempt(SetClock(self._file.id, shift, drift, label), self)

    def _set_shift(self, value: object, _typed: str) -> str:
        return self._set(value if isinstance(value, float) else 0.0, self._drift)

    def _set_drift(self, value: object, _typed: str) -> str:
        slow = value / HOUR if isinstance(value, float) else 0.0
        return self._set(self._shift, slow)

    def _dragged(self, seconds: float) -> None:
        self.problem.say(self._set(self._shift + seconds, self._drift))

    # finding it

    def _show_pit(self, outer: QVBoxLayout, pit: Trace) -> None:
        from pitjournal.analysis.traces.features import ordered  # noqa: PLC0415 - numpy
        from pitjournal.analysis.traces.pit import lid_dips  # noqa: PLC0415 - numpy

        try:
            samples = self._desk.journal.files.samples(pit)
        except JournalError as error:
            self.problem.say(str(error))
            return
        times, values = ordered(samples)
        shown = to_display(values, Dimension.TEMPERATURE, self._desk.system)
        self.chart = TraceChart(unit_label(Dimension.TEMPERATURE, self._desk.system))
        sized(self.chart, height=tokens.SMALL_CHART_HEIGHT)
        line = Line(pit.id, pit.place or pit.channel, times, shown, None, "pit")
        happened = [mark for mark in marks(self._whole) if not mark.planned]
        self.chart.show_lines([line], happened, zone=self._whole.cook.zone)
        self.chart.move_by_drag(self._dragged)
        outer.addWidget(self.chart)
        dips = [float(dip) for dip in lid_dips(samples)]
        self._propose(outer, dips)
        if pit.sits is Sits.PIT and dips and self._whole.lid_moments:
            self._offer_dips(outer, dips, happened)

    def _propose(self, outer: QVBoxLayout, dips: list[float]) -> None:
        """Say what the lid dips say of this clock, with the way to take it."""
        from pitjournal.analysis.traces.clocks import propose_shift  # noqa: PLC0415 - numpy

        found = propose_shift(dips, self._whole.lid_moments)
        drag = "Ctrl and drag moves the trace against what was logged."
        if found is None:
            outer.addWidget(words(f"The lid dips do not match what was logged. {drag}", "quiet"))
            return
        if abs(found.shift) < NO_MATTER:
            said = f"{found.matched} of {found.dips} lid dips meet what was logged. {drag}"
            outer.addWidget(words(said, "quiet"))
            return
        shift = self._shift + found.shift
        size = show(shift, Dimension.DURATION, self._desk.system, signed=True)
        said = f"{found.matched} of {found.dips} lid dips would meet what was logged at {size}."
        self.take = button("Take it", lambda: self.problem.say(self._set(shift, self._drift)))
        line = row(words(f"{said} {drag}", "quiet"), self.take)
        line.setStretch(0, 1)
        outer.addLayout(line)

    def _offer_dips(
        self, outer: QVBoxLayout, dips: list[float], happened: Sequence[EventMark]
    ) -> None:
        """Offer for each dip what was logged near it."""
        outer.addWidget(
            words("Or say what a dip was; two of them, far apart, tell a drift too.", "quiet")
        )
        holder = QWidget()
        flow = Flow(tokens.M)
        holder.setLayout(flow)
        for dip in dips[:MOST_DIPS]:
            near = sorted(
                (mark for mark in happened if abs(mark.time - dip) <= NEAR),
                key=lambda mark: abs(mark.time - dip),
            )
            options = [(None, "not said")]
            options += [(mark.time, f"{mark.text} {self._clock(mark.time)}") for mark in near[:8]]  # type: ignore[misc]
            box = ChoiceBox(f"dip at {self._clock(dip)} was", options, self._namer(dip))
            self.dips.append(box)
            flow.addWidget(box)
        outer.addWidget(holder)
        self.by_dips = button("Set the clock by these", self._set_by_dips)
        outer.addLayout(row(self.by_dips, None))

    def _namer(self, dip: float) -> Callable[[object], str]:
        def name(true: object) -> str:
            self._said.pop(dip, None)
            if isinstance(true, float):
                self._said[dip] = true
            return ""

        return name

    def _clock(self, time: float) -> str:
        return clock(time, self._whole.cook.zone)

    def _set_by_dips(self) -> None:
        """Set the clock by the dips that were named."""
        from pitjournal.analysis.traces.clocks import clock_through  # noqa: PLC0415 - numpy

        assert self._pit is not None
        if not self._said:
            self.problem.say("Say first what at least one dip was.")
            return
        pairs = [(self._device(dip), true) for dip, true in sorted(self._said.items())]
        found = clock_through(pairs, self._pit.starts_at.timestamp())
        if found is None:
            self.problem.say(
                "These lie too near each other to tell a drift: take one, or two further apart."
            )
            return
        self.problem.say(self._set(*found))

    def _device(self, time: float) -> float:
        """Return a shown time as the device's clock had it."""
        assert self._pit is not None
        start = self._pit.starts_at.timestamp()
        return start + (time - start - self._pit.shift) / (1.0 + self._pit.drift)
