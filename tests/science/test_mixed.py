"""Sources: Davies & Goldsmith (1972) dyestuff; Bates et al. (2015) sleepstudy (data/README.md)."""

import math

import numpy as np
import pytest

from pitjournal.science.comparison.mixed import MixedFit, variance_components
from tests.science.reference import check, column, rows


def fit(name: str, value: str, source: str, *, reml: bool = True) -> MixedFit:
    codes = [row[source] for row in rows(name)]
    got = variance_components(column(name, value), {source: codes}, reml=reml)
    assert got is not None
    return got


def test_that_dyestuff_has_its_published_components() -> None:
    got = fit("dyestuff", "yield", "batch")
    check("MX01", got.components["batch"])
    check("MX02", got.residual)
    check("MX03", float(got.coefficients[0]))
    check("MX04", float(got.errors[0]))
    check("MX05", got.criterion)
    check("MX10", got.shares()["batch"])
    for place, identity in enumerate(("MX12", "MX13", "MX14", "MX15", "MX16", "MX17")):
        check(identity, float(got.effects["batch"][place]))
    assert got.df[0] == pytest.approx(5, abs=1e-3)
    assert got.at_zero == ()


def test_that_full_likelihood_makes_the_variance_smaller() -> None:
    got = fit("dyestuff", "yield", "batch", reml=False)
    check("MX06", got.components["batch"])
    check("MX07", got.criterion)


def test_that_a_variance_on_the_edge_is_exactly_zero_and_says_so() -> None:
    got = fit("dyestuff2_zero_variance", "yield", "batch")
    assert got.components["batch"] == 0
    assert got.at_zero == ("batch",)
    check("MX21", got.residual)
    check("MX22", float(got.coefficients[0]))
    assert got.shares() == {"batch": 0.0, "residual": 1.0}


def test_that_heights_alone_leave_the_slope_too_sure() -> None:
    codes = [row["subject"] for row in rows("sleepstudy")]
    got = variance_components(
        column("sleepstudy", "reaction_ms"), {"subject": codes}, column("sleepstudy", "days")
    )
    assert got is not None
    check("MX44", float(got.errors[1]))
    check("MX46", got.components["subject"])
    check("MX47", got.residual)


def test_that_pieces_and_tasters_within_them_are_told_apart() -> None:
    table = rows("nested_tasters")
    got = variance_components(
        [float(r["score"]) for r in table],
        {"piece": [r["piece"] for r in table], "taster": [r["taster"] for r in table]},
        [float(r["treatment"] == "wrapped") for r in table],
    )
    assert got is not None
    check("MX60", float(got.coefficients[1]))
    check("MX61", float(got.errors[1]))
    check("MX62", float(got.df[1]))
    check("MX65", got.components["piece"])
    check("MX66", got.residual)
    check("MX74", got.shares()["piece"])
    assert got.components["taster"] is None  # each tasted once: not to be told from the rest


def balanced(pieces: int, tasters: int, lot: np.random.Generator) -> np.ndarray:
    return (
        2 * lot.standard_normal((pieces, 1))
        + lot.standard_normal((1, tasters))
        + lot.standard_normal((pieces, tasters))
    )


def test_that_crossed_sources_are_the_mean_squares_when_balanced() -> None:
    """Two-way random effects without replication: the ANOVA identities, by algebra."""
    pieces, tasters = 10, 6
    scores = balanced(pieces, tasters, np.random.default_rng(7))
    centred = scores - scores.mean()
    row, col = centred.mean(axis=1), centred.mean(axis=0)
    ms_piece = tasters * float(np.sum(row**2)) / (pieces - 1)
    ms_taster = pieces * float(np.sum(col**2)) / (tasters - 1)
    left = centred - row[:, None] - col[None, :]
    ms_left = float(np.sum(left**2)) / ((pieces - 1) * (tasters - 1))
    got = variance_components(
        scores.ravel(),
        {
            "piece": np.repeat(np.arange(pieces), tasters),
            "taster": np.tile(np.arange(tasters), pieces),
        },
    )
    assert got is not None
    assert got.components["piece"] == pytest.approx((ms_piece - ms_left) / tasters, rel=1e-5)
    assert got.components["taster"] == pytest.approx((ms_taster - ms_left) / pieces, rel=1e-5)
    assert got.residual == pytest.approx(ms_left, rel=1e-5)


def test_that_a_source_that_is_an_arm_or_a_twin_is_not_told() -> None:
    lot = np.random.default_rng(3)
    arm = np.repeat([0.0, 1.0], 12)
    piece = np.repeat(np.arange(8), 3)
    got = variance_components(
        lot.standard_normal(24), {"arm": arm, "piece": piece, "pack": piece + 100}, arm
    )
    assert got is not None
    assert got.components["arm"] is None
    assert got.components["pack"] is None
    assert got.components["piece"] is not None


def test_that_level_readings_and_too_few_of_them_give_no_fit() -> None:
    assert variance_components([5.0, 5.0, 5.0], {"piece": [1, 1, 2]}) is None
    assert variance_components([5.0], {"piece": [1]}) is None
    assert variance_components([math.nan], {"piece": [1]}) is None
    assert variance_components([1.0, 2.0, 3.0], {"piece": [1, 1, 2]}, [1.0, 1.0, 1.0]) is None


def test_that_readings_alike_within_every_piece_leave_no_residual_to_fit() -> None:
    pieces = {"piece": [1, 1, 2, 2, 3, 3]}
    assert variance_components([1.0, 1.0, 2.0, 2.0, 4.0, 4.0], pieces) is None
    nearly = variance_components([1.0, 1.01, 2.0, 2.0, 4.0, 4.01], pieces)
    assert nearly is not None
    # balanced ANOVA by hand: means 1.005, 2, 4.005; mean square within 1e-4 / 3
    between = float(np.var([1.005, 2.0, 4.005], ddof=1))
    assert nearly.components["piece"] == pytest.approx(between - 1e-4 / 6, rel=1e-4)
    assert nearly.residual == pytest.approx(1e-4 / 3, rel=1e-2)


def test_that_large_numbers_do_not_spoil_the_components() -> None:
    """NIST AtmWtAg: seven constant leading digits; the mean squares are certified."""
    got = variance_components(
        column("nist_strd_atmwtag", "ag_weight"),
        {"instrument": column("nist_strd_atmwtag", "instrument")},
    )
    assert got is not None
    within = 1.04951729166667e-08 / 46
    between = 3.638341875e-09
    assert got.residual == pytest.approx(within, rel=1e-6)
    assert got.components["instrument"] == pytest.approx((between - within) / 24, rel=1e-5)


@pytest.mark.filterwarnings("error")
def test_that_nothing_left_beside_the_fixed_effects_is_not_split() -> None:
    arms = [0.0] * 6 + [1.0] * 6
    codes = [0, 0, 1, 1, 2, 2] * 2
    assert variance_components([6.0] * 6 + [7.0] * 6, {"day": codes}, arms) is None
