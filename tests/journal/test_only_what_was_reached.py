"""Probe files and readings by hand, through the journal's own door: nothing is reached by chance.

End points: FDA Food Code 2017/2022 3-401.11. How a probe lies about in a pit's air: common
practice, no source.
"""

import math
from collections.abc import Callable, Sequence
from datetime import timedelta

import pytest

from pitjournal.domain.cook import Arm
from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.trace import Sits
from pitjournal.files.probe_log import read_probe_log
from pitjournal.journal import Journal
from pitjournal.journal.attaching import Placement, attach_probe_log
from pitjournal.journal.commands.bench import CheckDoneness, LogEvent
from pitjournal.journal.commands.records import AddCook
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook, an_event

OFF = 180
Meat = Callable[[float], float]


def climb(top: float) -> Meat:
    """Return °F by minutes after on: a straight rise from 40."""
    return lambda minute: 40.0 + (top - 40.0) * minute / OFF


def after(start: float, degrees: float, meat: Meat) -> Meat:
    return lambda minute: degrees if minute >= start else meat(minute)


def once(at: float, degrees: float, meat: Meat) -> Meat:
    return lambda minute: degrees if abs(minute - at) < 1e-6 else meat(minute)


def air(minute: float) -> float:
    """Return the air of a pit at 250 °F, that goes up and down a little."""
    return 250.0 + 4.0 * math.sin(2 * math.pi * minute / 25)


def catching(minute: float) -> float:
    """Return the air of a cold cooker that catches slowly: it warms in an S."""
    return 68.0 + 142.0 / (1.0 + math.exp(-(minute - 70.0) / 15.0))


def cooked(
    journal: Journal,
    cut: str,
    *probes: Meat,
    step: float = 60.0,
    probed: Sequence[tuple[float, float]] = (),
    arm: str = "one",
    pit: bool = True,
) -> dict[str, str]:
    """Cook one piece with these probes in it, and one in the pit's air where `pit` says so.

    Return each fact with its state, as Findings says.
    """
    cook = a_cook(title=cut)
    group = Arm(cook_id=cook.id, position=0, name=arm)
    piece = Piece(cook_id=cook.id, position=0, label="A1", cut=cut, arm_id=group.id)
    journal.do(AddCook(cook, (group, piece)))
    for kind, minutes in ((EventKind.ON, 0), (EventKind.OFF, OFF)):
        journal.do(LogEvent(an_event(cook.id, kind, minutes=minutes), f"Log {kind}"))
    for minute, degrees in probed:
        at = NOON + timedelta(minutes=minute)
        inside = (degrees - 32) / 1.8
        journal.do(
            CheckDoneness(DonenessCheck(cook_id=cook.id, piece_id=piece.id, at=at, internal=inside))
        )
    if probes:
        every = (*probes, air) if pit else probes
        heads = [f"Meat {n} (F)" for n in range(len(probes))] + ["Pit (F)"] * pit
        rows = [",".join(["Time", *heads])]
        for second in range(0, OFF * 60 + 1, int(step)):
            values = (f"{probe(second / 60):.2f}" for probe in every)
            moment = NOON + timedelta(seconds=second)
            rows.append(",".join([f"{moment:%Y-%m-%dT%H:%M:%SZ}", *values]))
        data = "\n".join([*rows, ""]).encode()
        log = read_probe_log(data, "log.csv")
        sits = {n: Placement(sits=Sits.MEAT, piece_id=piece.id) for n in range(len(probes))}
        if pit:
            sits[len(probes)] = Placement(sits=Sits.PIT)
        journal.do(attach_probe_log(journal, cook.id, data, "log.csv", log, sits))
    found = journal.findings.of(cook.id, UnitSystem.US)
    return {fact.fact: str(fact.state) for fact in found.safety}


def state(facts: dict[str, str], words: str) -> str:
    return next(said for fact, said in facts.items() if words in fact)


@pytest.mark.parametrize("step", [10.0, 60.0, 300.0])
@pytest.mark.parametrize("cut", ["chicken breast", "pork loin"])
def test_one_hot_reading_or_a_probe_in_the_pits_air_reaches_nothing(
    journal: Journal, step: float, cut: str
) -> None:
    meat = climb(120.0)
    for probe in (
        once(90, 167, meat),
        once(OFF, 185, meat),
        once(150, 400, meat),
        after(177, 250, meat),
        after(177, 190, meat),
        after(150, 225, meat),
    ):
        facts = cooked(journal, cut, probe, step=step)
        assert facts
        assert "reached" not in facts.values(), facts


@pytest.mark.parametrize("cut", ["chicken breast", "pork loin"])
def test_a_true_climb_is_reached_by_the_coldest_of_two_probes_and_of_the_hand(
    journal: Journal, cut: str
) -> None:
    both = cooked(journal, cut, climb(172.0), climb(170.0))
    assert state(both, "all through") == "reached"
    assert state(both, "published table") == "reached"
    for probes in ((climb(170.0), climb(120.0)), (climb(120.0), climb(170.0))):
        colder = cooked(journal, cut, *probes)
        assert state(colder, "all through") == "not reached"
        assert state(colder, "published table") == "not reached"
    by_hand = cooked(journal, cut, climb(170.0), probed=[(170, 120), (172, 120), (175, 120)])
    assert state(by_hand, "all through") == "not reached"
    assert state(by_hand, "published table") == "not reached"


def test_a_log_alone_cannot_be_told_from_air_and_says_what_was_missing(journal: Journal) -> None:
    for probe in (climb(172.0), catching):
        facts = cooked(journal, "chicken breast", probe, pit=False)
        assert "reached" not in facts.values(), facts
    facts = cooked(journal, "chicken breast", climb(172.0), pit=False)
    said = next(fact for fact in facts if "all through" in fact)
    assert "no probe in the pit's air, and none by hand at the end" in said
    borne_out = cooked(journal, "chicken breast", climb(172.0), pit=False, probed=[(178, 169)])
    assert state(borne_out, "all through") == "reached"


def test_readings_by_hand_of_another_day_are_no_hold(journal: Journal) -> None:
    for minutes in ((170, 3 * 24 * 60), (-300, 170), (30, 170), (170, 24 * 60)):
        facts = cooked(journal, "pork loin", probed=[(minute, 146) for minute in minutes])
        assert state(facts, "all through") == "unknown", minutes


@pytest.mark.parametrize("arm", ["one", "Injected"])
def test_two_readings_a_minute_apart_say_the_same_of_whole_and_injected_pork(
    journal: Journal, arm: str
) -> None:
    facts = cooked(journal, "pork loin", probed=[(169, 170), (170, 170)], arm=arm)
    assert state(facts, "all through") == "reached"
