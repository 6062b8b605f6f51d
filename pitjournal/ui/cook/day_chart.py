"""The day of a cook in a chart: by the clock, or with its pieces lined up at a moment."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.formats import Format, format_for
from pitjournal.files.writing import named_after, write_bytes
from pitjournal.journal.jobs import Progress
from pitjournal.journal.queries.ahead import Outlook
from pitjournal.ui.charts.trace.chart import TraceChart
from pitjournal.ui.cook.traces import Align, TraceReader, align_words, alignments, show_day
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import FileKind, save_file
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import row
from pitjournal.units import Dimension, unit_label

AT_ONCE = 100_000
"""So many readings are read in the time of a blink."""

CHART_FORMATS: tuple[Format[TraceChart], ...] = (
    Format(".png", "Picture", TraceChart.as_png),
    Format(".svg", "Drawing", TraceChart.as_svg),
)
PICTURES = ";;".join(f"{form.words} (*{form.suffix})" for form in CHART_FORMATS)


class DayChart(QWidget):
    """The chart of traces, with what lines it up below."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._reader = TraceReader(desk.journal.files.all_samples)
        self._whole: WholeCook | None = None
        self._align = Align.CLOCK
        self._low = False
        self._ahead: tuple[Outlook | None, float | None] = None, None
        self.chart = TraceChart(unit_label(Dimension.TEMPERATURE, desk.system))
        self.chart.now = lambda: desk.now().timestamp()
        self.align = ChoiceBox("what the traces are lined up at", (), self.line_up, bare=True)
        self._save = button("Save picture", self.save, "link", about="of the chart")
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(tokens.XS)
        outer.addWidget(self.chart, 1)
        self._below = QWidget()
        says = button("What they say", self.say, "link", about="of pit and meat")
        line = row(self.align, None, says, self._save, space=tokens.L)
        self._below.setLayout(line)
        outer.addWidget(self._below)

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's day."""
        self._whole = whole
        can = alignments(whole)
        if self._align not in can:
            self._align = Align.CLOCK
        self.align.offer((align, align_words(align, self._desk.system)) for align in can)
        self.align.set_value(self._align)
        self.align.setVisible(len(can) > 1)
        self._make_room()
        self.chart.runs = whole.cook.status is CookStatus.RUNNING
        self._draw()

    def show_ahead(self, ahead: Outlook | None, until: float | None = None) -> None:
        """Show where a piece goes from its last reading; the day is seen `until` then, s since 1970."""
        if (ahead, until) != self._ahead:
            self._ahead = ahead, until
            self._draw()

    def keep_low(self, *, low: bool) -> None:
        """Give all the height to the chart, or let what is done with it stand below."""
        self._low = low
        self._make_room()

    def _make_room(self) -> None:
        traces = self._whole is not None and bool(self._whole.traces)
        self._below.setVisible(traces and not self._low)

    @property
    def can(self) -> Sequence[Align]:
        """What the traces can be lined up at."""
        return alignments(self._whole) if self._whole is not None else ()

    def line_up_next(self) -> None:
        """Line the traces up at the next moment they can be."""
        can = list(self.can)
        if can:
            self.line_up(can[(can.index(self._align) + 1) % len(can)])

    def _draw(self) -> None:
        """Draw it; long traces that were not read yet are read by the worker first."""
        whole, align, system = self._whole, self._align, self._desk.system
        if whole is None:
            return
        unread = sum(trace.count for trace in self._reader.unread(whole, system))
        if unread <= AT_ONCE:
            show_day(self.chart, self._reader, whole, system, align, ahead=self._ahead)
            return

        def work(progress: Progress) -> None:
            progress.report(None, f"{unread:,} readings")
            self._reader.lines(whole, system, align)

        def done(_: None) -> None:
            if self._whole is whole:
                self._draw()

        self._desk.bridge.run("Read the traces", work, done, asker=self)

    def line_up(self, align: object) -> str:
        """Line the traces up at a moment of each piece, or show them by the clock."""
        self._align = Align(str(align))
        self.align.set_value(self._align)
        self._draw()
        return ""

    def say(self) -> None:
        """Open what the traces say."""
        if self._whole is not None:
            self._desk.go("what traces say", self._whole.cook.id)

    def save(self) -> None:
        """Ask where to, and write the chart as it is seen: a picture, or a drawing in lines."""
        title = self._whole.cook.title if self._whole is not None else ""
        start = named_after(title, "chart.png")
        name, kind = save_file(self.window(), FileKind.CHARTS, "Save the chart", start, PICTURES)
        if name:
            self.write(Path(name), drawing=kind.startswith("Drawing"))

    def write(self, path: Path, *, drawing: bool = False) -> None:
        """Write the chart to a file; its ending decides, else `drawing` does."""
        desk, ending = self._desk, ".svg" if drawing else ".png"
        try:
            form = format_for(path, CHART_FORMATS)
        except JournalError:
            path = path.with_name(path.name + ending)
            form = format_for(path, CHART_FORMATS)
        named, self.chart.names_spans = self.chart.names_spans, True  # no ribbon goes with it
        data = form.make(self.chart)  # painted here: widgets belong to the window's thread
        self.chart.names_spans = named

        def done(_: None) -> None:
            desk.bridge.told.emit(f"Written to {path}")

        label = f"Write {path.name}"
        desk.bridge.run(label, lambda _: write_bytes(path, data), done, asker=desk)
