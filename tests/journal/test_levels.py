"""Tasters' levels set even: beside what was given, never off the scale, and not from too little.

Least squares of score = piece + taster, by hand (the additive model of an incomplete block design,
Cochran & Cox, Experimental Designs, ch. 9, from memory).
"""

from collections.abc import Callable, Mapping

import pytest

from pitjournal.analysis.tasting.scored_pieces import given_scores, piece_scores
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import Sample, Session, Tasting, TastingState
from pitjournal.journal import Journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.records import AddCook, Change
from pitjournal.journal.commands.tasting import GiveScore, LockTasting, RevealTasting
from tests.builders import a_cook, three_arms

KIND = {"Ada": 1.0, "Ben": 0.0, "Cleo": -1.0}
"""How far above the piece each taster scores."""


def tasted(
    journal: Journal, served: Mapping[str, tuple[int, ...]], score: Callable[[int, str], float]
) -> Session:
    """Return a revealed tasting of nine pieces of which each taster met these."""
    cook = a_cook()
    journal.do(AddCook(cook, three_arms(cook)))
    journal.do(DrawTasting(cook.id, tuple(served), seed=1, criteria=("tenderness",)))
    (tasting,) = journal.find(Tasting, cook_id=cook.id)
    pieces = journal.find(Piece, cook_id=cook.id)
    places = {piece.id: piece.position for piece in pieces}
    samples = {places[s.piece_id]: s.id for s in journal.find(Sample, tasting_id=tasting.id)}
    orders = {taster: [samples[n] for n in met] for taster, met in served.items()}
    journal.do(Change(Tasting, tasting.id, {"orders": orders}))
    for taster, met in served.items():
        for n in met:
            value = score(n, taster)
            journal.do(GiveScore(tasting.id, samples[n], taster, "tenderness", value))
    journal.do(LockTasting(tasting.id))
    journal.do(RevealTasting(tasting.id))
    return journal.whole(cook.id).session(journal.find(Tasting, id=tasting.id)[0])


def by_place(journal: Journal, session: Session, *, given: bool = False) -> dict[int, list[float]]:
    scores = given_scores(session) if given else piece_scores(session)
    places = {p.id: p.position for p in journal.find(Piece, cook_id=session.tasting.cook_id)}
    return {places[piece]: values for (piece, _), values in scores.items()}


SHARED: Mapping[str, tuple[int, ...]] = {
    "Ada": (0, 1, 2, 3, 4, 5),
    "Ben": (3, 4, 5, 6, 7, 8),
    "Cleo": (6, 7, 8, 0, 1, 2),
}
"""Eighteen scores of nine pieces: nine beyond one a piece, for two levels."""


def test_that_levels_are_set_even_and_what_was_given_is_kept(journal: Journal) -> None:
    session = tasted(journal, SHARED, lambda n, who: 4.0 + n % 3 + KIND[who])
    # The tasters' levels add to nothing, so that each piece comes back as it was made.
    for n, values in by_place(journal, session).items():
        assert values == pytest.approx([4.0 + n % 3] * 2)
    given = by_place(journal, session, given=True)
    assert sorted(given[0]) == [3.0, 5.0]  # Cleo and Ada
    assert sorted(given[3]) == [4.0, 5.0]  # Ben and Ada


def test_that_nothing_levelled_leaves_its_scale(journal: Journal) -> None:
    # Cleo is four points stricter than the others but for one piece that she gave a nine too: set
    # even, that piece would come to more than nine.
    def score(n: int, who: str) -> float:
        return 9.0 if n == 6 else 8.0 - 4.0 * (who == "Cleo")

    session = tasted(journal, SHARED, score)
    values = [value for values in by_place(journal, session).values() for value in values]
    assert max(values) == 9.0
    assert min(values) >= 1.0


def test_that_a_few_shared_pieces_set_no_levels(journal: Journal) -> None:
    # Ten scores of nine pieces: one piece in common would set Ben's level by one whim of his.
    served = {"Ada": (0, 1, 2, 3, 4), "Ben": (4, 5, 6, 7, 8)}
    session = tasted(journal, served, lambda n, who: 5.0 + (n == 4 and who == "Ben"))
    assert by_place(journal, session) == by_place(journal, session, given=True)
    assert session.tasting.state is TastingState.REVEALED
