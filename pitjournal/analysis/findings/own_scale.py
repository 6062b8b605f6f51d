"""A panel's answers on the scale they were given on: places, steps, just about right, told apart.

The declared difference is a difference of means. Where the answers are places or steps, or where
the panel chose instead of scoring, this says the same in their own terms. Tasters are averaged
within a piece first; what counts tasters says that it is about the pieces served.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from statistics import median

from pitjournal.analysis.findings.comparison import ArmSummary, PieceValues, summaries
from pitjournal.analysis.findings.discrimination import discrimination_of
from pitjournal.analysis.findings.panel_model import tasters_apart
from pitjournal.analysis.findings.places import OwnScale, ranked
from pitjournal.analysis.findings.worked import Worked
from pitjournal.domain.scheme import ANSWER, Criterion, Scale
from pitjournal.domain.tasting import Session
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.figures import figure, percent, trimmed
from pitjournal.units.first_letter import capital

SCORED = frozenset({Scale.WHOLE, Scale.HALF, Scale.LINE})
STEPS = frozenset({Scale.WHOLE, Scale.HALF})
LEAST_COST = 0.05
"""Points of liking; a drop that rounds to none, or a rise, is no cost."""
LEAST_RATED = 6
"""Fewer pieces have too few ratings for a model of steps."""

JUDGED = {
    "tenderness": ("more tender", "less tender"),
    "juiciness": ("juicier", "less juicy"),
    "flavour": ("better in flavour", "worse in flavour"),
    "taste": ("better in taste", "worse in taste"),
    "appearance": ("better looking", "worse looking"),
}
"""What a piece of a pair is judged to be, more and less of each thing."""

Ratings = Mapping[str, Sequence[float]]
"""Every rating of a piece, by its id."""


def on_their_scale(
    whole: WholeCook, values: PieceValues, outcome: str | None
) -> tuple[OwnScale, ...]:
    """Return what each revealed session said on its own scales.

    Parameters
    ----------
    whole, values
        The cook, and what is known of its pieces.
    outcome
        The declared outcome: of scores, only its steps are looked at here.
    """
    found: list[OwnScale] = []
    for tasting in whole.tastings:
        if tasting.revealed:
            found += _of_session(whole, whole.session(tasting), values, outcome)
    return tuple(found)


def is_ranking(whole: WholeCook, outcome: str) -> bool:
    """Whether an outcome is places, of which 1 is best: no difference of points says it."""
    return any(
        criterion.scale is Scale.RANK and outcome == f"score.{tasting.variable(criterion.name)}"
        for tasting in whole.tastings
        for criterion in tasting.asked.criteria
    )


def _of_session(
    whole: WholeCook, session: Session, values: PieceValues, outcome: str | None
) -> Iterator[OwnScale]:
    tasting = session.tasting
    if not tasting.asked.scored:
        told = discrimination_of(whole, session)
        if told is not None:
            title = f"{str(tasting.asked.asks).capitalize()} test"
            yield OwnScale(title, told.words, _TOLD)
        return
    for criterion in tasting.asked.criteria:
        key = f"score.{tasting.variable(criterion.name)}"
        arms = summaries(whole, values, key)
        ratings = _ratings(session, criterion)
        if criterion.scale is Scale.RANK:
            yield from _one(ranked(arms, criterion.name))
        elif criterion.scale is Scale.JUST_RIGHT:
            yield from _one(just_right(whole, session, criterion))
        elif criterion.scale in STEPS and key == outcome:
            yield from _one(stepped(arms, ratings, criterion.name))
        if criterion.scale in SCORED and key == outcome:
            yield from _one(tasters_apart(arms, session, criterion.name))


def _one(found: OwnScale | None) -> Iterator[OwnScale]:
    if found is not None:
        yield found


def _ratings(session: Session, criterion: Criterion) -> Ratings:
    found: dict[str, list[float]] = {}
    for (sample_id, _, name), value in session.given.items():
        sample = session.by_id.get(sample_id)
        if name == criterion.name and sample is not None:
            found.setdefault(sample.piece_id, []).append(value)
    return found


# steps


def stepped(arms: Sequence[ArmSummary], ratings: Ratings, name: str) -> OwnScale | None:
    """Return the ratings as ordered steps: a cumulative-link model with the arms as effects.

    Parameters
    ----------
    arms
        The arms, the control first.
    ratings
        A rating and the place of its arm, a card each.
    name
        Of what was scored.
    """
    control = next((arm for arm in arms if arm.control), None)
    others = [arm for arm in arms if not arm.control and arm.points]
    if control is None or not control.points or not others:
        return None
    rated = [
        (median(ratings[point.piece_id]), place)
        for place, arm in enumerate((control, *others))
        for point in arm.points
        if ratings.get(point.piece_id)
    ]
    if len(rated) < LEAST_RATED:
        return None
    from pitjournal.science.sensory.ordinal import cumulative_link, shares_higher

    columns = [[float(place == n + 1) for n in range(len(others))] for _, place in rated]
    fit = cumulative_link([rating for rating, _ in rated], columns)
    said = []
    for place, arm in enumerate(others):
        shares = None if fit is None else shares_higher(fit, place)
        if shares is None:
            said.append(
                f"{arm.name}: as steps nothing can be told, {_why_no_steps(rated, place + 1)}."
            )
            continue
        clear = shares[1] > 0.5 or shares[2] < 0.5
        verdict = "" if clear else "not enough to tell, "
        below = shares[0] < 0.5
        middle, low, high = (1 - shares[0], 1 - shares[2], 1 - shares[1]) if below else shares
        more, less = JUDGED.get(name, (f"higher in {name}", f"lower in {name}"))
        said.append(
            f"{arm.name}: {verdict}about {round(10 * middle)} in 10 pairs would be judged "
            f"{less if below else more} than {control.name.casefold()} (95 % interval "
            f"{math.floor(10 * low + 1e-9)} to {math.ceil(10 * high - 1e-9)} in 10; {len(rated)} "
            "pieces in all)."
        )
    worked = Worked(
        f"the median rating of each piece over its tasters, {len(rated)} pieces",
        "cumulative-link model, logit, by maximum likelihood; normal intervals",
        "log odds of a rating above a step = effect of the arm − threshold of the step; of pairs "
        "of pieces, one of each, the share in which the one lies above the other",
        "McCullagh (1980), J. R. Stat. Soc. B 42, 109–142; checked on Randall (1989); Agresti & "
        "Kateri (2017), Biometrics 73, 214–219",
        "An arm shifts all steps by the same odds. With few pieces the interval is rough.",
    )
    return OwnScale(f"{capital(name)}, as steps of its scale", tuple(said), worked)


def _why_no_steps(rated: Sequence[tuple[float, int]], place: int) -> str:
    """Return why a model of steps says nothing of an arm: level, apart, or too few ratings."""
    mine = [rating for rating, arm in rated if arm == place]
    base = [rating for rating, arm in rated if arm == 0]
    if not mine:
        return "none of its pieces was rated"
    if len({*mine, *base}) == 1:
        return "all pieces are level"
    if max(mine) <= min(base) or max(base) <= min(mine):
        return "no piece of one arm reaches into the other"
    return "the ratings are too few for a model of them"


# just about right


def just_right(whole: WholeCook, session: Session, criterion: Criterion) -> OwnScale | None:
    """Return the shares of too little and too much by arm, and what they cost in liking.

    Parameters
    ----------
    whole
        The cook, with all its records.
    session
        A tasting with its samples, scores and notes.
    criterion
        What was asked of each sample.
    """
    ideal = criterion.ideal
    given = [
        (sample_id, taster, value)
        for (sample_id, taster, name), value in session.given.items()
        if name == criterion.name and sample_id in session.by_id
    ]
    if ideal is None or not given:
        return None
    sides = [value - ideal for _, _, value in given]
    said = list(_shares(whole, session, given, ideal))
    liking = _liking(session)
    if liking is not None:
        liked = [session.given.get((s, t, liking), float("nan")) for s, t, _ in given]
        said += _costs(sides, liked, liking)
    worked = Worked(
        f"{len(given)} answers; {trimmed(ideal)} is just right",
        "penalty analysis: mean liking where it was just right less where it was not",
        "penalty = share of a side × drop in mean liking",
        "common practice of sensory panels, no source; a side of less than a fifth is not told",
        "It describes these answers. Several answers of one taster are not independent, so no "
        "interval is given.",
    )
    title = f"{capital(criterion.name)}, just about right"
    return OwnScale(title, tuple(said), worked)


def _shares(
    whole: WholeCook, session: Session, given: Sequence[tuple[str, str, float]], ideal: float
) -> Iterator[str]:
    pieces = {piece.id: piece for piece in whole.pieces}
    for arm in whole.ordered_arms:
        own = [
            value - ideal
            for sample_id, _, value in given
            if (piece := pieces.get(session.by_id[sample_id].piece_id)) is not None
            and piece.arm_id == arm.id
        ]
        if own:
            low, right = sum(v < 0 for v in own) / len(own), sum(v == 0 for v in own) / len(own)
            yield (
                f"{arm.name}: too little {percent(low)}, just right {percent(right)}, too much "
                f"{percent(1 - low - right)} of {len(own)} answers."
            ).replace("-0%", "0%")


def _liking(session: Session) -> str | None:
    """Return the criterion that says how well a sample was liked: the overall one, or the first."""
    scored = [c.name for c in session.tasting.asked.criteria if c.scale in SCORED]
    overall = [n for n in scored if n.casefold() in {"overall", "liking", "overall liking"}]
    return next(iter(overall + scored), None)


def _costs(sides: Sequence[float], liked: Sequence[float], liking: str) -> Iterator[str]:
    from pitjournal.science.sensory.just_about_right import penalty

    found = penalty(sides, liked)
    if found is None:
        return
    told = [
        f"{words} costs the panel {figure(side.penalty, 2)} points of {liking} ({percent(side.share)} of "
        f"answers, {figure(side.drop, 1)} points each)"
        if side.drop >= LEAST_COST
        else f"{words}, said {percent(side.share)} of answers, costs no {liking}"
        for words, side in (("too little", found.too_little), ("too much", found.too_much))
        if side.reported and side.penalty is not None and side.drop is not None
    ]
    yield f"{capital('; '.join(told))}." if told else "No side is named by a fifth or more."


_TOLD = Worked(
    f"one answer a taster, kept as “{ANSWER}”",
    "exact binomial test against guessing; d-prime with the interval of the share",
    "chance of so many right or more when all guess, 1 in 3 (triangle) or 1 in 2",
    "ISO 4120, ISO 10399; Ennis (1993), J. Sensory Studies 8, for d-prime (from memory)",
    "Each taster answered once, and independently. It is about the pieces that were served.",
)
