"""What a revealed session gives each piece: its tasters' scores, fair to who met what."""

from pitjournal.analysis.tasting.serving import share_enough
from pitjournal.domain.scheme import Criterion, Scale
from pitjournal.domain.tasting import Session

ByPiece = dict[tuple[str, str], list[float]]
"""Scores by piece id and criterion."""


def piece_scores(session: Session) -> ByPiece:
    """Return each piece's scores; none before the reveal.

    Where tasters were served only some of the samples, a kind taster would lift the pieces he
    happened to meet: there each piece has its mean with the tasters' levels set even, once for
    each score.
    """
    found = given_scores(session)
    for criterion in session.tasting.asked.criteria:
        even = levelled(session, criterion)
        for piece_id, mean in ({} if even is None else even).items():
            found[piece_id, criterion.name] = [mean] * len(found[piece_id, criterion.name])
    return found


def given_scores(session: Session) -> ByPiece:
    """Return each piece's scores as they were given; none before the reveal."""
    found: ByPiece = {}
    if not session.tasting.revealed:
        return found
    for (sample_id, _taster, criterion), value in session.given.items():
        sample = session.by_id.get(sample_id)
        if sample is not None:
            found.setdefault((sample.piece_id, criterion), []).append(value)
    return found


def levelled(session: Session, criterion: Criterion) -> dict[str, float] | None:
    """Return the mean of each piece with the tasters' levels set even, on the scale.

    None before the reveal, where everyone met everything, where places were given, and where the
    tasters share too few pieces to tell their levels from the pieces: then the scores stay as
    they were given.
    """
    tasting = session.tasting
    if not tasting.revealed or not tasting.some_each(len(session.samples)):
        return None
    if criterion.scale is Scale.RANK:
        return None
    rows = [
        (session.by_id[sample_id].piece_id, taster, value)
        for (sample_id, taster, name), value in session.given.items()
        if name == criterion.name and sample_id in session.by_id
    ]
    pieces = list(dict.fromkeys(piece for piece, _, _ in rows))
    tasters = list(dict.fromkeys(taster for _, taster, _ in rows))
    if not share_enough(len(pieces), len(rows), len(tasters)):
        return None
    from pitjournal.science.sensory.taster_adjustment import even_means

    means = even_means(
        [value for _, _, value in rows],
        [pieces.index(piece) for piece, _, _ in rows],
        [tasters.index(taster) for _, taster, _ in rows],
    )
    if means is None:
        return None
    values = [value for _, _, value in rows]  # a penalty may lie outside the scale
    low, high = min(criterion.low, *values), max(criterion.high, *values)
    return {
        piece: min(max(float(mean), low), high) for piece, mean in zip(pieces, means, strict=True)
    }
