"""How everything on the page of findings was worked out."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.findings.explain import explanations
from pitjournal.analysis.findings.slow_findings import SlowFindings
from pitjournal.ui.findings.model import Shown
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import rule, words
from pitjournal.ui.page import scrolled


class HowFoundPanel(Overlay):
    """Data, method, formula, source and what is taken for granted, one after the other."""

    def __init__(self, over: QWidget, shown: Shown) -> None:
        super().__init__(over, "How was this worked out?", 760)
        lines = QVBoxLayout()
        for title, worked in explanations(
            shown.found, shown.deeper or SlowFindings(), shown.system
        ):
            lines.addWidget(words(title, "large"))
            for name, text in (
                ("Data", worked.data),
                ("Method", worked.method),
                ("Formula", worked.formula),
                ("Source", worked.source),
                ("Taken for granted", worked.assumptions),
            ):
                lines.addWidget(words(name, "heading"))
                lines.addWidget(words(text))
            lines.addWidget(rule())
        self.body.addWidget(scrolled(lines, "how it was worked out"))
        self.setMinimumHeight(tokens.PANEL_HEIGHT)
