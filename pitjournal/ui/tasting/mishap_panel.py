"""What went wrong with the scores, put right by one action: lost, swapped, corrected."""

from collections.abc import Sequence

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.domain.scheme import ANSWER
from pitjournal.domain.tasting import Mishap, Sample, Session, TastingState
from pitjournal.errors import JournalError
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.mishaps import CorrectScore, MarkSpilled, SwapScores
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words

HEADINGS = {
    Mishap.SPILLED: "A sample was lost",
    Mishap.SWAPPED: "Two samples were swapped",
    Mishap.CORRECTED: "Correct a score",
}
ABOUT = {
    Mishap.SPILLED: "Which one? What was scored of it goes, and nothing more is waited for.",
    Mishap.SWAPPED: "Which two? All that was said of the one goes to the other.",
    Mishap.CORRECTED: "What it was, what it is and the reason are kept beside the scores.",
}


class MishapPanel(Overlay):
    """Choose the taster and the code, say why, and it is noted."""

    def __init__(
        self, desk: Desk, over: QWidget, session: Session, taster: str, mishap: Mishap
    ) -> None:
        super().__init__(over, HEADINGS[mishap], 640)
        self._desk, self._session, self._mishap = desk, session, mishap
        self._locked = session.tasting.state is not TastingState.OPEN
        self.body.addWidget(words(ABOUT[mishap]))
        self.tasters = Choice("taster")
        self.tasters.offer((name, name, -1) for name in session.present)
        self.tasters.choose(taster)
        self.tasters.chosen.connect(lambda *_: self._offer_codes())
        self.codes = Choice("code", several=mishap is Mishap.SWAPPED)
        self.criteria = Choice("what was scored")
        self.value = QLineEdit()
        self.value.setAccessibleName("right score")
        self.value.setPlaceholderText("The right score; empty is none")
        self.why = QLineEdit()
        self.why.setAccessibleName("why")
        self.why.setPlaceholderText("Why?" if self._locked else "Why? May stay empty")
        self.why.returnPressed.connect(self._note)
        self.problem = Problem()
        self.note = button("Note it", self._note, "primary")
        self.body.addWidget(self.tasters)
        self.body.addWidget(self.codes)
        self._scores = mishap is Mishap.CORRECTED and session.tasting.asked.scored
        if self._scores:
            names = session.tasting.criteria
            self.criteria.offer((name, name, -1) for name in names)
            self.criteria.choose(*names[:1])
            for choice in (self.tasters, self.codes, self.criteria):
                choice.chosen.connect(lambda *_: self._say_what_it_was())
            self.body.addWidget(self.criteria)
            self.body.addWidget(self.value)
        self.body.addWidget(self.why)
        self.body.addWidget(self.problem)
        self.body.addLayout(row(self.note, None))
        self._offer_codes()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the codes ready."""
        super().open_panel(first or self.codes)

    def _offer_codes(self) -> None:
        self.codes.offer((sample.id, sample.code, -1) for sample in self._served())

    def _say_what_it_was(self) -> None:
        """Say in the field what stands there now."""
        code = str(next(iter(self.codes.values()), ""))
        name = str(next(iter(self.criteria.values()), ""))
        criterion = self._session.tasting.asked.criterion(name)
        was = self._session.given.get((code, self.taster, name))
        shown = "" if criterion is None else criterion.shown(was)
        instead = f" instead of {shown}" if shown else ""
        self.value.setPlaceholderText(f"The right score{instead}; empty is none")

    @property
    def taster(self) -> str:
        """Whose sample it was."""
        return str(next(iter(self.tasters.values()), ""))

    def _served(self) -> Sequence[Sample]:
        return [s for s in self._session.served(self.taster) if not s.reference]

    def _note(self) -> None:
        try:
            problem = self._desk.bridge.attempt(self._command(), self)
        except JournalError as error:
            problem = str(error)
        self.problem.say(problem)
        if not problem:
            self.close_panel()

    def _command(self) -> Command:
        """Return what is to be done.

        Raises
        ------
        JournalError
            If something is not chosen yet, or not understood.
        """
        codes = [str(code) for code in self.codes.values()]
        tasting, at, why = self._session.tasting, self._desk.now(), self.why.text().strip()
        if self._locked and not why:
            raise JournalError("The scores are locked.", "Write down why this one changes.")
        if self._mishap is Mishap.SWAPPED:
            if len(codes) != 2:
                raise JournalError("Choose the two codes that were swapped.")
            return SwapScores(tasting.id, self.taster, codes[0], codes[1], at, why)
        if not codes:
            raise JournalError("Choose the code.")
        if self._mishap is Mishap.SPILLED:
            return MarkSpilled(tasting.id, self.taster, codes[0], at, why)
        if not self._scores:
            return CorrectScore(tasting.id, self.taster, codes[0], ANSWER, None, at, why)
        name = str(next(iter(self.criteria.values()), ""))
        criterion = tasting.asked.criterion(name)
        value = criterion.read(self.value.text()) if criterion else None
        return CorrectScore(tasting.id, self.taster, codes[0], name, value, at, why)
