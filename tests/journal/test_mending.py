"""Mend what is odd in a log with one tap: then it is odd no more, and undo brings it back."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.domain.log_checks import Mend, oddities
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.bench import CheckDoneness, LogEvent
from pitjournal.journal.log_repairs import repair_of
from tests.builders import NOON, add_comparison, an_event

NOW = NOON + timedelta(hours=2)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    made = open_journal(tmp_path / "journal", new=True)
    yield made
    made.close()


def odd_events(cook_id: str, pieces: tuple[str, ...]) -> dict[Mend, list[Event]]:
    """Return logs that are odd, by what mends them."""
    first, second = pieces[:1], pieces[:2]
    on, off = (
        an_event(cook_id, kind, minutes=m, pieces=first) for kind, m in (("on", 0), ("off", 60))
    )
    planned = replace(
        an_event(cook_id, "wrap", pieces=first),
        happened_at=None,
        planned_at=NOON - timedelta(hours=1),
    )
    return {
        Mend.REMOVE: [on, off, an_event(cook_id, "off", minutes=70, pieces=first)],
        Mend.NARROW: [on, an_event(cook_id, "wrap", minutes=30, pieces=second)],
        Mend.MOVE: [on, an_event(cook_id, "flip", minutes=-30, pieces=first)],
        Mend.LOG_ON: [an_event(cook_id, "flip", minutes=30, pieces=first)],
        Mend.HAPPENED: [
            an_event(cook_id, "on", minutes=-90, pieces=first),
            planned,
        ],
    }


@pytest.mark.parametrize("mend", list(Mend))
def test_that_one_tap_mends_it_and_undo_brings_it_back(journal: Journal, mend: Mend) -> None:
    command = add_comparison()
    journal.do(command)
    cook_id = command.cook.id
    pieces = tuple(piece.id for piece in journal.whole(cook_id).pieces)
    for event in odd_events(cook_id, pieces)[mend]:
        journal.do(LogEvent(event, "Log"))
    before = journal.whole(cook_id)
    odd = oddities(before, NOW)
    assert [one.mend for one in odd] == [mend]
    journal.do(repair_of(odd[0], NOW))
    assert not oddities(journal.whole(cook_id), NOW)
    journal.undo()
    assert journal.whole(cook_id).events == before.events


def test_that_a_probe_in_the_future_is_made_now(journal: Journal) -> None:
    command = add_comparison()
    journal.do(command)
    piece = journal.whole(command.cook.id).pieces[0]
    ahead = NOW + timedelta(hours=12)  # pm for am
    check = DonenessCheck(cook_id=piece.cook_id, piece_id=piece.id, at=ahead, feel=4)
    journal.do(CheckDoneness(check))
    odd = oddities(journal.whole(piece.cook_id), NOW)
    journal.do(repair_of(odd[0], NOW))
    assert journal.find(DonenessCheck)[0].at == NOW
