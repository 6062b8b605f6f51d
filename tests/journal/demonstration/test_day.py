"""One simulated day: what the cook does keeps to its own rules and to the meat."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from pitjournal.domain.event import EventKind, Feel, feel_of
from pitjournal.journal.demonstration.cuts import HOUR, MINUTE
from pitjournal.journal.demonstration.day import Day, Lot, draw_lot, run_day
from pitjournal.journal.demonstration.plans import CookPlan
from pitjournal.journal.demonstration.scenario import DONE, RUNNING, THE_COMPARISON

EVERY = (*DONE, RUNNING)


@cache
def a_day(plan: CookPlan, seed: int = 5) -> tuple[Lot, Day]:
    lot = np.random.default_rng(seed)
    pieces = draw_lot(plan, lot)
    return pieces, run_day(plan, pieces, 12.0, lot)


@pytest.mark.parametrize("plan", EVERY, ids=lambda plan: plan.title)
def test_that_each_piece_goes_on_and_comes_off_once_and_right(plan: CookPlan) -> None:
    pieces, day = a_day(plan)
    off = [piece for h in day.happenings if h.kind == EventKind.OFF for piece in h.pieces]
    assert sorted(off) == list(range(pieces.arm.size))
    assert (day.off > day.on).all()
    for piece in range(pieces.arm.size):
        last = [p for p in day.probings if p.piece == piece][-1]
        assert feel_of(last.feel) is not Feel.UNDER
        assert day.off[piece] - last.at == MINUTE


@pytest.mark.parametrize("plan", EVERY, ids=lambda plan: plan.title)
def test_that_a_cook_takes_as_long_as_the_trade_says(plan: CookPlan) -> None:
    # Common practice, no source: hours on at the fire for each cut
    hours = {
        "St. Louis ribs": (3, 6),
        "pork butt": (8, 16),
        "brisket": (6, 14),
        "brisket flat": (6, 14),
        "chicken thighs": (1, 2.5),
    }[plan.cut.cut]
    _, day = a_day(plan)
    assert hours[0] <= (day.off.min() - day.on) / HOUR
    assert (day.off.max() - day.on) / HOUR <= hours[1]


def test_that_feel_never_turns_back() -> None:
    for plan in EVERY:
        pieces, day = a_day(plan)
        for piece in range(pieces.arm.size):
            feels = [p.feel for p in day.probings if p.piece == piece]
            assert feels == sorted(feels)


def test_that_one_piece_an_arm_stays_on_past_right_and_the_others_come_off_right() -> None:
    pieces, day = a_day(THE_COMPARISON)
    last = {probing.piece: feel_of(probing.feel) for probing in day.probings}
    for arm in range(3):
        ends = [last[int(piece)] for piece in np.flatnonzero(pieces.arm == arm)]
        assert sorted(ends) == [Feel.OVER, Feel.RIGHT, Feel.RIGHT]


def test_that_each_block_has_each_arm_once() -> None:
    pieces, _ = a_day(THE_COMPARISON)
    for block in pieces.arm.reshape(3, 3):
        assert sorted(block) == [0, 1, 2]


def test_that_a_thicker_piece_takes_longer() -> None:
    plan = replace(DONE[4], blocks=12)
    assert plan.cut.cut == "pork butt"
    pieces, day = a_day(plan)
    first = [
        min(p.at for p in day.probings if p.piece == piece and feel_of(p.feel) is Feel.RIGHT)
        for piece in range(12)
    ]
    assert np.corrcoef(pieces.thickness, first)[0, 1] > 0.4


def test_that_loss_grows_with_time_and_is_what_the_trade_sees() -> None:
    # Common practice, no source: brisket keeps 47 to 53 % of what was bought as edible meat,
    # so the fire takes about a third; ribs lose about a quarter
    for plan, low, high in ((DONE[1], 0.3, 0.45), (DONE[0], 0.18, 0.32)):
        _, day = a_day(plan)
        lost = np.array(day.lost)[:, 0]
        assert (np.diff(lost) >= 0).all()
        assert low <= day.loss(0, day.over) <= high


def test_that_the_same_lot_gives_the_same_day() -> None:
    assert a_day(DONE[3], 8)[1].probings == a_day(DONE[3], 8)[1].probings
    assert a_day.__wrapped__(DONE[3], 8)[1].probings == a_day(DONE[3], 8)[1].probings
