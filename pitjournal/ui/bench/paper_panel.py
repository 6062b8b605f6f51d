"""A log from paper: typed in one go, shown as it is understood, kept as one step."""

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QPlainTextEdit, QVBoxLayout, QWidget

from pitjournal.domain.day.paper_log import PaperLine, PaperLog, read_paper
from pitjournal.domain.times.moments import show_day, show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.paper import KeepPaper
from pitjournal.ui.desk import Desk
from pitjournal.ui.event_words import named_pieces
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.pauses import Pauses
from pitjournal.ui.look.parts.words import Problem, clear, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.units import Dimension, show
from pitjournal.units.figures import counted

WIDTH, HIGH = 860, 330
HINT = "6:10 lit\n7:05 on all\n9:40 wrap in foil A1 A2\n0:20 A1 203 F feel 4\n0:30 off A1"


class PaperPanel(Overlay):
    """Lines at the left, what they are read as at the right."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook) -> None:
        super().__init__(over, "From paper", WIDTH)
        self._desk, self._whole = desk, whole
        day = show_day(whole.cook.starts_at, whole.cook.zone)
        said = (
            f"A line for each thing: time, what, which. Times without a date are of {day}; "
            "past midnight is understood."
        )
        self.body.addWidget(words(said, "quiet"))
        self.text = QPlainTextEdit()
        self.text.setAccessibleName("lines from paper")
        self.text.setPlaceholderText(HINT)
        self.text.setTabChangesFocus(True)
        sized(self.text, least_height=HIGH)
        self._lines = QVBoxLayout()
        self._lines.setSpacing(4)
        self.read = QWidget()
        inner = QVBoxLayout(self.read)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addLayout(self._lines)
        inner.addStretch(1)
        both = row(self.text, self.read)
        both.setStretch(0, 4)
        both.setStretch(1, 5)
        self.body.addLayout(both)
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.keep = button("Keep", self._keep, "primary")
        self.body.addLayout(row(self.keep, None))
        self._pauses = Pauses(self, self._show)
        self.text.textChanged.connect(self._pauses.typed)
        self.log = PaperLog()
        self._show()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the lines ready."""
        super().open_panel(first or self.text)
        QTimer.singleShot(0, self, self._grow)  # once the lines have their places

    def _show(self) -> None:
        """Show what the lines are read as."""
        self._pauses.stop()
        self.log = read_paper(
            self.text.toPlainText(), self._whole, self._desk.now(), self._desk.system
        )
        clear(self._lines)
        for line in self.log.lines:
            self._lines.addWidget(words(self._words(line)))
            if line.doubts:
                self._lines.addWidget(words(f"Look: {'; '.join(line.doubts)}.", "error"))
        for one in self.log.unread:
            self._lines.addWidget(words(f"Line {one.number}, “{one.text}”: {one.why}", "error"))
        count = len(self.log.lines)
        self.keep.setText(f"Keep {counted(count, 'line')}" if count else "Keep")
        QTimer.singleShot(0, self, self._grow)

    def _words(self, line: PaperLine) -> str:
        zone = self._whole.cook.zone
        when = f"{show_day(line.at, zone).split(' ', 1)[1]} {show_time(line.at, zone)}"
        if line.kind:
            wrap = (line.details or {}).get("wrap")
            what = line.kind + (f" in {wrap}" if wrap else "")
        else:
            heat = line.internal
            parts = (
                show(heat, Dimension.TEMPERATURE, self._desk.system) if heat is not None else "",
                f"feel {line.feel}" if line.feel else "",
            )
            what = ", ".join(part for part in parts if part)
        which = named_pieces(self._whole, line.pieces) if line.pieces else ""
        return " · ".join(part for part in (when, what, which) if part)

    def _keep(self) -> None:
        """Keep what was read; lines that could not be read stay to be mended."""
        self._show()
        command = KeepPaper(self._whole.cook.id, self.log.lines, self._desk.now())
        problem = self._desk.bridge.attempt(command, self)
        if problem:
            self.problem.say(problem)
            return
        if not self.log.unread:
            self.close_panel()
            return
        self.text.setPlainText("\n".join(one.text for one in self.log.unread))
        self._show()
        self.problem.say("All others are kept. These could not be read: mend them, or close.")
