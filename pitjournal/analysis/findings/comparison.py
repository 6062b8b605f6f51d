"""Compare the arms of one cook in one variable. The piece is the replicate."""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from pitjournal.analysis.findings.worked import BETWEEN, WITHIN, Worked, worked_out
from pitjournal.domain.blocks import Value
from pitjournal.domain.cook import Arm
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.interim_looks import FIRST_LEVEL, first_p

if TYPE_CHECKING:
    from pitjournal.science.comparison.paired import Estimate

CONFIDENCE = 0.95
NUL = "\0"
"""Begins the name of a block of one piece that has none; no pack is called so."""
PieceValues = Mapping[str, Mapping[str, Value]]


@dataclass(frozen=True)
class Point:
    """One piece's value."""

    piece_id: str
    label: str
    block: str
    value: float


@dataclass(frozen=True)
class ArmSummary:
    """An arm: its look (0 is the control), its points, their mean and standard deviation."""

    arm_id: str
    name: str
    control: bool
    look: int
    points: tuple[Point, ...]
    mean: float | None
    sd: float | None


@dataclass(frozen=True)
class Borrowed:
    """The same difference with the spread of one's own past cooks drawn upon.

    `low`, `high` bound its 95 % interval; `cooks` of how many past cooks, `worth` how many degrees
    of freedom they added to this cook's own, `sd` the spread of pieces that came of it.
    """

    low: float
    high: float
    p: float
    se: float
    df: float
    cooks: int
    worth: float
    sd: float
    could_show: float | None = None


@dataclass(frozen=True)
class Difference:
    """An arm against the control in one variable, arm − control, in the storage unit.

    `low` and `high` bound the 95 % interval from this cook's own pieces; None where none exists,
    and `why` says why. `borrowed` is the interval judged by where past cooks lend their spread.
    `adjusted` is Holm's p value among all exploratory looks, or among the arms held against the
    control in the declared outcome; None where there is only one. `matters` is the least
    difference that was said to be worth knowing, and `small_p` the chance, corrected for several
    arms, of looking this small where the truth is at least that.
    `pieces` counts both arms', `control_pieces` the control's alone.
    `could_show` is the smallest true difference this cook would have shown 8 times in 10, beside
    as many others as it is corrected for; None until that is known.
    """

    arm_id: str
    arm: str
    look: int
    key: str
    declared: bool
    estimate: float | None
    low: float | None
    high: float | None
    p: float | None
    adjusted: float | None
    pieces: int
    control_pieces: int
    could_show: float | None
    method: str
    why: str
    worked: Worked | None = None
    se: float | None = None
    df: float | None = None
    borrowed: Borrowed | None = None
    matters: float | None = None
    small_p: float | None = None

    @property
    def shown(self) -> tuple[float | None, float | None]:
        """The interval that is told and judged by: the borrowed one where there is one."""
        judged = self if self.borrowed is None else self.borrowed
        return judged.low, judged.high

    @property
    def shown_p(self) -> float | None:
        """The p value that belongs to `shown`."""
        return self.p if self.borrowed is None else self.borrowed.p

    @property
    def shown_error(self) -> tuple[float | None, float | None]:
        """The standard error and degrees of freedom that belong to `shown`."""
        judged = self if self.borrowed is None else self.borrowed
        return judged.se, judged.df

    @property
    def tells(self) -> bool:
        """Whether there is a difference, after the correction for many looks.

        The declared outcome of a first cook is held to the share that a first look may spend of
        the 5 % of a whole series; one of many exploratory looks to Holm's 5 %.
        """
        low, high = self.shown
        if low is None or high is None or not (low > 0 or high < 0):
            return False
        if self.declared:
            p = self.shown_p if self.adjusted is None else self.adjusted
            return first_p(p) < 1 - CONFIDENCE
        return self.adjusted is not None and self.adjusted < 1 - CONFIDENCE

    @property
    def too_small(self) -> bool:
        """Whether the difference is shown to be smaller than what was said to matter."""
        return first_p(self.small_p) < 1 - CONFIDENCE

    @property
    def verdict(self) -> str:
        """What the difference says in the few words that stand beside it."""
        if self.estimate is None:
            return "not recorded"
        if self.shown[0] is None:
            return "no interval"
        if self.tells:
            if not self.declared:
                return "worth a test"
            return "higher" if self.estimate > 0 else "lower"
        return "no difference that matters" if self.too_small else "not enough to tell"


