"""Filters, groupings and the comparison with the control, by hand arithmetic."""

import time
from collections.abc import Mapping
from datetime import UTC, datetime

import numpy as np
import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.trends.answer import Answer, answer
from pitjournal.analysis.trends.question import By, Part, Question, Sign, Where, make_where
from pitjournal.domain.blocks import Value
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.journal.queries.values import Row
from pitjournal.units import Dimension, UnitSystem
from tests.analysis.makers import no_readings
from tests.analysis.trends.frames import frame_of
from tests.builders import NOON, a_cook
from tests.science.reference import check, column

CATALOGUE = Catalogue()
US = UnitSystem.US


def ask(rows: list[Row], question: Question, words: dict[str, set[str]] | None = None) -> Answer:
    frame = frame_of(rows, lambda text: (words or {}).get(text, set()))
    return answer(frame, question, CATALOGUE, US)


def cooked(number: int, cook: dict[str, Value], *pieces: Mapping[str, Value]) -> list[Row]:
    name = f"c{number}"
    rows: list[Row] = [(name, name, "cook", cook)]
    return rows + [(f"{name}-{n}", name, "piece", own) for n, own in enumerate(pieces)]


def dated(*days: str) -> list[Row]:
    """Return a cook of one piece on each day, yields 1, 2, 3 …"""
    return [
        row
        for number, day in enumerate(days)
        for row in cooked(number, {"date": f"{day}T23:30:00-06:00"}, {"yield_off": number + 1.0})
    ]


def means(found: Answer) -> dict[tuple[str, ...], float]:
    return {group.key: group.mean for group in found.groups}


# times


@pytest.mark.parametrize(
    ("part", "names"),
    [
        # The calendar: 29 February 2024 was a Thursday, 1 March 2024 a Friday.
        (Part.WEEKDAY, ["Thursday", "Friday", "Saturday"]),
        (Part.MONTH, ["2023-12", "2024-02", "2024-03"]),
        (Part.YEAR, ["2023", "2024"]),
        # Meteorological seasons of the northern half: winter is December to February.
        (Part.SEASON, ["winter", "spring"]),
    ],
)
def test_that_times_are_grouped_by_the_calendar_of_the_place(part: Part, names: list[str]) -> None:
    rows = dated("2024-02-29", "2024-03-01", "2023-12-30")
    found = ask(rows, Question("yield_off", (By("date", part),)))
    assert [group.key[0] for group in found.groups] == names


def test_that_a_late_evening_belongs_to_the_day_of_the_place() -> None:
    # 23:30 of Saturday, 2 May 2026, in Chicago (UTC−5) is Sunday in UTC.
    cook = a_cook(starts_at=datetime(2026, 5, 3, 4, 30, tzinfo=UTC), zone="America/Chicago")
    values = values_of(WholeCook(cook=cook), no_readings).cook
    rows: list[Row] = [("c", "c", "cook", {**values, "cost": 30.0})]
    found = ask(rows, Question("cost", (By("date", Part.WEEKDAY),)))
    assert found.groups[0].key == ("Saturday",)


@pytest.mark.parametrize(
    ("sign", "text", "kept"),
    [
        (Sign.IS, "2024", {2, 3}),
        (Sign.IS, "2024-03", {3}),
        (Sign.IS, "saturday", {1}),
        (Sign.IS, "Winter", {1, 2}),
        (Sign.IS_NOT, "winter", {3}),
        (Sign.AT_LEAST, "2024-02-29", {2, 3}),
        (Sign.MORE, "2024-02", {3}),
        (Sign.LESS, "2024", {1}),
        (Sign.AT_MOST, "2024-02", {1, 2}),
    ],
)
def test_that_days_are_chosen_as_far_as_they_are_written(
    sign: Sign, text: str, kept: set[int]
) -> None:
    rows = dated("2023-12-30", "2024-02-29", "2024-03-01")
    found = ask(
        rows, Question("yield_off", (By("date", Part.MONTH),), (Where("date", sign, (text,)),))
    )
    assert {round(group.mean) for group in found.groups} == kept


@pytest.mark.parametrize("text", ["soon", "2025-13", "20255", "2025-02-30", ""])
def test_that_what_is_no_date_is_said(text: str) -> None:
    with pytest.raises(JournalError, match="is no date"):
        ask(dated("2024-01-01"), Question("yield_off", (), (Where("date", Sign.LESS, (text,)),)))


# choosing


def test_that_words_choose_cooks_and_make_no_groups() -> None:
    rows = [row for n in range(3) for row in cooked(n, {}, {"yield_off": 0.1 * n})]
    words = {"lemon": {"c1", "c2"}, "late": {"c2", "gone"}}
    for sign, texts, kept in (
        (Sign.IS, ("lemon",), ("c1", "c2")),
        (Sign.IS, ("late", "lemon"), ("c1", "c2")),
        (Sign.IS_NOT, ("late",), ("c0", "c1")),
        (Sign.IS, ("no such",), ()),
    ):
        found = ask(rows, Question("yield_off", (), (Where("text", sign, texts),)), words)
        assert tuple(c for group in found.groups for c in group.cook_ids) == kept
        assert found.not_recorded == 0
    with pytest.raises(JournalError, match="makes no groups"):
        ask(rows, Question("yield_off", (By("text"),)))


