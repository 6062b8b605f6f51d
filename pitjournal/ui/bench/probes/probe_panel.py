"""Read a probe file: show what was understood, say where each channel sat, then keep it."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from pitjournal.domain.times.typed_times import Looking
from pitjournal.domain.trace import Sits
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files import apart, strangers
from pitjournal.files.places import name_of
from pitjournal.files.probe_log import COUNTED_IN, ProbeLog, ReadOptions
from pitjournal.files.probe_log.report import UNIT_WORDS
from pitjournal.journal.attaching import attach_probe_log, belongs, goes_beyond
from pitjournal.journal.commands import Command
from pitjournal.journal.jobs import Job, Progress
from pitjournal.ui.bench.places import LEAVE_OUT, options, placed
from pitjournal.ui.bench.probes.logger_start import logger_start
from pitjournal.ui.bench.probes.probe_preview import (
    Preview,
    cells_of,
    clock_words,
    guess_places,
    read_preview,
    rejected_words,
)
from pitjournal.ui.charts.trace.chart import TraceChart
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.files_asked import FileKind, open_file
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll_layout
from pitjournal.ui.look.parts.time_fields import TimeField
from pitjournal.ui.look.parts.words import Elided, Problem, clear, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.units import Dimension, unit_label

T = TypeVar("T")

KINDS = "Probe files (*.csv *.tsv *.txt *.log *.json *.jsonl *.xlsx *.ods);;All files (*)"
AMBIGUOUS = "ambiguous_date"
UNSAID = {"unit_guessed", "unit_told"}
COUNTED = {"elapsed_guessed", "elapsed_told"}


def choose_and_read(desk: Desk, over: QWidget, cook_id: str) -> None:
    """Ask for a file, read it off the window's thread, and show what was understood."""
    apart.prepare(*strangers.LOG_READERS)
    name = open_file(over, FileKind.PROBES, "Probe file", KINDS)
    if name:
        read_and_show(desk, over, cook_id, Path(name))


def read_and_show(desk: Desk, over: QWidget, cook_id: str, path: Path) -> None:
    """Read a file and open the preview on it; what is no log is said in one line."""
    system = desk.system

    def work(progress: Progress) -> tuple[bytes, Preview]:
        def wanted() -> None:
            progress.report(None, name_of(path))

        wanted()
        data = strangers.file_bytes(path, stop=wanted)
        return data, read_preview(data, name_of(path), ReadOptions(), system, wanted)

    def done(found: tuple[bytes, Preview]) -> None:
        ProbePanel(desk, over, cook_id, name_of(path), *found).open_panel()

    desk.bridge.run(f"Read {name_of(path)}", work, done, asker=over)


