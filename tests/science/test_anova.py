"""Sources: Box, Hunter & Hunter penicillin; NIST/ITL certified one-way tables (data/README.md)."""

import math

import pytest

from pitjournal.science.anova import analysis_of_variance
from tests.science.reference import check, column, expected, rows

PENICILLIN = rows("penicillin_rcb_bhh")
YIELDS = [float(r["yield"]) for r in PENICILLIN]
TREATMENTS = [r["treatment"] for r in PENICILLIN]


def test_that_penicillin_has_its_published_table() -> None:
    got = analysis_of_variance(YIELDS, TREATMENTS, [r["blend"] for r in PENICILLIN])
    assert got is not None
    assert got.blocks is not None
    check("PB40", got.blocks.squares)
    check("PB41", got.arms.squares)
    check("PB42", got.residual)
    check("PB43", got.arms.f)
    check("PB44", got.arms.p)
    check("PB45", got.blocks.f)
    check("PB46", got.blocks.p)
    assert (got.blocks.df, got.arms.df, got.residual_df) == (4, 3, 12)


def test_that_ignoring_the_blocks_is_another_table() -> None:
    got = analysis_of_variance(YIELDS, TREATMENTS)
    assert got is not None
    assert got.blocks is None
    check("PB51", got.arms.p)


def test_that_the_certified_resistances_are_met() -> None:
    got = analysis_of_variance(
        column("nist_strd_sirstv", "resistance"), column("nist_strd_sirstv", "instrument")
    )
    assert got is not None
    check("NS01", got.arms.squares)
    check("NS03", got.arms.f)
    check("NS04", got.residual)
    check("NS06", got.residual_sd)


def test_that_seven_constant_digits_cost_few_others() -> None:
    """AtmWtAg: the decimals are not exact in binary, so a few in 1e-9 are the machine's."""
    got = analysis_of_variance(
        column("nist_strd_atmwtag", "ag_weight"), column("nist_strd_atmwtag", "instrument")
    )
    assert got is not None
    assert got.arms.f == pytest.approx(expected("NA02").value, rel=1e-8)
    assert got.residual == pytest.approx(expected("NA03").value, rel=1e-8)
    assert got.residual_sd == pytest.approx(expected("NA05").value, rel=1e-8)


def test_that_one_arm_or_no_spread_has_no_table() -> None:
    assert analysis_of_variance([1.0, 2.0, 3.0], [0, 0, 0]) is None
    assert analysis_of_variance([1.0, 1.0, 2.0, 2.0], [0, 0, 1, 1]) is None
    assert analysis_of_variance([1.0, math.nan], [0, 1]) is None
    assert analysis_of_variance([1.0, 2.0], [0, 1]) is None
