"""A window's keys: those of its page, Tab in the order of reading, Enter, arrows, Escape."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QLineEdit, QMainWindow, QWidget

from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.bounce import Bounce
from pitjournal.ui.look.parts.overlay import Action, top_panel
from pitjournal.ui.look.parts.reading import (
    ENTERS,
    move_on,
    press,
    scroll_by_key,
    stops,
    takes_letters,
)
from pitjournal.ui.page import Page

DIGITS = frozenset("0123456789")
"""Keys that tap; a finger that bounces is one tap there too."""


class KeyedWindow(QMainWindow):
    """A window with pages of which one is seen; panels may lie over it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        # What hears of the desk holds the window, which holds the desk: none of them would ever
        # be let go, did the desk not go with the window.
        desk.setParent(self)
        self._keys: list[QShortcut] = []
        self._key_from: QWidget | None = None
        self._bounce, self._bounced = Bounce(), False
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        self._focus_changed = application.focusChanged
        self._focus_changed.connect(self._heed_letters)
        self._focus_changed.connect(self._watch_field)

    @property
    def place(self) -> Page:
        """The place that is seen."""
        raise NotImplementedError

    def _everywhere(self) -> Sequence[Action]:
        """Return what can be done in every place."""
        raise NotImplementedError

    def let_keys_go(self) -> None:
        """Hear no more of the focus."""
        self._focus_changed.disconnect(self._heed_letters)
        self._focus_changed.disconnect(self._watch_field)

    def _bind(self, actions: Sequence[Action]) -> list[QShortcut]:
        made = []
        for action in actions:
            if not action.key or action.key in {"Enter", "Esc"}:
                continue
            shortcut = QShortcut(QKeySequence(action.key), self)
            shortcut.setContext(Qt.ShortcutContext.WindowShortcut)
            shortcut.setAutoRepeat(False)  # a key that is held is one tap
            run = self._unless_bounced(action.run) if action.key in DIGITS else action.run
            shortcut.activated.connect(run)
            made.append(shortcut)
        return made

    def _unless_bounced(self, run: Callable[[], object]) -> Callable[[], None]:
        """Return what runs at a press, and not at the same key's bounce."""

        def once() -> None:
            if not self._bounced:
                run()

        return once

    def _bind_page(self, page: Page) -> None:
        for shortcut in self._keys:
            shortcut.setEnabled(False)
            shortcut.deleteLater()
        taken = {action.key for action in self._everywhere()}
        self._keys = self._bind([a for a in page.actions_here() if a.key not in taken])

    def _heed_letters(self, *_: object) -> None:
        """Let keys of the page rest under a panel, and single ones where a field takes letters."""
        covered = top_panel(self) is not None
        letters = self.desk.preferences.letters != "off" and not takes_letters(self.focusWidget())
        for shortcut in self._keys:
            single = len(shortcut.key().toString().removeprefix("Shift+")) == 1
            shortcut.setEnabled(not covered and (letters or not single))

    def _watch_field(self, old: QWidget | None, new: QWidget | None) -> None:
        """Look over the shoulder of the field that has the focus, and of no other."""
        if isinstance(old, QLineEdit):
            old.removeEventFilter(self)
        if isinstance(new, QLineEdit) and new.window() is self:
            new.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let undo be the journal's where a field has nothing to take back, and redo alike."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() is QEvent.Type.ShortcutOverride
            and isinstance(watched, QLineEdit)
        ):
            undo = event.matches(QKeySequence.StandardKey.Undo) and not watched.isUndoAvailable()
            redo = event.matches(QKeySequence.StandardKey.Redo) and not watched.isRedoAvailable()
            if undo or redo:
                event.ignore()
                return True
        return super().eventFilter(watched, event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Go on in the order of reading; from nowhere, into the page."""
        order = stops(self.findChild(QWidget, "paper") or self)
        now = self.focusWidget()
        if now not in order:
            here = stops(self.place)
            return move_on(here, None, forward=forward)
        return move_on(order, now, forward=forward)

    def event(self, event: QEvent) -> bool:
        """Note where a key goes down, and whether it bounced.

        Enter in a field may move the focus to a button; a digit under a glove is one tap.
        """
        if event.type() is QEvent.Type.ShortcutOverride:
            self._key_from = self.focusWidget()
            if isinstance(event, QKeyEvent):
                self._bounced = self._bounce.takes(event)
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press what has the focus by Enter, scroll by arrows and pages, close by Escape."""
        panel, focus = top_panel(self), self.focusWidget()
        if focus is not None and focus is self._key_from and press(focus, event):
            return
        if panel is None:
            if not self.place.take_key(event) and not scroll_by_key(self.place, event):
                super().keyPressEvent(event)
        elif event.key() not in ENTERS:
            panel.keyPressEvent(event)  # the focus is nowhere
