"""The lines under the plate: but, the next cook, and what the cook concludes."""

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.amber_line import Sign
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.fields import Save, TextField
from pitjournal.ui.look.parts.words import column, row, words

CONCLUSION = "Your conclusion"
HINT = "in your own words; it stays as you write it, with its day, when the numbers change"


class ButLine(QFrame):
    """What has to be known beside the answer, in amber; on a plain card where there is nothing."""

    def __init__(self, look_closer: Callable[[], object]) -> None:
        super().__init__()
        self.sign = Sign()
        self.text = words("", "large")
        self.closer = button("What else differed", look_closer, "link")
        line = QHBoxLayout(self)
        line.setContentsMargins(tokens.L, tokens.XS, tokens.L, tokens.XS)
        line.setSpacing(tokens.S)
        line.addWidget(self.sign)
        line.addWidget(self.text, 1)
        line.addWidget(self.closer)

    def say(self, text: str, more: int) -> None:
        """Say it; with an empty text there is no such line."""
        self.setVisible(bool(text))
        warns = text.startswith("But")
        self.sign.setVisible(warns)
        self.text.setText(text)
        self.closer.setText(f"{more} more, and what else" if more else "What else differed")
        role = "but" if warns else "card"
        if self.property("role") != role:
            self.setProperty("role", role)
            self.style().unpolish(self)
            self.style().polish(self)


class NextLine(QWidget):
    """The cook that would tell most with its button and what is beside it, and why, in full."""

    def __init__(self, plan: Callable[[], object], more: Callable[[], object]) -> None:
        super().__init__()
        self.heading = words("", "strong")
        self.why = words("", "quiet")
        self.plan = button("Plan it", plan, "primary")
        self.more = button("", more, "link")
        next_up = words("Next", "quiet", wrap=False)
        self.line = row(next_up, self.heading, self.more, self.plan, space=tokens.M)
        self.line.setStretch(1, 1)
        self.setLayout(column(self.line, self.why, space=tokens.XS))


class ConclusionLine(QWidget):
    """The cook's own conclusion, and when it was written."""

    def __init__(self, save: Save) -> None:
        super().__init__()
        self.field = TextField(CONCLUSION, save, bare=True, hint=HINT)
        self.when = words("", "quiet", wrap=False)
        self.when.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(tokens.M)
        line.addWidget(words(CONCLUSION, "quiet", wrap=False))
        line.addWidget(self.field, 1)
        line.addWidget(self.when)

    def show_conclusion(self, text: str, when: str) -> None:
        """Show what was written, and when."""
        self.field.set_value(text or None)
        self.when.setText(when)
        self.when.setVisible(bool(when))
