"""Several lines of free words, saved by themselves."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QPlainTextEdit, QVBoxLayout, QWidget

from pitjournal.files.places import readable
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.fields import Save
from pitjournal.ui.look.parts.pauses import Pauses
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.look.theme import sized


class Lines(QPlainTextEdit):
    """Several lines; `left` says that the cook goes on to something else."""

    left = Signal()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Say so: what comes next may be of another record."""
        super().focusOutEvent(event)
        self.left.emit()


class WordsField(QWidget):
    """Several lines of free words, saved at a pause and when they are left."""

    def __init__(self, label: str, save: Save, *, lines: int = 2, hint: str = "") -> None:
        super().__init__()
        self._save = save
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(tokens.XS // 2)
        self.edit = Lines()
        self.edit.setAccessibleName(label)
        self.edit.setPlaceholderText(hint)
        self.edit.setTabChangesFocus(True)
        sized(self.edit, lines=lines, height=22 * lines + 18)
        caption = words(label, "heading", wrap=False)
        caption.setBuddy(self.edit)
        layout.addWidget(caption)
        layout.addWidget(self.edit)
        self.setFocusProxy(self.edit)
        self._pauses = Pauses(self, self.commit)
        self.edit.textChanged.connect(self._pauses.typed)
        self.edit.left.connect(self.settle)
        self._kept = ""

    def set_value(self, value: object) -> None:
        """Show words, unless the cook is typing here."""
        text = "" if value is None else str(value)
        if self._pauses.waits or text == self._kept == self.edit.toPlainText():
            return
        self._kept = text
        if not self.edit.hasFocus() and text != self.edit.toPlainText():  # the cursor stays
            self.edit.blockSignals(True)
            self.edit.setPlainText(text)
            self.edit.blockSignals(False)

    def settle(self) -> None:
        """Save what is being typed, before something else is shown here."""
        if self._pauses.waits:
            self.commit()

    def commit(self) -> None:
        """Save what stands there now."""
        self._pauses.stop()
        text = readable(self.edit.toPlainText().strip())
        if text != self._kept and not self._save(text, text):
            self._kept = text
