"""The tasting: draw codes, score blind, lock, reveal."""

from collections.abc import Sequence

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedLayout, QVBoxLayout, QWidget

from pitjournal.analysis.safety.below import sentences
from pitjournal.analysis.safety.cautions import DEFERENCE
from pitjournal.domain.tasting import Tasting
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.cook.place import CookPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.amber_line import AmberLine
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.words import column
from pitjournal.ui.page import scrolled
from pitjournal.ui.tasting import model
from pitjournal.ui.tasting.reveal import Reveal
from pitjournal.ui.tasting.scoring import Scoring
from pitjournal.ui.tasting.set_up import SetUp


class TastingPage(CookPage):
    """A blind tasting, from the draw to the reveal; a cook may have several."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._here = ("", "")
        self._chosen = ""
        self._anew = False
        self.sessions = Choice("tastings of this cook")
        self.sessions.chosen.connect(self._choose)
        self.scoring = Scoring(desk)
        self.set_up = SetUp(desk, self._back, self.scoring.begin)
        self.result = Reveal(desk, self.start_another, self._to_findings)
        self.below = AmberLine()
        desk.cold.changed.connect(lambda _: self._show_below())
        above = column(self.sessions, self.below)
        above.setContentsMargins(tokens.XL, tokens.M, tokens.XL, 0)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(above)
        self._stack = QStackedLayout()
        outer.addLayout(self._stack, 1)  # first, or what is put in is shown as a window
        parts: tuple[tuple[QWidget, str], ...] = (
            (self.set_up, "start the tasting"),
            (self.scoring, "score sheet"),
            (self.result, "revealed scores"),
        )
        for part, name in parts:
            part.setObjectName("scrolled")
            self._stack.addWidget(scrolled(column(part), name))

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Draw the codes", "Ctrl+D", self.draw_codes),
            Action("Next taster", "Ctrl+J", self.scoring.next_taster),
            Action("Sheets and plate map", "Ctrl+Shift+P", self.scoring.open_paper),
            Action("Lock the scores", "Ctrl+Shift+L", self._lock),
            Action("Reveal the codes", "Ctrl+Shift+R", self._reveal),
        )

    def leave(self) -> None:
        """Be left: what was asked is asked anew."""
        super().leave()
        self.scoring.let_go()

    def take_key(self, event: QKeyEvent) -> bool:
        """Take a digit that is typed while no field has the focus."""
        return self._stack.currentIndex() == 1 and self.scoring.take_key(event)

    # what it shows

    def show_cook(self, whole: WholeCook) -> None:
        """Show one session of a cook: the one chosen, else the newest."""
        newest = model.newest(whole)
        here = whole.cook.id, newest.id if newest else ""
        if here != self._here:
            self._here, self._chosen, self._anew = here, "", False
        tasting = self._tasting(whole)
        self.desk.cold.want(whole)
        named = model.session_names(whole)
        self.sessions.setVisible(len(named) > 1 and not self._anew)
        self.sessions.offer((tasting_id, name, -1) for tasting_id, name in named)
        if tasting is None or self._anew:
            self._stack.setCurrentIndex(0)
            self._show_below()
            self.set_up.show_cook(whole, again=tasting is not None)
            return
        self.sessions.choose(tasting.id)
        session = whole.session(tasting)
        self._stack.setCurrentIndex(2 if tasting.revealed else 1)
        self._show_below()
        if tasting.revealed:
            self.result.show_session(whole, session)
        else:
            self.scoring.show_session(whole, session)

    def _show_below(self) -> None:
        """Say what did not reach what is asked of it, until the codes are revealed."""
        whole = self.whole
        if whole is None:
            return
        found = self.desk.cold.found(whole.cook.id)
        said = sentences(found, whole.cook.zone) if self._stack.currentIndex() != 2 else ()
        self.below.say(" ".join(said), DEFERENCE if said else "")

    def _tasting(self, whole: WholeCook) -> Tasting | None:
        chosen = (one for one in whole.tastings if one.id == self._chosen)
        return next(chosen, model.newest(whole))

    def _show(self) -> None:
        if self.whole is not None:
            self.show_cook(self.whole)

    # what its taps do

    def _choose(self, tasting_id: object) -> None:
        self._chosen = str(tasting_id)
        self._show()

    def start_another(self) -> None:
        """Set another tasting of the same cook up."""
        self._anew = True
        self._show()

    def _back(self) -> None:
        self._anew = False
        self._show()

    def draw_codes(self) -> None:
        """Draw a code for each portion and an order for each taster."""
        if self._stack.currentIndex() == 0:
            self.set_up.draw_codes()

    def _lock(self) -> None:
        if self._stack.currentIndex() == 1:
            super().leave()  # what stands in a field is saved first
            self.scoring.lock_scores()

    def _reveal(self) -> None:
        if self._stack.currentIndex() == 1:
            self.scoring.reveal_codes()

    def _to_findings(self) -> None:
        if self.whole is not None:
            self.desk.go("cook", self.whole.cook.id, "findings")
