"""The sheets of a session while it is scored, and while it is locked."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from pitjournal.domain.tasting import Mishap, Session, TastingState
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.mishaps import MarkAbsent, MarkLeft
from pitjournal.journal.commands.tasting import (
    GiveAnswer,
    GiveScore,
    LockTasting,
    RevealTasting,
)
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import Form
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.reflow import Beside
from pitjournal.ui.look.parts.second_tap import SecondTap
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.tasting import model
from pitjournal.ui.tasting.answers import AnswerSheet
from pitjournal.ui.tasting.mishap_panel import MishapPanel
from pitjournal.ui.tasting.paper import PaperPanel
from pitjournal.ui.tasting.set_up import draw_seed
from pitjournal.ui.tasting.sheet import Sheet
from pitjournal.ui.tasting.unsaved_scores import with_unsaved
from pitjournal.units import Dimension

READ_OUT = (
    "Type the scores as they are read out, row by row: 7 6 8 7, then Enter. Space passes one over."
)
LOCK = "Lock the scores"
ABSENT, LEFT = "Absent", "Left early"
LEFT_WORDS = (
    "Left early: what is blank was not tasted, and is not waited for. Undo takes that back."
)
NO_KEYS = Qt.KeyboardModifier.NoModifier


class Scoring(QWidget):
    """Tasters at the left, the sheet of one of them at the right."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.whole: WholeCook | None = None
        self.session: Session | None = None
        self._on_disk: Session | None = None
        self._taster = ""
        self._second = SecondTap(self, self._unask)
        self._chips: tuple[tuple[str, str, int], ...] = ()
        asked = column(self._panel_card(), self._served_card(), None, space=tokens.M)
        self.setLayout(column(Beside(asked, column(self._sheet_card(), None), (2, 5)), None))

    # what is on it

    def _panel_card(self) -> Card:
        card = Card("Tasters")
        self.tasters = Choice("taster")
        self.tasters.chosen.connect(self.turn)
        self.progress = words("", "quiet")
        self.lock = button(LOCK, self.lock_scores, tip="Ctrl+Shift+L")
        self.again = button("Draw again", self._draw_again, "link")
        for part in (self.tasters, self.progress, self.lock):
            card.body.addWidget(part)
        card.body.addLayout(row(self.again, None))
        return card

    def _served_card(self) -> Card:
        card = Card("Serving")
        self._form = Form(self.desk, "the tasting")
        self.warm = self._form.quantity("served_temperature", "Temperature", Dimension.TEMPERATURE)
        self.portion = self._form.text("portion", "Place on each piece", hint="bone 4")
        self.served_at = self._form.time("served_at", "Time", "UTC")
        for field in (self.warm, self.portion, self.served_at):
            card.body.addWidget(field)
        self.paper = button("Sheets and plate map", self.open_paper, tip="Ctrl+Shift+P")
        card.body.addWidget(self.paper)
        return card

    def _sheet_card(self) -> Card:
        card = Card("Sheet")
        self.sheet_card = card
        self.hint = words(READ_OUT, "quiet")
        self.problem = Problem()
        self.sheet = Sheet()
        self.answers = AnswerSheet()
        for sheet in (self.sheet, self.answers):
            sheet.finished.connect(self.next_unfinished)
            sheet.said.connect(self._say)
        self.lost = words("", "quiet")
        self.away = words("", "large")
        self.locked = words("", "large")
        self.reveal = button("Reveal the codes", self.reveal_codes, "primary", tip="Ctrl+Shift+R")
        self.missing = button("Absent", self._absent, "link")
        self.spilled = button("A sample was lost", self._teller(Mishap.SPILLED), "link")
        self.swapped = button("Two were swapped", self._teller(Mishap.SWAPPED), "link")
        self.wrong = button("Correct a score", self._teller(Mishap.CORRECTED), "link")
        for part in (
            self.hint,
            self.sheet,
            self.answers,
            self.problem,
            self.lost,
            self.away,
            self.locked,
        ):
            card.body.addWidget(part)
        card.body.addLayout(row(self.reveal, None))
        card.body.addLayout(row(self.missing, self.spilled, self.swapped, self.wrong, None))
        return card

    # what it shows

    @property
    def taster(self) -> str:
        """Whose sheet is shown."""
        return self._taster

    def show_session(self, whole: WholeCook, session: Session) -> None:
        """Show a session that is not revealed."""
        if self.session is None or self.session.tasting.id != session.tasting.id:
            self._say("")
        self._on_disk = session
        session = with_unsaved(session, self.desk.bridge.waiting)
        self.whole, self.session = whole, session
        tasting = session.tasting
        if self._taster not in tasting.tasters:
            self._taster = tasting.tasters[0] if tasting.tasters else ""
        self._show_tasters(session)
        self.served_at.zone = whole.cook.zone
        self._form.show(tasting)
        still_open = tasting.state is TastingState.OPEN
        done, total = model.progress(session)
        here = self._taster not in session.absent
        scored = tasting.asked.scored
        self.sheet_card.heading.setText(f"{self._taster}, in the order of serving")
        self.hint.setVisible(still_open and here and scored)
        self.hint.setText(f"{READ_OUT} {model.scale_words(session, self._taster)}")
        self.sheet.setVisible(still_open and here and scored)
        whole_set = not scored and not session.broken(self._taster)
        self.answers.setVisible(still_open and here and whole_set)
        self.away.setVisible(still_open and not here)
        self.away.setText(f"{self._taster} is absent. Undo takes that back.")
        lost = [s.code for s in session.samples if (s.id, self._taster) in session.spilled]
        self.lost.setVisible(still_open and bool(lost))
        left_out = " The set is left out." if session.broken(self._taster) else ""
        self.lost.setText(f"Lost: {', '.join(lost)}.{left_out}")
        self.locked.setVisible(not still_open)
        self.locked.setText(
            f"Locked: {done} of {total} {_given(session)}. From here on a score changes only with a reason."
        )
        self.lock.setVisible(still_open)
        self.lock.setProperty("role", "primary" if done >= total else "")
        self.lock.style().polish(self.lock)
        self.again.setVisible(still_open and not done)
        self.reveal.setVisible(not still_open)
        self.wrong.setVisible(not still_open)
        given = session.count(self._taster)
        short = given < session.expected(self._taster) and scored
        self.missing.setVisible(still_open and here and (short or not given))
        self.missing.setText(LEFT if given else ABSENT)
        if self._taster in session.left:
            self.lost.setText(f"{self.lost.text() * bool(lost)} {LEFT_WORDS}".strip())
            self.lost.setVisible(still_open)
        for tell in (self.spilled, self.swapped):
            tell.setVisible(here)
        if still_open and scored:
            self.sheet.show_sheet(session, self._taster, self._keep)
        elif still_open:
            self.answers.show_sheet(session, self._taster, self._choose)

    def _show_tasters(self, session: Session) -> None:
        def named(taster: str) -> str:
            if taster in session.absent:
                return f"{taster}, absent"
            if taster in session.left:
                return f"{taster}, left early"
            return f"{taster} ✓" if model.finished(session, taster) else taster

        chips = tuple((name, named(name), -1) for name in session.tasting.tasters)
        if chips != self._chips:  # not anew with each score
            self._chips = chips
            self.tasters.offer(chips)
        self.tasters.choose(self._taster)
        done, total = model.progress(session)
        self.progress.setText(f"{done} of {total} {_given(session)}")

    # what its taps do

    def turn(self, name: object) -> None:
        """Turn to a taster's sheet; what is being typed is the one's before."""
        self.sheet.save()
        self._taster = str(name)
        self._say("")
        if self.whole is None or self._on_disk is None:
            return
        self.show_session(self.whole, self._on_disk)
        self.begin()

    def begin(self) -> None:
        """Put the cursor where the next score, or the code, is typed; nowhere if all is there."""
        blank = self.sheet.first_blank()
        if self.sheet.isVisible() and blank is not None:
            blank.arrive(by_itself=False)
        elif self.answers.isVisible():
            self.answers.code.setFocus()

    def take_key(self, event: QKeyEvent) -> bool:
        """Take a digit that is typed while no field has the focus; whether it was taken."""
        plain = event.modifiers() in {NO_KEYS, Qt.KeyboardModifier.KeypadModifier}
        if not (plain and event.text().isdecimal()):
            return False
        before = self.window().focusWidget()
        self.begin()
        field = self.window().focusWidget()
        if field is not before and isinstance(field, QLineEdit):
            QApplication.sendEvent(field, event)
        elif self.sheet.isVisible():
            whose = f"Every score of {self._taster} is there"
            self._say(f"{whose}: {event.text()} was not taken. Click the one to change.")
        return True

    def let_go(self) -> None:
        """Be left: what was asked is asked anew."""
        self._second.forget()

    def _say(self, text: str) -> None:
        """Say what is wrong, or nothing; what was asked before is no question any more."""
        self._second.forget()
        self.problem.say(text)

    def _unask(self) -> None:
        self.lock.setText(LOCK)
        self.problem.say("")

    def next_taster(self) -> None:
        """Turn to the next sheet."""
        if self.session is not None and self.session.tasting.tasters:
            names = self.session.tasting.tasters
            place = names.index(self._taster) if self._taster in names else -1
            self.turn(names[(place + 1) % len(names)])

    def next_unfinished(self) -> None:
        """Turn to the next sheet that something is missing from; with none, to the lock."""
        session = self.session
        if session is None:
            return
        names = session.tasting.tasters
        start = names.index(self._taster) if self._taster in names else 0
        too_many, whose = self.sheet.take_too_many(), self._taster
        for name in (*names[start + 1 :], *names[: start + 1]):
            if not model.finished(session, name):
                self.turn(name)
                break
        else:
            self.lock.setFocus()
        if too_many:
            self._say(f"{too_many} came after {whose}’s sheet was full, and was not taken.")

    def _keep(self, sample_id: str, criterion: str, value: float | None) -> str:
        self._second.forget()
        if self.session is None:
            return ""
        score = GiveScore(self.session.tasting.id, sample_id, self._taster, criterion, value)
        return self.desk.bridge.attempt(score, self)

    def _choose(self, sample_id: str) -> str:
        self._second.forget()
        if self.session is None:
            return ""
        answer = GiveAnswer(self.session.tasting.id, self._taster, sample_id)
        return self.desk.bridge.attempt(answer, self)

    def _absent(self) -> None:
        """Note that he did not come; or, once he has scored, that he left."""
        if self.session is not None:
            self.sheet.save()
            mark = MarkLeft if self.session.count(self._taster) else MarkAbsent
            noted = mark(self.session.tasting.id, self._taster, self.desk.now())
            self._say(self.desk.bridge.attempt(noted, self))

    def _teller(self, mishap: Mishap) -> Callable[[], None]:
        def tell() -> None:
            self._second.forget()
            if self.session is not None:
                MishapPanel(
                    self.desk, self.window(), self.session, self._taster, mishap
                ).open_panel()

        return tell

    def open_paper(self) -> None:
        """Open what can be printed."""
        self._second.forget()
        if self.whole is not None and self.session is not None:
            PaperPanel(self.desk, self.window(), self.whole, self.session).open_panel()

    def lock_scores(self) -> None:
        """Lock, unless something is still to be mended; with blanks, at the second tap."""
        if self.session is None:
            return
        wrong = self.sheet.first_wrong() if self.sheet.isVisible() else None
        if wrong is not None:
            self._say(f"{wrong.accessibleName()} is still to be mended.")
            wrong.arrive(by_itself=False)
            return
        done, total = model.progress(self.session)
        blank = total - done
        if done and blank and not self._second.comes((self.session.tasting.id, blank)):
            self.lock.setText("Lock all the same")
            verb = "is" if blank == 1 else "are"
            asked = f"{blank} {verb} blank: lock all the same? Another tap does."
            self.problem.say(f"{asked} Missing: {_whose(self.session)}.")
            return
        problem = self.desk.bridge.attempt(LockTasting(self.session.tasting.id), self)
        self._say(problem)

    def reveal_codes(self) -> None:
        """Show which code was which piece."""
        if self.session is not None:
            problem = self.desk.bridge.attempt(RevealTasting(self.session.tasting.id), self)
            self._say(problem)

    def _draw_again(self) -> None:
        if self.whole is not None and self.session is not None:
            again = model.draw_again(self.whole, self.session, draw_seed())
            self._say(self.desk.bridge.attempt(again, self))


def _whose(session: Session) -> str:
    """Return whose scores are missing: "North 3, South 12"."""
    missing = {name: session.expected(name) - session.count(name) for name in session.present}
    return ", ".join(f"{name} {count}" for name, count in missing.items() if count > 0)


def _given(session: Session) -> str:
    return "scores" if session.tasting.asked.scored else "answers"
