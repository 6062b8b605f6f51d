"""The list of cooks: how many, their lines, and which one some words name."""

from pitjournal.errors import JournalError
from pitjournal.store import cook_list
from pitjournal.store.cook_list import CookLine
from pitjournal.store.database import Database


class Cooks:
    """The list of cooks of a journal."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def count(self, words: str = "") -> int:
        """Return how many cooks can be shown, or of these match the words."""
        return cook_list.count(self._database, words)

    def left_out(self) -> int:
        """Return how many cooks cannot be shown, and so are in no list."""
        return len(cook_list.left_out(self._database))

    def page(self, words: str = "", start: int = 0, most: int = 100) -> list[CookLine]:
        """Return a page of the list, newest first."""
        return cook_list.page(self._database, words=words, start=start, most=most)

    def having(self, words: str) -> frozenset[str] | None:
        """Return the cooks that have these words; None where there are none to look for."""
        return cook_list.cooks_having(self._database, words) if words.strip() else None

    def lines(self, cook_ids: list[str]) -> list[CookLine]:
        """Return the lines of these cooks, newest first."""
        return cook_list.lines(self._database, cook_ids)

    def commonest(self, most: int = 3) -> tuple[list[str], list[str]]:
        """Return the cuts and the treatments that most cooks have, the commonest first."""
        return cook_list.commonest(self._database, most)

    def find(self, words: str) -> str:
        """Return the id of the one cook these words name: its number, id, or part of a title.

        Raises
        ------
        JournalError
            If there is none, or more than one.
        """
        found = cook_list.find(self._database, words)
        if not found:
            hint = "Say its number, its title or a part of it."
            raise JournalError(f"No cook is called “{words}”.", hint)
        exact = [line for line in found if line.title.casefold() == words.strip().casefold()]
        if len(exact) == 1:
            found = exact
        if len(found) > 1:
            numbers = [str(line.number) for line in found]
            hint = f"Use a number: {', '.join(numbers[:6])}"
            if len(set(numbers)) < len(numbers):
                hint = (
                    "Some have one number: say the whole title, or give each its own with: "
                    "pitjournal check JOURNAL --repair"
                )
            raise JournalError(f"“{words}” names more than one cook.", hint)
        return found[0].id
