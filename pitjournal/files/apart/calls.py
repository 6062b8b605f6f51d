"""The program's side: calls to a reading process, and what becomes of one that goes wrong."""

import atexit
import os
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from io import FileIO
from pathlib import Path
from pickle import PickleBuffer
from typing import Any, ParamSpec, TypeVar, cast

from pitjournal.errors import JournalError
from pitjournal.files.apart.shared import ClosedWireError, shared_both_ways
from pitjournal.files.apart.wire import TOO_MUCH, Wire
from pitjournal.units.figures import figure

P = ParamSpec("P")
R = TypeVar("R")

MEMORY = 1_500_000_000
"""Bytes that reading one file may use."""

SECONDS = 60.0
"""Seconds that reading one file may take."""

KEPT = 300.0
"""A process that had nothing to do for so long, s, is let go."""

RETIRES_AT = 40_000_000
"""A process that was given so many bytes is not kept: what it used would stay with it."""

_KEEPS_MEMORY = {"MALLOC_MMAP_THRESHOLD_": "33554432", "MALLOC_TRIM_THRESHOLD_": "134217728"}
"""For the GNU C library (mallopt(3)): memory of one step of reading is used again for the next
instead of being given back and asked for anew, which took a fifth of the time. A reader that
rests gives it back."""

_LOOK_EVERY = 0.05
_ENDS_WITHIN = 0.2
_PIPE = 1 << 20
_ROOT = Path(__file__).resolve().parents[3]


@dataclass(frozen=True)
class ReadingLimits:
    """How much reading one file may use: bytes, and seconds."""

    memory: int = MEMORY
    seconds: float = SECONDS


class ReaderFaultError(RuntimeError):
    """A reader met something it should have met better: a fault of the program.

    Parameters
    ----------
    told
        The fault in the other process, in words that may be written down.
    """

    def __init__(self, told: str) -> None:
        super().__init__(f"a reader has a fault\n{told}")
        self.told = told


class _Reader:
    """A process that reads, one file at a time."""

    def __init__(self, memory: int) -> None:
        import subprocess  # noqa: PLC0415 - only once a file is read

        self.memory = memory
        self.rested_at = time.monotonic()
        shared = shared_both_ways()
        self._calls = None if shared is None else shared[0]
        self._answers = None if shared is None else shared[1]
        inherited = [] if shared is None else [shared[0].file, shared[2].fileno()]
        command = [sys.executable, "-P", "-m", "pitjournal.files.apart.child", str(memory)]
        there = {"PYTHONPATH": _path(), "PYTHONDONTWRITEBYTECODE": "1"} | _KEEPS_MEMORY
        try:
            self._process = subprocess.Popen(  # noqa: S603 - our own module
                [*command, *map(str, inherited)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                bufsize=0,
                env=os.environ | there,
                pass_fds=inherited,
                creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),  # of Windows
            )
        except OSError as error:
            self._forget_shared()
            message = f"The part that reads files cannot be started: {error.strerror}."
            raise JournalError(message, "Close other programs and try again.") from error
        finally:
            if shared is not None:
                shared[2].close()
        self._in = Wire(cast("FileIO", self._process.stdin), self._calls)
        self._out = Wire(cast("FileIO", self._process.stdout), self._answers)
        _widen(self._in.pipe.fileno())
        _widen(self._out.pipe.fileno())

    @property
    def lives(self) -> bool:
        """Whether it can be given another file."""
        return self._process.poll() is None

    def rest(self) -> None:
        """Give back the memory in which files are handed over; nothing may be on its way."""
        if self._calls is not None:
            self._calls.empty()

    def prepare(self, modules: tuple[str, ...]) -> None:
        """Have it load what reading will need, and do not wait for that."""
        with suppress(OSError):
            self._in.send(("prepare", modules))

    def ask(self, call: tuple[object, ...], until: float, stop: Callable[[], object] | None) -> Any:  # noqa: ANN401 - what the call returns
        """Send a call and return the answer; the process is ended where there is none in time.

        Raises
        ------
        TimeoutError
            If it took too long.
        ClosedWireError, OSError
            If it ended by itself.
        """
        over, why = threading.Event(), list[BaseException]()

        def watch() -> None:
            while not over.wait(_LOOK_EVERY):
                try:
                    if stop is not None:
                        stop()
                    _be_in_time(until)
                except BaseException as error:  # noqa: BLE001 - raised where it was asked
                    why.append(error)
                    self._process.kill()
                    return

        watcher = threading.Thread(target=watch, name="watches a reader", daemon=True)
        watcher.start()
        try:
            self._in.send(call)
            return self._out.receive(own_only=True)
        except (ClosedWireError, OSError):
            over.set()
            watcher.join()
            if why:
                raise why[0] from None
            raise
        finally:
            over.set()
            watcher.join()

    def end(self) -> int:
        """End it, leave nothing of it behind, and return its exit code."""
        for wire in (self._in, self._out):
            with suppress(OSError):
                wire.pipe.close()
        ends_by = time.monotonic() + _ENDS_WITHIN
        while self._process.poll() is None:
            if time.monotonic() > ends_by:
                self._process.kill()
                break
            time.sleep(0.005)
        self._forget_shared()
        return self._process.wait()

    def _forget_shared(self) -> None:
        if self._calls is not None:
            os.close(self._calls.file)
        if self._answers is not None:
            self._answers.way.close()
        self._calls = self._answers = None


