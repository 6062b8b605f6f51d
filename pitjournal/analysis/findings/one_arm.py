"""Tasters who met one arm alone: how kind they are can't be told apart from the arm."""

from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.analysis.findings.after_reveal import judged
from pitjournal.analysis.findings.confounded import listed
from pitjournal.analysis.tasting.scored_pieces import levelled
from pitjournal.analysis.trade_words import pieces_of
from pitjournal.domain.tasting import Tasting
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.first_letter import capital


@dataclass(frozen=True)
class OneArm:
    """A taster who scored pieces of one arm alone; `evened`: his level was set by shared pieces."""

    taster: str
    arm_id: str
    arm: str
    evened: bool


def one_arm_tasters(whole: WholeCook, outcome: str) -> tuple[OneArm, ...]:
    """Return who scored one arm alone where more were tasted, in the declared outcome.

    Parameters
    ----------
    whole
        The cook.
    outcome
        The catalogue key of the declared outcome, a score.
    """
    found: list[OneArm] = []
    for tasting in judged(whole, outcome):
        found += _of_session(whole, tasting, outcome)
    return tuple(found)


def _of_session(whole: WholeCook, tasting: Tasting, outcome: str) -> list[OneArm]:
    session = whole.session(tasting)
    scored = [c for c in tasting.asked.criteria if f"score.{tasting.variable(c.name)}" == outcome]
    names = {criterion.name for criterion in scored}
    arm_of = {piece.id: piece.arm_id for piece in whole.pieces}
    met: dict[str, set[str]] = {}
    for sample_id, taster, name in session.given:
        sample = session.by_id.get(sample_id)
        arm = arm_of.get(sample.piece_id) if sample is not None else None
        if arm is not None and (name in names or not names):
            met.setdefault(taster, set()).add(arm)
    if len(set().union(*met.values())) < 2:
        return []
    evened = bool(scored) and levelled(session, scored[0]) is not None
    called = {arm.id: arm.name for arm in whole.arms}
    return [
        OneArm(taster, arm_id, called.get(arm_id, ""), evened)
        for taster, arms in met.items()
        if len(arms) == 1
        for arm_id in arms
    ]


def one_arm_sentence(found: Sequence[OneArm], noun: str) -> str:
    """Return who tasted one arm alone and what that does to the answer, or nothing."""
    if not found:
        return ""
    by_arm: dict[str, list[OneArm]] = {}
    for one in found:
        by_arm.setdefault(one.arm_id, []).append(one)
    said = [
        f"{listed([one.taster for one in mine])} tasted nothing but {pieces_of(mine[0].arm, noun)}"
        for mine in by_arm.values()
    ]
    start = capital(listed(said))
    if all(one.evened for one in found):
        return (
            f"{start}: how kind they are is set even by the pieces that others tasted too, and the "
            "interval does not know how well."
        )
    who = "that taster" if len(found) == 1 else "such tasters"
    return (
        f"{start}. How kind {who} may be cannot be told apart from the arm, and the interval knows "
        "nothing of it: whatever differs may come from who tasted what."
    )
