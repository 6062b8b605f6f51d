"""A cook that has begun keeps its recipes; a plan follows the Shelf; older journals keep theirs."""

import sqlite3
from pathlib import Path

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.recipe import lines_of
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.used_recipe import details_of, lines_used
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.plan import KeepChoice
from pitjournal.journal.commands.recipes import TakeRecipe
from pitjournal.journal.commands.records import Add, AddCook, Change
from pitjournal.journal.sharing.recipes import used
from tests.builders import a_cook, an_event

OLD = {"lines": [["water", "950 g"], ["salt", "2 tbsp"]]}
NEW = {"lines": [["water", "900 g"], ["salt", "100 g"]]}


def brined(journal: Journal, status: CookStatus = CookStatus.PLANNED) -> str:
    """Plan a cook by a recipe; return its id."""
    recipe = ShelfItem(kind=ShelfKind.RECIPE, name="house brine", details=OLD)
    journal.do(Add((recipe,), "Keep a recipe"))
    journal.do(KeepChoice("salt.quarter cup", "72", "A quarter cup of salt"))
    cook = a_cook(status=status)
    treatment = Treatment(cook_id=cook.id, kind=TreatmentKind.BRINED, recipe="House brine")
    journal.do(AddCook(cook, (treatment,)))
    return cook.id


def written(journal: Journal, cook_id: str) -> list[str]:
    (treatment,) = journal.whole(cook_id).treatments
    shelf = details_of(journal.shelf.items(ShelfKind.RECIPE))
    lines = lines_used(treatment, shelf, journal.shelf.densities())
    return [f"{line.written}, {line.weight:.0f} g" for line in lines]


def rewrite(journal: Journal) -> None:
    (item,) = journal.shelf.items(ShelfKind.RECIPE)
    journal.do(Change(ShelfItem, item.id, {"details": NEW}))
    journal.do(KeepChoice("salt.quarter cup", "40", "Another salt"))


def test_that_a_plan_follows_the_shelf_and_a_cook_keeps_what_it_was_lit_with(
    journal: Journal,
) -> None:
    cook_id = brined(journal)
    journal.do(LogEvent(an_event(cook_id, EventKind.LIT), "Lit"))
    rewrite(journal)
    assert written(journal, cook_id) == ["water 950 g, 950 g", "salt 2 tbsp, 36 g"]
    (treatment,) = journal.whole(cook_id).treatments
    shared = used(treatment, {"house brine": NEW})
    assert [line.written for line in lines_of(shared)] == ["water 950 g", "salt 2 tbsp"]
    journal.do(TakeRecipe(treatment.id, "Take the recipe of today"))
    assert written(journal, cook_id) == ["water 900 g, 900 g", "salt 100 g, 100 g"]
    journal.undo()
    assert written(journal, cook_id)[1] == "salt 2 tbsp, 36 g"


def test_that_a_cook_that_is_only_planned_follows_the_shelf(journal: Journal) -> None:
    cook_id = brined(journal)
    rewrite(journal)
    assert written(journal, cook_id) == ["water 900 g, 900 g", "salt 100 g, 100 g"]


def test_that_undoing_the_first_tap_lets_the_plan_follow_again(journal: Journal) -> None:
    cook_id = brined(journal)
    journal.do(LogEvent(an_event(cook_id, EventKind.ON), "On"))
    assert journal.whole(cook_id).treatments[0].made_of
    journal.undo()
    assert not journal.whole(cook_id).treatments[0].made_of


def test_that_cooks_of_an_older_journal_keep_their_recipes_from_now_on(tmp_path: Path) -> None:
    folder = tmp_path / "older"
    journal = open_journal(folder, new=True)
    done = brined(journal, CookStatus.DONE)
    plan = a_cook()
    treatment = Treatment(cook_id=plan.id, kind=TreatmentKind.BRINED, recipe="house brine")
    journal.do(AddCook(plan, (treatment,)))
    journal.close()
    with sqlite3.connect(folder / "journal.sqlite") as connection:
        connection.execute("ALTER TABLE treatment DROP COLUMN made_of")
        connection.execute("UPDATE schema_version SET minor = 2")
    connection.close()
    journal = open_journal(folder)
    rewrite(journal)
    assert written(journal, done) == ["water 950 g, 950 g", "salt 2 tbsp, 36 g"]
    assert written(journal, plan.id) == ["water 900 g, 900 g", "salt 100 g, 100 g"]
    journal.close()