def number(value: Value) -> float | None:
    """Return a value as a number; text and what is not finite is None."""
    if isinstance(value, bool):
        return float(value)
    if isinstance(value, int | float) and math.isfinite(value):
        return float(value)
    return None


def summaries(whole: WholeCook, values: PieceValues, key: str) -> tuple[ArmSummary, ...]:
    """Return every arm's points in a variable, the control first.

    Parameters
    ----------
    whole
        The cook, with all its records.
    values
        What is known of its pieces, by id and catalogue key, storage units.
    key
        Of the catalogue.
    """
    return tuple(_summary(whole, values, key, arm) for arm in whole.ordered_arms)


def _summary(whole: WholeCook, values: PieceValues, key: str, arm: Arm) -> ArmSummary:
    points = []
    for piece in whole.pieces_of(arm):
        value = number(values.get(piece.id, {}).get(key))
        if value is not None:
            points.append(Point(piece.id, piece.label, piece.block, value))
    found = [point.value for point in points]
    mean = math.fsum(found) / len(found) if found else None
    sd = None
    if mean is not None and len(found) > 1:
        sd = math.sqrt(math.fsum((v - mean) ** 2 for v in found) / (len(found) - 1))
    look = whole.arm_index(arm.id) or 0
    return ArmSummary(arm.id, arm.name, arm.control, look, tuple(points), mean, sd)


def compare(arms: Sequence[ArmSummary], key: str, *, declared: bool) -> tuple[Difference, ...]:
    """Return each arm against the control; nothing without a control.

    Parameters
    ----------
    arms
        The arms, the control first.
    key
        Of the catalogue.
    declared
        Whether a difference of this variable was declared to count.
    """
    control = next((arm for arm in arms if arm.control), None)
    if control is None:
        return ()
    others = [arm for arm in arms if not arm.control]
    found = [_difference(arms, control, arm, key, declared=declared) for arm in others]
    if not declared:
        return tuple(found)  # what each could have shown depends on how many are looked at
    return correct_for_looks(found) if len(found) > 1 else tuple(map(shown_among, found))


def blocked(control: ArmSummary, other: ArmSummary) -> bool:
    """Whether two arms meet in at least two blocks, and no piece lacks a block."""
    blocks = [{point.block for point in arm.points} for arm in (control, other)]
    named = all(point.block for arm in (control, other) for point in arm.points)
    return named and len(blocks[0] & blocks[1]) > 1


def _whole_blocks(arms: Sequence[ArmSummary]) -> bool:
    """Whether every block holds as many pieces of every arm."""
    cells = Counter((point.block, arm.arm_id) for arm in arms for point in arm.points)
    held = {block for block, _ in cells}
    there = [arm.arm_id for arm in arms if arm.points]
    return all(len({cells[block, arm_id] for arm_id in there}) == 1 for block in held)


def _packs_tell(control: ArmSummary, arm: ArmSummary) -> bool:
    """Whether packs that do not hold all arms tell what a piece of another pack is worth.

    Two packs hold both arms, or packs hold several pieces of one arm each.
    """
    packs = [Counter(p.block for p in one.points if p.block) for one in (control, arm)]
    if len(packs[0].keys() & packs[1].keys()) > 1:
        return True
    several = any(count > 1 for counts in packs for count in counts.values())
    apart = not packs[0].keys() & packs[1].keys()
    return several and apart and min(len(counts) for counts in packs) > 1


