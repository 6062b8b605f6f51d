"""A number of a scheme is one that can be kept and counted with."""

import pytest
from pytestqt.qtbot import QtBot

from pitjournal.errors import JournalError
from pitjournal.ui.shelf.scheme_editor import NumberField


@pytest.mark.parametrize("typed", ["9" * 400, "inf", "-inf", "nan", "1e308", "nine"])
def test_that_what_has_no_end_is_no_number_of_a_scheme(qtbot: QtBot, typed: str) -> None:
    field = NumberField("Lowest left out", lambda _value, _typed: "")
    qtbot.addWidget(field)
    with pytest.raises(JournalError, match="is no number"):
        field.read(typed)
    assert field.read("−0,5") == -0.5
