"""The clocks of a cook's probe files: shift one by hand, or take what the lid dips propose."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.journal.commands.records import Change, Remove, Together
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import row, rule, words
from pitjournal.units import Dimension, show

NO_MATTER = 60.0
"""A clock that is off by less is left alone, s."""


class ClockPanel(Overlay):
    """A line a file."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook) -> None:
        super().__init__(over, "Probe files and their clocks", 760)
        self._desk, self._whole = desk, whole
        self.fields: dict[str, QuantityField] = {}
        if not whole.probe_files:
            self.body.addWidget(words("No probe file yet."))
        for file in whole.probe_files:
            self._add(file)

    def _traces(self, file: ProbeFile) -> list[Trace]:
        return [trace for trace in self._whole.traces if trace.probe_file_id == file.id]

    def _add(self, file: ProbeFile) -> None:
        traces = self._traces(file)
        field = QuantityField(
            f"Add to the clock of {file.name}",
            Dimension.DURATION,
            self._desk.system,
            self._keeper(file),
            hint="3 min or −90 s",
        )
        field.set_value(traces[0].shift if traces else 0.0)
        self.fields[file.id] = field
        self.body.addWidget(field)
        said, take = self._proposal(file)
        line = row(words(said, "quiet"))
        line.setStretch(0, 1)
        if take is not None:
            line.addWidget(button("Take it", take, "primary"))
        line.addWidget(button("Remove the file", self._remover(file), "link"))
        self.body.addLayout(line)
        self.body.addWidget(rule())

    def _keeper(self, file: ProbeFile) -> Callable[[object, str], str]:
        def keep(value: object, _typed: str) -> str:
            shift = value if isinstance(value, float) else 0.0
            changes = tuple(
                Change(Trace, trace.id, {"shift": shift}) for trace in self._traces(file)
            )
            both = Together(changes, f"Shift the clock of {file.name}")
            return self._desk.bridge.attempt(both, self)

        return keep

    def _proposal(self, file: ProbeFile) -> tuple[str, Callable[[], None] | None]:
        """Return what the lid dips say of this file's clock, and how to take it."""
        from pitjournal.analysis.clocks import propose_shift  # noqa: PLC0415 - numpy
        from pitjournal.analysis.pit import lid_dips  # noqa: PLC0415

        pit = next((t for t in self._traces(file) if t.sits is Sits.PIT), None)
        lids = self._whole.lid_moments
        if pit is None or not lids:
            return "Log lid openings and place the pit's probe to have the clock proposed.", None
        try:
            samples = self._desk.journal.samples(pit)
        except JournalError as error:
            return str(error), None
        found = propose_shift(lid_dips(samples), lids)
        if found is None:
            return "The lid dips do not match what was logged.", None
        shift = pit.shift + found.shift
        if abs(found.shift) < NO_MATTER:
            said = f"{found.matched} of {found.dips} lid dips meet what was logged."
            return said, None
        size = show(shift, Dimension.DURATION, self._desk.system, signed=True)
        said = f"{found.matched} of {found.dips} lid dips would meet what was logged at {size}."
        field = self.fields[file.id]

        def take() -> None:
            problem = self._keeper(file)(shift, "")
            field.set_value(shift)
            field.say(problem)

        return said, take

    def _remover(self, file: ProbeFile) -> Callable[[], None]:
        def remove() -> None:
            self._desk.bridge.do(Remove(ProbeFile, file.id, f"Remove {file.name}"), self)
            self.close_panel()

        return remove
