"""Variables of the cook's own, through the journal's door."""

import csv
import io

import pytest

from pitjournal.analysis.trends.question import By, Question
from pitjournal.analysis.trends.table import answer_as_csv
from pitjournal.domain.cook import Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import OwnValue, OwnVariable
from pitjournal.errors import JournalError
from pitjournal.files.old_cooks import read_old_cooks
from pitjournal.journal import Journal
from pitjournal.journal.bringing import bringing
from pitjournal.journal.commands.own import AddOwn, ChangeOwn, FillOwn, RemoveOwn
from pitjournal.units import UnitSystem
from tests.builders import add_comparison

BONE_PULL = OwnVariable(name=" bone  pull ", level="piece", kind="number", dimension="length")


def made(journal: Journal, **fields: object) -> OwnVariable:
    values: dict[str, object] = {"name": "bone pull", "level": "piece", "kind": "number"}
    own = OwnVariable(**{**values, **fields})  # type: ignore[arg-type]
    journal.do(AddOwn(own))
    return journal.find(OwnVariable, id=own.id)[0]


def with_cook(journal: Journal) -> tuple[str, list[Piece]]:
    command = add_comparison()
    journal.do(command)
    return command.cook.id, journal.find(Piece, cook_id=command.cook.id)


def fill(journal: Journal, own: OwnVariable, cook: str, owner: str, value: object) -> None:
    journal.do(FillOwn(cook, own.id, owner, value, "Note"))  # type: ignore[arg-type]


def test_that_a_name_is_kept_in_single_spaces_and_taken_once_only(journal: Journal) -> None:
    journal.do(AddOwn(BONE_PULL))
    assert [own.name for own in journal.find(OwnVariable)] == ["bone pull"]
    for name in ("BONE pull", "yield", "Tenderness", ""):
        with pytest.raises(JournalError):
            journal.do(AddOwn(OwnVariable(name=name, level="cook", kind="text")))
    other = made(journal, name="bark")
    with pytest.raises(JournalError, match="already"):
        journal.do(ChangeOwn(other.id, {"name": "Bone Pull"}))


@pytest.mark.parametrize(
    ("sort", "given", "kept"),
    [
        ({"kind": "number", "dimension": "length"}, 0.009, 0.009),
        ({"kind": "yes/no"}, True, True),
        ({"kind": "yes/no"}, False, False),
        ({"kind": "choice", "choices": ("thin", "thick")}, "THICK", "thick"),
        ({"kind": "text"}, "as my aunt likes it", "as my aunt likes it"),
    ],
)
def test_that_each_sort_of_value_comes_back_as_it_was_given_and_goes_by_one_undo(
    journal: Journal, sort: dict[str, object], given: object, kept: object
) -> None:
    own = made(journal, **sort)
    cook, pieces = with_cook(journal)
    fill(journal, own, cook, pieces[0].id, given)
    rows = {owner: values for owner, _, _, values in journal.values()}
    assert rows[pieces[0].id][f"own.{own.id}"] == kept
    fill(journal, own, cook, pieces[0].id, None)
    assert not journal.find(OwnValue)
    journal.undo()
    assert journal.find(OwnValue)[0].value == kept


def test_that_a_value_of_another_sort_is_refused_and_changes_nothing(journal: Journal) -> None:
    own = made(journal, dimension="temperature")
    cook, pieces = with_cook(journal)
    for wrong in ("hot", True, -400.0):  # colder than there is (0 K is −273.15 °C)
        with pytest.raises(JournalError):
            fill(journal, own, cook, pieces[0].id, wrong)
    assert not journal.find(OwnValue)


def test_that_values_of_cook_arm_and_piece_are_asked_for_in_trends(journal: Journal) -> None:
    pull = made(journal)
    crew = made(journal, name="helpers", level="cook", dimension="count")
    cook, pieces = with_cook(journal)
    for place, piece in enumerate(pieces):
        fill(journal, pull, cook, piece.id, float(place % 3))
    fill(journal, crew, cook, cook, 3.0)
    key = f"own.{pull.id}"
    answer = journal.trends.ask(Question(key, (By("arm"),)), UnitSystem.METRIC)
    # by hand: the pieces of each arm stand at places 0, 3, 6 (and so on), so each pulled its rest
    assert {group.key[0]: group.mean for group in answer.groups} == {
        "Left alone": 0.0,
        "Injected": 1.0,
        "Needled": 2.0,
    }
    by_crew = journal.trends.ask(Question(f"own.{crew.id}", ()), UnitSystem.METRIC)
    assert [group.mean for group in by_crew.groups] == [3.0]


