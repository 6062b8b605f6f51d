"""Simulated series of cooks whose truth is known: joined, looked at after each, spread borrowed.

What is drawn here is judged by the functions the findings are worked out by; `coverage` runs it.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import timedelta

import numpy as np

from pitjournal.analysis.findings.across import Across
from pitjournal.analysis.findings.across_cooks import (
    across_cooks,
    joined_differences,
    series_of,
)
from pitjournal.analysis.findings.borrowed import Known, borrowing
from pitjournal.analysis.findings.comparison import Difference, compare, summaries
from pitjournal.analysis.findings.judged import declared_differences
from pitjournal.analysis.findings.like import cuts_of
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import compared

Lot = np.random.Generator
KEY = "score.tenderness"
MARGIN = 0.6
PIECES, PACKS = 0.6, 0.4
"""Spread of pieces within packs, and of packs, in points."""


def a_cook(lot: Lot, effect: float, packs: int, spread: float = PIECES) -> Known:
    """Return a cook of two arms in packs, its pieces' scores with it."""
    pack = lot.normal(0, PACKS, packs)
    values = 6 + lot.normal(0, spread, (2, packs)) + pack + np.array([[0.0], [effect]])
    whole = compared(("Left alone", "Injected"), [list(map(float, arm)) for arm in values])
    scores = [float(value) for arm in values for value in arm]
    return whole, {p.id: {KEY: v} for p, v in zip(whole.pieces, scores, strict=True)}


def difference_of(
    cook: Known, worth: float | None = None, past: Sequence[Known] = ()
) -> Difference:
    """Return what one cook says, as its findings judge it."""
    whole = replace(cook[0], cook=replace(cook[0].cook, worth_knowing=worth))
    return declared_differences(whole, summaries(whole, cook[1], KEY), KEY, past)[0]


def joined(differences: Sequence[Difference], worth: float | None = None) -> Across:
    """Return what several cooks say together, as their findings judge it."""
    found = joined_differences(differences)
    return Across(
        "Injected", "Left alone", 1, (), found.estimate, found.low, found.high, None, None, 0, "",
        series=series_of(differences, worth), se=found.se, p=found.p, matters=worth, df=found.df,
    )  # fmt: skip


def holds(cooks: tuple[int, int], between: float) -> Callable[[Lot], bool]:
    """Whether the joined interval of so many cooks holds the mean they scatter about."""

    def one(lot: Lot) -> bool:
        count = int(lot.integers(cooks[0], cooks[1] + 1))
        truths = MARGIN + lot.normal(0, between, count)
        made = [
            difference_of(a_cook(lot, float(truth), int(lot.integers(2, 5)))) for truth in truths
        ]
        found = joined_differences(made)
        return (
            found.low is not None and found.high is not None and found.low <= MARGIN <= found.high
        )

    return one


def ever(
    what: Callable[[Difference | Across], bool],
    effect: float,
    *,
    between: float = 0.0,
    cooks: int = 8,
    worth: float | None = None,
    first: bool = True,
) -> Callable[[Lot], bool]:
    """Whether a series that is read after every cook ever reads so.

    The first cook by itself (where `first` counts), then all together; three packs each.
    """

    def one(lot: Lot) -> bool:
        truths = effect + (lot.normal(0, between, cooks) if between else np.zeros(cooks))
        made = [difference_of(a_cook(lot, float(truth), 3), worth) for truth in truths]
        if first and what(made[0]):
            return True
        start = 1 if first else 3  # the first cook's own finding is of its own truth
        looks = (joined(made[:count], worth) for count in range(max(2, start), cooks + 1))
        return any(what(look) and (first or look.series.after > 1) for look in looks)

    return one


