"""What takes longer: which cooks and readings go in. Kernels are checked in tests/science.

The dyestuff data (Davies & Goldsmith 1972, tests/science/data/README.md) stand for pieces
without tasters: batches are days, and nothing else varies.
"""

from dataclasses import replace
from datetime import timedelta

import pytest

from pitjournal.analysis.findings.slow_findings import SlowFindings, slow_findings_of
from pitjournal.analysis.findings.spread import Reading, Spread, spread_of
from pitjournal.domain.cook import Arm, CookStatus
from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.tasting import TastingState
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.findings.test_across_cooks import made
from tests.analysis.makers import compared, felt
from tests.builders import an_event
from tests.science.reference import check, expected, rows


def dyestuff() -> tuple[Reading, ...]:
    return tuple(
        Reading(float(row["yield"]), "", f"piece {n}", row["batch"], "drum", "")
        for n, row in enumerate(rows("dyestuff"))
    )


def source(spread: Spread | None, name: str) -> float:
    assert spread is not None
    found = next(one for one in spread.sources if one.name == name)
    assert found.sd is not None
    return found.sd


def test_that_days_and_pieces_are_told_apart_as_published() -> None:
    spread = spread_of(dyestuff())
    check("MX01", source(spread, "days") ** 2)
    check("MX02", source(spread, "pieces of meat") ** 2)
    assert spread is not None
    assert (spread.readings, spread.pieces, spread.cooks) == (30, 30, 6)
    days = next(one for one in spread.sources if one.name == "days")
    assert days.share == pytest.approx(expected("MX10").value, abs=1e-4)
    assert days.known
    cookers = next(one for one in spread.sources if one.name == "cookers")
    assert cookers.sd is None
    assert not cookers.known


def test_that_few_or_equal_readings_are_not_split() -> None:
    assert spread_of(dyestuff()[:5]) is None
    assert spread_of(tuple(replace(r, value=6.0) for r in dyestuff())) is None


def checked(minutes: tuple[tuple[float, float], ...], *, status: CookStatus) -> WholeCook:
    """Return a cook of two ways; each piece was right from 15 min on to its two numbers."""
    half = len(minutes) // 2
    whole = compared(("Left alone", "Injected"), ([6.0] * half, [7.0] * half))
    checks: list[DonenessCheck] = []
    for piece, (last, over) in zip(whole.pieces, minutes, strict=True):
        checks += felt(whole.cook, piece, (0, 2), (15, 4), (last, 4), (over, 6))
    off = an_event(whole.cook.id, EventKind.OFF, minutes=500)
    cook = replace(whole.cook, status=status)
    ordered = sorted(checks, key=lambda one: one.at)
    return replace(whole, cook=cook, checks=tuple(ordered), events=(off,))


SPREAD = tuple((40.0 + 9 * n, 55.0 + 9 * n) for n in range(6))
LONGER = tuple((80.0 + 12 * n, 95.0 + 12 * n) for n in range(6))


def test_that_leeway_is_modelled_over_the_cooks_of_the_same_comparison() -> None:
    one = checked((*SPREAD[:3], *LONGER[:3]), status=CookStatus.DONE)
    two = checked((*SPREAD[3:], *LONGER[3:]), status=CookStatus.DONE)
    later = replace(two.cook, starts_at=two.cook.starts_at + timedelta(days=7))
    others = [made(one), made(replace(two, cook=later))]
    model = slow_findings_of(one, {}, others).model("time")
    assert model is not None
    assert [arm.pieces for arm in model.arms] == [6, 6]
    assert model.cooks == 2
    (stretch,) = model.stretches
    assert 1.2 < stretch.factor < 3.0
    alone = slow_findings_of(one, {}, others[:1]).model("time")
    assert alone is not None
    assert not alone.known
    assert "3 of the 6" in alone.lacks[0]


def test_that_another_cut_and_another_comparison_stay_out() -> None:
    one = checked((*SPREAD, *LONGER), status=CookStatus.DONE)
    pieces = tuple(replace(piece, cut="brisket") for piece in one.pieces)
    brisket = replace(one, pieces=pieces, cook=replace(one.cook, id="0" * 32))
    needled = checked((*SPREAD, *LONGER), status=CookStatus.DONE)
    arms: tuple[Arm, ...] = (needled.arms[0], replace(needled.arms[1], name="Needled"))
    others = [made(one), made(brisket), made(replace(needled, arms=arms))]
    model = slow_findings_of(one, {}, others).model("time")
    assert model is not None
    assert [arm.pieces for arm in model.arms] == [6, 6]


def test_that_blind_scores_are_in_no_spread() -> None:
    sealed = compared(
        ("Left alone", "Injected"),
        ((5, 6, 7, 6), (7, 8, 6, 9)),
        state=TastingState.LOCKED,
    )
    assert slow_findings_of(sealed, {}, [made(sealed)]).spread is None
    told = compared(("Left alone", "Injected"), ((5, 6, 7, 6), (7, 8, 6, 9)))
    spread = slow_findings_of(told, {}, [made(told)]).spread
    assert spread is not None
    assert spread.readings == 8


def test_that_a_cook_without_a_control_has_nothing_deeper() -> None:
    whole = compared(("Left alone",), ((5, 6),))
    bare = replace(whole, arms=(), pieces=())
    assert slow_findings_of(bare, {}, []) == SlowFindings()
