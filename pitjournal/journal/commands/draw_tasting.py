"""Draw a tasting: codes, orders and sets by lot."""

import random
from dataclasses import dataclass, replace

from pitjournal.analysis.tasting.serving import draw_sets, serving_orders
from pitjournal.domain.piece import Piece
from pitjournal.domain.scheme import Asks, Rules, Scheme
from pitjournal.domain.tasting import (
    Blindness,
    Sample,
    Tasting,
)
from pitjournal.errors import JournalError
from pitjournal.files.schemes import USUAL, shipped
from pitjournal.store.transaction import Transaction

REFERENCE = "R"
"""The code of the portion that the others of a duo–trio are held against."""

_CODES = range(100, 1000)


@dataclass(frozen=True)
class DrawTasting:
    """Set up a blind session: a code for each portion, a serving order for each taster.

    The draw is made from `seed`, which is kept, so that it can be shown to be a lot.

    Attributes
    ----------
    scheme
        None is the home panel.
    pieces
        Ids of what is tasted; none named is every piece of the cook.
    criteria
        The criteria of the scheme that are scored today; none named is all.
    ways
        Ids of the two arms that a triangle, duo–trio or pair is made of.
    each
        How many samples a taster is served; 0 is all.
    twice
        Whether one piece is served under two codes, to see how well tasters repeat.
    warm_up
        Whether everyone begins with a portion that is not scored.
    seen
        What is known of the arms at the table; None is not recorded.
    """

    cook_id: str
    tasters: tuple[str, ...]
    seed: int
    scheme: Scheme | None = None
    pieces: tuple[str, ...] = ()
    criteria: tuple[str, ...] = ()
    ways: tuple[str, ...] = ()
    each: int = 0
    twice: bool = False
    warm_up: bool = False
    seen: Blindness | None = None
    label: str = "Draw the codes"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Draw."""
        scheme = self.scheme or shipped(USUAL)
        rules = scheme.reads
        if self.criteria:
            rules = rules.only(self.criteria)
        if fault := rules.fault():
            raise JournalError(fault, "Mend the scheme on the Shelf.")
        pieces = self._pieces(transaction)
        if not self.tasters:
            raise JournalError("A tasting needs a taster.", "Name at least one.")
        lot = random.Random(self.seed)  # noqa: S311 - a lot that can be drawn again, no secret
        lows = [criterion.bottom() for criterion in rules.criteria]
        highs = [criterion.top(len(pieces)) for criterion in rules.criteria]
        session = Tasting(
            cook_id=self.cook_id,
            scheme=scheme.name,
            scheme_id=scheme.id,
            version=scheme.version,
            rules=rules.as_map(),
            criteria=rules.names,
            low=min(lows, default=0.0),
            high=max(highs, default=0.0),
            seed=self.seed,
            tasters=self.tasters,
            seen=self.seen,
        )
        if rules.scored:
            samples, orders = self._scored(session, rules, pieces, lot)
        else:
            samples, orders = self._sets(session, rules.asks, pieces, lot)
        warm_up = lot.choice(pieces).id if self.warm_up else ""
        transaction.add(replace(session, orders=orders, warm_up=warm_up), *samples)

    def _pieces(self, transaction: Transaction) -> list[Piece]:
        found = transaction.find(Piece, cook_id=self.cook_id)
        every = sorted(found, key=lambda piece: piece.position)
        pieces = [piece for piece in every if not self.pieces or piece.id in self.pieces]
        if not pieces:
            raise JournalError("There is nothing to taste yet.", "Add pieces on the Plan first.")
        return pieces

    def _scored(
        self, session: Tasting, rules: Rules, pieces: list[Piece], lot: random.Random
    ) -> tuple[list[Sample], dict[str, list[str]]]:
        some = 2 <= self.each < len(pieces)
        if self.twice and some:
            raise JournalError(
                "Serving a piece twice needs tasters who taste everything.",
                "Serve all samples to each, or nothing twice.",
            )
        if self.twice and rules.most is not None:
            raise JournalError(
                "A total counts one card a taster, so nothing can be served twice.",
                "Choose another scheme, or serve nothing twice.",
            )
        served = [*pieces, lot.choice(pieces)] if self.twice else pieces
        if len(served) > len(_CODES):
            raise JournalError("There are too many samples for three-digit codes.")
        codes = lot.sample(_CODES, len(served))
        samples = [
            _sample(session, piece, str(code)) for piece, code in zip(served, codes, strict=True)
        ]
        orders = serving_orders(
            len(samples),
            len(self.tasters),
            self.seed,
            self.each,
            [piece.arm_id or "" for piece in served],
        )
        return samples, {
            taster: [samples[place].id for place in order]
            for taster, order in zip(self.tasters, orders, strict=True)
        }

    def _sets(
        self, session: Tasting, asks: Asks, pieces: list[Piece], lot: random.Random
    ) -> tuple[list[Sample], dict[str, list[str]]]:
        if len(self.ways) != 2 or self.ways[0] == self.ways[1]:
            raise JournalError(f"A {asks} holds two arms against each other.", "Choose two.")
        pairs = _pairs(*([p for p in pieces if p.arm_id == way] for way in self.ways))
        lot.shuffle(pairs)
        sets = draw_sets(asks, len(self.tasters), self.seed)
        portions = sum(len(one) for one in sets)
        if portions > len(_CODES):
            raise JournalError("There are too many portions for three-digit codes.")
        codes = iter(lot.sample(_CODES, portions))
        samples: list[Sample] = []
        orders: dict[str, list[str]] = {}
        for number, (taster, served) in enumerate(zip(self.tasters, sets, strict=True)):
            pair = pairs[number % len(pairs)]
            first = [True] + [False] * (len(served) - 1) if asks is Asks.DUO_TRIO else []
            flags = first or [False] * len(served)
            own = [
                _sample(session, pair[way], REFERENCE if held else str(next(codes)), held)
                for way, held in zip(served, flags, strict=True)
            ]
            samples += own
            orders[taster] = [sample.id for sample in own]
        return samples, orders


def _sample(session: Tasting, piece: Piece, code: str, reference: bool = False) -> Sample:
    return Sample(
        cook_id=session.cook_id,
        tasting_id=session.id,
        piece_id=piece.id,
        code=code,
        reference=reference,
    )


def _pairs(first: list[Piece], second: list[Piece]) -> list[tuple[Piece, Piece]]:
    """Return pairs of a piece of each way, of one pack where they have packs."""
    if not first or not second:
        raise JournalError("One of the two arms has no piece to taste.", "Choose another.")
    pairs = []
    for number in range(max(len(first), len(second))):
        one = first[number % len(first)]
        near = [piece for piece in second if piece.block and piece.block == one.block]
        pairs.append((one, near[0] if near else second[number % len(second)]))
    return pairs
