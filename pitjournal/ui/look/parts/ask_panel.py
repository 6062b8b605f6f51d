"""A question before something is done that a slip should not do."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import row, words


class AskPanel(Overlay):
    """Do it, or leave it; leaving it is what Enter does.

    Parameters
    ----------
    over
        What it lies over.
    title, said
        The question, and what is to be known for it.
    answers
        The words of the tap that does it, and of the one that does not.
    do_it
        What is done.
    """

    def __init__(
        self,
        over: QWidget,
        title: str,
        said: str,
        answers: tuple[str, str],
        do_it: Callable[[], object],
    ) -> None:
        super().__init__(over, title, 620)
        self._do_it = do_it
        self.body.addWidget(words(said))
        self.yes = button(answers[0], self._yes, "danger")
        self.leave = button(answers[1], self.close_panel, "primary")
        self.body.addLayout(row(self.leave, self.yes, None))

    def _yes(self) -> None:
        self.close_panel()
        self._do_it()
