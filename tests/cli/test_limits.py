"""The command line refuses what the window's fields refuse: digits that ran together."""

from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.files.old_cooks import read_old_cooks

DATA = Path(__file__).parent.parent / "analysis" / "forecast" / "data"
TRACE = [
    "forecast",
    str(DATA / "cook_1.csv"),
    *("--meat", "meat", "--pit", "pit", "--cut", "pork butt"),
]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--target", "2030F"), "No meat is hotter"),
        (("--target", "203F", "--set", "25000"), "A pit cannot be more"),
        (("--target", "203F", "--weight", "8000 lb"), "A piece cannot be more"),
        (("--target", "203F", "--weight", "0 lb"), "more than nothing"),
        (("--target", "203F", "--thickness", "4000"), "A thickness cannot be more"),
        (("--target", "203F", "--on", "90000 h"), "cannot be more than"),
        (("--target", "203F", "--wrap", "9999999 foil"), "cannot be more than"),
        (("--target", "203F", "--wrap", "300 foil", "--unwrap", "200"), "before it is in it"),
        (("--target", "203F", "--unwrap", "200"), "never went into"),
        (("--target", "203F", "--wrap", "29:75 foil"), "is no time"),
        # Before the first reading, at 12:23, a time of day is that of the day after.
        (("--target", "203F", "--on", "2026-01-13T11:00"), "after the last reading"),
    ],
)
def test_that_a_forecast_refuses_what_cannot_be(
    more: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*TRACE, *more]) == 2
    told = capsys.readouterr().err
    assert said in told
    assert told.count("\n") <= 2


def test_that_a_number_of_an_old_table_that_cannot_be_is_kept_as_a_note() -> None:
    table = b"Date,Meat,Weight (lb),Pit (F),Internal off (F)\n3/27/21,butt,8,250,203\n"
    table += b"3/28/21,butt,80000,25000,203\n3/29/21,butt,9,240,2030\n"
    first, second, third = read_old_cooks(table, "mine.csv").cooks
    # 8 lb is 3628.7 g (international pound, 1959).
    assert first.values["mass_on"] == pytest.approx(3628.739)
    assert "mass_on" not in second.values
    assert "set_point" not in second.values
    assert second.values["internal_off"] == pytest.approx(95.0)
    assert "80000 (not taken: A piece cannot be more" in second.others["Weight (lb)"]
    assert "internal_off" not in third.values
    assert "No meat is hotter" in third.others["Internal off (F)"]
