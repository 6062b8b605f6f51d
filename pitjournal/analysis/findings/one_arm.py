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

ONE_TASTER = "One taster alone scored it, so it is one person's answer."

HARDLY = 0.5
"""Who scored less than half as much of one arm as of another tells of the other."""


@dataclass(frozen=True)
class OneArm:
    """A taster who scored pieces of one arm alone, or hardly any of another.

    `evened` says that his level was set by shared pieces, `hardly` that he met another arm too.
    """

    taster: str
    arm_id: str
    arm: str
    evened: bool
    hardly: bool = False


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
    met: dict[str, dict[str, set[str]]] = {}
    for sample_id, taster, name in session.given:
        sample = session.by_id.get(sample_id)
        arm = arm_of.get(sample.piece_id) if sample is not None else None
        if arm is not None and (name in names or not names):
            met.setdefault(taster, {}).setdefault(arm, set()).add(sample_id)
    served = {
        arm: set[str]().union(*(own.get(arm, set()) for own in met.values()))
        for arm in {arm for own in met.values() for arm in own}
    }
    if len(served) < 2:
        return []
    evened = bool(scored) and levelled(session, scored[0]) is not None
    called = {arm.id: arm.name for arm in whole.arms}
    found = []
    for taster, own in met.items():
        shares = {arm: len(own.get(arm, ())) / len(all_of) for arm, all_of in served.items()}
        most = max(shares, key=lambda arm: shares[arm])
        if len(own) == 1 or (len(met) > 1 and min(shares.values()) < HARDLY * shares[most]):
            found.append(OneArm(taster, most, called.get(most, ""), evened, len(own) > 1))
    return found


def hardly_words(found: Sequence[OneArm]) -> str:
    """Return how much else some tasters met: "nothing but", "hardly anything but"."""
    return "hardly anything but" if any(one.hardly for one in found) else "nothing but"


def one_arm_sentence(found: Sequence[OneArm], noun: str) -> str:
    """Return who tasted one arm alone and what that does to the answer, or nothing."""
    if not found:
        return ""
    by_arm: dict[str, list[OneArm]] = {}
    for one in found:
        by_arm.setdefault(one.arm_id, []).append(one)
    said = [
        f"{listed([one.taster for one in mine])} tasted {hardly_words(mine)} "
        f"{pieces_of(mine[0].arm, noun)}"
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


def one_taster_sentence(whole: WholeCook, outcome: str) -> str:
    """Return that a single person scored the declared outcome, or nothing."""
    sessions = [whole.session(tasting) for tasting in judged(whole, outcome)]
    tasters = {taster for session in sessions for _, taster, _ in session.given}
    return ONE_TASTER if len(tasters) == 1 else ""
