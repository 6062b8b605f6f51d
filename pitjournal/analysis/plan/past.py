"""What past cooks say about a planned one: times, fuel by the hour, what is left of the meat."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from statistics import median
from typing import TYPE_CHECKING

from pitjournal.analysis.plan.durations import one_a_cook
from pitjournal.analysis.plan.schedule import Spans, spans_of
from pitjournal.domain.cuts import same_cut
from pitjournal.domain.fires import usual_burn
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.analysis.trends.columns.frame import Frame

LEAST_COOKS = 3


@dataclass(frozen=True)
class Usual:
    """A usual value with its range; `cooks` 0 is the trade's."""

    low: float
    usual: float
    high: float
    cooks: int = 0

    @property
    def words(self) -> str:
        """Where it comes from."""
        return f"from {self.cooks} of your cooks" if self.cooks else "common practice, no source"


@dataclass(frozen=True)
class Past:
    """What is known before a cook.

    `burns` is g/s; `cooked` and `edible` are by cut: weight off ÷ weight on, and edible ÷ bought.
    """

    spans: Spans
    burns: Usual | None = None
    cooked: Mapping[str, Usual] = field(default_factory=dict)
    edible: Mapping[str, Usual] = field(default_factory=dict)


def past_of(whole: WholeCook, frame: "Frame") -> Past:
    """Return what the past cooks say about a planned one."""
    cuts = dict.fromkeys(piece.cut for piece in whole.pieces)
    skip = whole.cook.id
    lost = {cut: _usual(frame, "cook_loss", "cut", cut, skip) for cut in cuts}
    edible = {cut: _usual(frame, "yield_edible", "cut", cut, skip) for cut in cuts}
    cooker = whole.cooker.name if whole.cooker else ""
    burns = _usual(frame, "fuel_rate", "cooker", cooker, skip) if cooker else None
    return Past(
        spans_of(whole, frame),
        burns or _trade_burns(whole),
        {cut: _rest(loss) for cut, loss in lost.items() if loss is not None},
        {cut: share for cut, share in edible.items() if share is not None},
    )


def _rest(loss: Usual) -> Usual:
    return Usual(1 - loss.high, 1 - loss.usual, 1 - loss.low, loss.cooks)


def _trade_burns(whole: WholeCook) -> Usual | None:
    found = usual_burn(whole.cooker)
    return None if found is None else Usual(found[0], sum(found) / 2, found[1])


def _usual(frame: "Frame", key: str, by: str, wanted: str, skip: str) -> Usual | None:
    """Return the median over cooks of a value, one a cook; None with fewer than three cooks."""
    import numpy as np

    values = frame.numbers(key)
    codes, names = frame.choices(by)
    same = same_cut if by == "cut" else str.__eq__
    alike = [code for code, name in enumerate(names) if same(name, wanted)]
    known = np.isfinite(values) & np.isin(codes, alike)
    if skip in frame.cook_names:
        known &= frame.cooks != frame.cook_names.index(skip)
    found = one_a_cook(frame, values, known)
    if len(found) < LEAST_COOKS:
        return None
    return Usual(min(found), median(found), max(found), len(found))
