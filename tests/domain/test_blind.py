"""What is shown to one who must not know which arm is which."""

from dataclasses import replace

import pytest

from pitjournal.domain.blind import numbered, without_arms
from pitjournal.domain.cook import Arm
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from tests.builders import a_cook, an_event

COOK = a_cook()
PLAIN, DONE = (
    Arm(cook_id=COOK.id, position=place, name=name, control=place == 0)
    for place, name in enumerate(("Control", "Other"))
)


def racks(*slots: str, turns: str = "CICI") -> tuple[Piece, ...]:
    """Return racks in slots, by turns of the control (C) and the injected arm (I)."""
    return tuple(
        Piece(
            cook_id=COOK.id,
            position=place,
            label=f"{arm}{place}",
            cut="back ribs",
            arm_id=PLAIN.id if arm == "C" else DONE.id,
            slot=slot,
        )
        for place, (slot, arm) in enumerate(zip(slots, turns, strict=True))
    )


def whole_of(
    pieces: tuple[Piece, ...], *treatments: Treatment, events: tuple[Event, ...] = ()
) -> WholeCook:
    arms = (PLAIN, DONE)
    return WholeCook(cook=COOK, arms=arms, pieces=pieces, treatments=treatments, events=events)


def test_that_slots_of_their_own_number_the_pieces() -> None:
    pieces = racks("4", "02", "3", "1")
    assert list(numbered(pieces).values()) == ["4", "2", "3", "1"]
    blind = without_arms(whole_of(pieces))
    assert [piece.label for piece in blind.pieces] == ["1", "2", "3", "4"]
    assert {piece.arm_id for piece in blind.pieces} == {None}
    assert blind.arms == ()


def test_that_named_shelves_follow_the_plan_unless_that_goes_arm_by_arm() -> None:
    mixed = racks("top", "top", "low", "low")
    assert list(numbered(mixed).values()) == ["1", "2", "3", "4"]
    apart = racks("top", "top", "low", "low", turns="CCII")
    found = numbered(apart)
    assert sorted(found.values()) == ["1", "2", "3", "4"]
    assert found == numbered(apart[::-1])  # by lot, and always the same


def test_that_a_cook_without_arms_keeps_its_labels() -> None:
    pieces = tuple(replace(piece, arm_id=None) for piece in racks("1", "2", "3", "4"))
    alone = WholeCook(cook=COOK, pieces=pieces)
    assert [piece.label for piece in without_arms(alone).pieces] == ["C0", "I1", "C2", "I3"]


@pytest.mark.parametrize("kind", [TreatmentKind.INJECTED, TreatmentKind.NEEDLED])
def test_that_what_protects_someone_is_shown_of_every_piece(kind: TreatmentKind) -> None:
    pieces = racks("1", "2", "3", "4")
    blind = without_arms(whole_of(pieces, Treatment(cook_id=COOK.id, kind=kind, arm_id=DONE.id)))
    shown = [one for one in blind.treatments if one.kind is kind]
    assert {one.piece_id for one in shown} == {piece.id for piece in pieces}
    assert {one.arm_id for one in blind.treatments} == {None}


def test_that_a_marinade_is_hidden() -> None:
    marinade = Treatment(cook_id=COOK.id, kind=TreatmentKind.MARINATED, arm_id=DONE.id)
    assert without_arms(whole_of(racks("1", "2", "3", "4"), marinade)).treatments == ()


def test_that_work_on_some_before_the_fire_is_left_out_and_all_else_stays() -> None:
    pieces = racks("1", "2", "3", "4")
    ids = [piece.id for piece in pieces]
    some = an_event(COOK.id, "inject", minutes=-60, pieces=ids[1:2])
    every = an_event(COOK.id, "rub", minutes=-30, pieces=ids)
    on = an_event(COOK.id, EventKind.ON, minutes=0, pieces=ids[:2])
    wrap = an_event(COOK.id, EventKind.WRAP, minutes=120, pieces=ids[1:2])
    planned = replace(some, id="planned", happened_at=None, planned_at=some.happened_at)
    blind = without_arms(whole_of(pieces, events=(some, every, on, wrap, planned)))
    assert blind.events == (every, on, wrap, planned)
