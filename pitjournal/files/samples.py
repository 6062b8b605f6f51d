"""A trace's samples as bytes: compressed, to the millisecond and a 32-bit float, with levels.

The levels say where the least and the most of each block lie, so that a long trace is drawn
without a search for them.
"""

import json

import numpy as np
import zstandard

from pitjournal.domain.extremes import levels_of, packed, packed_size
from pitjournal.domain.samples import Samples
from pitjournal.errors import JournalError

_MAGIC = b"PITSAMPLES2\n"
_WITHOUT_LEVELS = b"PITSAMPLES1\n"


def pack(samples: Samples) -> bytes:
    """Return the samples as bytes: times as differences of whole milliseconds, levels, zstd."""
    stamps = np.rint(samples.times * 1000.0).astype(np.int64)
    steps = np.diff(stamps, prepend=np.int64(0)).astype("<i8")
    head = json.dumps({"count": int(stamps.size)}).encode() + b"\n"
    values = samples.values.astype("<f4")
    levels = packed(values.size, levels_of(values))
    body = steps.tobytes() + values.tobytes() + levels
    return _MAGIC + head + zstandard.ZstdCompressor(level=6).compress(body)


def unpack(data: bytes) -> Samples:
    """Return the samples that `pack` wrote.

    Raises
    ------
    JournalError
        If the bytes are something else.
    """
    damaged = JournalError("The kept readings of a trace are damaged.", "Attach the file again.")
    mark = next((mark for mark in (_MAGIC, _WITHOUT_LEVELS) if data.startswith(mark)), None)
    if mark is None:
        raise damaged
    head, _, body = data.removeprefix(mark).partition(b"\n")
    try:
        count = int(json.loads(head)["count"])
        raw = zstandard.ZstdDecompressor().decompress(body)
    except (ValueError, KeyError, zstandard.ZstdError) as error:
        raise damaged from error
    levels = raw[12 * count :]
    if len(raw) < 12 * count or len(levels) != (packed_size(count) if mark == _MAGIC else 0):
        raise damaged
    stamps = np.cumsum(np.frombuffer(raw[: 8 * count], dtype="<i8"))
    values = np.frombuffer(raw[8 * count : 12 * count], dtype="<f4").astype(np.float32)
    return Samples(stamps / 1000.0, values, levels)
