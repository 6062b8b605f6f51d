"""Sources: WCAG 2.2; IEC 61966-2-1 (data/README.md)."""

import pytest

from pitjournal.science.colour import (
    contrast,
    parse_hex,
    relative_luminance,
)
from tests.science.reference import rows

PATCHES = rows("srgb_lab_d65")


def hex_of(row: dict[str, str]) -> str:
    return "#{:02x}{:02x}{:02x}".format(*(int(row[key]) for key in ("R8", "G8", "B8")))


def test_that_black_on_white_is_21_to_1() -> None:
    """WCAG 2.2: contrast ratios range from 1 to 21."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#c8501e", "#c8501e") == 1


@pytest.mark.parametrize("row", PATCHES)
def test_that_luminance_is_the_y_of_the_colour(row: dict[str, str]) -> None:
    """The guideline rounds its weights to four places."""
    assert relative_luminance(hex_of(row)) == pytest.approx(float(row["Y_D65"]), abs=5e-5)


def test_that_what_is_no_colour_is_refused() -> None:
    assert parse_hex("C8501E") == (200, 80, 30)
    with pytest.raises(ValueError, match="six"):
        parse_hex("#fff")
    with pytest.raises(ValueError, match="invalid"):
        parse_hex("#gggggg")
