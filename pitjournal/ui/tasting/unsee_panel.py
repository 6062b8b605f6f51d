"""Asked before a reveal is undone: the codes have been seen, whatever is undone."""

from PySide6.QtWidgets import QWidget

from pitjournal.ui.bridge import Bridge
from pitjournal.ui.look.parts.ask_panel import AskPanel

ASKED = (
    "The codes have been seen, and undoing does not change that. The findings and the summary "
    "will say that the reveal was undone, and what is changed from here on. One score that is "
    "wrong is better mended by “Correct a score”, with its reason."
)


class UnseePanel(AskPanel):
    """Undo the reveal, or leave it."""

    def __init__(self, bridge: Bridge, over: QWidget) -> None:
        answers = ("Undo the reveal", "Leave it revealed")
        super().__init__(over, "Undo the reveal?", ASKED, answers, bridge.undo_at_any_rate)
