"""Scores with the tasters' kindness, and the place in the serving, taken out."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from pitjournal.analysis.findings.comparison import ArmSummary
from pitjournal.analysis.findings.places import OwnScale
from pitjournal.analysis.findings.worked import Worked
from pitjournal.domain.tasting import Session
from pitjournal.units import Dimension, UnitSystem, show, show_interval
from pitjournal.units.first_letter import capital

EVEN_ORDER = 0.1
"""Places in the serving by which the arms' mean places may differ and still count as balanced."""


PLACE_GOES_WITH = (
    "Every piece had its own place in the serving, so what the place did cannot be taken out."
)


@dataclass(frozen=True)
class Given:
    """One score: of which piece, by whom, and which place in his serving it had."""

    value: float
    piece_id: str
    taster: str
    place: float


def tasters_apart(arms: Sequence[ArmSummary], session: Session, name: str) -> OwnScale | None:
    """Return the differences with each taster's kindness taken out, where that may matter.

    It may where some taster missed a piece, and where the arms were not served equally early: then
    the place in the serving is a term too. Where everyone scored every piece in balanced orders
    the means of the pieces say the same, and nothing is told.

    Parameters
    ----------
    arms
        The arms, the control first.
    session
        A tasting with its samples, scores and notes.
    name
        Of what was scored.
    """
    control = next((arm for arm in arms if arm.control), None)
    where = {p.piece_id: (place, p.block) for place, a in enumerate(arms) for p in a.points}
    given = _given(session, name, where)
    tasters = {one.taster for one in given}
    if control is None or len(tasters) < 2:
        return None
    missing = len(given) < len(tasters) * len(where)
    uneven = _unevenly_served(given, {piece: arm for piece, (arm, _) in where.items()})
    if not missing and not uneven:
        return None
    apart = uneven and _place_can_be_sized(given)
    stuck = [PLACE_GOES_WITH] if uneven and not apart else []
    uneven = apart
    said = stuck + _said(arms, control, given, where, uneven=uneven)
    if not said:
        return None
    title = "each taster’s kindness taken out"
    if uneven:
        title = "each taster’s kindness and the place in the serving taken out"
    return OwnScale(
        f"{capital(name)}, {title}",
        tuple(said),
        _worked(len(given), len(where), len(tasters), missing=missing, uneven=uneven),
    )


def _given(session: Session, name: str, where: dict[str, tuple[int, str]]) -> list[Given]:
    found = []
    for (sample_id, taster, criterion), value in session.given.items():
        piece_id = session.by_id[sample_id].piece_id
        order = list(session.tasting.orders.get(taster, ()))
        if criterion == name and piece_id in where:
            place = float(order.index(sample_id)) if sample_id in order else float("nan")
            found.append(Given(value, piece_id, taster, place))
    return found


def _unevenly_served(given: Sequence[Given], arms: dict[str, int]) -> bool:
    """Whether one arm's portions came earlier than another's; not where an order is not known."""
    places: dict[int, list[float]] = {}
    for one in given:
        places.setdefault(arms[one.piece_id], []).append(one.place)
    means = [fmean(own) for own in places.values()]
    if any(math.isnan(mean) for mean in means):
        return False
    return max(means, default=0.0) - min(means, default=0.0) > EVEN_ORDER


def _place_can_be_sized(given: Sequence[Given]) -> bool:
    """Whether pieces were met in several places, so that a place can be told from a piece."""
    from pitjournal.science.comparison.nested import within_slope

    pieces, names = (
        {one: n for n, one in enumerate(dict.fromkeys(all_))}
        for all_ in ([one.piece_id for one in given], [one.taster for one in given])
    )
    slope = within_slope(
        [one.value for one in given],
        [pieces[one.piece_id] for one in given],
        [names[one.taster] for one in given],
        [one.place for one in given],
    )
    return slope is not None


def _said(
    arms: Sequence[ArmSummary],
    control: ArmSummary,
    given: Sequence[Given],
    where: dict[str, tuple[int, str]],
    *,
    uneven: bool,
) -> list[str]:
    from pitjournal.science.comparison.nested import nested_difference

    pieces, names = list(where), sorted({one.taster for one in given})
    packs = sorted({block for _, block in where.values()})
    whole = all(block for _, block in where.values())
    said = []
    for place, arm in enumerate(arms):
        if arm.control or not arm.points:
            continue
        found = nested_difference(
            [one.value for one in given],
            [where[one.piece_id][0] for one in given],
            [pieces.index(one.piece_id) for one in given],
            place,
            list(arms).index(control),
            block_codes=[packs.index(where[one.piece_id][1]) for one in given] if whole else None,
            taster_codes=[names.index(one.taster) for one in given],
            covariate=[one.place for one in given] if uneven else None,
        )
        if found.low is None or found.high is None:
            continue
        what = Dimension.SCORE, UnitSystem.METRIC
        size = show(found.estimate, *what, signed=True)
        bounds = show_interval(found.low, found.high, *what, signed=True)
        said.append(f"{arm.name}: {size} (95 % interval {bounds}; {found.n} pieces).")
    return said


def _worked(scores: int, pieces: int, tasters: int, *, missing: bool, uneven: bool) -> Worked:
    term = " + place in the serving" if uneven else ""
    taken = ["A taster is as kind to every piece."]
    if missing:
        taken.append("Which piece was missed has nothing to do with it.")
    if uneven:
        taken.append("Each place later in the serving moves a score by the same step.")
    return Worked(
        f"{scores} scores of {pieces} pieces by {tasters} tasters{', some missing' * missing}",
        "mixed model by restricted likelihood: pieces and tasters as sources of spread, the piece "
        "as the replicate",
        f"score = arm + pack{term} + piece + taster + what is left; Satterthwaite's degrees of "
        "freedom, never more than the pieces allow",
        "Bates, Mächler, Bolker & Walker (2015), J. Stat. Softw. 67(1); checked on an invented "
        "table fitted by three libraries",
        " ".join(taken),
    )
