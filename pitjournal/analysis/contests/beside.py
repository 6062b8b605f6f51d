"""The cook's own tasters beside the judges, a criterion at a time."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from statistics import fmean

from pitjournal.domain.contest import TurnIn
from pitjournal.domain.day.turn_in import pieces_for
from pitjournal.domain.scheme import Criterion
from pitjournal.domain.tasting import Session
from pitjournal.domain.whole_cook import WholeCook

SAID_AS: Mapping[str, str] = {"flavour": "taste", "flavor": "taste", "tender": "tenderness"}
"""What some panels call that which judges call otherwise (common practice, no source)."""


@dataclass(frozen=True)
class Beside:
    """What judges and the cook's own tasters gave on one criterion, on average.

    Attributes
    ----------
    criterion
        As the judges call it.
    judges, panel
        Mean scores, each on its own scale, in points.
    judges_scale, panel_scale
        The ends of those scales.
    cards, tasters
        How many cards and how many tasters they come from.
    """

    criterion: str
    judges: float
    panel: float
    judges_scale: tuple[float, float]
    panel_scale: tuple[float, float]
    cards: int
    tasters: int

    @property
    def apart(self) -> float:
        """By how much of the whole scale the judges gave more, from −1 to 1."""
        return _share(self.judges, self.judges_scale) - _share(self.panel, self.panel_scale)


def _share(score: float, scale: tuple[float, float]) -> float:
    low, high = scale
    return (score - low) / (high - low)


def beside(turn_in: TurnIn, whole: WholeCook) -> tuple[Beside, ...]:
    """Return where the cook's own tasters and the judges scored the same thing of a category.

    Only what is revealed counts, of the pieces the category is for, and no sitting that asked by
    the very scheme of the judges: that is how their blind scores are kept.

    Parameters
    ----------
    turn_in
        The category with its cards.
    whole
        The cook whose meat was turned in.
    """
    found = []
    for criterion in turn_in.category.asked.criteria:
        own = [
            card.scores[criterion.name] for card in turn_in.cards if criterion.name in card.scores
        ]
        scale = _ends(criterion)
        given = list(_given(turn_in, whole, criterion.name))
        if not own or scale is None or not given:
            continue
        panel_scale = given[-1][2]  # of the last sitting that asked for it
        kept = [(taster, value) for taster, value, ends in given if ends == panel_scale]
        found.append(
            Beside(
                criterion.name,
                fmean(own),
                fmean(value for _, value in kept),
                scale,
                panel_scale,
                len(own),
                len({taster for taster, _ in kept}),
            )
        )
    return tuple(found)


def _ends(criterion: Criterion) -> tuple[float, float] | None:
    if criterion.low is None or criterion.high is None or criterion.low >= criterion.high:
        return None
    return criterion.low, criterion.high


def _given(
    turn_in: TurnIn, whole: WholeCook, name: str
) -> Iterator[tuple[str, float, tuple[float, float]]]:
    """Yield what each taster gave on a criterion: who, points, and the ends of the scale."""
    pieces = {piece.id for piece in pieces_for(whole, turn_in.category.id)}
    for tasting in whole.tastings:
        if not tasting.revealed or tasting.scheme_id == turn_in.category.scheme_id:
            continue
        session: Session = whole.session(tasting)
        samples = {sample.id for sample in session.samples if sample.piece_id in pieces}
        for criterion in tasting.asked.criteria:
            ends = _ends(criterion)
            if ends is None or SAID_AS.get(criterion.name, criterion.name) != name:
                continue
            for score in session.scores:
                if score.sample_id in samples and score.criterion == criterion.name:
                    yield score.taster, score.value, ends
