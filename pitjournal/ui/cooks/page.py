"""The list of cooks: find one, start one, read a probe file."""

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QRect, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import (
    QLineEdit,
    QListView,
    QSizePolicy,
    QStackedLayout,
    QVBoxLayout,
    QWidget,
)

from pitjournal.analysis.trends.question import Where, keys_of
from pitjournal.domain.times.moments import show_date
from pitjournal.errors import JournalError
from pitjournal.journal import Changes
from pitjournal.journal.jobs import Progress
from pitjournal.journal.queries.headlines import Showed
from pitjournal.ui.cooks.lines import AGAINST, HEIGHT, CookLines, columns
from pitjournal.ui.cooks.model import LINE, CookList
from pitjournal.ui.cooks.narrowing import Narrowing, Pinned
from pitjournal.ui.cooks.offers import Offer, offers
from pitjournal.ui.cooks.sparks import paint_axis
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card, EmptyState
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.look.parts.overlay import Action, put_away_all
from pitjournal.ui.look.parts.words import Elided, Problem, row, words
from pitjournal.ui.look.theme import at_size, font, look, px, sized
from pitjournal.ui.page import Header, Page

HEAD = 46
ROOMY = 176
FIND = 300
LEGEND = "each cook alone · thick line: could tell, thin: not enough"
LEAST, MOST = 2, 6
"""So many cooks can stand side by side."""


