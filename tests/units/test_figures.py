"""Numbers as a cook reads them: Python's own formats are the check, signs by typography.

The minus is U+2212 and a blank stands before the per cent, as in the SI brochure (9th edition,
5.4.7) and ISO 80000-1 (7.3).
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.units import MINUS, figure, percent, trimmed

NUMBERS = st.floats(allow_nan=False, allow_infinity=False, min_value=-1e15, max_value=1e15)


@pytest.mark.parametrize(
    ("value", "digits", "signed", "said"),
    [
        (-3.25, 1, False, "−3.2"),
        (-0.04, 1, False, "0.0"),
        (0.04, 1, True, "0.0"),
        (2.5, 1, True, "+2.5"),
        (-2.0, 0, True, "−2"),
        (1234567.0, 0, False, "1234567"),
    ],
)
def test_that_decimals_have_one_form(value: float, digits: int, signed: bool, said: str) -> None:
    assert figure(value, digits, signed=signed) == said


@pytest.mark.parametrize(
    ("value", "most", "said"),
    [(250.0, 6, "250"), (0.000012, 2, "0.000012"), (-1234567.0, 3, "−1230000"), (0.5, 6, "0.5")],
)
def test_that_digits_without_meaning_and_powers_of_ten_are_left_out(
    value: float, most: int, said: str
) -> None:
    assert trimmed(value, most) == said


def test_that_a_share_is_in_per_cent_and_what_is_unknown_is_said() -> None:
    assert percent(0.053) == "5 %"
    assert percent(-0.0749, 1) == "−7.5 %"
    assert figure(None) == trimmed(None) == "not recorded"


@given(NUMBERS)
def test_that_any_number_reads_back_as_itself(value: float) -> None:
    for said, near in ((figure(value, 3), 0.0005), (trimmed(value), abs(value) * 1e-5)):
        assert re.fullmatch(rf"{MINUS}?\d+(\.\d+)?", said)
        assert float(said.replace(MINUS, "-")) == pytest.approx(value, abs=near + 1e-9, rel=1e-9)
