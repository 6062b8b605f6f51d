"""Rules that hold for any cook: what cannot be, and what is unlikely."""

from collections.abc import Mapping

from pitjournal.domain.piece import Stage
from pitjournal.domain.plausible import NO_WEIGHT, PIECE

_GAINS = frozenset({Stage.TREATED})
"""Stages at which meat may gain weight: an injection or a brine."""

MOST_GAIN = 1.5
"""No stage is heavier than an earlier one by half (common practice, no source)."""

UNLIKELY_GAIN = 1.02
"""Away from a treatment, a gain above 2 % is worth a question: scales and drip."""


def impossible_mass(known: Mapping[Stage, float], stage: Stage, mass: float) -> str:
    """Return why a mass, g, cannot be, or an empty text.

    Parameters
    ----------
    known
        The piece's masses at its other stages, g.
    stage, mass
        The weighing in question.
    """
    if not mass > 0:
        return NO_WEIGHT
    if why := PIECE.why_not(mass):
        return why
    order = list(Stage)
    for other, known_mass in known.items():
        if other is stage:
            continue
        first, last = sorted(((other, known_mass), (stage, mass)), key=lambda w: order.index(w[0]))
        if last[1] > MOST_GAIN * first[1]:
            return f"{last[0].capitalize()} cannot be half as heavy again as {first[0]}."
    return ""


def unlikely_mass(known: Mapping[Stage, float], stage: Stage, mass: float) -> str:
    """Return a question to ask beside a mass that is kept all the same, or an empty text."""
    order = list(Stage)
    earlier = [other for other in order[: order.index(stage)] if other in known]
    if not earlier or stage in _GAINS:
        return _later(known, stage, mass)
    before = earlier[-1]
    if mass > UNLIKELY_GAIN * known[before]:
        return f"Heavier {stage} than {before}: is that so?"
    if mass < 0.25 * known[before]:
        return f"Less than a quarter of its weight {before}: is that so?"
    return _later(known, stage, mass)


def _later(known: Mapping[Stage, float], stage: Stage, mass: float) -> str:
    """Return a question where the next weight that is known is more than this one."""
    order = list(Stage)
    after = next((other for other in order[order.index(stage) + 1 :] if other in known), None)
    if after is None or after in _GAINS or known[after] <= UNLIKELY_GAIN * mass:
        return ""
    return f"Lighter {stage} than {after}: is that so?"
