"""Tables of old cooks against what they were written from."""

import json
import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.domain.cuts import find_cut
from pitjournal.files.old_cooks import ColumnAnswer, read_old_cooks
from tests.files.old_cooks.dialects import write

SAMPLES = Path(__file__).parent / "samples"


def alike(wanted: object, got: object) -> bool:
    """Whether a value is as it should be: numbers to a thousandth, texts as written."""
    if isinstance(wanted, Mapping):
        return isinstance(got, Mapping) and all(alike(v, got.get(k)) for k, v in wanted.items())
    if isinstance(wanted, int | float) and isinstance(got, int | float):
        return math.isclose(wanted, got, rel_tol=1e-3)
    return wanted == got


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.answer.json")), ids=lambda path: path.name)
def test_that_a_sample_gives_the_answer_it_came_with(path: Path) -> None:
    wanted = json.loads(path.read_text("utf-8"))
    file = path.with_name(path.name.removesuffix(".answer.json"))
    got = read_old_cooks(file.read_bytes(), file.name).as_json()
    told = {column["header"]: column for column in got["columns"]}
    for column in wanted["columns"]:
        found = told[column["header"]]
        assert (found["variable"], found["uncertain"]) == (column["variable"], column["uncertain"])
    assert got["rows_kept"] == wanted["rows_kept"]
    assert [one["row"] for one in got["rows_skipped"]] == [
        one["row"] for one in wanted["rows_skipped"]
    ]
    for cook, truth in zip(got["cooks"], wanted["cooks"], strict=True):
        _check(cook, truth)


def _check(cook: Mapping[str, Any], truth: Mapping[str, Any]) -> None:
    assert cook["date"] == truth["date"]
    assert cook.get("title", "") == truth.get("title", "")
    meant = find_cut(cook["cut"])
    assert truth["cut"] in {cook["cut"], meant.name if meant else ""} or cook["cut"] == "Flat"
    for key, value in truth["values"].items():
        assert alike(value, cook["values"].get(key)), (key, value, cook["values"].get(key))


@given(st.integers(0, 10**9))
@settings(max_examples=40, deadline=None)
def test_that_known_cooks_come_back_from_a_table_in_any_dialect(seed: int) -> None:
    table = write(seed)
    got = read_old_cooks(table.data, "old.csv").as_json()
    assert [cook["row"] for cook in got["cooks"]] == [cook["row"] for cook in table.cooks]
    for cook, truth in zip(got["cooks"], table.cooks, strict=True):
        values = {"date": cook["date"], "cut": cook["cut"], **cook["values"]}
        for key, value in truth.items():
            if key != "row":
                assert alike(value, values.get(key)), (key, value, values.get(key), table.heads)
    assert {c["header"] for c in got["columns"] if c["uncertain"]} == set()


def test_that_what_cannot_be_told_is_asked_and_an_answer_settles_it() -> None:
    rows = [
        "Date,Cut,Weight,Pit,Hours,Score",
        "3/4/21,brisket,12,250,14,4",
        "5/6/21,butt,8,240,12,3",
    ]
    data = "\n".join(rows).encode()
    got = read_old_cooks(data, "old.csv")
    assert [c.header for c in got.questions] == ["Date", "Weight", "Pit", "Score"]
    answers = {
        "Date": ColumnAnswer(day_first=True),
        "weight": ColumnAnswer(unit="kg"),
        "D": ColumnAnswer(unit="degF"),
        "Score": ColumnAnswer(low=1, high=5),
    }
    settled = read_old_cooks(data, "old.csv", answers)
    assert not settled.questions
    first = settled.cooks[0]
    assert first.date is not None
    assert first.date.isoformat() == "2021-04-03"
    assert first.values["mass_on"] == 12_000.0
    assert first.values["rating"] == {"value": 4, "low": 1, "high": 5}


def test_that_a_range_keeps_its_middle_and_what_was_typed() -> None:
    data = b"Date,Cut,Pit (F)\n2021-03-04,brisket,250-275\n2021-03-05,brisket,225 to 235\n"
    first, second = read_old_cooks(data, "old.csv").cooks
    assert first.values["set_point"] == pytest.approx((262.5 - 32) / 1.8)
    assert first.written["set_point"] == "250-275"
    assert second.values["set_point"] == pytest.approx((230 - 32) / 1.8)


def test_that_times_of_day_give_a_length_over_midnight() -> None:
    data = (
        b"Date,Meat,Started,Finished\n2021-03-04,packer,9pm,1:30 pm\n2021-03-11,butt,22:00,9:15\n"
    )
    first, second = read_old_cooks(data, "old.csv").cooks
    assert (first.values["time_on"], second.values["time_on"]) == (990.0, 675.0)
    assert first.on_clock == 21 * 60


def test_that_what_fits_nothing_is_kept_under_its_head() -> None:
    data = b"Date,Cut,Hours,Neighbours fed,Pit\n2021-03-04,brisket,12,7,two-fifty\n"
    (cook,) = read_old_cooks(data, "old.csv").cooks
    assert cook.others == {"Neighbours fed": "7", "Pit": "two-fifty"}


def test_a_score_off_the_scale_of_its_head_is_asked_about() -> None:
    text = "Date,Cut,Score (1-9)\n2024-05-01,brisket,7\n2024-05-08,brisket,{}\n"
    for score, asked in (("12", True), ("9", False)):
        (column,) = [
            one
            for one in read_old_cooks(text.format(score).encode(), "old.csv").columns
            if one.header.startswith("Score")
        ]
        assert column.uncertain is asked, score