class ProbePanel(Overlay):
    """What was understood of a file, before it is kept."""

    def __init__(  # noqa: PLR0917 - one file: a bundle would hide it
        self, desk: Desk, over: QWidget, cook_id: str, name: str, data: bytes, read: Preview
    ) -> None:
        super().__init__(over, name[:60], 940)
        self._desk, self._name, self._data, self._read = desk, name, data, read
        self._options = read.options
        self._job: Job[Any] | None = None
        self.problem = Problem()
        journal = desk.journal
        lines = journal.cooks.lines([cook_id]) if cook_id else journal.cooks.page("", 0, 40)
        self._cook_id = cook_id or (lines[0].id if lines else "")
        self.cook = ChoiceBox(
            "For which cook",
            [(line.id, f"{line.number}: {line.title}") for line in lines],
            self._for,
        )
        self.cook.set_value(self._cook_id)
        self.cook.setVisible(not cook_id)
        self.body.addWidget(self.cook)
        self.inside = QVBoxLayout()
        self.inside.setContentsMargins(0, 0, tokens.S, 0)
        self.inside.setSpacing(tokens.S)
        self.summary = words("", "large")
        self.inside.addWidget(self.summary)
        self._ask_what_is_uncertain()
        self.notes = words("", "quiet")
        self.inside.addWidget(self.notes)
        self.started = TimeField(
            "When was the logger started?", "UTC", desk.now, self._start, looking=Looking.BACK
        )
        self._started: datetime | None = None
        self.inside.addWidget(self.started)
        self.part = Choice("how much of the log is kept")
        self.part.offer(((True, "only the time of the cook", -1), (False, "the whole log", -1)))
        self.part.choose(True)
        self.part.chosen.connect(lambda _only: self.problem.say(""))
        self.part_words = words("The log goes on beyond this cook. Keep for its traces", "heading")
        self.inside.addWidget(self.part_words)
        self.inside.addWidget(self.part)
        self._channels = QWidget()
        QVBoxLayout(self._channels).setContentsMargins(0, 0, 0, 0)
        self.inside.addWidget(self._channels)
        self.chart = TraceChart(unit_label(Dimension.TEMPERATURE, desk.system))
        sized(self.chart, height=tokens.SMALL_CHART_HEIGHT)
        self.inside.addWidget(self.chart)
        self._area = scroll_layout(self.inside, "what was understood", sideways=True)
        self._area.setMinimumHeight(tokens.PANEL_HEIGHT)
        self.body.addWidget(self._area, 1)
        self.body.addWidget(self.problem)
        self.left_out = words("", "strong")
        self.body.addWidget(self.left_out)
        self.keep = button("Keep it", self._keep, "primary", tip="Ctrl+Enter")
        self.body.addLayout(row(self.keep, None))
        self.places: list[ChoiceBox] = []
        self._placed: list[object] = []
        self._show()

    def _ask_what_is_uncertain(self) -> None:
        """Make the choices of what the file leaves open; they show where it does."""
        self.dates = Choice("how dates are written")
        self.dates.offer(((False, "month first", -1), (True, "day first", -1)))
        self.dates.choose(False)
        self.dates.chosen.connect(lambda first: self._read_again(day_first=bool(first)))
        self.date_words = words("Day and month can't be told apart here. The file is", "heading")
        self.inside.addWidget(self.date_words)
        self.inside.addWidget(self.dates)
        self.units = Choice("the unit of the readings")
        self.units.offer((unit, UNIT_WORDS[unit], -1) for unit in ("degF", "degC"))
        self.units.chosen.connect(lambda unit: self._read_again(unit=str(unit)))
        self.unit_words = words("The file names no unit. Its readings are", "heading")
        self.inside.addWidget(self.unit_words)
        self.inside.addWidget(self.units)
        self.counts = Choice("in what the file counts time")
        self.counts.offer((key, name, -1) for key, (_, name) in COUNTED_IN.items())
        self.counts.chosen.connect(lambda unit: self._read_again(counted=str(unit)))
        self.count_words = words("The file does not say in what it counts time. It is", "heading")
        self.inside.addWidget(self.count_words)
        self.inside.addWidget(self.counts)

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the first channel's place ready."""
        super().open_panel(first or (self.places[0] if self.places else self.keep))

    @property
    def log(self) -> ProbeLog:
        """What was understood."""
        return self._read.log

    # showing

    def _whole(self) -> WholeCook | None:
        desk, cook_id = self._desk, self._cook_id
        return desk.seen(desk.journal.whole(cook_id)) if cook_id else None

    def _show(self, where: Sequence[object] = ()) -> None:
        """Show what was understood; where channels sat is guessed unless it is given."""
        log = self.log
        count = f"{len(log.channels)} channels" if len(log.channels) != 1 else "1 channel"
        left = f", {log.rows_skipped} rows left out" if log.rows_skipped else ""
        self.summary.setText(f"{count} in {log.rows_read} rows{left}. {clock_words(log)}")
        self._show_answers()
        hidden = {AMBIGUOUS, *UNSAID, *COUNTED}
        texts = [note.text for note in log.notes if note.kind not in hidden]
        self.notes.setText("\n".join(texts[:5]))
        self.notes.setVisible(bool(texts))
        self.started.setVisible(log.timezone == "elapsed")
        whole = self._whole()
        if whole is not None:
            self.started.zone = whole.cook.zone
            if self._started is None:  # to be looked at, and typed anew where it is not so
                self._started = logger_start(log, whole, self._desk.now())
                self.started.set_value(self._started)
        self._show_part(whole)
        self._show_channels(whole, where)
        self._show_chart()
        if whole is None:
            self.problem.say("There is no cook to keep it with. Start a cook first.")
            self.keep.setEnabled(False)

    def _show_answers(self) -> None:
        """Ask what the file leaves open, and show what was said of it."""
        log = self.log
        ambiguous = any(note.kind == AMBIGUOUS for note in log.notes)
        asked = ambiguous or self._read.options.day_first is not None
        self.dates.setVisible(asked)
        self.date_words.setVisible(asked)
        unsaid = bool({note.kind for note in log.notes} & UNSAID)
        self.units.setVisible(unsaid)
        self.unit_words.setVisible(unsaid)
        some = any(note.text.startswith("Some channels") for note in log.notes)
        what = (
            "Some channels have no unit. They" if some else "The file names no unit. Its readings"
        )
        self.unit_words.setText(f"{what} are")
        self.units.choose(*{channel.unit_in_file for channel in log.channels})
        counted = bool({note.kind for note in log.notes} & COUNTED)
        self.counts.setVisible(counted)
        self.count_words.setVisible(counted)
        self.counts.choose(log.read_as.counted)
        if self._read.options.day_first is not None:
            self.dates.choose(self._read.options.day_first)

    def _show_part(self, whole: WholeCook | None) -> None:
        beyond = whole is not None and goes_beyond(whole, self.log, self._started)
        self.part.setVisible(beyond)
        self.part_words.setVisible(beyond)

    def _between(self) -> tuple[datetime, datetime] | None:
        """Return the part of the log to keep; None for all of it."""
        whole = self._whole()
        only = self.part.isVisibleTo(self) and self.part.values() == (True,)
        return belongs(whole) if only and whole is not None else None

    def _show_channels(self, whole: WholeCook | None, where: Sequence[object]) -> None:
        layout = self._channels.layout()
        assert layout is not None
        clear(layout)
        holder = QWidget()
        grid = QGridLayout(holder)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(tokens.L)
        for place, head in enumerate(
            ("channel", "unit", "readings", "from – to", "range", "sat in")
        ):
            grid.addWidget(words(head, "heading", wrap=False), 0, place)
        self.places, self._placed = [], []
        places = [(LEAVE_OUT, LEAVE_OUT), *options(whole)]
        guesses = where or guess_places(self.log.channels, whole)
        for line, (channel, guess) in enumerate(zip(self.log.channels, guesses, strict=True), 1):
            for place, text in enumerate(cells_of(channel, self._desk.system)):
                grid.addWidget(words(text, "strong" if not place else "", wrap=False), line, place)
            box = ChoiceBox(f"{channel.name} sat in", places, self._placer(line - 1), bare=True)
            box.set_value(guess)
            self._placed.append(guess)
            self.places.append(box)
            grid.addWidget(box, line, 5)
        self._say_left_out()
        layout.addWidget(holder)
        for text in rejected_words(self.log):
            layout.addWidget(words(text, "quiet"))
        self._show_rows(layout)

    def _show_rows(self, layout: object) -> None:
        assert isinstance(layout, QVBoxLayout)
        rows = self.log.first_rows[:4]
        if rows:
            layout.addWidget(words("First rows as they are in the file", "heading"))
        for cells in rows:
            layout.addWidget(Elided("   ".join(cells), "quiet"))
        layout.addStretch(1)

    def _show_chart(self) -> None:
        lines = []
        for line in self._read.lines:
            place = int(line.key)
            pit = self._placed[place] == Sits.PIT
            arm = None if pit else tokens.series(place)
            lines.append(replace(line, arm=arm, sort="pit" if pit else "meat"))
        self.chart.show_lines(lines)

    # doing

    def _placer(self, place: int) -> Callable[[object], str]:
        def keep(where: object) -> str:
            self.put(place, where)
            return ""

        return keep

    def put(self, place: int, where: object) -> None:
        """Say where a channel sat."""
        self._placed[place] = where
        self._say_left_out()
        self.problem.say("")

    def _say_left_out(self) -> None:
        """Say which channels Keep it leaves out."""
        pairs = zip(self.log.channels, self._placed, strict=True)
        names = [channel.name for channel, where in pairs if where == LEAVE_OUT]
        more = f" and {len(names) - 6} more" if len(names) > 6 else ""
        self.left_out.setText(f"Left out: {', '.join(names[:6])}{more}." if names else "")
        self.left_out.setVisible(bool(names))

    def _for(self, cook_id: object) -> str:
        self._cook_id = str(cook_id)
        self._show()
        return ""

    def _start(self, value: object, _typed: str) -> str:
        self._started = value if isinstance(value, datetime) else None
        self._show_part(self._whole())
        return ""

    def _read_again(self, **said: bool | str) -> None:
        """Have the worker read the file with what the cook said of it."""
        self._options = options = replace(self._options, **said)  # type: ignore[arg-type]
        data, name, system = self._data, self._name, self._desk.system

        def work(progress: Progress) -> Preview:
            def wanted() -> None:
                progress.report(None, name)

            wanted()
            return read_preview(data, name, options, system, wanted)

        def done(read: Preview) -> None:
            if self._options == options:  # else the cook has said more since
                same = [c.name for c in read.log.channels] == [c.name for c in self.log.channels]
                self._read = read
                self._show(tuple(self._placed) if same else ())

        def failed(why: str) -> None:
            if self._options == options:
                self._options = self._read.options
                self._show_answers()
                self.problem.say(why)

        if self._job is not None:
            self._job.cancel()
        self.problem.say("")
        self._run(f"Read {name}", work, done, failed)

    def _run(
        self,
        label: str,
        work: Callable[[Progress], T],
        done: Callable[[T], None],
        failed: Callable[[str], None],
    ) -> None:
        """Have work done; until then nothing is kept."""

        def ended() -> None:
            if self._job is job:
                self._job = None
                self._area.setEnabled(True)
                self.keep.setEnabled(True)

        job = self._desk.bridge.run(label, work, done, failed, asker=self, ended=ended)
        self._job = job
        self.keep.setEnabled(False)

    def _keep(self) -> None:
        if self._job is not None:
            return
        self.started.commit()
        placements = {}
        for place, where in enumerate(self._placed):
            if where != LEAVE_OUT:
                placements[place] = placed(where)
        journal, cook_id, data, name = self._desk.journal, self._cook_id, self._data, self._name
        log, started, between = self.log, self._started, self._between()

        def work(progress: Progress) -> Command:
            progress.report(None, name)
            return attach_probe_log(
                journal, cook_id, data, name, log, placements, started_at=started, between=between
            )

        self._run(f"Keep {name}", work, self._done, self.problem.say)
        self._area.setEnabled(False)

    def _done(self, command: Command) -> None:
        problem = self._desk.bridge.attempt(command, self)
        if problem:
            self.problem.say(problem)
            return
        cook_id = self._cook_id
        self.close_panel()
        self._desk.go_to(Destination(place="cook", cook_id=cook_id, page="bench", view="chart"))