def test_that_a_range_and_tags_choose_pieces() -> None:
    rows = cooked(0, {}, *({"yield_off": n / 10, "thickness": n / 100} for n in range(1, 7)))
    where = (
        make_where(CATALOGUE["thickness"], Sign.AT_LEAST, ["20 mm"], US),
        make_where(CATALOGUE["thickness"], Sign.LESS, ["5 cm"], US),
    )
    assert ask(rows, Question("yield_off", (), where)).groups[0].mean == pytest.approx(0.3)
    exact = make_where(CATALOGUE["thickness"], Sign.IS, ["1 cm", "30 mm"], US)
    assert ask(rows, Question("yield_off", (), (exact,))).groups[0].mean == pytest.approx(0.2)


def test_that_units_typed_may_be_mixed() -> None:
    # 225 °F is 107.2 °C, by the definition of the degree Fahrenheit.
    rows = cooked(0, {"set_point": 107.2}, {"yield_off": 0.5})
    for typed in ("225 F", "107.2 C"):
        where = make_where(CATALOGUE["set_point"], Sign.IS, [typed], US)
        near = Where("set_point", Sign.AT_LEAST, (float(where.values[0]) - 0.1,))
        assert ask(rows, Question("yield_off", (), (near,))).pieces == 1


def test_that_a_probe_chart_and_non_intact_meat_can_be_asked_for() -> None:
    cook = a_cook()
    trace = Trace(
        cook_id=cook.id,
        probe_file_id="file",
        channel="1",
        unit_in_file="C",
        sits=Sits.PIT,
        samples="none",
        count=0,
        starts_at=NOON,
        ends_at=NOON,
        interval=1.0,
    )
    with_chart = values_of(WholeCook(cook=cook, traces=(trace,)), no_readings).cook
    without = values_of(WholeCook(cook=cook), no_readings).cook
    rows = cooked(0, dict(with_chart), {"yield_off": 0.5, "non_intact": True})
    rows += cooked(1, dict(without), {"yield_off": 0.7, "non_intact": False})
    for key in ("probe_chart", "non_intact"):
        assert means(ask(rows, Question("yield_off", (By(key),)))) == {("yes",): 0.5, ("no",): 0.7}
        chosen = Where(key, Sign.IS, ("yes",))
        assert ask(rows, Question("yield_off", (), (chosen,))).groups[0].cook_ids == ("c0",)


def test_that_what_a_filter_asks_may_not_be_recorded() -> None:
    rows = cooked(0, {}, {"yield_off": 0.5, "cut": "brisket"}, {"yield_off": 0.6})
    rows += cooked(1, {}, {"yield_off": 0.7, "cut": "ribs"}, {"cut": "brisket"})
    rows += cooked(2, {"cost": 3.0})  # planned: it has no pieces yet
    found = ask(rows, Question("yield_off", (), (Where("cut", Sign.IS, ("brisket",)),)))
    # One has no cut, one brisket has no yield; the ribs are not asked for.
    assert (found.pieces, found.not_recorded) == (1, 2)
    inside = ask(rows, Question("yield_off", (By("cut"),), within=True))
    assert (inside.pieces, inside.not_recorded) == (0, 2)


def test_that_a_cook_without_pieces_counts_as_a_cook_and_no_piece() -> None:
    rows = cooked(0, {"cost": 10.0}) + cooked(1, {"cost": 20.0}, {"cut": "ribs"}, {"cut": "ribs"})
    (group,) = ask(rows, Question("cost")).groups
    assert (group.mean, group.cooks, group.pieces) == (15.0, 2, 2)


# grouping


def test_that_bins_can_be_moved() -> None:
    rows = cooked(0, {}, *({"yield_off": 0.5, "thickness": mm / 1000} for mm in (10, 20, 30, 40)))
    found = ask(rows, Question("yield_off", (By("thickness", edges=(0.035, 0.0151)),)))
    assert [group.pieces for group in found.groups] == [1, 2, 1]
    assert found.groups[0].key[0].startswith("under")
    assert found.groups[2].key[0].endswith("and over")


def test_that_choices_keep_the_order_of_the_trade() -> None:
    names = ("paper", "none", "zebra skin", "foil", "Ash")
    rows = [row for n, wrap in enumerate(names) for row in cooked(n, {}, {"cost": 1, "wrap": wrap})]
    found = ask(rows, Question("cost", (By("wrap"),)))
    assert [group.key[0] for group in found.groups] == [
        "none",
        "foil",
        "paper",
        "Ash",
        "zebra skin",
    ]


