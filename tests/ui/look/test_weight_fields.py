"""Fields that spoons and cups fill; what is refused stays; what was typed is shown."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.weight_fields import ShareField, WeightField
from pitjournal.units import WATER, Dimension, UnitSystem, of_tablespoon


class Kept:
    """Remembers what a field saved."""

    def __init__(self) -> None:
        self.values: list[object] = []

    def __call__(self, value: object, _typed: str) -> str:
        self.values.append(value)
        return ""


def type_into(qtbot: QtBot, field: QuantityField, text: str) -> None:
    qtbot.addWidget(field)
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def test_that_spoons_of_a_rub_are_weighed_and_said(qtbot: QtBot) -> None:
    kept = Kept()
    field = WeightField(
        "Rub", Dimension.MASS, UnitSystem.US, kept, lambda: of_tablespoon(8.0), hint="a piece"
    )
    type_into(qtbot, field, "2 tbsp")
    assert kept.values == [pytest.approx(16.0)]
    assert field.line.text() == "2 tbsp"
    assert field.told.text() == "16 g: a tablespoon of it weighs 8 g"


def test_that_spoons_are_read_once_it_is_known_what_one_weighs(qtbot: QtBot) -> None:
    kept, known = Kept(), [None, of_tablespoon(17.7185)]
    field = WeightField("Salt", Dimension.MASS, UnitSystem.US, kept, lambda: known[0])
    field.where = "below what it weighs"
    type_into(qtbot, field, "2 tbsp")
    assert not kept.values
    assert "or say below what it weighs" in field.error.text()
    known.pop(0)
    field.line.clearFocus()
    field.set_value(None)
    qtbot.waitUntil(lambda: bool(kept.values))
    assert kept.values == [pytest.approx(35.437)]
    assert field.told.text() == "35 g: a tablespoon of it weighs 17.7 g"


def test_that_litres_of_liquid_are_counted_as_water(qtbot: QtBot) -> None:
    kept = Kept()
    field = WeightField("Liquid", Dimension.MASS, UnitSystem.US, kept, lambda: WATER)
    type_into(qtbot, field, "1.5 L")
    assert kept.values == [pytest.approx(1500.0)]
    assert "counted as water" in field.told.text()


@pytest.mark.parametrize(
    ("text", "share", "told"),
    [
        ("2.5 %", 0.025, ""),
        ("30 g", 0.03, "3.0 % of the liquid"),
        # Four tablespoons of 15 g are 60 g in 1000 g.
        ("4 tbsp", 0.06, "60 g, 6.0 % of the liquid: a tablespoon of it weighs 15 g"),
    ],
)
def test_that_a_share_can_be_said_by_weight(
    qtbot: QtBot, text: str, share: float, told: str
) -> None:
    kept = Kept()
    salt = of_tablespoon(15.0)
    field = ShareField("Salt", UnitSystem.US, kept, lambda: salt, lambda: (1000.0, "liquid"))
    type_into(qtbot, field, text)
    assert kept.values == [pytest.approx(share)]
    assert (field.line.text(), field.told.text()) == (text, told)


def test_that_a_share_of_an_unknown_whole_says_what_is_missing(qtbot: QtBot) -> None:
    kept = Kept()
    field = ShareField("Salt", UnitSystem.US, kept, lambda: None, lambda: (None, "liquid"))
    type_into(qtbot, field, "30 g")
    assert not kept.values
    assert field.line.text() == "30 g"
    assert "How much liquid there is" in field.error.text()


def test_that_what_cannot_be_read_stays_when_the_page_shows_again(qtbot: QtBot) -> None:
    field = QuantityField("Weight", Dimension.MASS, UnitSystem.US, Kept())
    field.set_value(1000.0)
    type_into(qtbot, field, "three stone")
    field.line.clearFocus()
    field.set_value(1000.0)
    assert field.line.text() == "three stone"
    assert "three stone" in field.error.text()
    field.forget()
    field.set_value(500.0)
    assert field.line.text() == "1 lb 1.6 oz"
    assert not field.error.text()


def test_that_a_number_stands_in_the_unit_it_was_typed_in(qtbot: QtBot) -> None:
    field = QuantityField("Set point", Dimension.TEMPERATURE, UnitSystem.US, Kept())
    type_into(qtbot, field, "107 °C")
    assert field.line.text() == "107 °C"
    # Another value than the words mean is shown as itself: 110 °C is 230 °F.
    field.set_value(110.0)
    assert field.line.text() == "230 °F"


def test_that_words_that_were_refused_stay_with_their_record(qtbot: QtBot) -> None:
    field = QuantityField("Weight", Dimension.MASS, UnitSystem.US, Kept())
    field.belong_to("one")
    type_into(qtbot, field, "three stone")
    field.belong_to("one")
    field.set_value(None)
    assert field.line.text() == "three stone"
    field.belong_to("another")
    field.set_value(453.59237)  # a pound, by the agreement of 1959
    assert field.line.text() == "1 lb"
    assert not field.is_wrong
