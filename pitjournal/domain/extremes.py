"""Where the least and the most of a long line lie, block over block.

Level n knows, for each block of 2ⁿ values, which is the least and which the most. Each is one
of the two of the level below, so that a single bit a block tells it: whether it is the second.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

Places = NDArray[np.int32]
Levels = tuple[tuple[Places, Places], ...]

LEAST_BLOCKS = 16
"""No level is made of fewer blocks."""


def levels_of(values: NDArray[np.floating]) -> Levels:
    """Return the levels of values, the finest first.

    Parameters
    ----------
    values
        Shape (n,); NaN where there is none, which is neither least nor most of a block that has
        any other.
    """
    levels: list[tuple[Places, Places]] = []
    least = most = np.arange(values.size, dtype=np.int32)
    while least.size > LEAST_BLOCKS:
        least, most = _fold(values, least, -1.0), _fold(values, most, 1.0)
        levels.append((least, most))
    return tuple(levels)


def _fold(values: NDArray[np.floating], kept: Places, sign: float) -> Places:
    """Return, of each two kept places, the one whose value is further out."""
    first, second = _halves(kept)
    one, other = sign * values[first], sign * values[second]
    return _with_rest(np.where((other > one) | np.isnan(one), second, first), kept)


def _halves(kept: Places) -> tuple[Places, Places]:
    even = kept.size // 2 * 2
    return kept[0:even:2], kept[1:even:2]


def _with_rest(further: Places, kept: Places) -> Places:
    return np.append(further, kept[-1]) if kept.size % 2 else further


def packed(count: int, levels: Levels) -> bytes:
    """Return the levels of so many values as bits."""
    parts = []
    below = (np.arange(count, dtype=np.int32),) * 2
    for level in levels:
        for kept, further in zip(below, level, strict=True):
            _, second = _halves(kept)
            parts.append(np.packbits(further[: second.size] == second).tobytes())
        below = level
    return b"".join(parts)


def _sizes(count: int) -> Iterator[int]:
    """Return how many pairs each level is made of."""
    while count > LEAST_BLOCKS:
        yield count // 2
        count = (count + 1) // 2


def packed_size(count: int) -> int:
    """Return how many bytes the packed levels of so many values have."""
    return sum(2 * ((pairs + 7) // 8) for pairs in _sizes(count))


def unpacked(count: int, bits: bytes) -> Levels:
    """Return the levels of so many values that `packed` wrote.

    Raises
    ------
    ValueError
        If there are more or fewer bits than they have.
    """
    if len(bits) != packed_size(count):
        raise ValueError(f"{len(bits)} bytes of levels for {count} values")
    levels: list[tuple[Places, Places]] = []
    least = most = np.arange(count, dtype=np.int32)
    place = 0
    for pairs in _sizes(count):
        size, found = (pairs + 7) // 8, []
        for kept in (least, most):
            first, second = _halves(kept)
            turns = np.frombuffer(bits, dtype=np.uint8, count=size, offset=place)
            turned = np.unpackbits(turns, count=pairs).view(np.bool_)
            found.append(_with_rest(np.where(turned, second, first), kept))
            place += size
        least, most = found
        levels.append((least, most))
    return tuple(levels)
