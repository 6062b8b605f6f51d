"""The probe files of a cook: each one's clock, and where its channels sat."""

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.records import Remove
from pitjournal.journal.put_back import left_out_of
from pitjournal.ui.bench.probes.channel_rows import ChannelRow, LeftOutRow
from pitjournal.ui.bench.probes.file_clock import FileClock
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.words import clear, row, rule, words


class ProbeFilesPanel(Overlay):
    """A part a file: its clock, then its channels."""

    def __init__(self, over: QWidget, desk: Desk, cook_id: str) -> None:
        super().__init__(over, "Probe files", 940)
        self._desk, self._cook_id = desk, cook_id
        self.clocks: list[FileClock] = []
        self.channels: list[ChannelRow] = []
        self.left_out: list[LeftOutRow] = []
        holder = QWidget()
        self._parts = QVBoxLayout(holder)
        self._parts.setContentsMargins(0, 0, tokens.M, 0)
        self._parts.setSpacing(tokens.M)
        area = scroll(holder, "probe files")
        area.setMinimumHeight(tokens.PANEL_HEIGHT)
        self.body.addWidget(area, 1)
        self.listen(desk.bridge.changed, self._changed)
        self._show()

    def _changed(self, changes: object) -> None:
        if {"trace", "probe_file"} & set(getattr(changes, "kinds", ())):
            self._show()

    def _show(self) -> None:
        whole = self._desk.seen(self._desk.journal.whole(self._cook_id))
        clear(self._parts)
        self.clocks, self.channels, self.left_out = [], [], []
        if not whole.probe_files:
            self._parts.addWidget(words("No probe file yet. Read one with Ctrl+R on the bench."))
        for file in whole.probe_files:
            self._add(whole, file)
        self._parts.addStretch(1)

    def _add(self, whole: WholeCook, file: ProbeFile) -> None:
        traces = [trace for trace in whole.traces if trace.probe_file_id == file.id]
        remove = button("Remove the file", self._remover(file), "link", about=file.name)
        self._parts.addLayout(row(words(file.name, "large", wrap=False), None, remove))
        clock = FileClock(self._desk, whole, file, traces)
        self.clocks.append(clock)
        self._parts.addWidget(clock)
        for trace in traces:
            channel = ChannelRow(self._desk, whole, trace, self._others(whole, trace))
            self.channels.append(channel)
            self._parts.addWidget(channel)
        for away in left_out_of(whole, file):
            left_out = LeftOutRow(self._desk, whole, file, away)
            self.left_out.append(left_out)
            self._parts.addWidget(left_out)
        self._parts.addWidget(rule())

    @staticmethod
    def _others(whole: WholeCook, trace: Trace) -> list[Trace]:
        return [other for other in whole.traces if other.id != trace.id]

    def _remover(self, file: ProbeFile) -> Callable[[], None]:
        def remove() -> None:
            self._desk.bridge.do(Remove(ProbeFile, file.id, f"Remove {file.name}"), self)

        return remove
