"""Whatever is packed comes back; blocks are cut and joined like lists of cooks."""

import struct
from collections.abc import Mapping

from hypothesis import given
from hypothesis import strategies as st

from pitjournal.domain.blocks import (
    COOK,
    PIECE,
    Block,
    Value,
    block_of,
    joined,
    values_in,
)

VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(max_size=4),
    st.sampled_from(["brisket", "back ribs", "yes"]),
)
LINE = st.dictionaries(st.sampled_from(["cut", "mass", "frozen", "note"]), VALUES)
COOKS = st.lists(
    st.tuples(LINE, st.dictionaries(st.sampled_from("abcd"), LINE, max_size=3)), max_size=5
)

Cooks = list[tuple[dict[str, Value], dict[str, dict[str, Value]]]]


def packed(cooks: Cooks) -> Block:
    return joined([block_of(f"c{n}", *values) for n, values in enumerate(cooks)])


def known(line: Mapping[str, Value]) -> dict[str, tuple[type, Value]]:
    """Return what is known; True is not 1 here."""
    return {key: (type(value), value) for key, value in line.items() if value is not None}


def plain(block: Block) -> dict[str, object]:
    return {
        cook_id: (known(cook), {piece: known(line) for piece, line in pieces.items()})
        for cook_id, (cook, pieces) in values_in(block).items()
    }


def wanted(cooks: Cooks, places: list[int]) -> dict[str, object]:
    return {
        f"c{n}": (known(cooks[n][0]), {piece: known(line) for piece, line in cooks[n][1].items()})
        for n in places
    }


@given(cooks=COOKS)
def test_that_what_is_packed_comes_back(cooks: Cooks) -> None:
    assert plain(packed(cooks)) == wanted(cooks, list(range(len(cooks))))


@given(cooks=COOKS, fresh=st.tuples(LINE, st.dictionaries(st.sampled_from("abcd"), LINE)))
def test_that_a_cook_is_replaced_and_taken_out(
    cooks: Cooks, fresh: tuple[dict[str, Value], dict[str, dict[str, Value]]]
) -> None:
    block = packed(cooks)
    for place in range(len(cooks)):
        rest = [n for n in range(len(cooks)) if n != place]
        assert plain(block.without(f"c{place}")) == wanted(cooks, rest)
        changed = [*cooks[:place], fresh, *cooks[place + 1 :]]
        replaced = block.with_cook(block_of(f"c{place}", *fresh))
        assert plain(replaced) == wanted(changed, list(range(len(cooks))))
        assert replaced.cooks == block.cooks
    assert block.without("nobody") is block


@given(cooks=COOKS)
def test_that_a_column_has_no_name_that_no_line_has(cooks: Cooks) -> None:
    for column in packed(cooks).part(0, len(cooks) // 2).columns.values():
        assert isinstance(column.names, tuple)
    half = joined([packed(cooks).part(0, len(cooks) // 2)])
    for column in half.columns.values():
        codes = set(struct.unpack(f"<{len(column.codes) // 4}i", column.codes)) - {-1}
        assert codes == set(range(len(column.names)))


def test_that_numbers_are_little_endian_doubles_and_unknown_is_not_a_number() -> None:
    # IEEE 754: 1.0 is 3FF0 0000 0000 0000; a quiet NaN has its exponent all ones.
    block = block_of("c", {}, {"a": {"mass": 1.0}, "b": {}})
    numbers = block.columns[PIECE, "mass"].numbers
    assert numbers[:8] == bytes.fromhex("000000000000f03f")
    assert numbers[15] & 0x7F == 0x7F
    assert (COOK, "mass") not in block.columns
    assert block.head.pieces == (2,)
    assert block_of("c", {}, {}).counts == (1,)
