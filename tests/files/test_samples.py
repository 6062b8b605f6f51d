"""Kept readings come back as they were, with where their least and most lie."""

import json

import numpy as np
import pytest
import zstandard

from pitjournal.domain.extremes import levels_of, unpacked
from pitjournal.domain.samples import Samples
from pitjournal.errors import JournalError
from pitjournal.files.samples import pack, unpack

TIMES = np.array([1_773_525_000.0 + 1.25 * row for row in range(1000)])
VALUES = (110.0 + 9.0 * np.sin(np.arange(1000) / 7.0)).astype(np.float32)


def test_that_readings_and_their_levels_come_back() -> None:
    found = unpack(pack(Samples(TIMES, VALUES)))
    assert np.array_equal(found.times, TIMES)
    assert np.array_equal(found.values, VALUES)
    for one, other in zip(unpacked(1000, found.levels), levels_of(VALUES), strict=True):
        assert np.array_equal(one, other)


def test_that_readings_kept_without_levels_are_read() -> None:
    stamps = np.rint(TIMES * 1000.0).astype("<i8")
    body = np.diff(stamps, prepend=np.int64(0)).astype("<i8").tobytes() + VALUES.tobytes()
    head = json.dumps({"count": 1000}).encode()
    found = unpack(b"PITSAMPLES1\n" + head + b"\n" + zstandard.ZstdCompressor().compress(body))
    assert np.array_equal(found.times, TIMES)
    assert np.array_equal(found.values, VALUES)
    assert not found.levels


@pytest.mark.parametrize("cut", [1, 5, 100])
def test_that_readings_cut_short_are_said_to_be_damaged(cut: int) -> None:
    whole = pack(Samples(TIMES, VALUES))
    with pytest.raises(JournalError, match="damaged"):
        unpack(whole[:-cut])
    with pytest.raises(JournalError, match="damaged"):
        unpack(b"PITSAMPLES3" + whole[11:])
    with pytest.raises(JournalError, match="damaged"):
        unpack(whole.replace(b'"count": 1000', b'"count": 1001'))