def _difference(
    arms: Sequence[ArmSummary], control: ArmSummary, arm: ArmSummary, key: str, *, declared: bool
) -> Difference:
    from pitjournal.science.comparison import paired

    one = [point.value for point in control.points]
    two = [point.value for point in arm.points]
    made = Difference(
        arm_id=arm.arm_id,
        arm=arm.name,
        look=arm.look,
        key=key,
        declared=declared,
        estimate=None,
        low=None,
        high=None,
        p=None,
        adjusted=None,
        pieces=len(one) + len(two),
        control_pieces=len(one),
        could_show=None,
        method="",
        why="",
    )
    if not one or not two:
        return replace(made, why="not recorded for both")
    if blocked(control, arm) and _whole_blocks(arms):
        found, method = _in_blocks(arms, control, arm), WITHIN
    elif _packs_tell(control, arm) and (every := _between(arms, control, arm)).se is not None:
        found, method = every, BETWEEN
    elif min(len(one), len(two)) == 1:
        found, method = paired.pooled_difference(one, two), "means of pieces, one spread"
    else:
        found, method = paired.welch_difference(one, two), "means of pieces (Welch)"
    why = ""
    if found.low is None:
        single = max(len(one), len(two)) == 1
        why = "one piece of each" if single else "no spread to judge it by"
    return replace(
        made,
        estimate=found.estimate,
        low=found.low,
        high=found.high,
        p=found.p,
        method=method,
        why=why,
        worked=worked_out((len(one), len(two)), method, found.df),
        se=found.se,
        df=found.df,
    )


def _in_blocks(arms: Sequence[ArmSummary], control: ArmSummary, arm: ArmSummary) -> "Estimate":
    """Compare within blocks: paired when only two arms stand there, else by least squares."""
    from pitjournal.science.comparison import paired

    one = {point.block: point.value for point in control.points}
    two = {point.block: point.value for point in arm.points}
    single = len(one) == len(control.points) and len(two) == len(arm.points)
    if single and len([a for a in arms if a.points]) == 2:
        both = sorted(one.keys() & two.keys())
        return paired.paired_difference([one[b] for b in both], [two[b] for b in both])
    points = [(place, point) for place, a in enumerate(arms) for point in a.points if point.block]
    blocks = sorted({point.block for _, point in points})
    return paired.blocked_difference(
        [point.value for _, point in points],
        [place for place, _ in points],
        [blocks.index(point.block) for _, point in points],
        list(arms).index(arm),
        list(arms).index(control),
    )


def _between(arms: Sequence[ArmSummary], control: ArmSummary, arm: ArmSummary) -> "Estimate":
    """Compare by every piece: within packs, and between those that lack an arm."""
    from pitjournal.science.comparison.interblock import interblock_difference

    points = [(place, point) for place, a in enumerate(arms) for point in a.points]
    blocks = [point.block or f"{NUL}{point.piece_id}" for _, point in points]
    names = {name: number for number, name in enumerate(dict.fromkeys(blocks))}
    return interblock_difference(
        [point.value for _, point in points],
        [place for place, _ in points],
        [names[block] for block in blocks],
        list(arms).index(arm),
        list(arms).index(control),
    )


def correct_for_looks(differences: Sequence[Difference]) -> tuple[Difference, ...]:
    """Return exploratory differences with Holm's p values over all of them."""
    from pitjournal.science.comparison.multiplicity import holm

    if not differences:
        return ()
    raw = [math.nan if d.shown_p is None else d.shown_p for d in differences]
    adjusted = holm(raw)
    looks = sum(math.isfinite(p) for p in raw)
    return tuple(
        replace(shown_among(d, looks), adjusted=float(a) if math.isfinite(a) else None)
        for d, a in zip(differences, adjusted, strict=True)
    )


def could_show(
    se: float | None, df: float | None, *, declared: bool, looks: int = 1
) -> float | None:
    """Return the smallest true difference that would be shown 8 times in 10.

    Parameters
    ----------
    se, df
        Standard error and degrees of freedom of the difference.
    declared
        Whether it is held to the share of a first look, or to 5 %.
    looks
        How many differences share that by Holm's correction: the first to be found is held to
        one of so many shares of it.
    """
    from pitjournal.science.comparison.power import noncentrality_shown

    if not se or df is None:
        return None
    level = FIRST_LEVEL if declared else 1 - CONFIDENCE
    shown = noncentrality_shown(df, alpha=level / max(looks, 1))
    return None if shown is None else shown * se


def shown_among(difference: Difference, looks: int = 1) -> Difference:
    """Return a difference with what it could have shown as one of so many looks."""
    declared, lent = difference.declared, difference.borrowed
    if lent is not None:
        could = could_show(lent.se, round(lent.df, 1), declared=declared, looks=looks)
        lent = replace(lent, could_show=could)
    could = could_show(difference.se, difference.df, declared=declared, looks=looks)
    return replace(difference, could_show=could, borrowed=lent)