def _be_in_time(until: float) -> None:
    if time.monotonic() > until:
        raise TimeoutError


def _path() -> str:
    known = [one for one in os.environ.get("PYTHONPATH", "").split(os.pathsep) if one]
    return os.pathsep.join(dict.fromkeys([str(_ROOT), *known]))


def _widen(pipe: int) -> None:
    """Let a pipe hold a megabyte, where that can be asked for: fewer turns for a long file."""
    if sys.platform == "linux":
        import fcntl  # noqa: PLC0415 - not there on every system

        with suppress(OSError):
            fcntl.fcntl(pipe, fcntl.F_SETPIPE_SZ, _PIPE)


class _Readers:
    """The processes that wait for a file: one is kept, and more come and go as they are needed."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._waiting: list[_Reader] = []

    def take(self, memory: int) -> _Reader:
        """Return a process that waits, or a new one."""
        with self._lock:
            kept, self._waiting = self._waiting, []
        for place, reader in enumerate(kept):
            if reader.lives and reader.memory == memory:
                with self._lock:
                    self._waiting += kept[place + 1 :]
                return reader
            reader.end()
        return _Reader(memory)

    def give_back(self, reader: _Reader) -> None:
        """Keep a process for the next file, unless one waits already."""
        reader.rested_at = time.monotonic()
        with self._lock:
            keep = not self._waiting
            if keep:
                self._waiting.append(reader)
        if not keep:
            reader.end()

    def prepare(self, modules: tuple[str, ...]) -> None:
        """Have one wait that has loaded these."""
        with self._lock:
            if any(reader.lives for reader in self._waiting):
                return
        reader = self.take(MEMORY)
        reader.prepare(modules)
        self.give_back(reader)

    def let_go(self, longer_than: float) -> None:
        """End those that waited for so long, s; the others give back memory they hold."""
        before = time.monotonic() - longer_than
        with self._lock:
            old = [one for one in self._waiting if one.rested_at <= before or not one.lives]
            self._waiting = [one for one in self._waiting if one not in old]
            for reader in self._waiting:
                reader.rest()
        for reader in old:
            reader.end()


_readers = _Readers()


def prepare(*modules: str) -> None:
    """Start a process ahead that loads these modules, if none waits; it costs no waiting here."""
    with suppress(JournalError):  # said when a file is to be read
        _readers.prepare(modules)


def tidy() -> None:
    """Let go of a process that nobody needed for a while."""
    _readers.let_go(KEPT)


def close() -> None:
    """Let go of all that wait; the next file starts a new one."""
    _readers.let_go(-1.0)


atexit.register(close)


def read_apart(
    name: str,
    limits: ReadingLimits,
    stop: Callable[[], object] | None,
    task: Callable[P, R],
    *arguments: P.args,
    **named: P.kwargs,
) -> R:
    """Call a reader in another process and return what it returns.

    Parameters
    ----------
    name
        The file's name, for what is said where it cannot be read.
    limits
        How much the process may use.
    stop
        Called every few hundredths of a second from another thread; where it raises, reading
        ends and that is raised here. None to wait on.
    task
        A function of a module of this program: data in, records out.

    Raises
    ------
    JournalError
        If the reader refuses the file, or the file asks for more than the limits or ends the
        process.
    ReaderFaultError
        If the reader has a fault; with what it says.
    """
    until = time.monotonic() + limits.seconds
    reader = _readers.take(limits.memory)
    beside = tuple(PickleBuffer(one) if isinstance(one, bytes) else one for one in arguments)
    call = ("read", task.__module__, task.__qualname__, beside, named, limits.seconds)
    kept = False
    try:
        kind, told = reader.ask(call, until, stop)
        kept = kind in {"done", "refused"} and _size(arguments) < RETIRES_AT
    except TimeoutError:
        raise _too_long(name, limits) from None
    except (ClosedWireError, OSError):
        code = reader.end()
        raise _too_large(name) if code == TOO_MUCH else _ended(name) from None
    finally:
        if kept:
            _readers.give_back(reader)
        else:
            reader.end()
    if kind == "done":
        return cast("R", told)
    if kind == "refused":
        raise JournalError(*told)
    if kind == "memory":
        raise _too_large(name)
    if kind == "deep":
        raise JournalError(f"{name} is nested too deeply to be read.", _HINT)
    raise ReaderFaultError(told)


_HINT = "If it opens elsewhere, save a plainer copy there and choose that."


def _size(arguments: tuple[object, ...]) -> int:
    return sum(len(one) for one in arguments if isinstance(one, bytes | bytearray))


def _too_large(name: str) -> JournalError:
    return JournalError(f"{name} asks for more memory than reading a file may use.", _HINT)


def _too_long(name: str, limits: ReadingLimits) -> JournalError:
    return JournalError(f"{name} was not read within {figure(limits.seconds)} seconds.", _HINT)


def _ended(name: str) -> JournalError:
    return JournalError(f"{name} is damaged or asks for too much: reading it broke off.", _HINT)
