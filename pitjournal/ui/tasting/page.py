"""The tasting: draw codes, score blind, lock, reveal."""

import secrets
from collections.abc import Sequence

from PySide6.QtWidgets import QLineEdit, QStackedLayout, QWidget

from pitjournal.domain.shelf import ShelfKind
from pitjournal.domain.tasting import HOME_PANEL, Tasting, TastingState
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.records import Remove, Together
from pitjournal.journal.commands.tasting import (
    DrawTasting,
    GiveScore,
    LockTasting,
    RevealTasting,
)
from pitjournal.ui.cook.place import CookPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.page import scrolled
from pitjournal.ui.tasting import model
from pitjournal.ui.tasting.sheet import Sheet

HOW_TO = (
    "Serve each piece under its code, in each taster's own order: same place on the piece, same "
    "size, same temperature. A warm-up sample first, water and plain crackers, no talking."
)


class TastingPage(CookPage):
    """A blind tasting, from the draw to the reveal."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._taster = ""
        self._stack = QStackedLayout(self)
        for page in (self._start_page(), self._sheet_page(), self._reveal_page()):
            self._stack.addWidget(page)

    # what is on it

    def _start_page(self) -> QWidget:
        card = Card("A blind tasting")
        card.body.addWidget(words(HOW_TO, "large"))
        card.body.addWidget(words("Who tastes?", "heading"))
        self.known = Choice("tasters on the Shelf", several=True)
        card.body.addWidget(self.known)
        self.names = QLineEdit()
        self.names.setAccessibleName("other tasters, with commas between")
        self.names.setPlaceholderText("Other tasters, with commas between")
        card.body.addWidget(self.names)
        card.body.addWidget(words("What is scored, 1 to 9 each", "heading"))
        self.criteria = Choice("what is scored", several=True)
        self.criteria.offer((name, name, -1) for name in HOME_PANEL)
        self.criteria.choose(*HOME_PANEL)
        card.body.addWidget(self.criteria)
        self.problem = Problem()
        card.body.addWidget(self.problem)
        self.draw = button("Draw the codes", self.draw_codes, "primary", tip="Ctrl+D")
        card.body.addLayout(row(self.draw, None))
        card.setMaximumWidth(tokens.READING_WIDTH)
        return scrolled(column(row(card, None), None), "start the tasting")

    def _sheet_page(self) -> QWidget:
        side = Card("Taster")
        self.tasters = Choice("taster")
        self.tasters.chosen.connect(self._turn)
        side.body.addWidget(self.tasters)
        self.progress = words("", "strong")
        side.body.addWidget(self.progress)
        side.body.addWidget(words(HOW_TO, "quiet"))
        side.body.addStretch(1)
        self.lock = button("Lock the scores", self._lock, tip="Ctrl+Shift+L")
        self.again = button("Draw again", self._draw_again, "link")
        side.body.addLayout(column(self.lock, row(self.again, None)))
        card = Card("Sheet")
        self.sheet_card = card
        self.sheet = Sheet()
        card.body.addWidget(self.sheet)
        self.locked = words("", "large")
        card.body.addWidget(self.locked)
        card.body.addStretch(1)
        self.reveal = button("Reveal the codes", self._reveal, "primary")
        card.body.addLayout(row(self.reveal, None))
        line = row(side, card, space=tokens.M)
        line.setStretch(0, 1)
        line.setStretch(1, 3)
        return scrolled(line, "score sheet")

    def _reveal_page(self) -> QWidget:
        arms, pieces, panel = (
            Card("Each way, mean of its pieces"),
            Card("Each piece"),
            Card("The panel"),
        )
        self.arms, self.pieces, self.panel = (
            FactTable("each way"),
            FactTable("each piece"),
            FactTable("the panel"),
        )
        for card, table in ((arms, self.arms), (pieces, self.pieces), (panel, self.panel)):
            card.body.addWidget(table)
            card.body.addStretch(1)
        self.arms_card = arms
        note = "Tasters are averaged within a piece; they are no replicates."
        panel.body.addWidget(words(note, "quiet"))
        panel.body.addLayout(row(button("See the findings", self._to_findings, "primary"), None))
        left = column(arms, panel, None, space=tokens.M)
        line = row(left, pieces, space=tokens.M)
        line.setStretch(0, 1)
        line.setStretch(1, 1)
        return scrolled(line, "revealed scores")

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Draw the codes", "Ctrl+D", self.draw_codes),
            Action("Next taster", "Ctrl+J", self._next),
            Action("Lock the scores", "Ctrl+Shift+L", self._lock),
            Action("Reveal the codes", "Ctrl+Shift+R", self._reveal),
        )

    # what it shows

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's newest session."""
        session = model.session_of(whole)
        if session is None:
            self._stack.setCurrentIndex(0)
            tasters = [i for i in self.desk.journal.shelf(ShelfKind.TASTER) if not i.retired]
            self.known.offer((item.name, item.name, -1) for item in tasters)
            self.known.setVisible(bool(tasters))
            self.draw.setEnabled(bool(whole.pieces))
            if not whole.pieces:
                self.problem.say("There is no piece to taste yet. Add the meat on the Plan first.")
            return
        if session.state is TastingState.REVEALED:
            self._stack.setCurrentIndex(2)
            self._show_revealed(whole, session)
            return
        self._stack.setCurrentIndex(1)
        self._show_sheet(whole, session)

    def _show_sheet(self, whole: WholeCook, session: Tasting) -> None:
        if self._taster not in session.tasters:
            self._taster = session.tasters[0] if session.tasters else ""
        scores = model.given(whole, session)
        mine: dict[str, int] = dict.fromkeys(session.tasters, 0)
        for _, name, _ in scores:
            mine[name] = mine.get(name, 0) + 1
        samples = model.sheet(whole, session, self._taster)
        full = len(samples) * len(session.criteria)
        self.tasters.offer(
            (name, f"{name} ✓" if mine[name] >= full else name, -1) for name in session.tasters
        )
        self.tasters.choose(self._taster)
        done, total = model.progress(session, scores, len(samples))
        self.progress.setText(f"{done} of {total} scores")
        still_open = session.state is TastingState.OPEN
        self.sheet_card.heading.setText(f"{self._taster}, in the order of serving")
        self.sheet.setVisible(still_open)
        self.locked.setText(
            "" if still_open else f"Locked: {done} of {total} scores. Nobody can change one now."
        )
        self.locked.setVisible(not still_open)
        self.lock.setVisible(still_open)
        self.lock.setProperty("role", "primary" if done >= total else "")
        self.lock.style().polish(self.lock)
        self.again.setVisible(still_open and not done)
        self.reveal.setVisible(not still_open)
        if still_open:
            self.sheet.show_sheet(session, self._taster, samples, scores, self._keep)

    def _show_revealed(self, whole: WholeCook, session: Tasting) -> None:
        scores = model.given(whole, session)
        pieces = model.revealed(whole, session, scores)
        heads = [(criterion, None) for criterion in session.criteria]
        arms = model.arm_means(whole, pieces, len(session.criteria))
        self.arms_card.setVisible(bool(arms))
        self.arms.show_rows(
            [(arm.name, arm.look) for arm in arms],
            [("pieces", [str(arm.pieces) for arm in arms])]
            + [
                (criterion, [_score(arm.means[place]) for arm in arms])
                for place, criterion in enumerate(session.criteria)
            ],
        )
        arm_names = {arm.id: arm.name for arm in whole.arms}
        self.pieces.show_rows(
            heads,
            [
                (
                    ", ".join(
                        part
                        for part in (p.piece.label, arm_names.get(p.piece.arm_id or ""), p.code)
                        if part
                    ),
                    [_score(mean) for mean in p.means],
                )
                for p in pieces
            ],
        )
        self.panel.show_rows(
            [("scores", None), ("mean", None), ("spread", None)],
            [
                (facts.name, [str(facts.count), _score(facts.mean), _score(facts.spread)])
                for facts in model.taster_facts(session, scores)
            ],
        )

    # what its taps do

    def draw_codes(self) -> None:
        """Draw a code for each piece and an order for each taster."""
        whole = self.whole
        if whole is None or model.session_of(whole) is not None:
            return
        typed = [name.strip() for name in self.names.text().split(",")]
        chosen = [str(name) for name in self.known.values()]
        tasters = tuple(dict.fromkeys(name for name in (*chosen, *typed) if name))
        criteria = tuple(str(name) for name in self.criteria.values())
        if not tasters:
            self.problem.say("Name at least one taster.")
            self.names.setFocus()
            return
        if not criteria:
            self.problem.say("Choose at least one thing to score.")
            return
        draw = DrawTasting(whole.cook.id, tasters, _seed(), criteria=criteria)
        self.problem.say(self.desk.bridge.attempt(draw, self))

    def _draw_again(self) -> None:
        whole = self.whole
        session = model.session_of(whole) if whole else None
        if whole is None or session is None:
            return
        draw = DrawTasting(whole.cook.id, session.tasters, _seed(), criteria=session.criteria)
        both = Together((Remove(Tasting, session.id), draw), "Draw the codes again")
        self.desk.bridge.do(both, self)

    def _turn(self, name: object) -> None:
        self._taster = str(name)
        if self.whole is not None:
            self.show_cook(self.whole)
            blank = self.sheet.first_blank()
            if blank is not None:
                blank.setFocus()

    def _next(self) -> None:
        session = model.session_of(self.whole) if self.whole else None
        if session is not None and session.tasters:
            place = session.tasters.index(self._taster) if self._taster in session.tasters else -1
            self._turn(session.tasters[(place + 1) % len(session.tasters)])

    def _keep(self, sample_id: str, criterion: str, value: float | None) -> str:
        session = model.session_of(self.whole) if self.whole else None
        if session is None:
            return ""
        return self.desk.bridge.attempt(
            GiveScore(session.id, sample_id, self._taster, criterion, value), self
        )

    def _lock(self) -> None:
        session = model.session_of(self.whole) if self.whole else None
        if session is not None:
            self.leave()
            self.desk.bridge.do(LockTasting(session.id), self)

    def _reveal(self) -> None:
        session = model.session_of(self.whole) if self.whole else None
        if session is not None:
            self.desk.bridge.do(RevealTasting(session.id), self)

    def _to_findings(self) -> None:
        if self.whole is not None:
            self.desk.go("cook", self.whole.cook.id, "findings")


def _score(value: float | None) -> str:
    return "–" if value is None else f"{value:.1f}"


def _seed() -> int:
    return secrets.randbelow(1_000_000)
