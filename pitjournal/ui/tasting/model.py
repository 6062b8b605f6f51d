"""What the tasting page shows: sheets by code, and after the reveal the means by piece and arm."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import Sample, Tasting
from pitjournal.domain.whole_cook import WholeCook

Given = Mapping[tuple[str, str, str], float]
"""Score by sample id, taster and criterion."""


@dataclass(frozen=True)
class PieceScores:
    """A revealed sample: its code, its piece, and the tasters' mean by criterion."""

    code: str
    piece: Piece
    look: int | None
    means: tuple[float | None, ...]


@dataclass(frozen=True)
class ArmScores:
    """A way: its name, its look, how many pieces were tasted, and their mean by criterion."""

    name: str
    look: int
    pieces: int
    means: tuple[float | None, ...]


@dataclass(frozen=True)
class TasterFacts:
    """A taster's mean and spread over all the scores he gave."""

    name: str
    count: int
    mean: float | None
    spread: float | None


def session_of(whole: WholeCook) -> Tasting | None:
    """Return the cook's newest session."""
    return whole.tastings[-1] if whole.tastings else None


def given(whole: WholeCook, session: Tasting) -> dict[tuple[str, str, str], float]:
    """Return the scores of a session."""
    return {
        (score.sample_id, score.taster, score.criterion): score.value
        for score in whole.scores
        if score.tasting_id == session.id
    }


def sheet(whole: WholeCook, session: Tasting, taster: str) -> list[Sample]:
    """Return a taster's samples in his serving order."""
    samples = {s.id: s for s in whole.samples if s.tasting_id == session.id}
    order = session.orders.get(taster) or sorted(samples, key=lambda i: samples[i].code)
    return [samples[sample_id] for sample_id in order if sample_id in samples]


def progress(session: Tasting, scores: Given, samples: int) -> tuple[int, int]:
    """Return how many scores there are, of how many."""
    return len(scores), samples * len(session.tasters) * len(session.criteria)


def revealed(whole: WholeCook, session: Tasting, scores: Given) -> list[PieceScores]:
    """Return each sample with its piece and means, arm after arm."""
    pieces = {piece.id: piece for piece in whole.pieces}
    found = []
    for sample in whole.samples:
        piece = pieces.get(sample.piece_id)
        if sample.tasting_id != session.id or piece is None:
            continue
        means = tuple(_mean(scores, sample.id, criterion) for criterion in session.criteria)
        found.append(PieceScores(sample.code, piece, whole.arm_index(piece.arm_id), means))
    return sorted(found, key=lambda s: (s.look is None, s.look or 0, s.piece.position))


def _mean(scores: Given, sample_id: str, criterion: str) -> float | None:
    known = [v for (s, _, c), v in scores.items() if s == sample_id and c == criterion]
    return fmean(known) if known else None


def arm_means(whole: WholeCook, pieces: Sequence[PieceScores], criteria: int) -> list[ArmScores]:
    """Return each arm's means by criterion: means of its pieces' means."""
    found = []
    for arm in whole.ordered_arms:
        mine = [p for p in pieces if p.piece.arm_id == arm.id]
        means: list[float | None] = []
        for place in range(criteria):
            known = [value for p in mine if (value := p.means[place]) is not None]
            means.append(fmean(known) if known else None)
        look = whole.arm_index(arm.id) or 0
        found.append(ArmScores(arm.name, look, len(mine), tuple(means)))
    return found


def taster_facts(session: Tasting, scores: Given) -> list[TasterFacts]:
    """Return how each taster used the scale."""
    found = []
    for taster in session.tasters:
        values = [value for (_, name, _), value in scores.items() if name == taster]
        mean = fmean(values) if values else None
        spread = stdev(values) if len(values) > 1 else None
        found.append(TasterFacts(taster, len(values), mean, spread))
    return found