class Headings(QWidget):
    """The headings over the list's columns, as wide as its lines, and the axis of their pictures."""

    def __init__(self, over: QListView) -> None:
        super().__init__()
        self._over = over
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look().changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return the height of a line of small words."""
        return QSize(400, px(HEAD))

    def paintEvent(self, _event: object) -> None:
        """Paint them."""
        theme = look().theme
        painter = QPainter(self)
        at_size(painter, self.rect())
        wide = round(self._over.viewport().width() / look().sizes.scale)
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        for name, left, width in columns(wide):
            if name == AGAINST:
                text = f"{name}, points" if width > ROOMY else "points"
                middle = Qt.AlignmentFlag.AlignCenter
                painter.drawText(QRect(left, 2, width, 20), middle, text)
                paint_axis(painter, QRectF(left, 22, width, 20))
                painter.setPen(QColor(theme.quiet))
            else:
                painter.drawText(QRect(left, 0, width, HEAD), Qt.AlignmentFlag.AlignVCenter, name)
        painter.setPen(QPen(QColor(theme.hairline), theme.edge))
        painter.drawLine(0, HEAD - 1, wide, HEAD - 1)
        painter.end()


class CooksPage(Page):
    """All cooks, newest first."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._only: list[str] | None = None
        self._showed: dict[str, Showed] = {}
        self._asked: set[str] = set()
        self._choosing = False
        self.model = CookList(desk.journal, self._showed)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(tokens.M)
        self.header = Header("Cooks")
        self.header.right.addWidget(
            button("Read a probe file", lambda: desk.go("probe file"), tip="Ctrl+R")
        )
        self.side = button("Side by side", self.choose, tip="Ctrl+B")
        self.header.right.addWidget(self.side)
        self.new = button("New cook", lambda: desk.go("new cook"), "primary", tip="Ctrl+N")
        self.header.right.addWidget(self.new)
        outer.addWidget(self.header)
        self._stack = QStackedLayout()
        holder = QWidget()
        holder.setLayout(self._stack)
        outer.addWidget(holder, 1)
        self._stack.addWidget(self._list())
        self._stack.addWidget(
            EmptyState(
                "Every cook teaches something, if it is written down",
                "Plan a cook, log it at the cooker with one tap an event, taste it blind, and "
                "see what it showed. Forty cooks later, ask all of them at once.",
                ("Start a cook", lambda: desk.go("new cook")),
                ("Read a probe file", lambda: desk.go("probe file")),
                ("Bring old cooks along", lambda: desk.go("old cooks")),
                ("Look at the demonstration", lambda: desk.go("demonstration")),
            )
        )
        self._typing = QTimer(self, interval=120, singleShot=True)
        self._typing.timeout.connect(self.look_now)

    def _list(self) -> QWidget:
        page = QWidget()
        layout = QVBoxLayout(page)
        layout.setContentsMargins(tokens.XL, 0, tokens.XL, tokens.L)
        layout.setSpacing(tokens.M)
        self.search = QLineEdit()
        self.search.setAccessibleName("find a cook")
        self.search.setPlaceholderText("Find by title, note, cut…")
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(lambda *_: self._typing.start())
        self.limited = Chip("", cross=True)
        self.limited.clicked.connect(lambda *_: self.limit(None))
        self.limited.hide()
        self.pinned = Pinned(self.desk)
        self.narrowing = Narrowing(self.desk)
        self.narrowing.changed.connect(self._look)
        self.problem = Problem()
        layout.addWidget(self.pinned)
        sized(self.search, width=FIND)
        line = row(self.search, self.limited, self.narrowing, space=tokens.M)
        line.setStretch(2, 1)
        for part in (self.search, self.limited):
            line.setAlignment(part, Qt.AlignmentFlag.AlignTop)
        layout.addLayout(line)
        layout.addWidget(self.problem)
        layout.addWidget(self._choose_bar())
        card = Card().tall()
        card.body.setContentsMargins(10, tokens.XS, 10, 10)
        card.body.setSpacing(0)
        self.list = QListView()
        self.list.setAccessibleName("cooks")
        self.list.setModel(self.model)
        self.list.setItemDelegate(CookLines(self.desk, self._showed, self.list))
        self.list.setUniformItemSizes(True)
        self.list.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.list.verticalScrollBar().setSingleStep(HEIGHT // 2)
        self.list.verticalScrollBar().valueChanged.connect(self._ask_soon)
        self.list.setMouseTracking(True)
        self.list.activated.connect(self._open)
        self.list.clicked.connect(self._open)
        self.list.selectionModel().selectionChanged.connect(self._say_chosen)
        card.body.addWidget(Headings(self.list))
        card.body.addWidget(self.list, 1)
        layout.addWidget(card, 1)
        bring = button("Bring old cooks along", lambda: self.desk.go("old cooks"), "link")
        told = Elided(LEGEND, "quiet")
        kept = Elided("Kept a notebook or a spreadsheet before?", "quiet")
        kept.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        foot = row(told, kept, bring, space=tokens.M)
        for place in (0, 1):
            foot.setStretch(place, 1)
        layout.addLayout(foot)
        return page

    def _choose_bar(self) -> QWidget:
        self.choose_words = words("", wrap=False)
        self.compare = button("Side by side", self._compare, "primary")
        self.report = button("Report on them", self._report)
        every = button("All listed", self.list_all, "link")
        bar = Card()
        stop = button("Stop", self.choose)
        bar.body.addLayout(row(self.choose_words, None, every, self.report, self.compare, stop))
        bar.hide()
        self.choose_bar = bar
        return bar

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Find a cook", "Ctrl+F", self._find),
            Action("Open the chosen cook", "Enter", self._open_chosen),
            Action("Add a filter", "Ctrl+Shift+F", self.narrowing.add),
            Action("Choose cooks, for side by side or a report", "Ctrl+B", self.choose),
            Action("Start a new cook", "Ctrl+N", lambda: self.desk.go("new cook")),
            Action("Bring old cooks along", "Ctrl+I", lambda: self.desk.go("old cooks")),
            Action("Read a probe file", "Ctrl+R", lambda: self.desk.go("probe file")),
        )

    def concerned(self, changes: Changes) -> bool:
        """Whether the list may look different."""
        for cook_id in changes.cooks:
            self._showed.pop(cook_id, None)
            self._asked.discard(cook_id)
        return bool(changes)

    def limit(self, only: list[str] | None, named: str = "") -> None:
        """Show only these cooks, with a name; None shows all."""
        self._only = only
        self.limited.setText(named)
        self.limited.setVisible(only is not None)
        self.limited.updateGeometry()
        self._look()

    def arrive(self) -> None:
        """Be shown."""
        super().arrive()
        self._offer_soon()
        if self.window().focusWidget() is None:  # just started: Enter opens the cook marked
            self.list.setFocus()

    def take(self, there: Destination) -> None:
        """Take over the filters that led here, or show only the cooks that were named."""
        if there.where is not None:
            self.narrowing.take(there.where)
        if there.named:
            self.limit(list(there.cook_ids), there.named)

    def leave(self) -> None:
        """Put away what lies over the page, and end choosing."""
        super().leave()
        put_away_all(self.window())
        if self._choosing:
            self.choose()

    def refresh(self) -> None:
        """Show the list anew; the chosen cook stays chosen."""
        chosen = self.list.currentIndex().data(LINE)
        self.pinned.refresh()
        self._look()
        place = self.model.place_of(chosen.id) if chosen is not None else 0
        if place >= 0:
            self.list.setCurrentIndex(self.model.index(place))

    def look_now(self) -> None:
        """Show what has the words typed, without waiting for a pause."""
        self._typing.stop()
        self._look()

    def _look(self) -> None:
        trends, where = self.desk.journal.trends, self.narrowing.where
        if not where and self._only is None:
            self.problem.say("")
            self._list_of(None)
        elif self.desk.reads_at_once(keys_of(where)):
            self._narrowed(where)
        else:

            def work(progress: Progress) -> None:
                trends.frame(progress)
                trends.cooks_where(where)

            def over(_: object) -> None:
                self._narrowed(where)  # what was refused is refused again, and said there

            self.desk.bridge.run("Read all the cooks", work, over, over, asker=self)

    def _narrowed(self, where: tuple[Where, ...]) -> None:
        if where != self.narrowing.where:
            return
        try:
            found = self.desk.journal.trends.cooks_where(where)
        except JournalError as error:
            self.problem.say(str(error))
            return
        self.problem.say("")
        self._list_of(found)

    def _list_of(self, passing: list[str] | None) -> None:
        """Show the cooks that pass the filters, are among those chosen, and have the words."""
        typed = self.search.text()
        only = self._only
        if passing is not None:
            chosen = None if only is None else set(only)
            only = [one for one in passing if chosen is None or one in chosen]
        self.model.look(typed, only)
        unread = bool(self.desk.journal.cooks.left_out())
        empty = not self.model.total and not unread and not typed and only is None
        self._stack.setCurrentIndex(int(empty))
        self.header.beside.setText("" if empty else self._count(typed))
        self._ask_soon()
        self._offer_soon()

    def _offer_soon(self) -> None:
        """Count what may be narrowed by, once the list stands."""
        where, journal = self.narrowing.where, self.desk.journal

        def work(_progress: Progress) -> tuple[int, list[Offer]]:
            return offers(journal, where)

        def done(found: tuple[int, list[Offer]]) -> None:
            if where == self.narrowing.where:
                self.narrowing.offer(found[1])

        if self.isVisible():
            self.desk.bridge.run("Count the cooks", work, done, asker=self, quiet=True)

    def _count(self, typed: str) -> str:
        count = self.model.total
        if typed or self._only is not None or self.narrowing.where:
            return f"{count} found" if count else "none found"
        last = self.model.index(self.model.rowCount() - 1).data(LINE)
        since = ""
        if last is not None and self.model.rowCount() == count:
            since = f", since {show_date(last.starts_at, last.zone)}"
        gone = self.desk.journal.cooks.left_out()
        unread = f", {gone} left out that cannot be read" if gone else ""
        return f"{count}{since}{unread}"

    def _ask_soon(self, *_: object) -> None:
        QTimer.singleShot(200, self, self._ask)

    def _ask(self) -> None:
        """Work out what the cooks in sight showed, one job at a time."""
        if not self.isVisible() or not self.model.rowCount():
            return
        top = max(self.list.indexAt(self.list.rect().topLeft()).row(), 0)
        seen = self.list.height() // HEIGHT + 2
        lines = [
            self.model.index(place).data(LINE)
            for place in range(top, min(top + seen, self.model.rowCount()))
        ]
        wanted = [line.id for line in lines if line.id not in self._asked]
        if not wanted:
            return
        self._asked.update(wanted)
        journal, system = self.desk.journal, self.desk.system

        def work(_progress: Progress) -> dict[str, Showed]:
            return journal.findings.showed(wanted, system)

        self.desk.bridge.run("Read what the cooks showed", work, self._take, asker=self, quiet=True)

    def _take(self, found: dict[str, Showed]) -> None:
        self._showed.update(found)
        self.list.viewport().update()

    def _find(self) -> None:
        self.search.setFocus()
        self.search.selectAll()

    # side by side

    def choose(self) -> None:
        """Begin to choose cooks to put side by side, or stop."""
        self._choosing = not self._choosing
        mode = QListView.SelectionMode
        self.list.setSelectionMode(mode.MultiSelection if self._choosing else mode.SingleSelection)
        self.list.clearSelection()
        self.choose_bar.setVisible(self._choosing)
        self._say_chosen()

    def _chosen(self) -> list[str]:
        lines = [index.data(LINE) for index in self.list.selectedIndexes()]
        return [line.id for line in lines]

    def _say_chosen(self, *_: object) -> None:
        count = len(self._chosen())
        said = "Tap cooks: two to six side by side, any for a report."
        self.choose_words.setText(f"{count} chosen." if count else said)
        self.report.setEnabled(bool(count))
        self.compare.setEnabled(LEAST <= count <= MOST)

    def _compare(self) -> None:
        self.desk.go_to(Destination(place="compare", cook_ids=tuple(self._chosen())))

    def list_all(self) -> None:
        """Choose every cook that is listed."""
        while self.model.canFetchMore(QModelIndex()):
            self.model.fetchMore(QModelIndex())
        self.list.selectAll()

    def _report(self) -> None:
        from pitjournal.ui.season.report_panel import ReportPanel  # noqa: PLC0415 - when wanted

        ReportPanel(self.desk, self.window(), None, self._chosen()).open_panel()

    def _open(self, index: QModelIndex) -> None:
        if self._choosing:
            return
        line = index.data(LINE)
        if line is not None:
            self.desk.go("cook", line.id)

    def _open_chosen(self) -> None:
        self._open(self.list.currentIndex())
