"""Commands of the tasting: draw codes, score, lock, reveal."""

import random
from dataclasses import dataclass, replace

from pitjournal.analysis.serving import serving_orders
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import HOME_PANEL, Sample, Score, Tasting, TastingState
from pitjournal.errors import JournalError
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class DrawTasting:
    """Set up a blind session: a code for each piece, a serving order for each taster.

    The draw is made from `seed`, which is kept, so that it can be shown to be a lot.
    """

    cook_id: str
    tasters: tuple[str, ...]
    seed: int
    pieces: tuple[str, ...] = ()
    criteria: tuple[str, ...] = HOME_PANEL
    scheme: str = "home panel"
    low: float = 1.0
    high: float = 9.0
    label: str = "Draw the codes"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Draw; no pieces named means every piece of the cook."""
        every = sorted(
            transaction.find(Piece, cook_id=self.cook_id), key=lambda piece: piece.position
        )
        pieces = [piece for piece in every if not self.pieces or piece.id in self.pieces]
        if not pieces:
            raise JournalError("There is nothing to taste yet.", "Add pieces on the Plan first.")
        if not self.tasters:
            raise JournalError("A tasting needs a taster.", "Name at least one.")
        lot = random.Random(self.seed)  # noqa: S311 - a lot that can be drawn again, no secret
        codes = lot.sample(range(100, 1000), len(pieces))
        session = Tasting(
            cook_id=self.cook_id,
            scheme=self.scheme,
            criteria=self.criteria,
            low=self.low,
            high=self.high,
            seed=self.seed,
            tasters=self.tasters,
        )
        samples = tuple(
            Sample(cook_id=self.cook_id, tasting_id=session.id, piece_id=piece.id, code=str(code))
            for piece, code in zip(pieces, codes, strict=True)
        )
        orders = serving_orders(len(samples), len(self.tasters), self.seed)
        by_taster = {
            taster: [samples[place].id for place in order]
            for taster, order in zip(self.tasters, orders, strict=True)
        }
        transaction.add(replace(session, orders=by_taster), *samples)


@dataclass(frozen=True)
class GiveScore:
    """Set, change or (with no value) clear one taster's score of one sample."""

    tasting_id: str
    sample_id: str
    taster: str
    criterion: str
    value: float | None
    label: str = "Score"

    @property
    def merge_key(self) -> str:
        """Typing one score is one step."""
        return f"{self.sample_id}:{self.taster}:{self.criterion}"

    def run(self, transaction: Transaction) -> None:
        """Keep the score while the session is open."""
        session = transaction.get(Tasting, self.tasting_id)
        if session.state is not TastingState.OPEN:
            raise JournalError("The scores are locked.", "Undo the lock to change one.")
        found = transaction.find(
            Score, sample_id=self.sample_id, taster=self.taster, criterion=self.criterion
        )
        if self.value is None:
            for score in found:
                transaction.remove(Score, score.id)
            return
        if not session.low <= self.value <= session.high:
            message = f"A score here is {session.low:g} to {session.high:g}."
            raise JournalError(message, "Type it again.")
        if found:
            transaction.put(found[0], replace(found[0], value=self.value))
        else:
            transaction.add(
                Score(
                    cook_id=session.cook_id,
                    tasting_id=session.id,
                    sample_id=self.sample_id,
                    taster=self.taster,
                    criterion=self.criterion,
                    value=self.value,
                )
            )


@dataclass(frozen=True)
class LockTasting:
    """Close a session to further scores."""

    tasting_id: str
    label: str = "Lock the scores"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Lock it, if there is a score to lock."""
        session = transaction.get(Tasting, self.tasting_id)
        if session.state is not TastingState.OPEN:
            raise JournalError("The scores are locked already.")
        if not transaction.find(Score, tasting_id=session.id):
            raise JournalError("There are no scores yet.", "Enter them, then lock.")
        transaction.put(session, replace(session, state=TastingState.LOCKED))


@dataclass(frozen=True)
class RevealTasting:
    """Show which code was which piece."""

    tasting_id: str
    label: str = "Reveal the codes"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Reveal it, once it is locked."""
        session = transaction.get(Tasting, self.tasting_id)
        if session.state is TastingState.OPEN:
            raise JournalError("Lock the scores before you reveal.", "Then nobody can say why.")
        transaction.put(session, replace(session, state=TastingState.REVEALED))
