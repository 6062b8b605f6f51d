"""Contest target and home target, answered side by side from the same feels and scores.

Facts only: what was seen of each arm. Whether a difference is one is told elsewhere.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import fmean, median

from pitjournal.analysis.felt import JUST_OFF, off_moment, window_of
from pitjournal.analysis.findings.comparison import PieceValues, number
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.cook import Arm
from pitjournal.domain.piece import Piece
from pitjournal.domain.scheme import Scale
from pitjournal.domain.targets import Target
from pitjournal.domain.whole_cook import WholeCook

OVERALL = ("overall", "liking", "overall liking", "tenderness")
"""What speaks for a table without a total, the first that was scored."""


@dataclass(frozen=True)
class TargetArm:
    """What was seen of one arm by one target.

    `least` are the stays of its pieces within the target, at least, s; `off` how many came off
    within it, of how many whose feel is known then; `score` the mean of the table's score.
    """

    arm_id: str
    arm: str
    look: int
    least: tuple[float, ...]
    off: tuple[int, int]
    score: float | None

    @property
    def stay(self) -> float | None:
        """The middle of the stays."""
        return median(self.least) if self.least else None

    @property
    def share_off(self) -> float | None:
        """The share that came off within the target."""
        return self.off[0] / self.off[1] if self.off[1] else None


@dataclass(frozen=True)
class TargetReached:
    """A target with what was seen of each arm; `score` is the variable that speaks for it."""

    target: Target
    arms: tuple[TargetArm, ...]
    score: Variable | None

    @property
    def known(self) -> bool:
        """Whether anything was seen."""
        return any(arm.least or arm.off[1] or arm.score is not None for arm in self.arms)


def targets_reached(
    whole: WholeCook, values: PieceValues, catalogue: Catalogue, targets: Sequence[Target]
) -> tuple[TargetReached, ...]:
    """Return what was seen of each arm by each target.

    Parameters
    ----------
    whole
        The cook, with all its records.
    values
        What is known of its pieces, by id and catalogue key, storage units.
    catalogue
        The variables of the journal.
    targets
        What counts as right.
    """
    found = []
    for target in targets:
        key = _score_of(whole, values, target)
        arms = tuple(_arm(whole, values, arm, target, key) for arm in whole.ordered_arms)
        found.append(TargetReached(target, arms, catalogue.get(key or "")))
    return tuple(found)


def _arm(
    whole: WholeCook, values: PieceValues, arm: Arm, target: Target, key: str | None
) -> TargetArm:
    pieces = whole.pieces_of(arm)
    least = []
    for piece in pieces:
        seen = window_of(whole, piece, "time", target.counts_as)
        if seen is not None and seen.at_least is not None:
            least.append(seen.at_least)
    felt = [feel for piece in pieces if (feel := _feel_off(whole, piece)) is not None]
    hits = sum(target.low <= feel <= target.high for feel in felt)
    scores = [number(values.get(piece.id, {}).get(key)) for piece in pieces] if key else []
    known = [score for score in scores if score is not None]
    return TargetArm(
        arm.id,
        arm.name,
        whole.arm_index(arm.id) or 0,
        tuple(least),
        (hits, len(felt)),
        fmean(known) if known else None,
    )


def _feel_off(whole: WholeCook, piece: Piece) -> int | None:
    """Return the last feel before a piece came off."""
    off = off_moment(whole, piece)
    feels = [
        check.feel
        for check in whole.checks_of(piece)
        if check.feel is not None and off is not None and check.at.timestamp() <= off + JUST_OFF
    ]
    return feels[-1] if feels else None


def _score_of(whole: WholeCook, values: PieceValues, target: Target) -> str | None:
    """Return the key of what was scored at such a table: its total, or what is liked overall."""
    for tasting in reversed(whole.tastings):
        rules = tasting.asked
        if not tasting.revealed or not rules.scored or bool(rules.weighted) != target.weighted:
            continue
        points = [
            c.name for c in rules.criteria if c.scale in {Scale.WHOLE, Scale.HALF, Scale.LINE}
        ]
        wanted = [name for name in OVERALL if name in points]
        names = [tasting.total_variable] if rules.most is not None else []
        names += [tasting.variable(name) for name in (*wanted, *points)]
        for key in (f"score.{name}" for name in names):
            if any(own.get(key) is not None for own in values.values()):
                return key
    return None


MEASURES: tuple[tuple[str, Callable[[TargetArm], float | None]], ...] = (
    ("stayed so longest", lambda arm: arm.stay),
    ("came off so most often", lambda arm: arm.share_off),
    ("scored highest", lambda arm: arm.score),
)


def disagreement(found: Sequence[TargetReached]) -> str:
    """Return where one arm is the best for one target and another for the other, or nothing."""
    if len(found) != 2:
        return ""
    one, two = found
    parts = []
    for words, measure in MEASURES:
        best = [_best(side.arms, measure) for side in found]
        if best[0] and best[1] and best[0] != best[1]:
            parts.append(
                f"{best[0]} {words} for {one.target.name}, {best[1]} for {two.target.name}"
            )
    if not parts:
        return ""
    return f"The two targets disagree, as far as was seen: {'; '.join(parts)}."


def _best(arms: Sequence[TargetArm], measure: Callable[[TargetArm], float | None]) -> str:
    """Return the arm with the most of something; nothing where two share it or one lacks it."""
    values = [(value, arm.arm) for arm in arms if (value := measure(arm)) is not None]
    if len(values) < 2:
        return ""
    most = max(value for value, _ in values)
    names = [name for value, name in values if value >= most - 1e-9]
    return names[0] if len(names) == 1 else ""
