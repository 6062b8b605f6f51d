"""Set a tasting up: how it is asked, who tastes, what and how much is served."""

import secrets
from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.analysis.safety.below import Below
from pitjournal.domain.piece import Piece
from pitjournal.domain.scheme import Rules, Scheme
from pitjournal.domain.several_names import people_in
from pitjournal.domain.shelf import ShelfItem, ShelfKind, plain_name
from pitjournal.domain.tasting import Blindness
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.schemes import USUAL
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.shelf.offer import ShelfOffer
from pitjournal.ui.tasting import model

HOW_TO = (
    "Each portion gets a three-digit code, each taster an order of their own. Serve the same "
    "place on the piece, the same size, the same temperature; water and plain crackers, no talking."
)
WARM_UP, TWICE, WITHOUT = "warm-up", "twice", "without"
EXTRAS = ((WARM_UP, "a warm-up first, not scored"), (TWICE, "one piece under two codes"))

SEEN = (
    (Blindness.BLIND, "nobody at the table"),
    (Blindness.CODED, "who serves, or one who tastes"),
    (Blindness.OPEN, "everyone: eyes open"),
)


class SetUp(QWidget):
    """What is chosen before the codes are drawn."""

    def __init__(self, desk: Desk, back: Callable[[], object], begin: Callable[[], object]) -> None:
        super().__init__()
        self.desk, self._begin = desk, begin
        desk.cold.changed.connect(lambda _: self._serve())
        self.whole: WholeCook | None = None
        self._schemes: dict[str, Scheme] = {}
        self._scheme_id = USUAL
        self._shown = ""
        card = Card("A tasting")
        card.body.addWidget(words(HOW_TO))
        self._how(card)
        self._who(card)
        self._served(card)
        self.problem = Problem()
        card.body.addWidget(self.problem)
        self.draw = button("Draw the codes", self.draw_codes, "primary", tip="Ctrl+D")
        self.back = button("Back to the scores", back, "link")
        card.body.addLayout(row(self.draw, self.back, None))
        sized(card, most_width=tokens.READING_WIDTH)
        line = row(card, None)
        line.setStretch(0, 100)
        self.setLayout(column(line, None))

    def _how(self, card: Card) -> None:
        card.body.addWidget(words("How is it asked?", "heading"))
        self.scheme = Choice("scheme")
        self.scheme.chosen.connect(self.choose)
        self.about = words("", "quiet")
        self.what = words("What is scored?", "heading")
        self.criteria = Choice("what is scored", several=True)
        self.which = words("Which two arms are held against each other?", "heading")
        self.ways = Choice("the two arms", several=True)
        for part in (self.scheme, self.about, self.what, self.criteria, self.which, self.ways):
            card.body.addWidget(part)

    def _who(self, card: Card) -> None:
        card.body.addWidget(words("Who tastes?", "heading"))
        self.known = Choice("tasters on the Shelf", several=True)
        self.known.chosen.connect(lambda *_: self._say_balance())
        card.body.addWidget(self.known)
        self.names = QLineEdit()
        self.names.setAccessibleName("other tasters, with commas between")
        self.names.setPlaceholderText("Other tasters, with commas between")
        self.names.setToolTip("A comma, a semicolon or “and” stands between two names.")
        self.names.textEdited.connect(lambda *_: self._say_balance())
        card.body.addWidget(self.names)
        self.offer = ShelfOffer(self.desk, ShelfKind.TASTER)
        self.names.textChanged.connect(lambda *_: self.offer.show_names(self._typed()))
        card.body.addWidget(self.offer)
        card.body.addWidget(words("Who knows which is which?", "heading"))
        self.seen = Choice("who knows which is which")
        self.seen.offer((str(seen), text, -1) for seen, text in SEEN)
        self.seen.choose(str(Blindness.BLIND))
        card.body.addWidget(self.seen)

    def _served(self, card: Card) -> None:
        card.body.addWidget(words("What is served?", "heading"))
        self.each = Choice("samples for each taster")
        self.each.chosen.connect(lambda *_: self._serve())
        self.extras = Choice("besides", several=True)
        self.balance = words("", "quiet")
        for part in (self.each, self.extras, self.balance):
            card.body.addWidget(part)

    # what it shows

    def show_cook(self, whole: WholeCook, *, again: bool) -> None:
        """Offer what there is; `again` after another tasting of the same cook."""
        if self.whole is None or self.whole.cook.id != whole.cook.id:
            self.names.clear()
            self.known.choose()
            self.problem.say("")
        self.whole = whole
        named = model.scheme_names(self.desk.journal.shelf.schemes())
        self._schemes = {scheme.id: scheme for scheme, _ in named}
        if self._scheme_id not in self._schemes:
            self._scheme_id = USUAL if USUAL in self._schemes else next(iter(self._schemes), "")
        self.scheme.offer((scheme.id, name, -1) for scheme, name in named)
        self.scheme.choose(self._scheme_id)
        tasters = [i for i in self.desk.journal.shelf.items(ShelfKind.TASTER) if not i.retired]
        chosen = self._meant(self.known.values() or self._before(whole), tasters)
        self.known.offer((item.name, item.name, -1) for item in tasters)
        self.known.choose(*chosen)
        self.known.setVisible(bool(tasters))
        self.draw.setEnabled(bool(whole.pieces))
        self.back.setVisible(again)
        if not whole.pieces:
            self.problem.say("There is no piece to taste yet. Add the meat on the Plan first.")
        self._show_scheme()

    def _meant(self, chosen: Sequence[object], shelf: Sequence[ShelfItem]) -> list[str]:
        """Return who is chosen of the Shelf; the others stand as typed.

        A name that was typed and kept on the Shelf becomes a chip, and back where that is undone.
        """
        names = {plain_name(item.name): item.name for item in shelf}
        wanted = dict.fromkeys((*map(str, chosen), *self._typed()))
        rest = [name for name in wanted if plain_name(name) not in names]
        if rest != self._typed() and not self.names.hasFocus():
            self.names.setText(", ".join(rest))
        self.offer.show_names(rest)
        return [names[plain_name(name)] for name in wanted if plain_name(name) in names]

    def _before(self, whole: WholeCook) -> tuple[str, ...]:
        """Return who tasted this cook last; those who are not on the Shelf stand as typed."""
        names = whole.tastings[-1].tasters if whole.tastings else ()
        shelf = {item.name for item in self.desk.journal.shelf.items(ShelfKind.TASTER)}
        if not self.names.text():
            self.names.setText(", ".join(name for name in names if name not in shelf))
        return tuple(name for name in names if name in shelf)

    @property
    def chosen(self) -> Scheme | None:
        """The scheme that is chosen."""
        return self._schemes.get(self._scheme_id)

    def choose(self, scheme_id: object) -> None:
        """Take a scheme and offer what goes with it."""
        self._scheme_id = str(scheme_id)
        self.scheme.choose(self._scheme_id)
        self.problem.say("")
        self._show_scheme()

    def _show_scheme(self) -> None:
        scheme, whole = self.chosen, self.whole
        if scheme is None or whole is None:
            return
        rules = scheme.reads
        self.about.setText(" ".join(part for part in (scheme.note, rules.question) if part))
        free = rules.scored and not rules.weighted and len(rules.names) > 1
        for part in (self.what, self.criteria):
            part.setVisible(free)
        for part in (self.which, self.ways):
            part.setVisible(not rules.scored)
        if self._shown != f"{whole.cook.id} {scheme.id}":
            self._shown = f"{whole.cook.id} {scheme.id}"
            self.criteria.offer((name, name, -1) for name in rules.names)
            self.criteria.choose(*rules.names)
            self.each.offer((each, text, -1) for each, text in self._servings(rules))
            self.each.choose(model.usual_serving(rules, len(whole.pieces)))
        ways = self.ways.values()
        arms = whole.ordered_arms
        self.ways.offer((arm.id, arm.name, whole.arm_index(arm.id)) for arm in arms)
        self.ways.choose(*(ways or [arm.id for arm in arms[:2]]))
        self._serve()

    def _servings(self, rules: Rules) -> list[tuple[int, str]]:
        return model.servings(rules, len(self.whole.pieces) if self.whole else 0)

    def _serve(self) -> None:
        """Offer what goes with the number served, and say how even that is."""
        rules = self.chosen.reads if self.chosen else Rules()
        chosen = self.extras.values()
        twice = rules.scored and rules.most is None and not self._each()
        offered = [(key, text, -1) for key, text in EXTRAS if key == WARM_UP or twice]
        left_out = self._cold()
        if left_out:
            labels = ", ".join(one.label for one in left_out)
            offered.append((WITHOUT, f"without {labels}", -1))
        self.extras.offer(offered)
        self.extras.choose(*chosen)
        self.each.setVisible(bool(self.each.values()))
        self._say_balance()

    def _cold(self) -> tuple[Below, ...]:
        """Return what came off colder than is asked and can be left out, with pieces to spare."""
        whole = self.whole
        found = () if whole is None else self.desk.cold.found(whole.cook.id)
        cold = tuple(one for one in found if one.off)
        return cold if whole is not None and len(cold) < len(whole.pieces) else ()

    def _pieces(self) -> tuple[Piece, ...]:
        """Return what is served."""
        out = {one.piece_id for one in self._cold()} if WITHOUT in self.extras.values() else set()
        pieces = () if self.whole is None else self.whole.pieces
        return tuple(piece for piece in pieces if piece.id not in out)

    def _each(self) -> int:
        found = next(iter(self.each.values()), 0)
        return found if isinstance(found, int) else 0

    def _say_balance(self) -> None:
        scheme, whole = self.chosen, self.whole
        said = ""
        if scheme is not None and whole is not None and whole.pieces:
            tasters = len(self._tasters())
            if scheme.reads.scored:
                arms = [piece.arm_id or "" for piece in self._pieces()]
                said = model.balance_words(len(arms), self._each(), tasters, arms)
            else:
                said = model.sets_words(scheme.reads.asks, tasters)
        self.balance.setText(said)
        self.balance.setVisible(bool(said))

    def _tasters(self) -> tuple[str, ...]:
        chosen = [str(name) for name in self.known.values()]
        return tuple(dict.fromkeys((*chosen, *self._typed())))

    def _typed(self) -> list[str]:
        return list(people_in(self.names.text()))

    # what its taps do

    def draw_codes(self) -> bool:
        """Draw codes and orders; whether it could be done."""
        whole, scheme = self.whole, self.chosen
        if whole is None or scheme is None:
            return False
        tasters = self._tasters()
        criteria = tuple(str(name) for name in self.criteria.values())
        if not tasters:
            return self._refuse("Name at least one taster.", self.names)
        if scheme.reads.scored and not criteria:
            return self._refuse("Choose at least one thing to score.", self.criteria)
        if not scheme.reads.scored and len(self.ways.values()) != 2:
            return self._refuse("Choose the two arms that are held against each other.", self.ways)
        extras = self.extras.values()
        command = DrawTasting(
            whole.cook.id,
            tasters,
            draw_seed(),
            scheme,
            pieces=tuple(piece.id for piece in self._pieces()) if WITHOUT in extras else (),
            criteria=criteria if len(criteria) < len(scheme.reads.names) else (),
            ways=tuple(str(way) for way in self.ways.values()),
            each=self._each(),
            twice=TWICE in extras,
            warm_up=WARM_UP in extras,
            seen=Blindness(str(next(iter(self.seen.values())))),
        )
        problem = self.desk.bridge.attempt(command, self)
        self.problem.say(problem)
        if not problem:
            self._begin()
        return not problem

    def _refuse(self, problem: str, field: QWidget) -> bool:
        self.problem.say(problem)
        field.setFocus()
        return False


def draw_seed() -> int:
    """Return a number to draw a lot from."""
    return secrets.randbelow(1_000_000)
