"""How to ask: the page of the manual on sentences, in the window."""

import re

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from pitjournal.resource_files import resource_path
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll_layout
from pitjournal.ui.look.parts.words import words

_ENTRY = re.compile(r" {4}(\S.*?)(?: {2,}(\S.*))?")
_GOES_ON = re.compile(r" {20,}(\S.*)")


def entries() -> list[tuple[str, str]]:
    """Return what may stand in a sentence and what it means, from the manual.

    Words without a meaning beside them are a paragraph of their own.
    """
    page = resource_path("manual/trends.txt").read_text(encoding="utf-8")
    part = re.search(r"^SENTENCES\n(.*?)^[A-Z]", page, re.MULTILINE | re.DOTALL)
    assert part is not None
    found: list[tuple[str, str]] = []
    fresh = True
    for line in part[1].splitlines():
        goes_on, entry = _GOES_ON.fullmatch(line), _ENTRY.fullmatch(line)
        if goes_on is not None and found:
            head, text = found[-1]
            found[-1] = head, f"{text} {goes_on[1]}".strip()
        elif entry is not None and entry[2] is None and found and not fresh and not found[-1][1]:
            found[-1] = f"{found[-1][0]} {entry[1]}", ""
        elif entry is not None:
            found.append((entry[1], entry[2] or ""))
        fresh = not line.strip()
    return found


class HowPanel(Overlay):
    """What a question may say."""

    def __init__(self, over: QWidget) -> None:
        super().__init__(over, "How to ask", 760)
        grid = QGridLayout()
        grid.setHorizontalSpacing(tokens.L)
        grid.setVerticalSpacing(tokens.S)
        grid.setColumnStretch(1, 1)
        for place, (head, text) in enumerate(entries()):
            if text:
                top = Qt.AlignmentFlag.AlignTop
                grid.addWidget(words(head, "strong", wrap=False), place, 0, top)
                grid.addWidget(words(text), place, 1)
            else:
                grid.addWidget(words(head), place, 0, 1, 2)
        grid.setRowStretch(grid.rowCount(), 1)
        area = scroll_layout(grid, "how to ask")
        area.setMinimumHeight(tokens.PANEL_HEIGHT)
        self.body.addWidget(area)
