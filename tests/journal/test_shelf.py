"""The Shelf through the journal's door: what is used is said, past cooks keep what they had."""

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import Seasoning
from pitjournal.errors import JournalError
from pitjournal.journal import Journal
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.journal.commands.shelf import (
    MergeOnShelf,
    RemoveFromShelf,
    RenameOnShelf,
    WriteInCooks,
    cooks_named,
)
from tests.builders import a_cook


def item(journal: Journal, kind: ShelfKind, name: str, **details: object) -> ShelfItem:
    made = ShelfItem(kind=kind, name=name, details=details)
    journal.do(Add((made,), "Add"))
    return made


def rubbed(journal: Journal, rub: str) -> Cook:
    cook = a_cook(f"Rubbed with {rub}")
    journal.do(AddCook(cook, (Seasoning(cook_id=cook.id, position=0, rub=rub),)))
    return cook


def rubs(journal: Journal) -> list[str]:
    return [layer.rub for layer in journal.find(Seasoning)]


def test_that_it_is_said_in_which_cooks_a_thing_is_in_any_case_and_spacing(
    journal: Journal,
) -> None:
    rub = item(journal, ShelfKind.RUB, "House rub")
    other = item(journal, ShelfKind.RUB, "Salt")
    drum = item(journal, ShelfKind.COOKER, "the drum")
    for name in ("House rub", "house  RUB", "Salt"):
        rubbed(journal, name)
    journal.do(AddCook(a_cook(cooker_id=drum.id)))
    assert journal.cooks_with([rub, other, drum]) == {
        rub.id: (2, 1),
        other.id: (3,),
        drum.id: (4,),
    }


def test_that_past_cooks_keep_a_name_until_it_is_changed_there_too(journal: Journal) -> None:
    rub = item(journal, ShelfKind.RUB, "House rub")
    rubbed(journal, "house rub")
    rubbed(journal, "Salt")
    journal.do(RenameOnShelf(rub.id, "Sunday rub"))
    assert rubs(journal) == ["house rub", "Salt"]
    journal.do(WriteInCooks(rub.id, "House rub"))
    assert rubs(journal) == ["Sunday rub", "Salt"]
    journal.undo()
    journal.undo()
    assert rubs(journal) == ["house rub", "Salt"]
    assert journal.shelf.items(ShelfKind.RUB)[0].name == "House rub"


def test_that_a_taken_name_is_refused_also_that_of_a_retired_thing(journal: Journal) -> None:
    rub = item(journal, ShelfKind.RUB, "House rub")
    journal.do(Add((ShelfItem(kind=ShelfKind.RUB, name="Salt", retired=True),), "Add"))
    item(journal, ShelfKind.WOOD, "Oak")
    with pytest.raises(JournalError, match="already"):
        journal.do(RenameOnShelf(rub.id, " SALT "))
    with pytest.raises(JournalError, match="name"):
        journal.do(RenameOnShelf(rub.id, "  "))
    journal.do(RenameOnShelf(rub.id, "Oak"))  # a wood of that name is no rub
    journal.do(RenameOnShelf(rub.id, "OAK"))  # its own name in another case


def test_that_two_rubs_become_one_with_the_cooks_and_details_of_both(journal: Journal) -> None:
    one = item(journal, ShelfKind.RUB, "House rub", parts="salt 2, pepper 1", tablespoon=12.0)
    two = item(journal, ShelfKind.RUB, "House", parts="as ever", tablespoon="")
    rubbed(journal, "House rub")
    rubbed(journal, "house")
    journal.do(MergeOnShelf(one.id, two.id))
    (kept,) = journal.shelf.items(ShelfKind.RUB)
    assert (kept.id, kept.name) == (two.id, "House")
    assert kept.details == {"parts": "as ever", "tablespoon": 12.0}
    assert rubs(journal) == ["House", "house"]
    assert journal.cooks_with([kept])[kept.id] == (2, 1)
    journal.undo()
    assert len(journal.shelf.items(ShelfKind.RUB)) == 2
    assert rubs(journal) == ["House rub", "house"]


def test_that_cooks_on_one_of_two_merged_cookers_are_on_the_other_also_in_trends(
    journal: Journal,
) -> None:
    old, drum = (item(journal, ShelfKind.COOKER, name) for name in ("drum", "the drum"))
    cook = a_cook(cooker_id=old.id)
    journal.do(AddCook(cook))
    journal.do(MergeOnShelf(old.id, drum.id))
    values = {owner: said for owner, _, _, said in journal.values()}
    assert values[cook.id]["cooker"] == "the drum"
    with pytest.raises(JournalError, match="one sort"):
        journal.do(MergeOnShelf(drum.id, item(journal, ShelfKind.WOOD, "oak").id))


def test_that_a_used_cooker_stays_and_a_used_rub_goes_without_a_cook_losing_it(
    journal: Journal,
) -> None:
    drum = item(journal, ShelfKind.COOKER, "the drum")
    journal.do(AddCook(a_cook(cooker_id=drum.id)))
    with pytest.raises(JournalError, match="Cook 1 had the drum"):
        journal.do(RemoveFromShelf(drum.id))
    rub = item(journal, ShelfKind.RUB, "House rub")
    rubbed(journal, "House rub")
    journal.do(RemoveFromShelf(rub.id))
    assert rubs(journal) == ["House rub"]


def test_that_many_cooks_are_named_by_the_first_few() -> None:
    assert cooks_named([7]) == "Cook 7"
    assert cooks_named([9, 8, 7]) == "Cooks 9, 8, 7"
    assert cooks_named(list(range(20, 0, -1))) == "Cooks 20, 19, 18, 17, 16, 15 and 14 more"
