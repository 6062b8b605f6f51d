"""Schemes on the Shelf: versions, and what has been used stays."""

from dataclasses import replace

import pytest

from pitjournal.domain.scheme import Criterion, Scheme
from pitjournal.domain.tasting import Tasting
from pitjournal.errors import JournalError
from pitjournal.files.schemes import shipped
from pitjournal.journal import Journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.schemes import (
    AddScheme,
    ChangeScheme,
    RemoveScheme,
    RetireScheme,
    new_version,
)
from tests.builders import add_comparison

BARK = Criterion(name="bark", low=0, high=10)


def own(journal: Journal) -> Scheme:
    journal.do(new_version(shipped("home-panel-1")))
    return journal.find(Scheme)[-1]


def test_that_a_change_of_a_scheme_of_the_program_is_a_new_version(journal: Journal) -> None:
    with pytest.raises(JournalError, match="comes with the program"):
        journal.do(ChangeScheme("home-panel-1", fields={"note": "mine"}, what="note"))
    made = own(journal)
    assert (made.name, made.version, made.reads) == (
        "home panel",
        2,
        shipped("home-panel-1").reads,
    )
    assert made in journal.shelf.schemes()
    assert shipped("home-panel-1") in journal.shelf.schemes()


def test_that_a_scheme_nobody_used_can_be_changed(journal: Journal) -> None:
    made = own(journal)
    rules = made.reads.only(("flavour",))
    journal.do(ChangeScheme(made.id, rules))
    journal.do(ChangeScheme(made.id, fields={"name": "Sunday panel"}, what="name"))
    (after,) = journal.find(Scheme)
    assert after.reads.names == ("flavour",)
    assert after.title == "Sunday panel, version 1"
    with pytest.raises(JournalError, match="needs something to score"):
        journal.do(ChangeScheme(made.id, rules.only(())))
    with pytest.raises(JournalError, match="needs a name"):
        journal.do(ChangeScheme(made.id, fields={"name": " "}, what="name"))


def test_that_a_scheme_once_used_stays_as_it_is(journal: Journal) -> None:
    made, cook = own(journal), add_comparison()
    journal.do(cook)
    journal.do(DrawTasting(cook.cook.id, ("Ada",), 1, made))
    for command in (
        ChangeScheme(made.id, made.reads.only(("flavour",))),
        ChangeScheme(made.id, fields={"note": "x"}, what="note"),
        RemoveScheme(made.id),
    ):
        with pytest.raises(JournalError, match="version 2 was used, so it stays"):
            journal.do(command)
    journal.do(RetireScheme(made.id, retired=True))
    journal.do(new_version(made))
    newest = journal.find(Scheme)[-1]
    assert newest.version == 3
    journal.do(ChangeScheme(newest.id, newest.reads.only(("flavour",))))
    (session,) = journal.find(Tasting)
    assert session.asked == made.reads


def test_that_a_scheme_of_ones_own_starts_at_one(journal: Journal) -> None:
    rules = shipped("home-panel-1").reads
    fresh = Scheme(name="bark", rules={**rules.as_map(), "criteria": [{"name": "bark"}]})
    journal.do(AddScheme(fresh))
    journal.do(AddScheme(Scheme(name="Bark", rules=fresh.rules)))
    assert [scheme.version for scheme in journal.find(Scheme)] == [1, 2]
    with pytest.raises(JournalError, match="needs a name"):
        journal.do(AddScheme(Scheme(name="", rules=fresh.rules)))
    with pytest.raises(JournalError, match="something to score"):
        journal.do(AddScheme(Scheme(name="empty")))
    journal.do(RemoveScheme(journal.find(Scheme)[0].id))
    assert len(journal.find(Scheme)) == 1


def test_that_a_total_can_be_declared_before_it_was_ever_scored(journal: Journal) -> None:
    catalogue = journal.catalogue()
    assert catalogue["score.total (contest)"].label == "total (contest)"
    assert [key for key in catalogue if key.startswith("score.total")] == ["score.total (contest)"]
    rules = replace(shipped("contest-2").reads, judges=4)
    journal.do(AddScheme(Scheme(name="club", rules=rules.as_map())))
    assert "score.total (club)" in journal.catalogue()
