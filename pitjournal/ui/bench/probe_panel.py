"""Read a probe file: show what was understood, say where each channel sat, then keep it."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QGridLayout, QVBoxLayout, QWidget

from pitjournal.domain.trace import Sits
from pitjournal.domain.typed_times import Looking
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import apart, strangers
from pitjournal.files.places import name_of
from pitjournal.files.probe_log import COUNTED_IN, ProbeLog, ReadOptions
from pitjournal.files.probe_log.report import UNIT_WORDS, Channel
from pitjournal.journal.attaching import attach_probe_log, belongs, goes_beyond
from pitjournal.journal.jobs import Progress
from pitjournal.ui.bench.places import options, placed
from pitjournal.ui.charts.trace_chart import Line, TraceChart
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import TimeField
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll_layout
from pitjournal.ui.look.parts.words import Elided, Problem, clear, row, words
from pitjournal.units import Dimension, show, to_display, unit_label

LEAVE_OUT = "leave out"
KINDS = "Probe files (*.csv *.tsv *.txt *.log *.json *.jsonl *.xlsx *.ods);;All files (*)"
AMBIGUOUS = "ambiguous_date"
UNSAID = {"unit_guessed", "unit_told"}
COUNTED = {"elapsed_guessed", "elapsed_told"}


def choose_and_read(desk: Desk, over: QWidget, cook_id: str) -> None:
    """Ask for a file, read it off the window's thread, and show what was understood."""
    apart.prepare(*strangers.LOG_READERS)
    name, _ = QFileDialog.getOpenFileName(over, "Probe file", "", KINDS)
    if name:
        read_and_show(desk, over, cook_id, Path(name))


def read_and_show(desk: Desk, over: QWidget, cook_id: str, path: Path) -> None:
    """Read a file and open the preview on it; what is no log is said in one line."""

    def work(progress: Progress) -> tuple[bytes, ProbeLog]:
        def wanted() -> None:
            progress.report(None, name_of(path))

        wanted()
        data = strangers.file_bytes(path, stop=wanted)
        return data, strangers.probe_log(data, name_of(path), ReadOptions(), wanted)

    def done(found: tuple[bytes, ProbeLog]) -> None:
        ProbePanel(desk, over, cook_id, name_of(path), *found).open_panel()

    desk.bridge.run(f"Read {name_of(path)}", work, done, asker=over)


class ProbePanel(Overlay):
    """What was understood of a file, before it is kept."""

    def __init__(  # noqa: PLR0917 - one file: a bundle would hide it
        self, desk: Desk, over: QWidget, cook_id: str, name: str, data: bytes, log: ProbeLog
    ) -> None:
        super().__init__(over, name[:60], 940)
        self._desk, self._name, self._data, self.log = desk, name, data, log
        self._options = ReadOptions()
        self.problem = Problem()
        lines = desk.journal.cook_lines("", 0, 40)
        if cook_id:
            lines = desk.journal.lines_of([cook_id])
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
        self.chart.setFixedHeight(tokens.SMALL_CHART_HEIGHT)
        self.inside.addWidget(self.chart)
        area = scroll_layout(self.inside, "what was understood", sideways=True)
        area.setMinimumHeight(tokens.PANEL_HEIGHT)
        self.body.addWidget(area, 1)
        self.body.addWidget(self.problem)
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

    # showing

    def _whole(self) -> WholeCook | None:
        desk, cook_id = self._desk, self._cook_id
        return desk.seen(desk.journal.whole(cook_id)) if cook_id else None

    def _show(self) -> None:
        log = self.log
        count = f"{len(log.channels)} channels" if len(log.channels) != 1 else "1 channel"
        left = f", {log.rows_skipped} rows left out" if log.rows_skipped else ""
        self.summary.setText(f"{count} in {log.rows_read} rows{left}. {_clock(log)}")
        ambiguous = any(note.kind == AMBIGUOUS for note in log.notes)
        asked = ambiguous or self._options.day_first is not None
        self.dates.setVisible(asked)
        self.date_words.setVisible(asked)
        unsaid = bool({note.kind for note in log.notes} & UNSAID)
        self.units.setVisible(unsaid)
        self.unit_words.setVisible(unsaid)
        self.units.choose(*{channel.unit_in_file for channel in log.channels})
        counted = bool({note.kind for note in log.notes} & COUNTED)
        self.counts.setVisible(counted)
        self.count_words.setVisible(counted)
        self.counts.choose(log.read_as.counted)
        hidden = {AMBIGUOUS, *UNSAID, *COUNTED}
        texts = [note.text for note in log.notes if note.kind not in hidden]
        self.notes.setText("\n".join(texts[:5]))
        self.notes.setVisible(bool(texts))
        self.started.setVisible(log.timezone == "elapsed")
        whole = self._whole()
        if whole is not None:
            self.started.zone = whole.cook.zone
        self._show_part(whole)
        self._show_channels(whole)
        self._show_chart()
        if whole is None:
            self.problem.say("There is no cook to keep it with. Start a cook first.")
            self.keep.setEnabled(False)

    def _show_part(self, whole: WholeCook | None) -> None:
        beyond = whole is not None and goes_beyond(whole, self.log, self._started)
        self.part.setVisible(beyond)
        self.part_words.setVisible(beyond)

    def _between(self) -> tuple[datetime, datetime] | None:
        """Return the part of the log to keep; None for all of it."""
        whole = self._whole()
        only = self.part.isVisibleTo(self) and self.part.values() == (True,)
        return belongs(whole) if only and whole is not None else None

    def _show_channels(self, whole: WholeCook | None) -> None:
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
        guesses = guess_places(self.log.channels, whole)
        for line, (channel, guess) in enumerate(zip(self.log.channels, guesses, strict=True), 1):
            missing = f", {channel.missing} missing" if channel.missing else ""
            cells = (
                channel.name,
                channel.unit_words,
                f"{channel.count}{missing}",
                _times(channel),
                _range(channel, self._desk),
            )
            for place, text in enumerate(cells):
                grid.addWidget(words(text, "strong" if not place else "", wrap=False), line, place)
            box = ChoiceBox(f"{channel.name} sat in", places, self._placer(line - 1), bare=True)
            box.set_value(guess)
            self._placed.append(guess)
            self.places.append(box)
            grid.addWidget(box, line, 5)
        layout.addWidget(holder)
        for text in _rejected(self.log):
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
        for place, channel in enumerate(self.log.channels):
            if not channel.count or place >= len(self._placed):
                continue
            pit = self._placed[place] == Sits.PIT
            values = to_display(channel.values_c, Dimension.TEMPERATURE, self._desk.system)
            sort = "pit" if pit else "meat"
            arm = None if pit else tokens.series(place)
            order = channel.times_s.argsort(kind="stable")
            lines.append(
                Line(str(place), channel.name, channel.times_s[order], values[order], arm, sort)  # type: ignore[arg-type]
            )
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
        self.problem.say("")

    def _for(self, cook_id: object) -> str:
        self._cook_id = str(cook_id)
        self._show()
        return ""

    def _start(self, value: object, _typed: str) -> str:
        self._started = value if isinstance(value, datetime) else None
        self._show_part(self._whole())
        return ""

    def _read_again(self, **said: bool | str) -> None:
        """Read the file with what the cook said of it."""
        self._options = replace(self._options, **said)  # type: ignore[arg-type]
        try:
            self.log = strangers.probe_log(self._data, self._name, self._options)
        except JournalError as error:
            self.problem.say(str(error))
            return
        self._show()

    def _keep(self) -> None:
        self.started.commit()
        placements = {}
        for place, where in enumerate(self._placed):
            if where != LEAVE_OUT:
                placements[place] = placed(where)
        try:
            command = attach_probe_log(
                self._desk.journal,
                self._cook_id,
                self._data,
                self._name,
                self.log,
                placements,
                started_at=self._started,
                between=self._between(),
            )
        except JournalError as error:
            self.problem.say(str(error))
            return
        problem = self._desk.bridge.attempt(command, self)
        if problem:
            self.problem.say(problem)
            return
        cook_id = self._cook_id
        self.close_panel()
        self._desk.go("cook", cook_id, "bench")


