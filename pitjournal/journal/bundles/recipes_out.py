"""Recipes and rubs of the Shelf as a bundle, with what goes into them and no cook."""

from collections.abc import Iterator, Sequence

from pitjournal.domain.recipe import lines_of
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfItem, ShelfKind, plain_name
from pitjournal.errors import JournalError
from pitjournal.files.summary.content import Choice
from pitjournal.journal.bundles.records_out import CooksOut
from pitjournal.journal.journal import Journal

MIXED = (ShelfKind.RECIPE, ShelfKind.RUB)
"""What on the Shelf has a recipe."""


class RecipesOut(CooksOut):
    """The rows of some recipes, and of the ingredients that they name."""

    def __init__(self, journal: Journal, items: Sequence[ShelfItem], choice: Choice) -> None:
        super().__init__(journal, (), choice)
        self._items = {item.id for item in items}
        amounts = choice.grams  # the lines of a recipe leave with these alone
        lines = [line for item in items if amounts for line in lines_of(item.details)]
        self._ingredients = {plain_name(line.name) for line in lines}

    def _of_journal(self, kind: type[Record]) -> Iterator[Record]:
        for item in self._journal.find(ShelfItem) if kind is ShelfItem else ():
            ingredient = item.kind is ShelfKind.INGREDIENT
            if item.id in self._items or (
                ingredient and plain_name(item.name) in self._ingredients
            ):
                yield item


def recipe_named(journal: Journal, words: str) -> ShelfItem:
    """Return the one recipe or rub on the Shelf of this name, or with these words in it.

    Raises
    ------
    JournalError
        If there is none, or several.
    """
    wanted = plain_name(words)
    mixed = [item for item in journal.find(ShelfItem) if item.kind in MIXED]
    found = [item for item in mixed if plain_name(item.name) == wanted]
    found = found or [item for item in mixed if wanted and wanted in plain_name(item.name)]
    if len(found) == 1:
        return found[0]
    names = ", ".join(item.name for item in found or mixed)
    if not found:
        hint = f"There are: {names}." if names else "The Shelf has no recipe yet."
        raise JournalError(f"No recipe or rub is called “{words}”.", hint)
    raise JournalError(f"Several are called “{words}”.", f"Name one of: {names}.")


def what_leaves(items: Sequence[ShelfItem], choice: Choice) -> tuple[tuple[str, ...], ...]:
    """Return in words what leaves with these recipes, and what stays."""
    leaves = [f"the recipe {item.name}" for item in items]
    leaves.append("allergens, curing salt")
    amounts = "amounts, and what goes in"
    return ((*leaves, amounts), ()) if choice.grams else (tuple(leaves), (amounts,))
