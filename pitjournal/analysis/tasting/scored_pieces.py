"""What a revealed session gives each piece: its tasters' scores, fair to who met what."""

from pitjournal.domain.scheme import Scale
from pitjournal.domain.tasting import Session

ByPiece = dict[tuple[str, str], list[float]]
"""Scores by piece id and criterion."""


def piece_scores(session: Session) -> ByPiece:
    """Return each piece's scores; none before the reveal.

    Where tasters were served only some of the samples, a kind taster would lift the pieces he
    happened to meet: there each piece has its mean with the tasters' levels set even, once for
    each score.
    """
    if not session.tasting.revealed:
        return {}
    found: ByPiece = {}
    for (sample_id, _taster, criterion), value in session.given.items():
        sample = session.by_id.get(sample_id)
        if sample is not None:
            found.setdefault((sample.piece_id, criterion), []).append(value)
    if not session.tasting.some_each(len(session.samples)):
        return found
    for asked in session.tasting.asked.criteria:
        if asked.scale is not Scale.RANK:
            _set_even(session, asked.name, found)
    return found


def _set_even(session: Session, name: str, found: ByPiece) -> None:
    from pitjournal.science.even_levels import even_means  # noqa: PLC0415 - numpy, when needed

    rows = [
        (session.by_id[sample_id].piece_id, taster, value)
        for (sample_id, taster, criterion), value in session.given.items()
        if criterion == name and sample_id in session.by_id
    ]
    pieces = list(dict.fromkeys(piece for piece, _, _ in rows))
    tasters = list(dict.fromkeys(taster for _, taster, _ in rows))
    means = even_means(
        [value for _, _, value in rows],
        [pieces.index(piece) for piece, _, _ in rows],
        [tasters.index(taster) for _, taster, _ in rows],
    )
    if means is None:
        return
    for piece, mean in zip(pieces, means, strict=True):
        found[piece, name] = [float(mean)] * len(found[piece, name])
