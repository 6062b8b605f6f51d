"""What a window opens over any page: its keys, its charts as tables, the find box, a fault."""

from collections.abc import Callable, Sequence
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QEvent, QObject, QStringListModel, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QLineEdit,
    QListView,
    QVBoxLayout,
    QWidget,
)

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Action, Overlay
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import sized


class KeysPanel(Overlay):
    """What can be done here, with its keys."""

    def __init__(self, over: QWidget, groups: Sequence[tuple[str, Sequence[Action]]]) -> None:
        super().__init__(over, "Keys", 780)
        grid = QGridLayout()
        grid.setHorizontalSpacing(tokens.XL)
        grid.setVerticalSpacing(6)
        for place, (heading, actions) in enumerate(groups):
            grid.addWidget(words(heading, "heading", wrap=False), 0, 2 * place, 1, 2)
            for line, action in enumerate((a for a in actions if a.key), start=1):
                grid.addWidget(words(action.key, "strong", wrap=False), line, 2 * place)
                grid.addWidget(words(action.text, wrap=False), line, 2 * place + 1)
        self.body.addLayout(grid)


@runtime_checkable
class Tells(Protocol):
    """A chart that can be told in words and as a table."""

    def sentence(self) -> str:
        """Return what it shows, in words."""
        ...

    def table(self) -> list[list[str]]:
        """Return what it shows as rows of cells, the headings first."""
        ...


def charts_on(page: QWidget) -> list[Tells]:
    """Return the charts of a page that are in sight."""
    return [
        widget
        for widget in page.findChildren(QWidget)
        if isinstance(widget, Tells) and widget.isVisible()
    ]


class TablesPanel(Overlay):
    """The charts of a page in words and as tables."""

    def __init__(self, over: QWidget, charts: Sequence[Tells]) -> None:
        super().__init__(over, "Charts as tables", 820)
        lines = QVBoxLayout()
        lines.setSpacing(tokens.S)
        if not charts:
            lines.addWidget(words("There is no chart on this page."))
        for chart in charts:
            lines.addWidget(words(chart.sentence(), "strong"))
            grid = QGridLayout()
            grid.setHorizontalSpacing(tokens.XL)
            for number, cells in enumerate(chart.table()[:40]):
                for place, cell in enumerate(cells):
                    grid.addWidget(
                        words(cell, "" if number else "heading", wrap=False), number, place
                    )
            grid.setColumnStretch(20, 1)
            lines.addLayout(grid)
        lines.addStretch(1)
        self.body.addLayout(lines)


class FindBox(Overlay):
    """Find and do: type a few letters of an action or a cook."""

    MOST = 9

    def __init__(
        self, over: QWidget, actions: Sequence[Action], find: Callable[[str], Sequence[Action]]
    ) -> None:
        super().__init__(over, "Find and do", 620)
        self._actions, self._find = actions, find
        self._shown: list[Action] = []
        self.line = QLineEdit()
        self.line.setAccessibleName("find and do")
        self.line.setPlaceholderText("Type a few letters of a cook or of what to do")
        self.list = QListView()
        self.list.setAccessibleName("what was found")
        sized(self.list, lines=self.MOST, height=self.MOST * 34)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setSpacing(4)
        self._model = QStringListModel(self)
        self.list.setModel(self._model)
        self.body.addWidget(self.line)
        self.body.addWidget(self.list)
        self.none = words("Nothing is called that. Try fewer letters.", "quiet")
        self.none.setAlignment(Qt.AlignmentFlag.AlignTop)  # right below what was typed
        self.none.hide()
        self.body.addWidget(self.none)
        self.line.textChanged.connect(self._look)
        self.line.returnPressed.connect(self._take)
        self.list.clicked.connect(lambda *_: self._take())
        self.line.installEventFilter(self)
        self._look("")

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the line ready."""
        super().open_panel(first or self.line)

    def _look(self, text: str) -> None:
        wanted = text.casefold().split()
        fitting = [a for a in self._actions if all(w in a.text.casefold() for w in wanted)]
        found = list(self._find(text)) if text.strip() else []
        self._shown = [*fitting, *found][: self.MOST] if wanted else fitting[: self.MOST]
        self._model.setStringList(
            [f"{a.text}    {a.key}" if a.key else a.text for a in self._shown]
        )
        self.list.setCurrentIndex(self._model.index(0))
        self.list.setVisible(bool(self._shown))
        self.none.setVisible(not self._shown)

    def _take(self) -> None:
        place = self.list.currentIndex().row()
        if 0 <= place < len(self._shown):
            self.close_panel()
            self._shown[place].run()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Move in the list with the arrows while typing."""
        if watched is self.line and isinstance(event, QKeyEvent):
            step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
            if event.type() is QEvent.Type.KeyPress and step:
                place = self.list.currentIndex().row() + step
                place = min(max(place, 0), len(self._shown) - 1)
                self.list.setCurrentIndex(self._model.index(place))
                return True
        return super().eventFilter(watched, event)


class BugPanel(Overlay):
    """Something went wrong that should not: said once, to be copied."""

    def __init__(self, over: QWidget, details: str, copy: Callable[[], object]) -> None:
        super().__init__(over, "Something went wrong", 620)
        text = (
            "This is a fault of the program, not yours. What you saved is saved, and you can "
            "go on. Copy the details to send them to who mends it: they hold the log, and "
            "nothing of your cooks."
        )
        self.body.addWidget(words(text, "large"))
        last = details.strip().splitlines()[-1] if details.strip() else ""
        self.body.addWidget(words(last[:300], "quiet"))
        self.body.addLayout(row(button("Copy the details and the log", copy), None))
