"""What cannot be stays in its field with the reason beside it, in every field of every page."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.domain.plausible import WIDEST
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.overlay import top_panel
from pitjournal.ui.start import Shell
from pitjournal.ui.window import Window
from pitjournal.units import Dimension, UnitSystem
from tests.ui.every_state import walk

ABSURD = "8" * 15
"""Digits that ran together: a number still, and in no unit a quantity of this world."""


@pytest.fixture
def window(demonstration_folder: Path, tmp_path: Path, qapp: QApplication) -> Iterator[Window]:
    del qapp
    shutil.copytree(demonstration_folder, tmp_path / "journal")
    shell = Shell(cast("QApplication", QApplication.instance()), Preferences(theme="light"))
    shell.open(str(tmp_path / "journal"))
    assert shell.window is not None
    shell.window.resize(1024, 700)
    yield shell.window
    shell.window.close()
    shell.window.deleteLater()


def test_that_no_field_of_any_page_takes_what_cannot_be(window: Window) -> None:
    labels: set[str] = set()
    for state in walk(window):
        root = top_panel(window) or window
        steps = window.desk.journal.find(Cook)
        for field in root.findChildren(QuantityField):
            if not field.line.isVisibleTo(root) or field.line.isReadOnly():
                continue
            labels.add(field.line.accessibleName())
            before = field.line.text()
            field.line.setText("")
            QTest.keyClicks(field.line, ABSURD)
            field.commit()
            assert field.line.text() == ABSURD, (state, field.line.accessibleName())
            assert field.error.text(), (state, field.line.accessibleName())
            assert field.error.text()[0].isupper(), field.error.text()
            assert field.apart or field.error.isVisibleTo(field)
            field.line.setText(before)
            field.line.setModified(False)
            field.say("")
        assert window.desk.journal.find(Cook) == steps
    for one in ("Set point", "Outside", "Altitude", "Weight of fuel", "weight trimmed", "Wind"):
        assert any(one.casefold() in label.casefold() for label in labels), (one, sorted(labels))


@pytest.mark.parametrize("dimension", list(Dimension))
@pytest.mark.parametrize("system", list(UnitSystem))
def test_that_a_field_of_any_dimension_says_what_a_bare_number_was_taken_for(
    qtbot: QtBot, dimension: Dimension, system: UnitSystem
) -> None:
    kept: list[object] = []

    def keep(value: object, _typed: str) -> str:
        kept.append(value)
        return ""

    field = QuantityField("Field", dimension, system, keep)
    qtbot.addWidget(field)
    assert field.within is WIDEST[dimension]
    QTest.keyClicks(field.line, ABSURD)
    field.commit()
    assert not kept
    assert field.line.text() == ABSURD
    assert "type" in field.error.text()
