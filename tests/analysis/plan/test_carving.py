"""What each piece gives: thighs whole, ribs and brisket sliced, butts pulled (common practice)."""

from dataclasses import replace

from pitjournal.analysis.plan.carving import carved, carving
from pitjournal.domain.piece import Stage, Weighing
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.analysis.plan.test_contest_day import contest_day, worked_out
from tests.builders import a_cook


def lines(whole: WholeCook) -> tuple[str, ...]:
    return carving(whole, UnitSystem.US).lines


def test_that_meat_is_carved_in_the_order_of_the_day_as_its_cut_is_served() -> None:
    groups = carved(worked_out(contest_day()))
    # By hand: boxed from 11:40; sliced from 11:58; pulled from 12:30; sliced from 13:00.
    assert [(one.name, one.served) for one in groups] == [
        ("chicken", "whole"),
        ("ribs", "sliced"),
        ("pork", "pulled"),
        ("brisket", "sliced"),
    ]
    said = lines(worked_out(contest_day()))
    assert "Pork: pull it, from 12:30; box due 13:00" in said
    assert "Ribs: slice it, from 11:58; box due 12:30" in said
    assert "Pork: no piece is chosen for the box yet, so take the best" in said


def test_that_pieces_for_the_box_come_first_in_their_turn_with_what_they_give() -> None:
    whole = worked_out(contest_day())
    chosen = {"R3": (1, "six ribs"), "R1": (2, "")}
    pieces = tuple(
        replace(p, box=chosen[p.label][0], gives=chosen[p.label][1]) if p.label in chosen else p
        for p in whole.pieces
    )
    heavy = next(p for p in pieces if p.label == "R2")
    mass = Weighing(cook_id=whole.cook.id, piece_id=heavy.id, stage=Stage.OFF, mass=907.18474)
    said = lines(replace(whole, pieces=pieces, weighings=(mass,)))
    ribs = [line for line in said if "back ribs" in line]
    assert ribs == [
        "R3, back ribs: number 1 into the box, six ribs",
        "R1, back ribs: number 2 into the box",
        "R2, back ribs: not for the box, 2 lb off",
    ]


def test_that_a_cook_without_a_contest_is_carved_by_cut() -> None:
    whole = contest_day()
    home = replace(whole, cook=a_cook(), turn_ins=())
    said = lines(home)
    assert [line for line in said if ":" in line and "," not in line.split(":")[0]] == [
        "Chicken thighs: leave it whole",
        "Back ribs: slice it",
        "Pork butt: pull it",
        "Brisket: slice it",
    ]
