"""What goes to and fro between the program and a process that reads for it.

A message is a pickle (protocol 5) with its large buffers beside it (PEP 574): in memory that
both share where the system has it, so that a file of 20 MB costs no turns of the pipe. What
comes back was made by a process that read a stranger's bytes, so only records of this program, arrays and
plain values are taken from it; nothing else is ever called.
"""

import io
import pickle
import struct
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from pitjournal.files.apart.shared import ClosedWireError, Shared

TOO_MUCH = 77
"""The exit code of a process that used more memory than it may."""

_HEAD = struct.Struct("<QI?")
_SIZE = struct.Struct("<Q")

_SHARED_FROM = 200_000
"""Buffers of so many bytes together go through shared memory."""

_ARRAYS = frozenset(
    {
        "numpy",
        "numpy._core.multiarray",
        "numpy._core.numeric",
        "numpy.core.multiarray",
        "numpy.core.numeric",
    }
)
_ARRAY_NAMES = frozenset({"_frombuffer", "_reconstruct", "dtype", "ndarray", "scalar"})
_PLAIN = frozenset(
    ("datetime", name) for name in ("date", "datetime", "time", "timedelta", "timezone")
)


class _OwnOnly(pickle.Unpickler):
    """Takes arrays, plain values and the classes of this program."""

    def find_class(self, module: str, name: str) -> Any:  # noqa: ANN401 - as the base class says
        found = super().find_class
        if module in _ARRAYS and name in _ARRAY_NAMES:
            return found(module, name)
        if (module, name) in _PLAIN:
            return found(module, name)
        if module.startswith("pitjournal."):
            one = found(module, name)
            if isinstance(one, type):
                return one
        raise pickle.UnpicklingError(f"{module}.{name} is not taken from another process")


@dataclass(frozen=True)
class Wire:
    """One direction of a connection.

    Attributes
    ----------
    pipe
        The pipe's end.
    shared
        The way for large buffers, or None where the system has no such thing.
    """

    pipe: io.FileIO
    shared: Shared | None

    def send(self, message: object) -> None:
        """Send a message.

        Raises
        ------
        OSError
            If the other end is gone.
        """
        beside: list[pickle.PickleBuffer] = []
        main = pickle.dumps(message, protocol=5, buffer_callback=beside.append)
        raw = [buffer.raw() for buffer in beside]
        sizes = b"".join(_SIZE.pack(one.nbytes) for one in raw)
        shared = self.shared if sum(one.nbytes for one in raw) >= _SHARED_FROM else None
        head = _HEAD.pack(len(main), len(raw), shared is not None)
        if shared is not None:
            shared.put(raw)
            raw = []
        self._write([head, sizes, main, *raw])

    def receive(self, *, own_only: bool) -> Any:  # noqa: ANN401 - whatever was sent
        """Receive a message.

        Parameters
        ----------
        own_only
            Take nothing but records of this program, arrays and plain values.

        Raises
        ------
        ClosedWireError
            If the other end is gone.
        """
        length, count, shared = _HEAD.unpack(self._read(_HEAD.size))
        sizes = [_SIZE.unpack(self._read(_SIZE.size))[0] for _ in range(count)]
        main = self._read(length)
        beside: Sequence[bytes | bytearray | memoryview]
        if shared and self.shared is not None:
            beside = self.shared.take(sizes)
        else:
            beside = [self._read(size) for size in sizes]
        if own_only:
            return _OwnOnly(io.BytesIO(main), buffers=beside).load()
        return pickle.loads(main, buffers=beside)  # noqa: S301 - from the program to its own reader

    def _write(self, parts: Iterable[bytes | memoryview]) -> None:
        for part in parts:
            left = memoryview(part).cast("B")
            while left:
                left = left[self.pipe.write(left) or 0 :]

    def _read(self, size: int) -> bytearray:
        found = bytearray(size)
        left = memoryview(found)
        while left:
            count = self.pipe.readinto(left)
            if not count:
                raise ClosedWireError
            left = left[count:]
        return found
