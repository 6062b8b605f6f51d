"""The process that reads a stranger's files for the program, within limits.

Started as a module of its own. It takes one call after another from its standard input and
answers on its standard output, until the input ends, as it does when the program is gone.
"""

import contextlib
import ctypes
import os
import queue
import signal
import socket
import sys
import threading
import time
from collections.abc import Sequence
from importlib import import_module
from io import FileIO
from typing import Any

from pitjournal.errors import JournalError
from pitjournal.fault_words import fault_text
from pitjournal.files.apart.shared import ClosedWireError, Handed, Kept
from pitjournal.files.apart.wire import TOO_MUCH, Wire

_SYSTEM: str = sys.platform

LOOK_EVERY = 0.05
"""Seconds between two looks at how much memory is used, where the system holds no limit."""

RESTS_AFTER = 1.0
"""Seconds without a call after which free memory is given back."""


def serve(memory: int, shared: Sequence[int]) -> None:
    """Answer calls until there are no more.

    Parameters
    ----------
    memory
        Bytes that reading may use beyond what the empty process has.
    shared
        The file of memory for calls and the socket for answers; empty where there is none.
    """
    inlet, outlet = _private_ends(shared)
    calls: queue.SimpleQueue[Any] = queue.SimpleQueue()

    def listen() -> None:
        try:
            while True:
                calls.put(inlet.receive(own_only=False))
        except (ClosedWireError, OSError):
            os._exit(0)  # the program is gone, whatever is being read

    threading.Thread(target=listen, daemon=True).start()
    limited = False
    while True:
        kind, *told = _next(calls)
        if kind == "prepare":
            for name in told[0]:
                import_module(name)
            continue
        task, words, arguments, named, seconds = told
        run = getattr(import_module(task), words)
        if not limited:
            _limit_memory(memory)
            limited = True
        _limit_time(seconds)
        outlet.send(_answer(run, [_plain(one) for one in arguments], named))


def _next(calls: "queue.SimpleQueue[Any]") -> Any:  # noqa: ANN401 - a call
    """Wait for the next call; where none comes soon, give back the memory that is free."""
    try:
        return calls.get(timeout=RESTS_AFTER)
    except queue.Empty:
        if _SYSTEM == "linux":
            with contextlib.suppress(OSError, AttributeError):  # another C library
                ctypes.CDLL(None).malloc_trim(0)
        return calls.get()


def _answer(run: Any, arguments: Any, named: Any) -> tuple[str, Any]:  # noqa: ANN401 - any reader
    try:
        return "done", run(*arguments, **named)
    except JournalError as error:
        return "refused", (error.message, error.hint)
    except MemoryError:
        return "memory", None
    except RecursionError:
        return "deep", None
    except BaseException as error:  # noqa: BLE001 - a library's panic is no Exception
        return "fault", fault_text(error)


def _plain(one: Any) -> Any:  # noqa: ANN401 - any argument
    """Return bytes as readers take them."""
    return bytes(one) if isinstance(one, bytearray | memoryview) else one


def _private_ends(shared: Sequence[int]) -> tuple[Wire, Wire]:
    """Return the ends of the wire; whatever prints writes into nothing from now on."""
    inlet, outlet = os.dup(0), os.dup(1)
    nothing = os.open(os.devnull, os.O_RDWR)
    for number in (0, 1, 2):
        os.dup2(nothing, number)
    os.close(nothing)
    if not shared:
        return Wire(FileIO(inlet, "r"), None), Wire(FileIO(outlet, "w"), None)
    calls, answers = shared
    way = Handed(socket.socket(fileno=answers))
    return Wire(FileIO(inlet, "r"), Kept(calls)), Wire(FileIO(outlet, "w"), way)


def _limit_memory(memory: int) -> None:
    """Use no more than so many bytes beyond what is used now."""
    if _SYSTEM == "linux":
        import resource  # noqa: PLC0415 - not there on every system

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        for limit, used in (
            (resource.RLIMIT_DATA, _of_status("VmData")),
            (resource.RLIMIT_AS, _of_status("VmSize") + memory),
        ):
            resource.setrlimit(limit, (used + memory, used + memory))
    most = _resident() + memory

    def watch() -> None:
        while True:
            time.sleep(LOOK_EVERY)
            if _resident() > most:
                os._exit(TOO_MUCH)

    threading.Thread(target=watch, daemon=True).start()


def _of_status(name: str) -> int:
    """Return a figure of this process from Linux's own table, bytes."""
    with open("/proc/self/status", encoding="ascii") as lines:  # noqa: PTH123 - read before limits
        for line in lines:
            if line.startswith(f"{name}:"):
                return int(line.split()[1]) * 1024
    return 0


def _resident() -> int:
    """Return how much memory this process has, bytes; 0 where it cannot be known."""
    if _SYSTEM == "linux":
        with open("/proc/self/statm", encoding="ascii") as line:  # noqa: PTH123 - pathlib is not loaded yet
            return int(line.read().split()[1]) * os.sysconf("SC_PAGE_SIZE")
    if _SYSTEM == "win32":
        return _resident_on_windows()
    import resource  # noqa: PLC0415 - not there on every system

    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most if _SYSTEM == "darwin" else most * 1024


class _Counters(ctypes.Structure):
    """PROCESS_MEMORY_COUNTERS (Windows, psapi.h)."""

    _fields_ = (
        ("cb", ctypes.c_uint32),
        ("page_faults", ctypes.c_uint32),
        *(
            (name, ctypes.c_size_t)
            for name in (
                "peak_working_set",
                "working_set",
                "peak_paged_pool",
                "paged_pool",
                "peak_other_pool",
                "other_pool",
                "pagefile",
                "peak_pagefile",
            )
        ),
    )


def _resident_on_windows() -> int:
    windll: Any = getattr(ctypes, "windll", None)
    try:
        kernel, counters = windll.kernel32, _Counters()
        counters.cb = ctypes.sizeof(counters)
        kernel.GetCurrentProcess.restype = ctypes.c_void_p
        ask = kernel.K32GetProcessMemoryInfo
        ask.argtypes = (ctypes.c_void_p, ctypes.c_void_p, ctypes.c_uint32)
        if ask(kernel.GetCurrentProcess(), ctypes.byref(counters), counters.cb):
            return int(counters.pagefile)  # what it has asked for, in memory or not
    except (AttributeError, OSError):
        pass
    return 0


def _limit_time(seconds: float) -> None:
    """End, also where no Python runs, after so many seconds of work from now."""
    if _SYSTEM == "win32":
        return
    import resource  # noqa: PLC0415 - not there on every system

    used = resource.getrusage(resource.RUSAGE_SELF)
    until = int(used.ru_utime + used.ru_stime + 4 * seconds) + 1  # several threads may work
    _, hard = resource.getrlimit(resource.RLIMIT_CPU)
    resource.setrlimit(resource.RLIMIT_CPU, (until, hard))


if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is for the program, which ends this
    serve(int(sys.argv[1]), [int(number) for number in sys.argv[2:]])
