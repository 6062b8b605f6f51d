"""Sources: Conover (1999) grass and ice cream; Hollander & Wolfe rounding; Page (1963)."""

import numpy as np
import pytest

from pitjournal.science.sensory.ranks import durbin, friedman, page
from tests.science.reference import check, expected, rows


def table(name: str, keys: tuple[str, ...]) -> list[list[float]]:
    return [[float(row[key]) for key in keys] for row in rows(name)]


GRASS = table("conover_grass_ranks", ("t1", "t2", "t3", "t4"))
ROUNDING = table("rounding_times_hollander", ("round_out", "narrow_angle", "wide_angle"))


def test_that_conovers_grass_has_its_printed_test() -> None:
    got = friedman(GRASS)
    assert got is not None
    check("RK01", got.statistic)
    check("RK02", got.p)
    for identity, total in zip(("RK03", "RK04", "RK05", "RK06"), got.rank_sums, strict=True):
        check(identity, total)
    check("RK07", got.f)
    check("RK08", got.f_p)
    check("RK09", got.least_difference)
    check("RK10", got.w)


def test_that_the_rounding_times_have_their_printed_test() -> None:
    got = friedman(ROUNDING)
    assert got is not None
    check("RK20", got.statistic)
    check("RK21", got.p)
    check("RK22", got.w)
    check("RK23", got.statistic)
    assert got.rank_sums == tuple(expected(i).value for i in ("RK24", "RK25", "RK26"))


def test_that_the_penicillin_blocks_can_be_ranked() -> None:
    blends: dict[str, dict[str, float]] = {}
    for row in rows("penicillin_rcb_bhh"):
        blends.setdefault(row["blend"], {})[row["treatment"]] = float(row["yield"])
    got = friedman([[blend[t] for t in "ABCD"] for blend in blends.values()])
    assert got is not None
    check("PB55", got.statistic)


def with_statistic(k: int, n: int, critical: float) -> list[list[int]] | None:
    """Find a table of ranks whose statistic is the critical one, by turning rows at random."""
    lot = np.random.default_rng(k * 100 + n)
    for _ in range(20000):
        ranks = np.array([lot.permutation(k) + 1 for _ in range(n)])
        sums = ranks.sum(axis=0)
        statistic = 12 / (n * k * (k + 1)) * float(np.sum(sums**2)) - 3 * n * (k + 1)
        if abs(statistic - critical) < 1e-5:
            return [[int(v) for v in row] for row in ranks]
    return None


@pytest.mark.parametrize(
    "row",
    [
        r
        for r in rows("friedman_exact_critical")
        if r["exact_p_at_critical"] and float(r["exact_p_at_critical"]) > 0.004
    ],
)
def test_that_small_tables_are_enumerated_exactly(row: dict[str, str]) -> None:
    k, n = int(row["k_treatments"]), int(row["n_blocks"])
    found = with_statistic(k, n, float(row["critical_chi2"]))
    assert found is not None
    got = friedman(found)
    assert got is not None
    assert got.exact_p == pytest.approx(float(row["exact_p_at_critical"]), abs=1e-8)


def test_that_a_table_too_large_is_not_enumerated() -> None:
    got = friedman([[1, 2, 3, 4, 5, 6, 7], [2, 1, 3, 4, 5, 6, 7]])
    assert got is not None
    assert got.exact_p is None


def test_that_full_agreement_has_w_of_one_and_no_f() -> None:
    got = friedman([[1, 2, 3]] * 4)
    assert got is not None
    assert got.w == pytest.approx(1)
    assert (got.f, got.least_difference) == (None, None)
    assert got.exact_p == pytest.approx(6 / 6**4)


def test_that_level_scores_and_single_tasters_say_nothing() -> None:
    assert friedman([[5, 5, 5], [5, 5, 5]]) is None
    assert friedman([[1, 2, 3]]) is None
    assert friedman([[1.0, 2.0, 3.0], [1.0, np.nan, 2.0]]) is None
    assert friedman([1, 2, 3]) is None


def ice_cream() -> tuple[list[float], list[int], list[int]]:
    listed = rows("durbin_bib_conover")
    return (
        [float(r["rank"]) for r in listed],
        [int(r["variety"]) for r in listed],
        [int(r["person"]) for r in listed],
    )


def test_that_conovers_ice_cream_has_its_printed_test() -> None:
    got = durbin(*ice_cream())
    assert got is not None
    check("RK30", got.statistic)
    check("RK31", got.p)
    check("RK32", got.f)
    check("RK33", got.f_p)
    for place, total in enumerate(got.rank_sums):
        check(f"RK{34 + place}", total)


def test_that_unbalanced_blocks_are_refused() -> None:
    ranks, varieties, persons = ice_cream()
    assert durbin(ranks[1:], varieties[1:], persons[1:]) is None
    assert durbin([1.0] * len(ranks), varieties, persons) is None
    assert durbin([], [], []) is None


def test_that_pages_trend_is_the_published_one() -> None:
    students = table("page_trend", ("tutorial", "lecture", "seminar"))
    got = page(students)
    assert got is not None
    assert got.exact
    check("RK50", got.statistic)
    check("RK51", got.p)
    plain = page(students, exact=False)
    assert plain is not None
    check("RK52", plain.p)
    assert page([[1, 2], [1, 2]]) is None
