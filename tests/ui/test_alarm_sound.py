"""The tone of an alarm, and what is heard where it can't be played."""

import sys
import time
import wave
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.journal.preferences import load_preferences
from pitjournal.resource_files import resource_path
from pitjournal.ui import alarm_sound
from pitjournal.ui.alarm_sound import AlarmSound
from pitjournal.ui.panels import SettingsPanel
from tests.ui.conftest import Opener


def test_that_the_tone_is_heard_and_does_not_click() -> None:
    with wave.open(str(resource_path("sounds/alarm.wav"))) as file:
        assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
        rate = file.getframerate()
        heard = np.frombuffer(file.readframes(file.getnframes()), "<i2") / 32768
    assert 1 < heard.size / rate < 2
    assert 0.5 < np.abs(heard).max() < 1  # loud, and nowhere cut off
    assert abs(heard[0]) < 0.01
    assert abs(heard[-1]) < 0.01
    # A signal of danger lies between 500 and 2500 Hz (ISO 7731:2003, from memory).
    power = np.abs(np.fft.rfft(heard)) ** 2
    tones = np.fft.rfftfreq(heard.size, 1 / rate)
    inside = power[(tones > 500) & (tones < 2500)].sum()
    assert inside > 0.95 * power.sum()


@pytest.fixture
def beeps(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    found: list[int] = []
    monkeypatch.setattr(QApplication, "beep", lambda: found.append(1))
    monkeypatch.setitem(sys.modules, "PySide6.QtMultimedia", None)
    return found


def a_player(folder: Path, monkeypatch: pytest.MonkeyPatch, script: str) -> Path:
    """Put a program in the place of those that play a file; it writes down each call."""
    path, told = folder / "player", folder / "told"
    path.write_text(f'#!/bin/sh\necho "$@" >> "{told}"\n{script}\n', encoding="utf-8")
    path.chmod(0o700)
    monkeypatch.setattr(alarm_sound, "which", lambda name: str(path) if name == "aplay" else None)
    return told


def test_that_a_computer_without_a_player_beeps(
    beeps: list[int], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert qtbot is not None
    monkeypatch.setattr(alarm_sound, "which", lambda _name: None)
    AlarmSound().ring("long")
    assert beeps == [1]


@pytest.mark.skipif(sys.platform == "win32", reason="Windows plays a file by itself")
def test_that_a_long_ring_plays_the_tone_three_times(
    beeps: list[int], qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = a_player(tmp_path, monkeypatch, "exit 0")
    sound = AlarmSound()
    sound.ring("long")
    qtbot.waitUntil(lambda: told.exists() and len(told.read_text().splitlines()) == 3)
    assert told.read_text().splitlines()[0] == f"-q {resource_path('sounds/alarm.wav')}"
    assert not beeps


@pytest.mark.skipif(sys.platform == "win32", reason="Windows plays a file by itself")
def test_that_a_player_without_a_device_is_given_up_for_the_beep(
    beeps: list[int], qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = a_player(tmp_path, monkeypatch, "exit 1")
    sound = AlarmSound()
    sound.ring()
    qtbot.waitUntil(lambda: beeps == [1])
    sound.ring()
    assert beeps == [1, 1]
    assert len(told.read_text().splitlines()) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="Windows plays a file by itself")
def test_that_ringing_never_keeps_the_window_waiting(
    beeps: list[int], qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = a_player(tmp_path, monkeypatch, "sleep 20")
    sound = AlarmSound()
    began = time.monotonic()
    sound.ring("long")
    sound.ring("long")  # it still sounds
    assert time.monotonic() - began < 2
    qtbot.waitUntil(told.exists)
    sound.stop()
    assert time.monotonic() - began < 10
    assert len(told.read_text().splitlines()) == 1
    assert not beeps


def test_that_how_long_an_alarm_sounds_is_chosen_and_kept(
    open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = open_window()
    rung: list[str] = []
    monkeypatch.setattr(window.desk.sound, "ring", rung.append)
    window.go("settings")
    panel = window.findChild(SettingsPanel)
    assert panel is not None
    panel.sound.choose("long")
    panel.sound.chosen.emit("long")
    assert load_preferences().sound == "long"
    window._ring()
    assert rung == ["long"]
