"""Whether two ways can be told apart, and which one is chosen: triangle, duo–trio and pair."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pitjournal.domain.scheme import ANSWER, Asks
from pitjournal.domain.tasting import Sample, Session
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.figures import figure, percent

if TYPE_CHECKING:
    from pitjournal.science.sensory.discrimination import DifferenceTest, Discrimination

ALPHA = 0.05
"""Level of the test, one-sided where there is a right answer."""


@dataclass(frozen=True)
class TasterAnswer:
    """What one taster chose; `right` is None where there is no right answer."""

    taster: str
    code: str
    piece_id: str
    right: bool | None


@dataclass(frozen=True)
class DiscriminationResult:
    """What the answers of a session say, in numbers and in words.

    `found` is there for a triangle and a duo–trio, `share` and `p` (two-sided) for a pair.
    """

    answers: tuple[TasterAnswer, ...]
    hits: int
    n: int
    found: "Discrimination | None"
    share: tuple[float, float] | None
    p: float | None
    words: tuple[str, ...]


def discrimination_of(whole: WholeCook, session: Session) -> DiscriminationResult | None:
    """Return what tasters could tell; None before the reveal, and where samples were scored."""
    asks = session.tasting.asked.asks
    if not session.tasting.revealed or asks is Asks.SCORES:
        return None
    answers = _answers(session, asks)
    if not answers:
        return DiscriminationResult(
            (), 0, 0, None, None, None, ("Nobody answered, so nothing can be said.",)
        )
    if asks is Asks.PAIR:
        return _chosen(whole, answers, session.tasting.asked.question)
    return _apart(session, answers, asks)


def _answers(session: Session, asks: Asks) -> tuple[TasterAnswer, ...]:
    found = []
    for taster in session.tasting.tasters:
        served = session.served(taster)
        chosen = [s for s in served if (s.id, taster, ANSWER) in session.given]
        for sample in chosen:
            right = _right(served, sample, asks)
            found.append(TasterAnswer(taster, sample.code, sample.piece_id, right))
    return tuple(found)


def _right(served: Sequence[Sample], chosen: Sample, asks: Asks) -> bool | None:
    """Return whether a choice is right: the odd one, or the one like the reference."""
    if asks is Asks.TRIANGLE:
        return sum(sample.piece_id == chosen.piece_id for sample in served) == 1
    if asks is Asks.DUO_TRIO:
        return any(s.reference and s.piece_id == chosen.piece_id for s in served)
    return None


def _question(asks: Asks) -> "DifferenceTest":
    from pitjournal.science.sensory.discrimination import DifferenceTest

    return DifferenceTest.TRIANGLE if asks is Asks.TRIANGLE else DifferenceTest.DUO_TRIO


def _apart(session: Session, answers: tuple[TasterAnswer, ...], asks: Asks) -> DiscriminationResult:
    from pitjournal.science.sensory.discrimination import discriminate

    hits, n = sum(bool(a.right) for a in answers), len(answers)
    found = discriminate(hits, n, _question(asks), alpha=ALPHA)
    assert found is not None
    pieces = {session.by_id[s].piece_id for order in session.tasting.orders.values() for s in order}
    goal = "found the odd one" if asks is Asks.TRIANGLE else "found the one like the reference"
    said = [f"{hits} of {n} {'taster' if n == 1 else 'tasters'} {goal}."]
    guess = f"Guessing alone does as well with chance {_chance(found.p)}"
    if found.critical is not None and hits >= found.critical:
        said.append(f"The two arms can be told apart. {guess}.")
    elif found.critical is None:
        said.append(f"Not enough to tell: with {n}, even all right could be guessing. {guess}.")
    else:
        said.append(f"Not enough to tell: it takes {found.critical} right of {n}. {guess}.")
    said.append(_distance(found))
    said.append(f"It holds for the {len(pieces)} pieces served; other meat may differ.")
    return DiscriminationResult(answers, hits, n, found, None, None, tuple(said))


def _distance(found: "Discrimination") -> str:
    """Return how far apart the ways are; what has no upper bound gets none."""
    if not math.isfinite(found.d_high):
        return f"How far apart they are (d-prime): at least {figure(found.d_low, 1)}; no upper bound is known."
    return f"How far apart they are (d-prime): {figure(found.d_prime, 1)}, {figure(found.d_low, 1)} to {figure(found.d_high, 1)}."


def _chance(p: float) -> str:
    return "below 0.001" if p < 0.001 else figure(p, 3).rstrip("0").rstrip(".")


def _chosen(
    whole: WholeCook, answers: tuple[TasterAnswer, ...], question: str
) -> DiscriminationResult:
    from pitjournal.science.binomial import proportion_interval, upper_tail

    arms = {piece.id: whole.arm_of(piece) for piece in whole.pieces}
    counts: dict[str, int] = {}
    for answer in answers:
        arm = arms.get(answer.piece_id)
        if arm is not None:
            counts[arm.name] = counts.get(arm.name, 0) + 1
    n = sum(counts.values())
    if not n:
        return DiscriminationResult(
            answers, 0, 0, None, None, None, ("The arms tasted are no longer known.",)
        )
    name, hits = max(counts.items(), key=lambda pair: pair[1])
    p = min(1.0, 2 * upper_tail(hits, n, 0.5))
    share = proportion_interval(hits, n)
    said = [f"{question.strip()} {name}, said {hits} of {n}."]
    if share is not None:
        said.append(
            f"That is {percent(hits / n)}, and may be {percent(share[0])} to {percent(share[1])} of tasters."
        )
    clear = p <= ALPHA
    said.append(
        f"Tossing a coin is as one-sided with chance {_chance(p)}: "
        + ("that is more than luck." if clear else "not enough to tell.")
    )
    return DiscriminationResult(answers, hits, n, None, share, p, tuple(said))
