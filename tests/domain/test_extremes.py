"""Levels of a long line against NumPy's own least and most of each block."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.domain.extremes import levels_of, packed, packed_size, unpacked

LINES = st.lists(st.floats(-100.0, 400.0, width=32), max_size=700)


@given(LINES)
def test_that_each_block_has_its_least_and_its_most(line: list[float]) -> None:
    values = np.array(line, dtype=np.float32)
    for number, (least, most) in enumerate(levels_of(values), 1):
        starts = np.arange(0, values.size, 2**number)
        assert (values[least] == np.minimum.reduceat(values, starts)).all()
        assert (values[most] == np.maximum.reduceat(values, starts)).all()


@given(LINES)
def test_that_bits_give_the_levels_back(line: list[float]) -> None:
    values = np.array(line, dtype=np.float32)
    levels = levels_of(values)
    bits = packed(values.size, levels)
    assert len(bits) == packed_size(values.size)
    again = unpacked(values.size, bits)
    assert len(again) == len(levels)
    for one, other in zip(levels, again, strict=True):
        assert np.array_equal(one, other)


def test_that_bits_of_another_length_are_refused() -> None:
    with pytest.raises(ValueError, match="600 values"):
        unpacked(600, b"\0" * (packed_size(600) - 1))
    # Two bits a pair: 300, 150, 75, 37, 19 and 9 pairs fill 38, 19, 10, 5, 3 and 2 bytes.
    assert packed_size(600) == 2 * (38 + 19 + 10 + 5 + 3 + 2)