def test_that_removing_what_is_used_takes_its_values_and_one_undo_brings_all_back(
    journal: Journal,
) -> None:
    own = made(journal)
    cook, pieces = with_cook(journal)
    for piece in pieces[:4]:
        fill(journal, own, cook, piece.id, 1.0)
    use = journal.own_use()[own.id]
    assert (use.values, use.cooks) == (4, 1)
    journal.do(RemoveOwn(own.id))
    assert not journal.find(OwnVariable)
    assert not journal.find(OwnValue)
    journal.undo()
    assert journal.own_use()[own.id] == use


def test_that_a_retired_one_keeps_its_values_and_its_place_in_trends(journal: Journal) -> None:
    own = made(journal)
    cook, pieces = with_cook(journal)
    fill(journal, own, cook, pieces[0].id, 2.0)
    journal.do(ChangeOwn(own.id, {"retired": True}, "Retire"))
    assert journal.find(OwnVariable)[0].retired
    assert f"own.{own.id}" in journal.catalogue()
    assert len(journal.find(OwnValue)) == 1


def test_that_what_it_is_of_changes_only_while_no_cook_has_it(journal: Journal) -> None:
    own = made(journal)
    journal.do(ChangeOwn(own.id, {"dimension": "length"}))
    cook, pieces = with_cook(journal)
    fill(journal, own, cook, pieces[0].id, 2.0)
    with pytest.raises(JournalError, match="as it is"):
        journal.do(ChangeOwn(own.id, {"kind": "text"}))


def test_that_a_number_of_pieces_stands_in_the_ledger_beside_a_comparison(
    journal: Journal,
) -> None:
    own = made(journal, name="days in salt")
    cook, pieces = with_cook(journal)
    for piece in pieces:
        fill(journal, own, cook, piece.id, 2.0 if piece.label.startswith("B") else 1.0)
    findings = journal.findings.of(cook)
    said = {(row.arm, row.variable.label): row.difference for row in findings.ledger}
    assert said["Injected", "days in salt"] == pytest.approx(1.0)


def test_that_it_has_a_column_in_a_table_of_trends(journal: Journal) -> None:
    own = made(journal, kind="choice", choices=("thin", "thick"))
    cook, pieces = with_cook(journal)
    for piece in pieces:
        fill(journal, own, cook, piece.id, "thick")
    answer = journal.trends.ask(Question("thickness", (By(f"own.{own.id}"),)), UnitSystem.METRIC)
    head = next(csv.reader(io.StringIO(answer_as_csv(answer, UnitSystem.METRIC).decode())))
    assert head[0].endswith("bone pull")


def test_that_a_column_of_an_old_table_under_its_name_fills_it_and_what_cannot_be_read_stays_a_note(
    journal: Journal,
) -> None:
    pull = made(journal, dimension="length")
    again = made(journal, name="again", level="cook", kind="yes/no")
    rows = [
        "Date,Cut,Bone pull (mm),Again",
        "2021-03-06,ribs,9,yes",
        "2021-03-13,ribs,a lot,no",
    ]
    old = read_old_cooks("\n".join(rows).encode(), "old.csv")
    found = bringing(journal, old, "America/Chicago")
    assert found.command is not None
    journal.do(found.command)
    first, second = sorted(journal.find(Cook), key=lambda cook: cook.number)
    given = {(value.cook_id, value.variable_id): value.value for value in journal.find(OwnValue)}
    # by hand: 9 mm are 0.009 m; “a lot” is no length
    assert given == {
        (first.id, pull.id): pytest.approx(0.009),
        (first.id, again.id): True,
        (second.id, again.id): False,
    }
    assert "Bone pull" not in first.note
    assert "Bone pull (mm): a lot" in second.note


def test_that_a_bare_number_in_an_old_table_is_no_length(journal: Journal) -> None:
    made(journal, dimension="length")
    old = read_old_cooks(b"Date,Cut,Bone pull\n2021-03-06,ribs,9\n", "old.csv")
    found = bringing(journal, old, "America/Chicago")
    assert found.command is not None
    journal.do(found.command)
    assert not journal.find(OwnValue)
    assert "Bone pull: 9" in journal.find(Cook)[0].note
