"""Readers of many tempers, for a process of their own to run."""

import os
import time

from pitjournal.errors import JournalError


def says(data: bytes) -> tuple[int, bytes]:
    """Return which process read, and the bytes."""
    return os.getpid(), data


def refuses(data: bytes) -> None:
    """Refuse the file."""
    raise JournalError(f"{len(data)} bytes are not enough.", "Take more.")


def faults(_data: bytes) -> None:
    """Be wrong."""
    raise ZeroDivisionError("in the reader")


def ends(_data: bytes) -> None:
    """End the process as a library in C would."""
    os.abort()


def grows(_data: bytes) -> int:
    """Take all memory there is."""
    held = []
    while True:
        held.append(bytearray(20_000_000))


def hangs(_data: bytes) -> None:
    """Never come back."""
    while True:
        time.sleep(0.01)


def works_for_ever(_data: bytes) -> None:
    """Never come back, and let nobody else run either."""
    sum(range(10**12))


def prints(_data: bytes) -> str:
    """Write where the answer goes."""
    os.write(1, b"noise")
    print("noise", flush=True)
    return "quiet"


def sends_a_call(_data: bytes) -> object:
    """Answer with something that would run a command where it is taken."""

    class Call:
        def __reduce__(self) -> tuple[object, tuple[str]]:
            return os.system, ("true",)

    return Call()
