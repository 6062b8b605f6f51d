"""The text size is chosen in Settings or by keys, kept, and taken over at once by what is open."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.journal.preferences import load_preferences
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.look.theme import look, sized
from pitjournal.ui.look.tokens import TEXT_SIZES, Sizes
from pitjournal.ui.panels import SettingsPanel
from tests.ui.conftest import Opener


def test_that_sizes_at_100_per_cent_are_those_of_the_tokens() -> None:
    assert [Sizes().px(size) for size in (13, 15, 46)] == [13, 15, 46]
    assert Sizes().high(tokens.GLOVE, 3) == tokens.GLOVE


def test_that_words_grow_by_the_text_size_and_the_air_about_them_does_not() -> None:
    large = Sizes(1.5)
    assert large.px(tokens.CLOCK) == 69
    assert large.high(38) == 38 + tokens.LINE / 2
    assert large.high(38, lines=2) == 38 + tokens.LINE


def test_that_nothing_is_smaller_than_13_px() -> None:
    assert min(tokens.SMALL, tokens.BODY, tokens.LARGE, tokens.TITLE, tokens.CLOCK) == 13


def test_that_an_open_window_takes_a_size_over_at_once(open_window: Opener, qtbot: QtBot) -> None:
    window = open_window()
    holder, plain = QWidget(window), words("250 °F", "quiet")
    qtbot.addWidget(holder)
    plain.setParent(holder)
    field = sized(QLabel("x", holder), width=100)
    pressed, chip = button("Save", lambda: None), Chip("injected", parent=holder)
    pressed.setParent(holder)
    holder.show()
    before = (plain.sizeHint().width(), pressed.sizeHint().height(), chip.sizeHint().width())
    look().choose_text("150")
    assert plain.fontInfo().pixelSize() == Sizes(1.5).px(tokens.SMALL)
    assert field.width() == 150
    after = (plain.sizeHint().width(), pressed.sizeHint().height(), chip.sizeHint().width())
    assert all(new > old for new, old in zip(after, before, strict=True))
    assert after[0] == pytest.approx(1.5 * before[0], rel=0.08)
    look().choose_text("100")
    assert (
        plain.sizeHint().width(),
        pressed.sizeHint().height(),
        chip.sizeHint().width(),
    ) == before
    assert field.width() == 100


def test_that_keys_change_the_size_to_its_ends_and_keep_it(
    open_window: Opener, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PITJOURNAL_SETTINGS", str(tmp_path / "settings.json"))
    window = open_window()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    for wanted in (*TEXT_SIZES[1:], TEXT_SIZES[-1]):
        qtbot.keyClick(window.windowHandle(), Qt.Key.Key_Plus, Qt.KeyboardModifier.ControlModifier)
        assert look().text == wanted
        assert load_preferences().text == wanted
    for wanted in (*reversed(TEXT_SIZES[:-1]), TEXT_SIZES[0]):
        qtbot.keyClick(window.windowHandle(), Qt.Key.Key_Minus, Qt.KeyboardModifier.ControlModifier)
        assert load_preferences().text == wanted
    assert look().sizes == Sizes()


def test_that_settings_offer_the_sizes_and_show_the_one_that_a_key_chose(
    open_window: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PITJOURNAL_SETTINGS", str(tmp_path / "settings.json"))
    window = open_window()
    window.go("settings")
    panel = window.findChild(SettingsPanel)
    assert panel is not None
    assert panel.text.values() == ("100",)
    panel.text.chosen.emit("125")
    assert (look().sizes.scale, load_preferences().text) == (1.25, "125")
    look().larger(1)
    assert panel.text.values() == ("150",)


def test_that_a_size_from_a_newer_version_is_100_per_cent(open_window: Opener) -> None:
    open_window()
    look().choose_text("175")
    assert look().sizes == Sizes()
