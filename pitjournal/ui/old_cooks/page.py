"""Bring old cooks along: choose a table, look at its columns, keep its cooks."""

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict, dataclass, fields, replace
from hashlib import sha256
from pathlib import Path

from PySide6.QtGui import QDragEnterEvent, QDropEvent, QResizeEvent
from PySide6.QtWidgets import QStackedLayout, QVBoxLayout, QWidget

from pitjournal.errors import JournalError
from pitjournal.files import apart, strangers
from pitjournal.files.bundle.content import SUFFIX as BUNDLE
from pitjournal.files.old_cooks import ColumnAnswer, OldCook, OldCooks
from pitjournal.files.old_cooks.grid import LARGEST
from pitjournal.files.places import name_of
from pitjournal.journal import Changes
from pitjournal.journal.bringing import Bringing, answers_of, bringing, cooks_of, left_open
from pitjournal.journal.jobs import Progress
from pitjournal.local_zone import local_zone
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.files_asked import FileKind, open_file
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card, EmptyState
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.scroll import scroll_layout
from pitjournal.ui.look.parts.words import Problem, clear, column, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.old_cooks.as_kept import AsKept
from pitjournal.ui.old_cooks.bundle_panel import read_bundle
from pitjournal.ui.old_cooks.column_row import BECOMES, FIRST, HEAD, ColumnRow
from pitjournal.ui.page import Header, Page
from pitjournal.units.figures import counted

KINDS = "Tables and bundles of cooks (*.csv *.tsv *.txt *.xlsx *.ods *.eln);;All files (*)"
WIDE = 1100
_PROMISE = (
    "Nothing is kept until you say so. Each cook is marked “brought along”, and one Undo takes "
    "all out again. None counts as blind or drawn by lot."
)
_UNSETTLED = " What is not settled is kept as a note, not as a figure."
SETTING = "old_cooks:"
READERS = ("pitjournal.files.old_cooks", "polars", "fastexcel")


@dataclass(frozen=True)
class Read:
    """A table as it was read with the answers so far, and what keeping it would do."""

    old: OldCooks
    found: Bringing
    cooks: tuple[tuple[OldCook, ...], ...]


