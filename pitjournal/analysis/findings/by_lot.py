"""How seldom the lot alone sets two arms so far apart: the randomisation test beside t."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pitjournal.analysis.findings.comparison import ArmSummary
from pitjournal.analysis.plan.evened import EVENED, codes_of, drawable, trimmed
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import figures

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pitjournal.science.comparison.lots import Ways


@dataclass(frozen=True)
class ByLot:
    """The p value of dealing the pieces anew; `ways` of them, `whole` says that these are all.

    `evened` says that only ways count that leave the trimmed weights as even as the draw did.
    """

    arm_id: str
    p: float
    ways: int
    whole: bool
    evened: bool

    @property
    def words(self) -> str:
        """The p value with what it rests on."""
        how = "every way the lot could have dealt" if self.whole else "ways drawn by lot"
        even = ", weights as even as it was drawn" if self.evened else ""
        return f"p {figures.trimmed(self.p, 2)} by the lot itself ({self.ways} ways; {how}{even})"


def by_lot(whole: WholeCook, arms: Sequence[ArmSummary]) -> tuple[ByLot, ...]:
    """Return the randomisation test of each arm against the control in the declared outcome.

    Pieces of the two arms are dealt anew within their packs, the other arms staying as they are.
    """
    control = next((arm for arm in arms if arm.control), None)
    if control is None:
        return ()
    found = [_of_arm(whole, control, arm) for arm in arms if not arm.control]
    return tuple(one for one in found if one is not None)


def _of_arm(whole: WholeCook, control: ArmSummary, arm: ArmSummary) -> ByLot | None:
    import numpy as np

    from pitjournal.science.comparison.lots import allocations, chance_by_lot

    values = {p.piece_id: p.value for one in (control, arm) for p in one.points}
    pieces = [piece for piece in whole.pieces if piece.id in values]
    codes, blocks = codes_of(whole, pieces)
    if len(set(codes)) < 2 or len(pieces) < 3:
        return None
    ways, every = allocations(codes, blocks)
    masses = trimmed(whole) if whole.cook.evened == EVENED else None
    if masses is not None:
        ways = ways[_drawable(whole, [piece.id for piece in pieces], ways, masses)]
    if ways.shape[0] < 2:
        return None
    y = np.array([values[piece.id] for piece in pieces])
    sizes = Counter(blocks)
    means = {b: float(np.mean(y[np.array(blocks) == b])) for b in sizes}
    left = y - np.array([means[b] for b in blocks])
    places = {one.id: code for code, one in enumerate(whole.arms)}
    ends = places[arm.arm_id], places[control.arm_id]
    p = chance_by_lot(left, ways, *ends, whole=every)
    return ByLot(arm.arm_id, p, int(ways.shape[0]), every, masses is not None)


def _drawable(
    whole: WholeCook, dealt: Sequence[str], ways: "Ways", masses: Sequence[float]
) -> "NDArray[np.bool_]":
    """Return which ways an even draw could have given; how it is, is one of them."""
    import numpy as np

    codes, _ = codes_of(whole, whole.pieces)
    full = np.tile(np.array(codes), (ways.shape[0], 1))
    places = {piece.id: place for place, piece in enumerate(whole.pieces)}
    full[:, [places[one] for one in dealt]] = ways
    kept = drawable(whole, masses, full)
    kept[0] = True
    return kept
