"""The panel after the reveal, against published tables, and what can't be said."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import pytest

from pitjournal.analysis.tasting.panel import panel_of
from pitjournal.domain.scheme import Criterion, Rules, Scale
from pitjournal.domain.tasting import (
    Mishap,
    Sample,
    Score,
    Session,
    Tasting,
    TastingNote,
    TastingState,
)
from tests.builders import NOON
from tests.science.reference import expected, rows

SHROUT = [[float(row[f"judge{j}"]) for j in range(1, 5)] for row in rows("shrout_fleiss_1979")]


def session_of(
    tables: Mapping[str, Sequence[Sequence[float | None]]],
    *,
    state: TastingState = TastingState.REVEALED,
    scale: Scale = Scale.WHOLE,
    twice: int = 0,
    absent: Sequence[str] = (),
) -> Session:
    """Return a session from tables of samples × tasters by criterion; `twice` share a piece."""
    first = next(iter(tables.values()))
    tasters = tuple("ABCDEFGH"[: len(first[0])]) if first else ("A",)
    rules = Rules(criteria=tuple(Criterion(name=name, scale=scale, high=10) for name in tables))
    tasting = Tasting(
        cook_id="c",
        scheme="s",
        criteria=rules.names,
        low=1,
        high=10,
        tasters=tasters,
        state=state,
        rules=rules.as_map(),
    )
    samples = tuple(
        Sample(
            cook_id="c",
            tasting_id=tasting.id,
            piece_id=f"piece {0 if place < twice else place}",
            code=str(100 + place),
        )
        for place in range(len(first))
    )
    scores = tuple(
        Score(
            cook_id="c",
            tasting_id=tasting.id,
            sample_id=sample.id,
            taster=taster,
            criterion=name,
            value=value,
        )
        for name, table in tables.items()
        for sample, row in zip(samples, table, strict=True)
        for taster, value in zip(tasters, row, strict=True)
        if value is not None
    )
    notes = tuple(
        TastingNote(
            cook_id="c", tasting_id=tasting.id, at=NOON, mishap=Mishap.ABSENT, taster=taster
        )
        for taster in absent
    )
    return Session(tasting, samples, scores, notes)


def test_that_agreement_is_that_of_shrout_and_fleiss() -> None:
    panel = panel_of(session_of({"tenderness": SHROUT}))
    assert panel is not None
    (found,) = panel.criteria
    assert found.one is not None
    assert expected("RE06").holds(found.one.value)  # ICC(2,1)
    assert (found.tasters, found.pieces) == (4, 6)
    assert "(ICC 0.29, 0.02 to 0.76)" in found.words
    assert found.words.endswith("4 tasters, 6 pieces.")
    assert found.words.startswith("Tenderness: not enough to tell how far the tasters agree")


def test_that_the_order_is_that_of_kendall() -> None:
    names = ("p1", "p2", "p3", "p4", "p5", "p6")
    ranks = [[float(row[name]) for row in rows("kendall_w_constructed")] for name in names]
    panel = panel_of(session_of({"place": ranks}, scale=Scale.RANK))
    assert panel is not None
    (found,) = panel.criteria
    # W = 12 S ÷ m²(n³ − n) with S the squared deviations of rank sums (Kendall & Smith 1939)
    sums = [sum(row) for row in ranks]
    m, n = len(ranks[0]), 6
    deviation = sum((one - m * (n + 1) / 2) ** 2 for one in sums)
    assert found.order == pytest.approx(12 * deviation / (m**2 * (n**3 - n)))
    assert found.one is None
    assert "ICC" not in found.words
    assert panel.tasters[0].level is None
    assert "Kendall’s W" in found.words


def test_that_an_order_that_is_hardly_shared_is_said_with_its_chance() -> None:
    """Three executives rank six applicants (Siegel 1956, from memory): rank sums 8 to 14, s 25.5.

    W = 12 · 25.5 ÷ (9 · 210) = 0.162; χ² = 3 · 5 · W = 2.43 on five, a chance of 0.79; of so few
    tasters it is counted by the lot.
    """
    ranks = [[1, 1, 6], [6, 5, 3], [3, 6, 2], [2, 4, 5], [5, 2, 4], [4, 3, 1]]
    panel = panel_of(session_of({"place": ranks}, scale=Scale.RANK))
    assert panel is not None
    (found,) = panel.criteria
    assert found.order == pytest.approx(0.1619, abs=1e-4)
    assert found.order_p == pytest.approx(0.79, abs=0.06)
    assert "not enough to tell one order (Kendall’s W 0.16, p 0.8" in found.words


def test_that_a_taster_far_off_is_shown_and_stays() -> None:
    """The others' middle by sample is 7, 6, 8, 5, 7, 6; D gives 4, 4, 5, 3, 4, 4: −2.5."""
    base = [[7, 7, 7], [6, 6, 7], [8, 8, 8], [5, 6, 5], [7, 8, 7], [6, 6, 6]]
    table = [[*row, low] for row, low in zip(base, (4, 4, 5, 3, 4, 4), strict=True)]
    panel = panel_of(session_of({"tenderness": table}))
    assert panel is not None
    dov = panel.tasters[3]
    assert dov.level is not None
    assert dov.level.estimate == pytest.approx(-2.5)
    assert [look.far for look in panel.tasters] == [False, False, False, True]
    assert "D is far off the rest" in dov.words
    assert "lower" in dov.words
    assert dov.count == 6
    assert any(word == dov.words for word in panel.words)


