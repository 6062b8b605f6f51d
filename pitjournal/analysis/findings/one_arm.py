"""Tasters who met one arm alone: how kind they are can't be told apart from the arm."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pitjournal.analysis.findings.after_reveal import judged
from pitjournal.analysis.tasting.scored_pieces import levelled
from pitjournal.analysis.trade_words import listed, number_of, pieces_of
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
    `few` are the arms he scored hardly any of, where he met others as well as `arm`; `apart` the
    arms, by id, whose difference from the control rests on it.
    """

    taster: str
    arm_id: str
    arm: str
    evened: bool
    hardly: bool = False
    few: tuple[str, ...] = ()
    apart: frozenset[str] = frozenset()


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
    control = whole.control
    found = []
    for taster, own in met.items():
        shares = {arm: len(own.get(arm, ())) / len(all_of) for arm, all_of in served.items()}
        most = max(shares, key=lambda arm: shares[arm])
        few = [arm for arm in shares if shares[arm] < HARDLY * shares[most]]
        if len(own) == 1 or (len(met) > 1 and few):
            third = tuple(called.get(arm, "") for arm in few) if len(few) < len(shares) - 1 else ()
            base = None if control is None else shares.get(control.id)
            apart = {arm for arm in shares if base is not None and _uneven(shares[arm], base)}
            who = OneArm(taster, most, called.get(most, ""), evened, len(own) > 1)
            found.append(replace(who, few=third, apart=frozenset(apart)))
    return found


def _uneven(one: float, other: float) -> bool:
    return min(one, other) < HARDLY * max(one, other)


def hardly_words(found: Sequence[OneArm]) -> str:
    """Return how much else some tasters met: "nothing but", "hardly anything but"."""
    return "hardly anything but" if any(one.hardly for one in found) else "nothing but"


def _what_of(found: Sequence[OneArm], noun: str) -> str:
    """Return what tasters met alone, or what they met hardly any of beside several arms."""
    few = found[0].few
    if few:
        return f"hardly any {listed([pieces_of(arm, noun) for arm in few])}"
    return f"{hardly_words(found)} {pieces_of(found[0].arm, noun)}"


def one_arm_sentence(found: Sequence[OneArm], noun: str) -> str:
    """Return how many tasted one arm alone and what that does to the answer, or nothing.

    Tasters are counted, not named: these words are shared.
    """
    if not found:
        return ""
    by_arm: dict[tuple[str, ...], list[OneArm]] = {}
    for one in found:
        by_arm.setdefault(one.few or (one.arm_id,), []).append(one)
    said = [
        f"{number_of(len(mine), 'taster')} tasted {_what_of(mine, noun)}"
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
