"""What can be done to a journal: each command is frozen data with a `run` in one transaction."""

from typing import Protocol

from pitjournal.store.transaction import Transaction


class Command(Protocol):
    """Something `Journal.do` can do.

    A command that brings in or changes very much has `large`, a word for what it does such as
    "import": a backup is made before it, and it is refused where none can be.
    """

    @property
    def label(self) -> str:
        """What it does, in a cook's words, as Undo shows it: "Log wrap for three racks"."""
        ...

    @property
    def merge_key(self) -> str:
        """Commands with the same key that follow each other are one step to undo; or ""."""
        ...

    def run(self, transaction: Transaction) -> None:
        """Do it.

        Raises
        ------
        JournalError
            If it cannot be done; then nothing is kept.
        """
        ...