PIT_WORDS = ("pit", "grate", "grill", "chamber", "cooker", "ambient", "smoker")


def guess_places(channels: Sequence[Channel], whole: WholeCook | None) -> list[object]:
    """Return a first guess of where each channel sat, by its name; the cook decides."""
    left = list(whole.pieces) if whole else []
    found: list[object] = []
    for channel in channels:
        name = channel.name.casefold()
        if any(word in name for word in PIT_WORDS) and Sits.PIT not in found:
            found.append(Sits.PIT)
            continue
        named = next((p for p in left if p.label.casefold() in name.split()), None)
        if named is None:
            named = next((p for p in left if p.label.casefold() in name), None)
        if named is not None:
            left.remove(named)
        found.append(named.id if named else LEAVE_OUT)
    if all(where == LEAVE_OUT for where in found) and len(channels) == 1:
        found[0] = Sits.PIT
    return found


def _clock(log: ProbeLog) -> str:
    if log.timezone == "local":
        return "Times as the logger's clock showed them, read in the cook's zone."
    if log.timezone == "elapsed":
        return "Times count from the start of the logger."
    return f"Times in {log.timezone}."


def _times(channel: Channel) -> str:
    if channel.start is None or channel.end is None:
        seconds = channel.end_s
        return "" if seconds is None else f"0 – {seconds / 3600:.1f} h"
    start = datetime.fromisoformat(channel.start)
    end = datetime.fromisoformat(channel.end)
    if start.tzinfo is not None:
        start, end = start.astimezone(UTC), end.astimezone(UTC)
    day = f"{end:%d %b }" if end.date() != start.date() else ""
    return f"{start:%d %b %Y %H:%M} – {day}{end:%H:%M}"


def _range(channel: Channel, desk: Desk) -> str:
    low = show(channel.min_c, Dimension.TEMPERATURE, desk.system, with_unit=False)
    high = show(channel.max_c, Dimension.TEMPERATURE, desk.system)
    return f"{low} – {high}" if channel.count else ""


def _rejected(log: ProbeLog) -> list[str]:
    """Return the rows that were left out, the first ones each with its reason."""
    if not log.rejected:
        return []
    lines = [f"line {row_.line}: {row_.reason}" for row_ in log.rejected[:6]]
    more = len(log.rejected) - 6
    return ["Left out: " + "; ".join(lines) + (f"; and {more} more" if more > 0 else "")]
