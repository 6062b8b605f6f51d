"""A quantity that cannot be is refused when it is changed; what was kept once stays mendable."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.journal import Journal
from pitjournal.journal.commands.records import AddCook, Change

COOK = Cook(number=0, title="Ribs", starts_at=datetime(2026, 5, 2, 14, tzinfo=UTC), zone="UTC")


def test_that_a_change_to_what_cannot_be_is_refused_and_keeps_what_was(journal: Journal) -> None:
    journal.do(AddCook(replace(COOK, set_point=107.0)))
    why = r"A pit cannot be more than 1022 °F \(550 °C\)\."
    with pytest.raises(JournalError, match=why):
        journal.do(Change(Cook, COOK.id, {"set_point": 1232.0, "note": "hot"}))
    (kept,) = journal.find(Cook)
    assert (kept.set_point, kept.note) == (107.0, "")


def test_that_a_cook_brought_along_with_one_can_be_mended_in_other_things(
    journal: Journal,
) -> None:
    journal.do(AddCook(replace(COOK, humidity=5.5)))
    journal.do(Change(Cook, COOK.id, {"note": "humid", "humidity": 5.5}))
    assert journal.find(Cook)[0].note == "humid"
    journal.do(Change(Cook, COOK.id, {"humidity": 0.55}))
    journal.do(Change(Cook, COOK.id, {"humidity": None}))
    assert journal.find(Cook)[0].humidity is None