def test_that_a_share_of_yes_is_a_mean() -> None:
    rows = cooked(0, {}, {"frozen": True}, {"frozen": False}) + cooked(1, {}, {"frozen": True}, {})
    found = ask(rows, Question("frozen"))
    assert found.groups[0].mean == pytest.approx(0.75)  # cooks of 1/2 and 1/1
    assert found.not_recorded == 1


def test_that_three_variables_make_groups_of_three_names() -> None:
    rows = cooked(
        0, {"kind": "home"}, {"cost": 1.0, "cut": "ribs", "grade": "prime"}, {"cost": 2.0}
    )
    found = ask(rows, Question("cost", (By("kind"), By("cut"), By("grade"))))
    assert [group.key for group in found.groups] == [("home", "ribs", "prime")]
    assert found.not_recorded == 1


# against the control


def test_that_pieces_are_compared_with_the_control_of_their_own_cook() -> None:
    rows: list[Row] = []
    for number, (control, treated) in enumerate((([4.0, 6.0], [8.0]), ([1.0], [2.0, 4.0]))):
        pieces: list[dict[str, Value]] = [
            {"control": True, "treatment": "left alone", "score.tenderness": v} for v in control
        ]
        pieces += [
            {"control": False, "treatment": "injected", "score.tenderness": v} for v in treated
        ]
        rows += cooked(number, {}, *pieces)
    # A cook without a control says nothing here, nor does a piece without an arm.
    rows += cooked(7, {}, {"control": False, "treatment": "injected", "score.tenderness": 9.0})
    rows += cooked(8, {}, {"score.tenderness": 9.0})
    question = Question("score.tenderness", (By("treatment"),), against_control=True)
    (group,) = ask(rows, question).groups
    # Cook 0: 8 − 5 = 3; cook 1: (2 + 4) ÷ 2 − 1 = 2; mean 2.5 of two cooks, three pieces.
    assert group.key == ("injected",)
    assert (group.mean, group.cooks, group.pieces) == (2.5, 2, 3)
    chosen = Where("treatment", Sign.IS, ("injected",))  # takes no control away
    only = Question("score.tenderness", (), (chosen,), against_control=True)
    assert ask(rows, only).groups[0].mean == 2.5
    assert ask(rows, only).measure.label == "tenderness against its control"


def test_that_a_difference_of_temperatures_is_shown_as_one() -> None:
    rows = cooked(
        0, {}, {"control": True, "internal_off": 90.0}, {"control": False, "internal_off": 95.0}
    )
    found = ask(rows, Question("internal_off", against_control=True))
    assert found.groups[0].mean == 5.0
    assert found.measure.dimension is Dimension.TEMPERATURE_DIFFERENCE


# published values, and much at once


def test_that_spreads_of_resistances_are_nists_certified_ones() -> None:
    # NIST StRD, one-way analysis of variance, SiRstv: five instruments, five days each.
    instruments, values = (
        column("nist_strd_sirstv", "instrument"),
        column("nist_strd_sirstv", "resistance"),
    )
    rows: list[Row] = []
    for number, (instrument, value) in enumerate(zip(instruments, values, strict=True)):
        rows += cooked(number, {"cooker": f"{instrument:g}"}, {"cost_per_edible": value})
    groups = ask(rows, Question("cost_per_edible", (By("cooker"),))).groups
    grand = float(np.mean(values))
    check("NS01", sum(group.cooks * (group.mean - grand) ** 2 for group in groups))
    check("NS04", sum((group.cooks - 1) * (group.sd or 0.0) ** 2 for group in groups))


def test_that_five_thousand_groups_are_answered_and_more_refused_without_a_wait() -> None:
    rows = [row for n in range(5001) for row in cooked(n, {"cooker": f"{n}"}, {"yield_off": 0.5})]
    question = Question("yield_off", (By("cooker"),))
    frame = frame_of(rows[:10_000])
    start = time.process_time()
    assert len(answer(frame, question, CATALOGUE, US).groups) == 5000
    assert time.process_time() - start < 2.0  # a slow machine takes a tenth of that
    with pytest.raises(JournalError, match="too many groups"):
        ask(rows, question)


def test_that_one_cook_and_no_cook_are_answered() -> None:
    (group,) = ask(cooked(0, {}, {"yield_off": 0.5}), Question("yield_off")).groups
    assert (group.low, group.high, group.sd, group.few) == (None, None, None, True)
    for question in (
        Question("yield_off", (By("thickness"), By("date"), By("cut"))),
        Question("yield_off", (By("cut"),), within=True),
        Question("yield_off", against_control=True),
        Question(
            "yield_off", (), (Where("text", Sign.IS, ("a",)), Where("date", Sign.IS, ("2025",)))
        ),
    ):
        found = ask([], question)
        assert (found.groups, found.cooks, found.pieces, found.not_recorded) == ((), 0, 0, 0)
