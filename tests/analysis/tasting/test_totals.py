"""Contest totals by hand arithmetic; the rules: common practice, no source."""

import pytest

from pitjournal.analysis.tasting.totals import Total, places, total_of, weighted_card
from pitjournal.files.schemes import shipped

NOW, BEFORE = shipped("contest-2").reads, shipped("contest-1").reads


def card(appearance: float, taste: float, tenderness: float) -> dict[str, float]:
    return {"appearance": appearance, "taste": taste, "tenderness": tenderness}


SIX = [
    card(9, 9, 9),  # 36
    card(8, 8, 8),  # 32
    card(7, 8, 6),  # 0.56 × 7 + 2.2972 × 8 + 1.1428 × 6 = 3.92 + 18.3776 + 6.8568 = 29.1544
    card(6, 6, 6),  # 24
    card(9, 7, 8),  # 5.04 + 16.0804 + 9.1424 = 30.2628
    card(5, 2, 4),  # 2.8 + 4.5944 + 4.5712 = 11.9656, the lowest
]


def test_that_a_card_is_weighted() -> None:
    assert weighted_card(NOW, SIX[2]) == pytest.approx(29.1544, abs=1e-9)
    # 0.5714 × 7 + 2.2858 × 8 + 1.1428 × 6 = 3.9998 + 18.2864 + 6.8568
    assert weighted_card(BEFORE, SIX[2]) == pytest.approx(29.1430, abs=1e-9)
    assert weighted_card(NOW, {"taste": 9.0}) is None


def test_that_the_lowest_card_is_left_out() -> None:
    total = total_of(NOW, SIX)
    # 36 + 32 + 29.1544 + 24 + 30.2628
    assert total.value == pytest.approx(151.4172, abs=1e-9)
    assert total.cards[0] == pytest.approx(11.9656, abs=1e-9)
    # taste first: 9 + 8 + 8 + 6 + 7, then tenderness 9 + 8 + 6 + 6 + 8, then appearance
    assert total.best_by == (38, 37, 39)


def test_that_six_nines_are_180() -> None:
    for rules in (NOW, BEFORE):
        assert total_of(rules, [card(9, 9, 9)] * 6).value == pytest.approx(180.0)


def test_that_five_cards_give_no_total() -> None:
    total = total_of(NOW, [*SIX[:5], {"taste": 4.0}])
    assert total.value is None
    assert len(total.cards) == 5
    assert total_of(NOW, [*SIX, card(9, 9, 9)]).value is None


def test_that_equal_totals_are_settled_by_the_heaviest_and_else_share_the_place() -> None:
    def one(value: float | None, taste: float) -> Total:
        return Total((), value, (taste, 30, 30))

    found = {"a": one(150, 38), "b": one(150, 39), "c": one(160, 30), "d": one(150, 38)}
    assert places(NOW, {**found, "e": one(None, 40)}) == {"c": 1, "b": 2, "a": 3, "d": 3}
    shared = shipped("home-panel-1").reads
    assert places(shared, found) == {"c": 1, "a": 2, "b": 2, "d": 2}