def test_that_nobody_is_far_off_where_all_differ_by_luck() -> None:
    panel = panel_of(session_of({"tenderness": [[7, 6], [6, 7], [8, 7], [5, 6]]}))
    assert panel is not None
    assert not any(look.far for look in panel.tasters)


def test_that_of_three_nobody_can_be_said_to_be_off() -> None:
    panel = panel_of(session_of({"tenderness": [[7, 7, 3], [6, 6, 2], [8, 7, 4], [5, 6, 2]]}))
    assert panel is not None
    assert not any(look.far for look in panel.tasters)


def test_that_one_who_sees_it_the_other_way_round_is_shown() -> None:
    table = [[9, 9, 1], [8, 7, 2], [6, 6, 5], [5, 4, 6], [3, 3, 8], [1, 2, 9]]
    panel = panel_of(session_of({"tenderness": table}))
    assert panel is not None
    assert "the other way round" in panel.tasters[2].words


def test_that_repeats_come_from_the_piece_served_twice() -> None:
    table = [[6, 7, 5], [7, 7, 7], [4, 5, 6], [8, 8, 9]]
    panel = panel_of(session_of({"tenderness": table}, twice=2))
    assert panel is not None
    assert panel.repeat is not None
    # differences 1, 0, 2: √(5 ÷ 6) = 0.913; × 1.96 √2 = 2.53
    assert panel.repeat.sd == pytest.approx(math.sqrt(5 / 6))
    assert any("within 2.5 points" in word and "3 pairs" in word for word in panel.words)
    assert panel.criteria[0].pieces == 3  # the two portions are averaged
    assert panel.tasters[0].count == 4
    assert panel.tasters[0].mean == pytest.approx(25 / 4)


def test_that_no_repeats_are_said_to_be_none() -> None:
    panel = panel_of(session_of({"tenderness": [[6, 7], [7, 7]]}))
    assert panel is not None
    assert panel.repeat is None
    assert any("No piece was served twice" in word for word in panel.words)
    level = panel_of(session_of({"tenderness": [[6, 7], [6, 7], [5, 4]]}, twice=2))
    assert level is not None
    assert any("came out the same" in word for word in level.words)


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ([[6], [7], [5]], "agreement takes two tasters"),
        ([[6, 7]], "agreement takes two pieces"),
        ([[6, 6], [6, 6], [6, 6]], "every score is the same"),
        ([[6, None], [None, 7], [5, None]], "each met only some"),
        ([[math.nan, 6], [5, math.nan]], "each met only some"),
        ([[5, 6], [6, 7], [7, 8]], "the same distances apart"),
    ],
)
def test_that_what_cannot_be_said_is_said(
    table: Sequence[Sequence[float | None]], said: str
) -> None:
    panel = panel_of(session_of({"tenderness": table}))
    assert panel is not None
    assert said in panel.criteria[0].words
    assert "nan" not in " ".join((*panel.words, panel.criteria[0].words))
    assert "inf" not in " ".join((*panel.words, panel.criteria[0].words))


