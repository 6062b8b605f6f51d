"""The sound of an alarm: a tone where this computer can play one, else its beep."""

import platform
from collections.abc import Callable
from importlib import import_module
from shutil import which
from typing import Any

from PySide6.QtCore import QObject, QProcess, QUrl
from PySide6.QtWidgets import QApplication

from pitjournal.resource_files import resource_path

TONE = "sounds/alarm.wav"

PLAYERS = (("pw-play",), ("paplay",), ("aplay", "-q"), ("afplay",))
"""Programs that play a file: of the usual sound servers, and of a Mac."""

TIMES = {"short": 1, "long": 3}
"""How often the tone is played for one ring, by the preference."""


class AlarmSound(QObject):
    """Plays the tone. What plays it is looked for when something first rings.

    A computer without a sound device, or without anything that plays a file, beeps.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._play: Callable[[int], None] | None = None
        self._process: QProcess | None = None
        self._command: tuple[str, ...] = ()
        self._left = 0

    def ring(self, preference: str = "short") -> None:
        """Play it as often as preferred, and return at once."""
        if self._play is None:
            self._play = self._by_effect() or self._by_system() or self._by_program() or self._beep
        self._play(TIMES.get(preference, 1))

    def _beep(self, _times: int) -> None:
        QApplication.beep()

    def _by_effect(self) -> Callable[[int], None] | None:
        """Play by Qt's own sounds, where they are installed and there is a device."""
        try:
            multimedia: Any = import_module("PySide6.QtMultimedia")
        except ImportError:
            return None
        if multimedia.QMediaDevices.defaultAudioOutput().isNull():
            return None
        effect = multimedia.QSoundEffect(self)
        effect.setSource(QUrl.fromLocalFile(str(resource_path(TONE))))

        def play(times: int) -> None:
            effect.setLoopCount(times)
            effect.play()

        return play

    @staticmethod
    def _by_system() -> Callable[[int], None] | None:
        """Play by Windows, which plays a file by itself; there once has to do."""
        if platform.system() != "Windows":
            return None
        winsound: Any = import_module("winsound")
        how = winsound.SND_FILENAME | winsound.SND_ASYNC

        def play(_times: int) -> None:
            try:
                winsound.PlaySound(str(resource_path(TONE)), how)
            except RuntimeError:
                QApplication.beep()

        return play

    def _by_program(self) -> Callable[[int], None] | None:
        """Play by the first program there is."""
        found = next(((which(name), *rest) for name, *rest in PLAYERS if which(name)), None)
        if found is None:
            return None
        self._command = tuple(str(word) for word in (*found, resource_path(TONE)))
        self._process = QProcess(self)
        self._process.setStandardOutputFile(QProcess.nullDevice())
        self._process.setStandardErrorFile(QProcess.nullDevice())
        self._process.finished.connect(self._played)
        self._process.errorOccurred.connect(self._failed)
        return self._start

    def _start(self, times: int) -> None:
        if self._process is None or self._process.state() is not QProcess.ProcessState.NotRunning:
            return  # it still sounds
        self._left = times
        program, *rest = self._command
        self._process.start(program, rest)

    def _played(self, code: int, status: QProcess.ExitStatus) -> None:
        if code or status is not QProcess.ExitStatus.NormalExit:
            self._give_up()
        elif self._left > 1:
            self._start(self._left - 1)

    def _failed(self, error: QProcess.ProcessError) -> None:
        if error is QProcess.ProcessError.FailedToStart:
            self._give_up()

    def _give_up(self) -> None:
        """Beep from now on: the program is there, and a device is not."""
        self._play = self._beep
        QApplication.beep()

    def stop(self) -> None:
        """Be silent."""
        self._left = 0
        if (
            self._process is not None
            and self._process.state() is not QProcess.ProcessState.NotRunning
        ):
            self._process.finished.disconnect(self._played)
            self._process.kill()
            self._process.waitForFinished(500)
