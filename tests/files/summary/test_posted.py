"""Cards for posting: each shape is its size, and nothing that must be known is left out or cut off."""

from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from pitjournal.domain.plate import Plate
from pitjournal.files.summary.content import PlateChart
from pitjournal.files.summary.posted import SIZES, Shape, card_to_post
from tests.files.summary.sample import a_summary
from tests.files.summary.test_plate import a_row

A_PLATE = Plate(
    (a_row("Left alone", 0, [5, 6], [10, 20]), a_row("Injected", 1, [6, 7], [30])),
    (),
    "Tenderness, 1 to 9",
    "points",
    "rack",
)
A_CHART = PlateChart(A_PLATE, but="But they came later.")

TEXT = "{http://www.w3.org/2000/svg}text"


def texts(svg: str) -> list[ET.Element]:
    return list(ET.fromstring(svg).iter(TEXT))


def words_on(svg: str) -> str:
    return " ".join(text.text or "" for text in texts(svg))


@pytest.mark.parametrize("shape", Shape)
@pytest.mark.parametrize("plate", [True, False])
def test_that_a_card_has_its_shape_and_all_that_must_be_known(shape: Shape, plate: bool) -> None:
    chart = A_CHART if plate else None
    svg = card_to_post(replace(a_summary(), plate=chart), shape)
    root = ET.fromstring(svg)
    wide, high = SIZES[shape]
    assert float(root.attrib["width"]) == pytest.approx(wide, abs=1)
    assert float(root.attrib["height"]) == pytest.approx(high, abs=1)
    said = words_on(svg)
    assert "Injected and needled meat counts as non-intact." in said
    assert "Allergen: milk." in said
    assert ("But they came later." in said) == plate
    assert ("Injected racks bit 0.8 points more tender" in said) != plate


@pytest.mark.parametrize("shape", Shape)
def test_that_everything_lies_on_the_card_however_long_the_words(shape: Shape) -> None:
    chart = PlateChart(A_PLATE, but="But " + "much else differed too and so " * 8 + "it was.")
    summary = replace(
        a_summary("Does it " * 20), plate=chart, protects=("Allergens: mustard.",) * 5
    )
    root = ET.fromstring(card_to_post(summary, shape))
    _, _, wide, high = map(float, root.attrib["viewBox"].split())
    assert wide / high == pytest.approx(SIZES[shape][0] / SIZES[shape][1], rel=0.001)
    for text in root.iter(TEXT):
        assert 0 <= float(text.attrib["x"]) <= wide
        assert 0 < float(text.attrib["y"]) < high
    assert words_on(card_to_post(summary, shape)).count("Allergens: mustard.") == 5
