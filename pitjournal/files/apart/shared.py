"""Memory that the program and a process that reads for it share, where the system has such.

Long files go to the reader through one file of memory that both keep. What it answers with is
put into a new one each time, sealed and handed over, so that the program uses it where it lies:
20 MB need no second copy, and nobody can write into it or cut it off any more.
"""

import mmap
import os
import socket
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

_ALIGNED = 64
"""Parts lie at multiples of so many bytes, as arrays want them."""


class ClosedWireError(Exception):
    """The other end is gone."""


class Shared(Protocol):
    """A way for large parts of a message, one message at a time."""

    def put(self, parts: Sequence[memoryview]) -> None:
        """Put the parts of a message where the other end takes them."""

    def take(self, sizes: Sequence[int]) -> Sequence[bytes | memoryview]:
        """Take the parts of the message that was put last, of these sizes, bytes."""


@dataclass(frozen=True)
class Kept:
    """One file of memory that both ends have.

    What lies in it stays until it is written over, so that the next file finds memory that is
    there already: to have it given anew costs three times what writing into it does. Whoever
    puts empties it once nothing is on its way.

    Attributes
    ----------
    file
        Its number.
    """

    file: int

    def put(self, parts: Sequence[memoryview]) -> None:
        """Write them one after another."""
        _write(self.file, parts)

    def take(self, sizes: Sequence[int]) -> Sequence[bytes | memoryview]:
        """Read them."""
        found = []
        for place, size in zip(_places(sizes), sizes, strict=True):
            one = os.pread(self.file, size, place)
            if len(one) < size:  # two thousand million bytes at once at most
                raise ClosedWireError
            found.append(one)
        return found

    def empty(self) -> None:
        """Give the memory back."""
        os.ftruncate(self.file, 0)


@dataclass(frozen=True)
class Handed:
    """A new file of memory for each message, handed through a socket.

    Attributes
    ----------
    way
        This end of the socket.
    """

    way: socket.socket

    def put(self, parts: Sequence[memoryview]) -> None:
        """Write them into new memory, seal it and hand it over."""
        if sys.platform == "linux":
            import fcntl  # noqa: PLC0415 - not there on every system

            new = os.memfd_create("answer", os.MFD_CLOEXEC | os.MFD_ALLOW_SEALING)
            try:
                _write(new, parts)
                fcntl.fcntl(new, fcntl.F_ADD_SEALS, _seals())
                socket.send_fds(self.way, [b"."], [new])
            finally:
                os.close(new)

    def take(self, sizes: Sequence[int]) -> Sequence[bytes | memoryview]:
        """Return them where they lie; what is written into them stays with this process.

        Raises
        ------
        ClosedWireError
            If nothing was handed over, or not what was said.
        """
        _, files, _, _ = socket.recv_fds(self.way, 1, 1)
        if len(files) != 1:
            raise ClosedWireError
        try:
            whole = _end(sizes)
            if os.fstat(files[0]).st_size != whole or not _is_sealed(files[0]):
                raise ClosedWireError  # it could be cut off while it is read, which is a fault
            lies = memoryview(mmap.mmap(files[0], whole, access=mmap.ACCESS_COPY))
        finally:
            os.close(files[0])
        return [lies[at : at + size] for at, size in zip(_places(sizes), sizes, strict=True)]


def _seals() -> int:
    if sys.platform != "linux":
        return 0
    import fcntl  # noqa: PLC0415 - on Linux only

    return fcntl.F_SEAL_SHRINK | fcntl.F_SEAL_GROW | fcntl.F_SEAL_WRITE | fcntl.F_SEAL_SEAL


def _is_sealed(file: int) -> bool:
    if sys.platform != "linux":
        return False
    import fcntl  # noqa: PLC0415 - on Linux only

    return bool(fcntl.fcntl(file, fcntl.F_GET_SEALS) == _seals())


def _places(sizes: Iterable[int]) -> list[int]:
    at, found = 0, []
    for size in sizes:
        found.append(at)
        at += -(-size // _ALIGNED) * _ALIGNED
    return found


def _end(sizes: Sequence[int]) -> int:
    return _places(sizes)[-1] + sizes[-1]


def _write(file: int, parts: Sequence[memoryview]) -> None:
    for part, place in zip(parts, _places(part.nbytes for part in parts), strict=True):
        left, at = part.cast("B"), place
        while left:
            count = os.pwrite(file, left, at)
            at, left = at + count, left[count:]


def shared_both_ways() -> tuple[Kept, Handed, socket.socket] | None:
    """Return the way for calls, that for answers, and the other end of the latter's socket.

    Two of them are inherited by the process that reads: the file of memory and that end. None
    where the system has no such memory.
    """
    if sys.platform != "linux":
        return None
    here, there = socket.socketpair()
    return Kept(os.memfd_create("calls")), Handed(here), there