def test_that_level_ranks_and_one_who_scores_all_alike_are_said() -> None:
    panel = panel_of(session_of({"tenderness": [[5, 6], [5, 7], [5, 8]]}))
    assert panel is not None
    assert "A gave everything the same score" in panel.tasters[0].words
    alone = panel_of(session_of({"tenderness": [[6], [7]]}))
    assert alone is not None
    assert "A scored alone" in alone.words[0]
    nobody = panel_of(session_of({"tenderness": [[None], [None]]}))
    assert nobody is not None
    assert "Nobody scored" in nobody.words[0]


def test_that_an_absent_taster_does_not_spoil_the_table() -> None:
    table = [[6, 7, None], [4, 5, None], [8, 8, None]]
    panel = panel_of(session_of({"tenderness": table}, absent="C"))
    assert panel is not None
    assert panel.criteria[0].tasters == 2
    assert panel.criteria[0].one is not None
    assert panel.tasters[2].words == "C was absent."


@pytest.mark.parametrize("state", [TastingState.OPEN, TastingState.LOCKED])
def test_that_nothing_is_said_before_the_reveal(state: TastingState) -> None:
    assert panel_of(session_of({"tenderness": SHROUT}, state=state)) is None


@pytest.mark.parametrize(
    ("noise", "said"),
    [
        (0.05, "the tasters agree well"),
        (1.6, "the tasters agree fairly well"),
        (40.0, "the tasters hardly agree, or the pieces hardly differ"),
    ],
)
def test_that_agreement_is_said_by_its_whole_interval(noise: float, said: str) -> None:
    """Bands of Koo & Li (2016): poor below 0.5, good from 0.75; from memory."""
    lot = np.random.default_rng(4)
    truth = np.linspace(1, 9, 30)[:, None]
    table = truth + noise * lot.normal(size=(30, 6))
    panel = panel_of(session_of({"tenderness": table.tolist()}, scale=Scale.LINE))
    assert panel is not None
    (found,) = panel.criteria
    assert found.words.startswith(f"Tenderness: {said} (ICC ")
    assert "-" not in found.words  # a true minus
    assert "1.)" not in found.words


def test_that_level_places_are_said() -> None:
    panel = panel_of(session_of({"place": [[1, 1, 2], [1, 1, 2]]}, scale=Scale.RANK))
    assert panel is not None
    assert "no taster put one piece before another" in panel.criteria[0].words


def test_that_a_panel_that_differs_by_luck_alone_is_left_in_peace() -> None:
    """At most 5 panels in 100 have anyone called far off: 100 panels, noise of 2 points."""
    lot = np.random.default_rng(11)
    alarms = 0
    for _ in range(100):
        table = np.clip(np.rint(6 + 2 * lot.normal(size=(9, 4))), 1, 10)
        panel = panel_of(session_of({"tenderness": table.tolist()}))
        assert panel is not None
        alarms += any(look.far for look in panel.tasters)
    assert alarms <= 11  # 5 at most expected; 11 is 2.75 standard deviations more


def test_that_everything_the_same_is_not_said_of_one_portion() -> None:
    alone = panel_of(session_of({"tenderness": [[5, 6]], "juiciness": [[5, 7]]}))
    assert alone is not None
    assert not any("everything the same" in look.words for look in alone.tasters)


def test_that_one_who_leaves_early_takes_nobodys_pieces_along() -> None:
    # Shrout and Fleiss (1979), table 2, with a fifth judge who tasted two of the six.
    table = [[*row, 5.0 if place < 2 else None] for place, row in enumerate(SHROUT)]
    session = session_of({"bark": table})
    left = TastingNote(
        cook_id="c", tasting_id=session.tasting.id, at=NOON, mishap=Mishap.LEFT, taster="E"
    )
    found = panel_of(replace(session, notes=(left,)))
    assert found is not None
    (bark,) = found.criteria
    assert (bark.tasters, bark.pieces) == (4, 6)
    assert bark.one is not None
    assert expected("RE06").holds(bark.one.value)  # ICC(2,1)
    assert bark.words.endswith("4 tasters, 6 pieces. Not in it: E, who left early (scored 2 of 6).")


def test_that_a_piece_one_taster_missed_goes_rather_than_the_taster() -> None:
    table: list[list[float | None]] = [list(row) for row in SHROUT]
    table[3][1] = None  # a portion that was lost
    found = panel_of(session_of({"bark": table}))
    assert found is not None
    (bark,) = found.criteria
    assert (bark.tasters, bark.pieces) == (4, 5)
    assert bark.words.endswith("Not in it: one piece that not all of them scored.")
