"""A temperature is asked of the thickest part, and what is read at a surface says nothing of it.

USDA FSIS, "Place the food thermometer in the thickest part of the food, not touching bone, fat or
gristle" (from memory). Which words say so: common practice, no source.
"""

import pytest

from pitjournal.domain.cuts.places import outside


@pytest.mark.parametrize(
    "place",
    [
        "surface",
        "Surfaces",
        "just under the skin",
        "in the foil",
        "thin end",
        "edge, not the centre",
        "air gap",
        "touching the bone",
        "an der Oberfläche",
        "am Rand",
        "en la superficie",
        "borde",
    ],
)
def test_a_place_that_is_not_the_middle_is_known_by_its_words(place: str) -> None:
    assert outside(place)


@pytest.mark.parametrize(
    "place",
    [
        "",
        "middle",
        "thigh",
        "flat",
        "point",
        "thickest part, away from the bone",
        "centre of the flat, not the edge",
        "not at the surface",
        "by the bone",
        "nicht am Rand",
        "Kern",
        "lejos del borde",
    ],
)
def test_a_place_that_may_be_the_middle_is_let_be(place: str) -> None:
    assert not outside(place)
