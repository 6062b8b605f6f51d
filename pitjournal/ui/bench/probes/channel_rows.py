"""A channel of a probe file: where it sat, what its probe is off by, when it was out."""

from collections.abc import Callable, Sequence
from dataclasses import asdict

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import SwapTraces
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.journal.jobs import Progress
from pitjournal.journal.put_back import put_back
from pitjournal.ui.bench.places import LEAVE_OUT, options, placed
from pitjournal.ui.charts.trace.annotations import clock
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import sized
from pitjournal.units import Dimension, show

NONE = "none"


class ChannelRow(QWidget):
    """One trace: its place, its probe, and the spans in which it was somewhere else."""

    def __init__(self, desk: Desk, whole: WholeCook, trace: Trace, others: Sequence[Trace]) -> None:
        super().__init__()
        self._desk, self._whole, self._trace = desk, whole, trace
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(tokens.XS)
        name = words(trace.channel, "strong", wrap=False)
        sized(name, least_width=tokens.MOMENT_WIDTH)
        places = options(whole)
        if any(other.probe_file_id == trace.probe_file_id for other in others):
            places.append((LEAVE_OUT, LEAVE_OUT))  # the last one goes with its file
        self.place = ChoiceBox(f"{trace.channel} sat in", places, self._sit)
        self.place.set_value(trace.piece_id or trace.sits)
        self.probe = ChoiceBox("its probe", self._probes(), self._correct)
        self.probe.set_value(self._probe_now())
        self.swap = ChoiceBox(
            "swap with", [("", "leave"), *((t.id, self._label(t)) for t in others)], self._swap
        )
        line = row(name, self.place, self.probe, self.swap, space=tokens.L)
        for place in (1, 2, 3):
            line.setStretch(place, 1)
        outer.addLayout(line)
        self.out = [self._span(start, end) for start, end in trace.left_out]
        for span in self.out:
            outer.addWidget(span)

    def _label(self, trace: Trace) -> str:
        piece = next((p for p in self._whole.pieces if p.id == trace.piece_id), None)
        return f"{trace.channel} ({piece.label if piece else trace.place or trace.sits})"

    # where it sat

    def _sit(self, where: object) -> str:
        if where == LEAVE_OUT:
            away = Remove(Trace, self._trace.id, f"Leave out {self._trace.channel}")
            return self._desk.bridge.attempt(away, self)
        fields = asdict(placed(where))
        label = f"Place {self._trace.channel}"
        return self._desk.bridge.attempt(Change(Trace, self._trace.id, fields, label), self)

    def _swap(self, other: object) -> str:
        if not other:
            return ""
        return self._desk.bridge.attempt(SwapTraces(self._trace.id, str(other)), self)

    # what it is off by

    def _shelf(self) -> list[ShelfItem]:
        found = self._desk.journal.find(ShelfItem)
        return [item for item in found if item.kind is ShelfKind.PROBE]

    def _probes(self) -> list[tuple[object, str]]:
        from pitjournal.analysis.traces.probe_check import correction_of  # noqa: PLC0415 - numpy

        found: list[tuple[object, str]] = [(NONE, "not corrected")]
        for probe in self._shelf():
            line = correction_of(probe)
            if line is not None:
                at = show(line[0], Dimension.TEMPERATURE_DIFFERENCE, self._desk.system, signed=True)
                found.append((probe.id, f"{probe.name}: {at} in ice"))
        if self._probe_now() is None:
            own = self._trace.correction
            at = show(own, Dimension.TEMPERATURE_DIFFERENCE, self._desk.system, signed=True)
            found.append((None, f"{at} as kept"))
        return found

    def _probe_now(self) -> object:
        """Return the probe on the Shelf whose correction is kept; None if it is another's."""
        from pitjournal.analysis.traces.probe_check import correction_of  # noqa: PLC0415 - numpy

        now = self._trace.correction, self._trace.correction_slope
        if now == (0.0, 0.0):
            return NONE
        return next((p.id for p in self._shelf() if correction_of(p) == now), None)

    def _correct(self, probe_id: object) -> str:
        from pitjournal.analysis.traces.probe_check import correction_of  # noqa: PLC0415 - numpy

        probe = next((p for p in self._shelf() if p.id == probe_id), None)
        shift, slope = (correction_of(probe) if probe else None) or (0.0, 0.0)
        if probe is None and probe_id != NONE:
            return ""
        fields = {"correction": shift, "correction_slope": slope}
        label = f"Correct {self._trace.channel}"
        return self._desk.bridge.attempt(Change(Trace, self._trace.id, fields, label), self)

    # when it was out

    def _span(self, start: float, end: float) -> QWidget:
        zone = self._whole.cook.zone
        begin, until = (clock(self._trace.true_time(time), zone) for time in (start, end))
        where = "in the meat" if self._trace.sits is Sits.MEAT else "in its place"
        said = words(f"{begin} to {until}: not {where}; marked, and left out of what is worked out")
        keep = button(f"It was {where}", self._keeper((start, end)), "link")
        holder = QWidget()
        line = row(said, keep, space=tokens.L)
        line.setStretch(0, 1)
        holder.setLayout(line)
        return holder

    def _keeper(self, span: tuple[float, float]) -> Callable[[], None]:
        def keep() -> None:
            left = tuple(other for other in self._trace.left_out if tuple(other) != span)
            label = f"Keep all of {self._trace.channel}"
            self._desk.bridge.do(Change(Trace, self._trace.id, {"left_out": left}, label), self)

        return keep


class LeftOutRow(QWidget):
    """A channel of a kept file that has no trace, until it is said where it sat."""

    def __init__(
        self, desk: Desk, whole: WholeCook, file: ProbeFile, channel: tuple[str, int]
    ) -> None:
        super().__init__()
        self._desk, self._whole, self._file = desk, whole, file
        self._name, count = channel
        name = words(self._name, "strong", wrap=False)
        sized(name, least_width=tokens.MOMENT_WIDTH)
        self.said = words(f"left out, {count} readings" if count else "left out: no readings")
        places = [(LEAVE_OUT, LEAVE_OUT), *options(whole)]
        self.place = ChoiceBox(f"{self._name} sat in", places, self._sit)
        self.place.set_value(LEAVE_OUT)
        self.place.setEnabled(bool(count))
        line = row(name, self.place, self.said, space=tokens.L)
        for place in (1, 2):
            line.setStretch(place, place)
        self.setLayout(line)

    def _sit(self, where: object) -> str:
        """Have the worker read the channel, then keep it."""
        if where == LEAVE_OUT:
            return ""
        desk, whole, file, name = self._desk, self._whole, self._file, self._name

        def work(progress: Progress) -> Command:
            progress.report(None, name)
            return put_back(desk.journal, whole, file, name, placed(where))

        def done(command: Command) -> None:
            problem = desk.bridge.attempt(command, self)
            if problem:
                failed(problem)

        def failed(why: str) -> None:
            self.said.setText(why)
            self.place.set_value(LEAVE_OUT)
            self.place.setEnabled(True)

        self.place.setEnabled(False)
        self.said.setText("reading it…")
        desk.bridge.run(f"Put {name} back", work, done, failed, asker=self)
        return ""
