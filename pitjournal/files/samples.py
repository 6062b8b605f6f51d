"""A trace's samples as bytes: compressed, to the millisecond and a thirty-second bit float."""

import json

import numpy as np
import zstandard

from pitjournal.domain.samples import Samples
from pitjournal.errors import JournalError

_MAGIC = b"PITSAMPLES1\n"


def pack(samples: Samples) -> bytes:
    """Return the samples as bytes: times as differences of whole milliseconds, zstd."""
    stamps = np.rint(samples.times * 1000.0).astype(np.int64)
    steps = np.diff(stamps, prepend=np.int64(0)).astype("<i8")
    head = json.dumps({"count": int(stamps.size)}).encode() + b"\n"
    body = steps.tobytes() + samples.values.astype("<f4").tobytes()
    return _MAGIC + head + zstandard.ZstdCompressor(level=6).compress(body)


def unpack(data: bytes) -> Samples:
    """Return the samples that `pack` wrote.

    Raises
    ------
    JournalError
        If the bytes are something else.
    """
    damaged = JournalError("The kept readings of a trace are damaged.", "Attach the file again.")
    head, _, body = data.removeprefix(_MAGIC).partition(b"\n")
    try:
        count = int(json.loads(head)["count"])
        raw = zstandard.ZstdDecompressor().decompress(body)
    except (ValueError, KeyError, zstandard.ZstdError) as error:
        raise damaged from error
    if not data.startswith(_MAGIC) or len(raw) != 12 * count:
        raise damaged
    stamps = np.cumsum(np.frombuffer(raw[: 8 * count], dtype="<i8"))
    values = np.frombuffer(raw[8 * count :], dtype="<f4").astype(np.float32)
    return Samples(stamps / 1000.0, values)
