"""Contrast of every theme by the formula of WCAG 2.

Source: W3C, Web Content Accessibility Guidelines 2.1, 1.4.3 and 1.4.11: 4.5 to 1 for text,
3 to 1 for marks. The formula itself is checked in tests/science/test_colour.py.
"""

import re

import pytest
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit

from pitjournal.science.colour import contrast
from pitjournal.ui.look.marks import SHAPES, path
from pitjournal.ui.look.style import sheet
from pitjournal.ui.look.theme import look
from pitjournal.ui.look.tokens import THEMES, Sizes, Theme, series

TEXT, MARK = 4.5, 3.0
EVERY = pytest.mark.parametrize("theme", THEMES.values(), ids=list(THEMES))


def test_that_the_formula_gives_the_published_extremes() -> None:
    # WCAG 2.1: contrast runs from 1 to 21; #767676 on white is the usual 4.54.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == pytest.approx(1.0)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)


@EVERY
def test_that_text_can_be_read_on_every_ground(theme: Theme) -> None:
    for ground in (theme.card, theme.paper, theme.ember_tint, theme.right_tint, theme.look_tint):
        assert contrast(theme.ink, ground) >= TEXT
    for ink in (theme.quiet, theme.ember, theme.right, theme.look):
        assert contrast(ink, theme.card) >= TEXT
        assert contrast(ink, theme.paper) >= TEXT
    assert contrast(theme.on_ember, theme.ember) >= TEXT
    assert contrast(theme.right, theme.right_tint) >= TEXT
    assert contrast(theme.look, theme.look_tint) >= TEXT
    assert contrast(theme.rail_ink, theme.rail) >= TEXT
    assert contrast("#FFFFFF", theme.rail_chosen) >= TEXT


@EVERY
def test_that_a_hint_can_be_read_in_its_field_and_the_field_be_found(
    theme: Theme, qapp: QApplication
) -> None:
    # 1.4.3 asks 4.5 to 1 of a placeholder, 1.4.11 asks 3 to 1 of the edge of a field.
    look().start(qapp, theme.name)
    for ground in (theme.card, theme.paper):
        assert contrast(theme.quiet, ground) >= TEXT
        assert contrast(theme.field, ground) >= MARK
    for line in (QLineEdit(), QPlainTextEdit()):
        line.setPlaceholderText("not recorded")
        line.resize(200, 60)
        line.ensurePolished()
        hint = line.palette().color(QPalette.ColorRole.PlaceholderText)
        assert hint.alpha() == 255
        assert contrast(hint.name(), theme.card) >= TEXT
        edge = line.grab().toImage().pixelColor(0, 30).name()
        assert contrast(edge, theme.card) >= MARK
        assert contrast(edge, theme.paper) >= MARK


@EVERY
def test_that_the_mark_of_each_arm_stands_out(theme: Theme) -> None:
    assert len(theme.arms) == 8
    assert len(set(theme.arms)) == 8
    for colour in theme.arms:
        assert contrast(colour, theme.card) >= MARK
    assert theme.arm(0) == theme.ink
    assert theme.arm(11) in theme.arms  # the eighth after the control begins anew
    assert theme.arm(None) == theme.quiet


@EVERY
def test_that_a_series_that_is_no_arm_stands_out_in_a_colour_and_a_shape_of_no_arm(
    theme: Theme,
) -> None:
    arms = [path(look, 10.0) for look in range(8)]
    for place in range(len(theme.series)):
        assert contrast(theme.arm(series(place)), theme.card) >= MARK
    assert not set(theme.series[1:]) & set(theme.arms)
    shapes = [path(series(place), 10.0) for place in range(SHAPES)]
    assert not any(shape == arm for shape in shapes for arm in arms)
    assert all(one != other for n, one in enumerate(shapes) for other in shapes[:n])


def test_that_the_sun_is_black_on_white_with_heavier_strokes() -> None:
    sun, light = THEMES["sun"], THEMES["light"]
    assert (sun.ink, sun.card) == ("#000000", "#FFFFFF")
    assert sun.line > light.line
    assert sun.edge > light.edge


@EVERY
def test_that_a_chosen_line_stands_on_a_ground_of_its_own_and_can_be_read(theme: Theme) -> None:
    chosen = re.findall(
        r"selection-background-color: (#\w+);\s+selection-color: (#\w+); (?:outline|})",
        sheet(theme, Sizes()),
    )
    assert len(chosen) == 3  # letters in a field, a list that drops down, lists and tables
    for ground, ink in chosen:
        assert ground not in {theme.card, theme.paper}
        assert contrast(ink, ground) >= TEXT


def test_that_a_look_that_is_begun_anew_is_worn_by_what_comes_after(qapp: QApplication) -> None:
    look().start(qapp, "light")
    look().restyling._apart = True  # a window was open: parts of it were dressed on their own
    look().choose("night")
    look().start(qapp, "night")
    line = QLineEdit()
    line.resize(200, 60)
    assert contrast(line.grab().toImage().pixelColor(0, 30).name(), THEMES["night"].card) >= MARK
    look().start(qapp, "light")
