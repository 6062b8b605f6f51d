"""A cook done again takes the plan along and leaves the day behind."""

from datetime import timedelta

from pitjournal.analysis.plan.again import again
from pitjournal.domain.cook import Arm, CookStatus
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import Treatment
from pitjournal.journal import Journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.records import AddCook
from tests.builders import NOON, add_comparison, an_event


def test_that_the_plan_comes_along_and_the_day_stays(journal: Journal) -> None:
    command = add_comparison()
    journal.do(command)
    journal.do(LogEvent(an_event(command.cook.id, "on"), "On"))
    old = journal.whole(command.cook.id)
    cook, parts = again(old, NOON + timedelta(days=7))
    journal.do(AddCook(cook, parts))
    new = journal.whole(cook.id)
    assert new.cook.number == old.cook.number + 1
    assert new.cook.status is CookStatus.PLANNED
    assert (new.cook.question, new.cook.outcome) == (old.cook.question, old.cook.outcome)
    assert [arm.name for arm in new.arms] == [arm.name for arm in old.arms]
    assert [p.label for p in new.pieces] == [p.label for p in old.pieces]
    assert [new.treatment_kind(p) for p in new.pieces] == [
        old.treatment_kind(p) for p in old.pieces
    ]
    assert not new.events
    for kind in (Arm, Piece, Treatment):
        ids = [record.id for record in journal.find(kind)]
        assert len(ids) == len(set(ids))
    assert len(old.events) == 1
