"""A revealed session: each way, each piece, the panel looked after, and what was noted."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.findings.discrimination import DiscriminationResult, discrimination_of
from pitjournal.analysis.findings.own_scale import just_right
from pitjournal.analysis.findings.places import OwnScale
from pitjournal.analysis.tasting.panel import Panel, panel_of
from pitjournal.domain.tasting import Mishap, Session
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.jobs import Progress
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.reflow import Beside
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import clear, column, row, words
from pitjournal.ui.tasting import model
from pitjournal.ui.tasting.mishap_panel import MishapPanel
from pitjournal.units.figures import figure

WORKING = "Being worked out."
NO_REPLICATES = "Tasters are averaged within a piece; they are no replicates."
FULL_TABLE = (
    "How the tasters agree is worked out from a table without gaps (ICC 2,1, Shrout and Fleiss "
    "1979; Kendall’s W). Who has gaps is left out of it where more is known without, by the count "
    "of scores alone; the means of the pieces take in every score."
)


class Reveal(QWidget):
    """What the scores were, once they may be known."""

    def __init__(
        self, desk: Desk, another: Callable[[], object], to_findings: Callable[[], object]
    ) -> None:
        super().__init__()
        self.desk = desk
        self.whole: WholeCook | None = None
        self.session: Session | None = None
        self._shown: tuple[object, ...] = ()
        self.arms, self.pieces = FactTable("each arm"), FactTable("each piece")
        self.panel = FactTable("the panel")
        self.arms_card, self.pieces_card = Card("Each arm, mean of its pieces"), Card("Each piece")
        self.answers_card, self.panel_card = Card("What was told apart"), Card("The panel")
        self.notes_card = Card("Noted")
        self.about = words("", "quiet")
        self.arms_card.body.addWidget(self.arms)
        self.arms_card.body.addWidget(self.about)
        see = button("See the findings", to_findings, "primary")
        more = button("Another tasting", another)
        self.pieces_card.body.addWidget(self.pieces)
        self.pieces_card.body.addLayout(row(see, more, None))
        self._told = _lines(self.answers_card)
        self.answers = FactTable("answers")
        self.answers_card.body.addWidget(self.answers)
        seen = button("See the findings", to_findings)
        other = button("Another tasting", another, "primary")
        self.answers_card.body.addLayout(row(other, seen, None))
        self.panel_card.body.addWidget(self.panel)
        self._said = _lines(self.panel_card)
        self.panel_card.body.addWidget(words(NO_REPLICATES, "quiet"))
        self.full_table = words(FULL_TABLE, "quiet")
        self.panel_card.body.addWidget(self.full_table)
        self.right_card = Card("Just about right")
        self._right = _lines(self.right_card)
        self.right_card.hide()
        self._notes = _lines(self.notes_card)
        self.notes_card.body.addLayout(
            row(
                button("Correct a score", self._teller(Mishap.CORRECTED), "link"),
                button("Two were swapped", self._teller(Mishap.SWAPPED), "link"),
                None,
            )
        )
        left = column(self.arms_card, self.answers_card, self.panel_card, None, space=tokens.M)
        right = column(self.pieces_card, self.right_card, self.notes_card, None, space=tokens.M)
        self.setLayout(column(Beside(left, right, (1, 1)), None))

    # what it shows

    def show_session(self, whole: WholeCook, session: Session) -> None:
        """Show a revealed session; the panel is worked out beside the window."""
        self.whole, self.session = whole, session
        scored = session.tasting.asked.scored
        for card in (self.arms_card, self.pieces_card, self.panel_card):
            card.setVisible(scored)
        self.answers_card.setVisible(not scored)
        if scored:
            self._show_means(whole, session)
        self._show_notes(whole, session)
        key = (session.tasting.id, session.scores, session.notes, whole.pieces, whole.arms)
        if key != self._shown:
            self._shown = key
            self.right_card.hide()
            for table in (self.panel, self.answers):  # never what the tasting before had
                table.show_rows([], [])
            _say(self._said, [WORKING])
            _say(self._told, [WORKING])
            self._work_out(whole, session, key)

    def _show_means(self, whole: WholeCook, session: Session) -> None:
        found = model.revealed(whole, session)
        criteria = session.tasting.criteria
        arms = model.arm_means(whole, found, len(criteria))
        self.arms_card.setVisible(bool(arms))
        rows = [("pieces", [str(arm.pieces) for arm in arms])] + [
            (name, [_score(arm.means[place]) for arm in arms])
            for place, name in enumerate(criteria)
        ]
        said = model.means_words(session)
        total = session.tasting.asked.most is not None
        if total:
            rows.append(("total", [_score(arm.total) for arm in arms]))
        self.about.setText(said)
        self.about.setVisible(bool(said))
        self.arms.show_rows([(arm.name, arm.look) for arm in arms], rows)
        heads = [*criteria, *(("total", "place") if total else ())]
        names = {arm.id: arm.name for arm in whole.arms}
        self.pieces.show_rows(
            [(head, None) for head in heads],
            [
                (
                    f"{p.piece.label}, {p.code}",
                    [_beside_given(*pair) for pair in zip(p.means, p.given, strict=True)]
                    + ([_score(p.total), str(p.place or "–")] if total else []),
                )
                for p in found
            ],
            [(names.get(p.piece.arm_id or "", ""), p.look) for p in found],
        )

    def _show_notes(self, whole: WholeCook, session: Session) -> None:
        said = []
        for note in session.notes:
            when = show_moment(note.at, whole.cook.zone, self.desk.now())
            why = f". {note.why}" if note.why else ""
            said.append(f"{when}  {note.said}{why}")
        _say(self._notes, said or ["Nothing went wrong that was noted."])

    def _work_out(self, whole: WholeCook, session: Session, key: tuple[object, ...]) -> None:
        def work(
            _progress: Progress,
        ) -> tuple[Panel | None, DiscriminationResult | None, Sequence[OwnScale]]:
            return panel_of(session), discrimination_of(whole, session), _just_right(whole, session)

        def done(
            found: tuple[Panel | None, DiscriminationResult | None, Sequence[OwnScale]],
        ) -> None:
            if self._shown != key:
                return
            panel, told, right = found
            self._show_right(right)
            _say(self._said, [])
            _say(self._told, [])
            if panel is not None:
                self._show_panel(panel)
            if told is not None:
                self._show_discrimination(whole, told)

        self.desk.bridge.run("Look at the panel", work, done, asker=self, quiet=True)

    def _show_right(self, found: Sequence[OwnScale]) -> None:
        self.right_card.setVisible(bool(found))
        clear(self._right)
        for one in found:
            self._right.addWidget(words(one.title.partition(",")[0], "strong"))
            for sentence in one.words:
                self._right.addWidget(words(sentence))

    def _show_panel(self, panel: Panel) -> None:
        self.panel.show_rows(
            [("scores", None), ("mean", None), ("spread", None), ("beside the rest", None)],
            [
                (
                    look.name,
                    [
                        str(look.count),
                        _score(look.mean),
                        _score(look.spread),
                        _beside(look.level.estimate if look.level else None),
                    ],
                )
                for look in panel.tasters
            ],
        )
        _say(self._said, [*panel.words, *(found.words for found in panel.criteria)])
        self.full_table.setVisible(any(found.left_out for found in panel.criteria))

    def _show_discrimination(self, whole: WholeCook, told: DiscriminationResult) -> None:
        labels = {piece.id: piece.label for piece in whole.pieces}
        arms = {piece.id: whole.arm_of(piece) for piece in whole.pieces}
        rows = []
        for answer in told.answers:
            arm = arms.get(answer.piece_id)
            what = ", ".join(
                part for part in (labels.get(answer.piece_id), arm.name if arm else "") if part
            )
            right = {True: "right", False: "wrong", None: "–"}[answer.right]
            rows.append((answer.taster, [answer.code, what, right]))
        heads = [("chose", None), ("which was", None), ("", None)]
        self.answers.setVisible(bool(rows))
        self.answers.show_rows(heads, rows)
        _say(self._told, told.words)

    def _teller(self, mishap: Mishap) -> Callable[[], None]:
        def tell() -> None:
            session = self.session
            if session is not None and session.present:
                taster = session.present[0]
                MishapPanel(self.desk, self.window(), session, taster, mishap).open_panel()

        return tell


def _just_right(whole: WholeCook, session: Session) -> Sequence[OwnScale]:
    if not session.tasting.revealed:
        return ()
    found = (just_right(whole, session, criterion) for criterion in session.tasting.asked.criteria)
    return tuple(one for one in found if one is not None)


def _lines(card: Card) -> QVBoxLayout:
    """Return a place on a card for sentences."""
    lines = QVBoxLayout()
    lines.setSpacing(tokens.S)
    card.body.addLayout(lines)
    return lines


def _say(lines: QVBoxLayout, said: Sequence[str]) -> None:
    clear(lines)
    for sentence in said:
        lines.addWidget(words(sentence))


def _score(value: float | None) -> str:
    return "–" if value is None else figure(value, 1)


def _beside_given(mean: float | None, given: float | None) -> str:
    """Return a mean, and in brackets what was given where that was set even."""
    return _score(mean) if given is None else f"{_score(mean)} ({_score(given)})"


def _beside(value: float | None) -> str:
    if value is None:
        return "–"
    return figure(value, 1, signed=True) if abs(value) >= 0.05 else "0.0"
