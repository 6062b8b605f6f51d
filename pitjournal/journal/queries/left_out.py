"""What an answer had to leave out because it cannot be read, in words."""

from typing import TYPE_CHECKING

from pitjournal.domain.record import Record
from pitjournal.units.figures import counted

if TYPE_CHECKING:
    from pitjournal.journal.journal import Journal

HOW = "Name and mend what with: pitjournal check JOURNAL --repair"


def left_out_words(journal: "Journal", *kinds: type[Record]) -> str:
    """Return how many cooks, and records of other kinds, are left out; nothing where none is.

    Parameters
    ----------
    kinds
        The kinds an answer rests on besides cooks; none named means all.
    """
    cooks = journal.cooks.left_out()
    names = {kind.KIND for kind in kinds}
    others = sum(
        kind != "cook" and (not names or kind in names) for kind, _ in journal.database.missed
    )
    if not cooks and not others:
        return ""
    parts = [counted(cooks, "cook")] * bool(cooks) + [counted(others, "record")] * bool(others)
    are = "is" if cooks + others == 1 else "are"
    return f"{' and '.join(parts)} that cannot be read {are} left out."