def ever_of_three(lot: Lot) -> bool:
    """Whether a series of eight cooks of three arms ever reads so of either, by its findings."""
    cooks: list[Known] = []
    for _ in range(8):
        values = 6 + lot.normal(0, PIECES, (3, 3)) + lot.normal(0, PACKS, 3)
        whole = compared(("Left alone", "Injected", "Wrapped"), values.tolist())
        later = whole.cook.starts_at + timedelta(days=7 * len(cooks))
        cook = replace(whole.cook, starts_at=later, status=CookStatus.DONE)
        whole = replace(whole, cook=cook)
        scores = zip(whole.pieces, values.ravel().tolist(), strict=True)
        cooks.append((whole, {piece.id: {KEY: float(value)} for piece, value in scores}))
        made = declared_differences(whole, summaries(whole, cooks[-1][1], KEY), KEY, ())
        joined_arms = across_cooks(whole, KEY, cooks, own=made)
        if any(one.tells for one in joined_arms or made):
            return True
    return False


def tells(found: Difference | Across) -> bool:
    """Whether it is said to differ."""
    return found.tells


def too_small(found: Difference | Across) -> bool:
    """Whether it is said not to matter."""
    return found.too_small


def wrong_third_answer(lot: Lot) -> bool:
    """Whether one cook says "no difference that matters" of one that just does."""
    return too_small(difference_of(a_cook(lot, MARGIN, 6), MARGIN))


def borrowed(past: tuple[int, int], alike: float) -> Callable[[Lot], bool]:
    """Whether a borrowed interval holds the truth: cooks' spreads drawn, `alike` how closely.

    As a scaled inverse chi-square of so many degrees of freedom; infinite is one spread.
    """

    def spread(lot: Lot) -> float:
        return PIECES * (1.0 if math.isinf(alike) else math.sqrt(alike / lot.chisquare(alike)))

    def one(lot: Lot) -> bool:
        count = int(lot.integers(past[0], past[1] + 1))
        earlier = [a_cook(lot, 0.3, int(lot.integers(2, 5)), spread(lot)) for _ in range(count)]
        cook = a_cook(lot, MARGIN, 3, spread(lot))
        later = cook[0].cook.starts_at + timedelta(days=7)
        whole: WholeCook = replace(cook[0], cook=replace(cook[0].cook, starts_at=later))
        arms = summaries(whole, cook[1], KEY)
        made = compare(arms, KEY, declared=True)
        (found,) = borrowing(arms, made, earlier, cuts_of(whole))
        low, high = found.shown
        return (
            found.borrowed is not None
            and low is not None
            and high is not None
            and (low <= MARGIN <= high)
        )

    return one


Case = tuple[str, float, float, Callable[[Lot], bool]]

SEVERAL: tuple[Case, ...] = (
    ("joined, 2 to 8 cooks, alike", 0.93, 1.0, holds((2, 8), 0.0)),
    ("joined, 2 to 8 cooks, moving by 0.5", 0.93, 1.0, holds((2, 8), 0.5)),
    ("joined, 3 cooks, moving by 2", 0.93, 0.97, holds((3, 3), 2.0)),
    ("joined, 4 to 8 cooks, moving by 1", 0.93, 0.97, holds((4, 8), 1.0)),
    ("a series of 8 without effect, ever", 0.0, 0.05, ever(tells, 0.0)),
    ("8 of three arms without effect, ever", 0.0, 0.05, ever_of_three),
    ("8 moving about none, joined, ever", 0.0, 0.05, ever(tells, 0.0, between=0.5, first=False)),
    ("8 moving far about none, ever", 0.0, 0.05, ever(tells, 0.0, between=1.5, first=False)),
    ("a series of 8 finds one point", 0.80, 1.0, ever(tells, 1.0)),
    ("no difference that matters, wrong", 0.0, 0.05, wrong_third_answer),
    ("a series of 8 of it, ever wrong", 0.0, 0.05, ever(too_small, MARGIN, worth=MARGIN)),
    ("a series of 8 finds it below 1 point", 0.80, 1.0, ever(too_small, 0.0, worth=1.0)),
    ("borrowed, 3 to 8 past cooks, alike", 0.93, 0.97, borrowed((3, 8), math.inf)),
    ("borrowed, 3 to 8 past cooks, unlike", 0.93, 0.97, borrowed((3, 8), 8.0)),
)
