"""Where pieces lie in the cooker, row by row from the back."""

from pitjournal.domain.cook import Arm
from pitjournal.domain.cooker_rows import rows_of, slot_map
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.whole_cook import WholeCook
from tests.builders import a_cook

COOK = a_cook()


def laid(*slots: str, arms: int = 0, **details: object) -> list[tuple[str, str]]:
    """Return the name and the slots of each row."""
    pieces = tuple(
        Piece(cook_id=COOK.id, position=place, label=str(place), cut="ribs", slot=slot)
        for place, slot in enumerate(slots)
    )
    cooker = ShelfItem(kind=ShelfKind.COOKER, name="drum", details=details)
    made = tuple(Arm(cook_id=COOK.id, position=n, name=str(n)) for n in range(arms))
    rows = rows_of(WholeCook(cook=COOK, cooker=cooker, pieces=pieces, arms=made))
    return [(row.name, " ".join(piece.slot for piece in row.pieces)) for row in rows]


def test_that_numbered_slots_lie_side_by_side_as_the_cooker_says() -> None:
    assert laid("4", "1", "10", "2", across="2") == [("shelf 1", "1 2"), ("shelf 2", "4 10")]
    assert laid("1", "2", "3", across="4") == [("", "1 2 3")]


def test_that_a_cooker_that_says_nothing_has_a_block_a_shelf_else_three() -> None:
    assert laid(*"1234", arms=2) == [("shelf 1", "1 2"), ("shelf 2", "3 4")]
    assert laid(*"1234") == [("shelf 1", "1 2 3"), ("shelf 2", "4")]
    assert laid(*"1234", across="0") == laid(*"1234")


def test_that_no_more_than_six_lie_side_by_side() -> None:
    assert laid(*"1234567", across="9") == [("shelf 1", "1 2 3 4 5 6"), ("shelf 2", "7")]


def test_that_named_shelves_come_after_with_four_across_and_one_name() -> None:
    assert laid("1", *["top"] * 5, "") == [
        ("", "1"),
        ("top", "top top top top"),
        ("", "top"),
        ("no slot", ""),
    ]


def mapped(*slots: str, **details: object) -> list[str]:
    """Return each shelf with the labels in its slots, a dot for an empty one."""
    pieces = tuple(
        Piece(cook_id=COOK.id, position=place, label=str(place), cut="ribs", slot=slot)
        for place, slot in enumerate(slots)
    )
    cooker = ShelfItem(kind=ShelfKind.COOKER, name="drum", details=details)
    found = slot_map(WholeCook(cook=COOK, cooker=cooker, pieces=pieces))
    return ["".join("." if piece is None else piece.label for piece in row) for row in found]


def test_that_a_piece_stands_in_its_own_slot_and_empty_ones_stay_empty() -> None:
    assert mapped("5", "1", slots="6", across="3") == ["1..", ".0."]
    assert mapped("4", slots="5", across="3") == ["...", "0."]


def test_that_there_is_no_map_where_slots_are_not_known_or_hold_two() -> None:
    assert mapped("1", slots="6") == []
    assert mapped("1", "1", slots="6", across="3") == []
    assert mapped("7", slots="6", across="3") == []
    assert mapped("top", slots="6", across="3") == []
