"""What the bench's commands keep, refuse and undo, without a window."""

from collections.abc import Mapping
from datetime import timedelta

import pytest

from pitjournal.domain.alarm import Alarm, AlarmKind
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.shelf import SavedQuestion, ShelfItem, ShelfKind
from pitjournal.errors import JournalError
from pitjournal.journal import Journal
from pitjournal.journal.commands.bench import (
    CheckDoneness,
    CorrectCheck,
    FinishAlarms,
    HearAlarms,
    PutOffAlarms,
    SetAlarms,
    Weigh,
)
from pitjournal.journal.commands.questions import MoveQuestion, SaveQuestion
from pitjournal.journal.commands.shelf import KeepOnShelf
from tests.builders import NOON, add_comparison

LATER = NOON + timedelta(hours=1)


@pytest.fixture
def piece(journal: Journal) -> Piece:
    command = add_comparison()
    journal.do(command)
    return journal.whole(command.cook.id).pieces[0]


def an_alarm(piece: Piece, kind: AlarmKind, **fields: object) -> Alarm:
    known: dict[str, object] = {"cook_id": piece.cook_id, "kind": kind, "words": "x"}
    return Alarm(set_at=NOON, **known, **fields)  # type: ignore[arg-type] # records by name


def test_that_an_alarm_is_heard_done_and_put_off_by_what_was_due(
    journal: Journal, piece: Piece
) -> None:
    alarm = an_alarm(piece, AlarmKind.AT, at=LATER)
    journal.do(SetAlarms((alarm,), "Set an alarm"))
    journal.do(PutOffAlarms((alarm.id,), LATER))
    journal.do(HearAlarms({alarm.id: LATER}))
    (heard,) = journal.find(Alarm)
    assert (heard.later, heard.heard, heard.done) == (LATER, LATER, None)
    journal.do(FinishAlarms({alarm.id: LATER}))
    assert journal.find(Alarm)[0].done == LATER
    journal.undo()
    assert journal.find(Alarm)[0].done is None


@pytest.mark.parametrize(
    ("kind", "fields", "why"),
    [
        (AlarmKind.AT, {}, "at what time"),
        (AlarmKind.AFTER, {"after_kind": "spritz"}, "how long"),
        (AlarmKind.AFTER, {"after": 60.0}, "how long"),
        (AlarmKind.BEFORE_OFF, {}, "how long before"),
        (AlarmKind.REACHES, {}, "which temperature"),
        (AlarmKind.LEAVES, {}, "below or above"),
        (AlarmKind.LEAVES, {"low": 110.0, "high": 110.0}, "must be below"),
        (AlarmKind.REACHES, {"high": 9000.0}, "cannot be"),
    ],
)
def test_that_an_alarm_that_could_never_be_due_is_refused_with_all_set_beside_it(
    journal: Journal, piece: Piece, kind: AlarmKind, fields: Mapping[str, object], why: str
) -> None:
    good = an_alarm(piece, AlarmKind.LEAVES, high=140.0)
    with pytest.raises(JournalError, match=why):
        journal.do(SetAlarms((good, an_alarm(piece, kind, **fields)), "Set alarms"))
    assert journal.find(Alarm) == []


def test_that_a_probe_is_mended_and_one_that_says_nothing_is_refused(
    journal: Journal, piece: Piece
) -> None:
    check = DonenessCheck(cook_id=piece.cook_id, piece_id=piece.id, at=NOON, internal=90.0, feel=3)
    journal.do(CheckDoneness(check))
    journal.do(CorrectCheck(check.id, {"internal": 88.5}, {"internal": "191.3 F"}))
    (mended,) = journal.find(DonenessCheck)
    assert (mended.internal, mended.feel, mended.typed) == (88.5, 3, {"internal": "191.3 F"})
    for fields in ({"internal": None, "feel": None}, {"internal": 900.0}):
        with pytest.raises(JournalError):
            journal.do(CorrectCheck(check.id, fields))
    assert journal.find(DonenessCheck) == [mended]


def test_that_a_weight_is_set_changed_and_cleared_a_stage(journal: Journal, piece: Piece) -> None:
    def weigh(stage: Stage, mass: float | None) -> Weigh:
        return Weigh(piece.cook_id, piece.id, stage, mass, NOON)

    assert weigh(Stage.ON, 1500.0).merge_key == weigh(Stage.ON, 1600.0).merge_key
    assert weigh(Stage.ON, 1500.0).merge_key != weigh(Stage.OFF, 1500.0).merge_key
    journal.do(weigh(Stage.ON, 1500.0))
    journal.do(weigh(Stage.ON, 1600.0))
    (kept,) = journal.find(Weighing)
    assert kept.mass == 1600.0
    with pytest.raises(JournalError, match=r"cannot|more than"):
        journal.do(weigh(Stage.ON, 9e9))
    journal.do(weigh(Stage.OFF, None))  # clears what was never there
    journal.do(weigh(Stage.ON, None))
    assert journal.find(Weighing) == []


def test_that_a_name_stands_on_the_shelf_once_in_any_case_and_comes_back(journal: Journal) -> None:
    journal.do(KeepOnShelf(ShelfKind.RUB, ("  House   rub ", "house RUB"), "Keep"))
    (item,) = journal.shelf.items(ShelfKind.RUB)
    assert item.name == "House rub"
    journal.do(KeepOnShelf(ShelfKind.WOOD, ("house rub",), "Keep"))  # of another sort
    assert len(journal.find(ShelfItem)) == 2


def test_that_questions_are_saved_by_name_once_and_moved_within_their_list(
    journal: Journal,
) -> None:
    for name in ("One", "Two", "Three", "two"):
        journal.do(SaveQuestion(name, {"measure": name}))
    kept = {one.name: one for one in journal.find(SavedQuestion)}
    assert sorted(kept) == ["One", "Three", "Two"]
    assert kept["Two"].question == {"measure": "two"}

    def order() -> list[str]:
        return [one.name for one in sorted(journal.find(SavedQuestion), key=lambda o: o.position)]

    journal.do(MoveQuestion(kept["Three"].id, -1))
    assert order() == ["One", "Three", "Two"]
    journal.do(MoveQuestion(kept["One"].id, -1))  # stands first already
    assert order() == ["One", "Three", "Two"]
    journal.do(MoveQuestion(kept["One"].id, 1))
    assert order() == ["Three", "One", "Two"]
    with pytest.raises(JournalError, match="no longer there"):
        journal.do(MoveQuestion("none", 1))
    with pytest.raises(JournalError, match="no name"):
        journal.do(SaveQuestion("  ", {}))