class BringPage(Page):
    """A table of past cooks, before it is kept."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.setAcceptDrops(True)
        self._path: Path | None = None
        self._data = b""
        self._answers: dict[str, ColumnAnswer] = {}
        self._remembered = False
        self.read: Read | None = None
        self.rows: list[ColumnRow] = []
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(tokens.M)
        self.header = Header("Bring old cooks along")
        self.header.right.addWidget(
            button("Back to the cooks", lambda: desk.go("cooks"), tip="Alt+Left")
        )
        outer.addWidget(self.header)
        self.problem = Problem()
        said = row(self.problem)
        said.setContentsMargins(tokens.XL, 0, tokens.XL, 0)
        outer.addLayout(said)
        self._stack = QStackedLayout()
        holder = QWidget()
        holder.setLayout(self._stack)
        outer.addWidget(holder, 1)
        self._stack.addWidget(
            EmptyState(
                "Years of cooks in a spreadsheet, or a friend's bundle?",
                "Choose the file, or drop it here: a table (CSV, XLSX or ODS), one row a cook, or "
                "an .eln. You see what would be kept before anything is.",
                ("Choose a file", self.choose),
            )
        )
        self._stack.addWidget(self._looked_at())

    def _looked_at(self) -> QWidget:
        page = QWidget()
        self._columns = QVBoxLayout()
        self._columns.setContentsMargins(0, 0, 0, 0)
        self._columns.setSpacing(3)
        left = Card().tall()
        heads = [words(text, "heading", wrap=False) for text in ("column", "first row", "becomes")]
        self._first_head = heads[1]
        for head, width in zip(heads, (HEAD + tokens.S, FIRST, BECOMES), strict=True):
            sized(head, width=width)
        read = words("what we read", "heading", wrap=False)
        left.body.addLayout(row(*heads, read, None, space=tokens.S))
        left.body.addWidget(scroll_layout(self._columns, "columns of the table"), 1)
        left.body.addLayout(row(button("Another file", self.choose, tip="Ctrl+R"), None))
        self.kept_card = AsKept(self.desk)
        self.aside = Card("Rows left aside")
        self.aside_words = words("")
        self.aside.body.addWidget(self.aside_words)
        inside = column(self.kept_card, self.aside, None, space=tokens.M)
        inside.setContentsMargins(0, 0, 0, 0)
        right = scroll_layout(inside, "as it would be kept")
        parts = row(left, right, space=tokens.M)
        parts.setStretch(0, 18)
        parts.setStretch(1, 10)
        self.promise = words(_PROMISE)
        self.keep = button("Keep", self._keep, "primary", tip="Ctrl+Enter")
        leave = button("Leave it", self._leave_it)
        foot = row(self.promise, leave, self.keep, space=tokens.M)
        foot.setStretch(0, 1)
        whole = column(space=tokens.M)
        whole.addLayout(parts, 1)
        whole.addLayout(foot)
        whole.setContentsMargins(tokens.XL, 0, tokens.XL, tokens.M)
        page.setLayout(whole)
        return page

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Choose a file", "Ctrl+R", self.choose),
            Action("Settle the next question", "F2", self.settle_next),
            Action("Next cook", "PgDown", lambda: self.kept_card.turn(1)),
            Action("Cook before", "PgUp", lambda: self.kept_card.turn(-1)),
            Action("Keep these cooks", "Ctrl+Return", self._keep),
            Action("Back to the cooks", "Alt+Left", lambda: self.desk.go("cooks")),
        )

    def concerned(self, changes: Changes) -> bool:
        """Whether what keeping would do may be another."""
        return self.read is not None and "cook" in changes.kinds

    def refresh(self) -> None:
        """Show the table as it is understood now."""
        if self.read is not None:
            self._read_again()

    # a file

    def choose(self) -> None:
        """Ask for a file."""
        apart.prepare(*READERS)
        name = open_file(self, FileKind.OLD_COOKS, "A table or a bundle of cooks", KINDS)
        if name:
            self.open_file(Path(name))

    def open_file(self, path: Path) -> None:
        """Read a table, or a bundle, off this thread; what is none is said in one line."""
        self.problem.say("")
        if path.suffix.lower() == BUNDLE:
            read_bundle(self.desk, self, path, self._brought, self.problem.say)
            return
        self._path, self._data, self._answers, self._remembered = path, b"", {}, False
        self._read_again()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a file."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()
            apart.prepare(*READERS)

    def dropEvent(self, event: QDropEvent) -> None:
        """Read the file that was dropped."""
        names = [url.toLocalFile() for url in event.mimeData().urls() if url.isLocalFile()]
        if names:
            self.open_file(Path(names[0]))

    def _read_again(self) -> None:
        path, data, answers = self._path, self._data, dict(self._answers)
        if path is None:
            return
        name, journal, zone = name_of(path), self.desk.journal, local_zone()

        def work(progress: Progress) -> tuple[bytes, Read]:
            def wanted() -> None:
                progress.report(None, name)

            wanted()
            held = data or strangers.file_bytes(path, LARGEST, wanted)
            old = strangers.old_cooks(held, name, answers, wanted)
            sure = old
            if old.questions:
                sure = strangers.old_cooks(held, name, left_open(old, answers), wanted)
            return held, Read(old, bringing(journal, sure, zone), cooks_of(old))

        def done(result: tuple[bytes, Read]) -> None:
            if path == self._path and answers == self._answers:
                self._data, self.read = result
                self._take_in()

        def failed(why: str) -> None:
            self.problem.say(why)

        self.desk.bridge.run(f"Read {name}", work, done, failed, asker=self)

    def _take_in(self) -> None:
        """Show what was read; first with what was said of such a table the last time."""
        assert self.read is not None
        kept = "" if self._remembered else self.desk.journal.setting(self._mark(self.read.old))
        self._remembered = True
        if kept:
            try:
                self._answers = answers_of(kept)
            except JournalError:
                self._answers = {}
            if self._answers:
                self._read_again()
                return
        self._show(self.read)

    @staticmethod
    def _mark(old: OldCooks) -> str:
        heads = "\n".join(one.header for one in old.columns)
        return SETTING + sha256(heads.encode()).hexdigest()[:24]

    # what is seen

    def _show(self, read: Read) -> None:
        self._stack.setCurrentIndex(1)
        self.problem.say("")
        open_ones = len(read.old.questions)
        count = len(read.cooks)
        asked = {0: "nothing to settle", 1: "one thing to look at"}.get(
            open_ones, f"{open_ones} things to look at"
        )
        self.header.show_title(
            f"{counted(count, 'cook')} read, {asked}", f"Bring old cooks along · {read.old.file}"
        )
        clear(self._columns)
        self.rows = []
        for one in read.old.columns:
            made = ColumnRow(self.desk, one)
            made.offer_years(self.desk.now().year)
            made.answered.connect(self._answered)
            self.rows.append(made)
            self._columns.addWidget(made)
        self._columns.addStretch(1)
        self._fit()
        uncertain = frozenset(one.variable or "" for one in read.old.questions)
        self.kept_card.show_cooks(read.cooks, uncertain)
        self._show_aside(read)
        self._show_keep(read, open_ones)

    def _show_keep(self, read: Read, open_ones: int) -> None:
        """Say what keeping does; which day it was must be settled, the rest need not."""
        fresh = read.found.fresh
        days = any(one.variable == "date" for one in read.old.questions)
        unsettled = f", {open_ones} unsettled" if open_ones else ""
        self.keep.setEnabled(fresh > 0 and not days)
        said = f"Keep {counted(fresh, 'cook')}{unsettled}" if fresh else "All are kept already"
        self.keep.setText("Settle the dates first" if days else said)
        self.promise.setText(_PROMISE + (_UNSETTLED if open_ones and not days else ""))

    def _show_aside(self, read: Read) -> None:
        why = Counter(one.reason.split(" row ")[0] for one in read.old.skipped)
        lines = [f"{count} × {reason}" for reason, count in why.most_common(6)]
        if read.found.undated:
            lines.append(f"{len(read.found.undated)} × no day")
        if read.found.known:
            lines.append(f"{counted(read.found.known, 'cook')} kept already, from an earlier time")
        numbers = [str(one.row) for one in read.old.skipped[:12]]
        if numbers:
            lines.append("rows " + ", ".join(numbers) + ("…" if len(why) > 12 else ""))
        self.aside.setVisible(bool(lines))
        self.aside_words.setText("\n".join(lines))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the first row's cells out where there is no room for them."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        wide = self.width() >= WIDE
        self._first_head.setVisible(wide)
        for one in self.rows:
            one.first.setVisible(wide)

    def settle_next(self) -> None:
        """Open the first question that is not settled."""
        found = next((one for one in self.rows if one.column.uncertain), None)
        if found is not None:
            found.open_question()

    def _answered(self, letter: str, answer: object) -> None:
        assert isinstance(answer, ColumnAnswer)
        assert self.read is not None
        key = next(
            (one.header or letter for one in self.read.old.columns if one.letter == letter), letter
        )
        self._answers[key] = _joined(self._answers.get(key, ColumnAnswer()), answer)
        self._read_again()

    # keeping

    def _keep(self) -> None:
        if self.read is None or self.read.found.command is None or not self.keep.isEnabled():
            return
        kept = json.dumps({key: asdict(one) for key, one in self._answers.items()})
        command = replace(
            self.read.found.command,
            kept=(self._mark(self.read.old), kept) if self._answers else None,
        )
        cooks = [cook.id for cook in self.read.found.cooks]
        if self.desk.bridge.do(command, self) is not None:
            self._brought(cooks)

    def _brought(self, cooks: Sequence[str]) -> None:
        """Go to the cooks that came along."""
        self._forget()
        named = f"{counted(len(cooks), 'cook')} brought along"
        self.desk.go_to(Destination(place="cooks", cook_ids=tuple(cooks), named=named))

    def _leave_it(self) -> None:
        self._forget()
        self.desk.go("cooks")

    def _forget(self) -> None:
        self._path, self._data, self.read = None, b"", None
        self._stack.setCurrentIndex(0)
        self.header.show_title("Bring old cooks along")


def _joined(before: ColumnAnswer, now: ColumnAnswer) -> ColumnAnswer:
    """Return what was said of a column before with what is said now."""
    told = {f.name: getattr(now, f.name) for f in fields(now)}
    return replace(
        before,
        **{
            key: value
            for key, value in told.items()
            if value not in {None, ""} or (key == "variable" and value == "")
        },
    )
