"""What takes longer: the model of leeway, the spread, and answers on their own scale."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from pitjournal.analysis.felt import AXES
from pitjournal.analysis.findings.comparison import PieceValues, number
from pitjournal.analysis.findings.leeway import Stay, stays_in
from pitjournal.analysis.findings.leeway_model import (
    Half,
    LeewayModel,
    Stays,
    halves,
    model_of,
)
from pitjournal.analysis.findings.like import cuts_of, same_comparison, spellings, way_of
from pitjournal.analysis.findings.own_scale import on_their_scale
from pitjournal.analysis.findings.places import OwnScale
from pitjournal.analysis.findings.spread import Reading, Spread, spread_of
from pitjournal.domain.whole_cook import WholeCook

SCORE = "score."


@dataclass(frozen=True)
class SlowFindings:
    """A model of leeway on each axis, and the spread of the declared outcome.

    `halves` are Turnbull's bounds by axis, for the arms with enough pieces; `scales` is what each
    tasting said on the scale it was asked on.
    """

    models: tuple[LeewayModel, ...] = ()
    halves: Mapping[str, tuple[Half, ...]] = field(default_factory=dict)
    spread: Spread | None = None
    scales: tuple[OwnScale, ...] = ()

    def model(self, axis: str) -> LeewayModel | None:
        """Return the model on an axis."""
        return next((model for model in self.models if model.axis == axis), None)


def slow_findings_of(
    whole: WholeCook,
    values: PieceValues,
    others: Sequence[tuple[WholeCook, PieceValues]],
) -> SlowFindings:
    """Work out what takes longer.

    Parameters
    ----------
    whole, values
        The cook, and what is known of its pieces.
    others
        Cooks that may have made the same comparison, this one among them, with the values of
        their pieces. What was worked out once for the same data is kept.
    """
    cooks = [(cook, values) for cook, values in others if same_comparison(whole, cook)]
    scales = on_their_scale(whole, values, whole.cook.outcome)
    if not any(cook.cook.id == whole.cook.id for cook, _ in cooks):
        return SlowFindings(scales=scales)
    found = [data for axis in AXES if (data := _stays(whole, cooks, axis)).stays]
    outcome = whole.cook.outcome or ""
    cuts = spellings((cook for cook, _ in cooks), cuts_of(whole))
    return SlowFindings(
        tuple(model_of(data) for data in found),
        {data.axis: halves(data) for data in found},
        spread_of(tuple(_readings(cooks, outcome, cuts))) if outcome else None,
        scales,
    )


def _stays(whole: WholeCook, cooks: Sequence[tuple[WholeCook, PieceValues]], axis: str) -> Stays:
    """Return the stays of this cook's ways and cuts over all cooks of the same comparison."""
    cuts = spellings((cook for cook, _ in cooks), cuts_of(whole))
    ways = [way_of(whole, arm) for arm in whole.ordered_arms]
    found: list[Stay] = []
    for cook, _ in cooks:
        by_way = {way_of(cook, arm): arm for arm in reversed(cook.ordered_arms)}
        for place, way in enumerate(ways):
            if way in by_way:
                stays = stays_in(cook, [by_way[way]], cuts, axis)
                found += [Stay(s.cook_id, place, s.least, s.most) for s in stays]
    return Stays(axis, tuple(arm.name for arm in whole.ordered_arms), tuple(found))


def _readings(
    cooks: Sequence[tuple[WholeCook, PieceValues]], outcome: str, cuts: frozenset[str]
) -> list[Reading]:
    """Return the readings of the outcome: every judgement, or one value a piece."""
    found: list[Reading] = []
    for cook, values in cooks:
        pieces = {
            piece.id: way_of(cook, arm)
            for piece in cook.pieces
            if piece.cut in cuts and (arm := cook.arm_of(piece)) is not None
        }
        found += _tasted(cook, outcome, pieces) or _known(cook, values, outcome, pieces)
    return found


def _tasted(cook: WholeCook, outcome: str, ways: Mapping[str, str]) -> list[Reading]:
    """Return every judgement of a criterion in the sessions that are revealed."""
    told = {t.id: t for t in cook.tastings if t.revealed and t.asked.scored}
    pieces = {sample.id: sample.piece_id for sample in cook.samples}
    where = cook.cook.id, cook.cook.cooker_id or ""
    return [
        Reading(score.value, ways[piece_id], piece_id, *where, score.taster)
        for score in cook.scores
        if score.tasting_id in told
        and f"{SCORE}{told[score.tasting_id].variable(score.criterion)}" == outcome
        and (piece_id := pieces[score.sample_id]) in ways
    ]


def _known(
    cook: WholeCook, values: PieceValues, outcome: str, ways: Mapping[str, str]
) -> list[Reading]:
    where = cook.cook.id, cook.cook.cooker_id or ""
    return [
        Reading(value, way, piece_id, *where, "")
        for piece_id, way in ways.items()
        if (value := number(values.get(piece_id, {}).get(outcome))) is not None
    ]
