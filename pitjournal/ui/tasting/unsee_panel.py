"""Asked before a reveal is undone: the codes have been seen, whatever is undone."""

from PySide6.QtWidgets import QWidget

from pitjournal.ui.bridge import Bridge
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import row, words

ASKED = (
    "The codes have been seen, and undoing does not change that. The findings and the summary "
    "will say that the reveal was undone, and what is changed from here on. One score that is "
    "wrong is better mended by “Correct a score”, with its reason."
)


class UnseePanel(Overlay):
    """Undo the reveal, or leave it."""

    def __init__(self, bridge: Bridge, over: QWidget) -> None:
        super().__init__(over, "Undo the reveal?", 620)
        self._bridge = bridge
        self.body.addWidget(words(ASKED))
        self.undo = button("Undo the reveal", self._undo, "danger")
        self.leave = button("Leave it revealed", self.close_panel, "primary")
        self.body.addLayout(row(self.leave, self.undo, None))

    def _undo(self) -> None:
        self.close_panel()
        self._bridge.undo_at_any_rate()
