"""What each trace says: value by value, with the readings it comes from."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.jobs import Progress
from pitjournal.ui.charts.trace.annotations import clock
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import words
from pitjournal.units import Dimension, show

if TYPE_CHECKING:
    from pitjournal.analysis.traces.facts import TraceFact

HEADS = ("value", "read from", "readings", "longest gap")

MOST = 24 * 3600.0
"""Meat that came to 90 °C holds years at 70 °C: a longer time than this says no more, s."""


class TraceSaysPanel(Overlay):
    """The facts of one trace at a time."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook) -> None:
        super().__init__(over, "What the traces say", 900)
        self._desk, self._whole = desk, whole
        self._traces = {t.id: t for t in whole.traces if t.sits in {Sits.PIT, Sits.MEAT}}
        self.choice = Choice("trace")
        self.choice.offer((t.id, *self._label(t)) for t in self._traces.values())
        self.choice.chosen.connect(self.turn)
        self.body.addWidget(self.choice)
        self.source = words("", "quiet")
        self.body.addWidget(self.source)
        self.table = FactTable("what the trace says")
        self.table_words = words("", "quiet")
        holder = QWidget()
        inside = QVBoxLayout(holder)
        inside.setContentsMargins(0, 0, tokens.M, 0)
        inside.addWidget(self.table)
        inside.addWidget(self.table_words)
        inside.addStretch(1)
        area = scroll(holder, "what the trace says")
        area.setMinimumHeight(tokens.PANEL_HEIGHT)
        self.body.addWidget(area, 1)
        self.turn(next(iter(self._traces), ""))

    def _label(self, trace: Trace) -> tuple[str, int | None]:
        piece = next((p for p in self._whole.pieces if p.id == trace.piece_id), None)
        if piece is None:
            place = trace.place or trace.channel
            same = [t.id for t in self._traces.values() if (t.place or t.channel) == place]
            return place if len(same) == 1 else f"{place}, {same.index(trace.id) + 1}", -1
        arm = self._whole.arm_index(piece.arm_id)
        return piece.label, -1 if arm is None else arm

    def turn(self, trace_id: object) -> None:
        """Show what a trace says, once it is worked out."""
        trace = self._traces.get(str(trace_id))
        if trace is None:
            self.table_words.setText("No trace of the pit or of a piece yet.")
            return
        self.choice.choose(trace.id)
        whole, journal = self._whole, self._desk.journal

        def work(_progress: Progress) -> "tuple[TraceFact, ...]":
            from pitjournal.analysis.traces.facts import facts_of_trace  # noqa: PLC0415 - numpy

            return facts_of_trace(whole, trace, journal.files.samples(trace), journal.files.samples)

        def done(facts: "tuple[TraceFact, ...]") -> None:
            if self.choice.values() == (trace.id,):
                self._show(trace, facts)

        self._desk.bridge.run("Read the trace", work, done, asker=self)

    def _show(self, trace: Trace, facts: "tuple[TraceFact, ...]") -> None:
        file = next(f for f in self._whole.probe_files if f.id == trace.probe_file_id)
        self.source.setText(
            f"Channel {trace.channel} of {file.name}. A gap over 15 min makes what spans it "
            "unknown; a shorter one is bridged by a straight line. The probe may not have sat "
            "at the coldest point."
        )
        if not facts:
            self.table.show_rows([], [])
            self.table_words.setText("Log when it went on and came off, and this fills itself.")
            return
        rows = [(self._name(f), self._cells(f)) for f in facts if f.key != "stall_ended"]
        self.table.show_rows([(head, None) for head in HEADS], rows)
        why = {self._name(f): f.why for f in facts if f.value is None and f.why}
        self.table_words.setText("\n".join(f"{name}: {text}." for name, text in why.items()))

    def _name(self, fact: "TraceFact") -> str:
        return self._desk.catalogue[fact.key].label

    def _cells(self, fact: "TraceFact") -> tuple[str, ...]:
        system = self._desk.system
        dimension = self._desk.catalogue[fact.key].dimension
        value = "–" if fact.value is None else show(fact.value, dimension, system)
        if dimension is Dimension.DURATION and fact.value is not None and fact.value > MOST:
            value = f"over {show(MOST, dimension, system)}"
        elif fact.open:
            value = f"at least {value}"
        elif fact.low is not None and fact.high is not None:
            low, high = (show(v, dimension, system) for v in (fact.low, fact.high))
            value = f"{value} ({low} to {high})" if low != high else value
        if fact.used is None:
            return value, "–", "–", "–"
        ends = (clock(time, self._whole.cook.zone) for time in (fact.used.start, fact.used.end))
        gap = show(fact.used.longest_gap, Dimension.DURATION, system)
        return value, " to ".join(ends), f"{fact.used.readings}", gap
