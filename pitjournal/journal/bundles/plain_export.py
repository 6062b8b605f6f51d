"""Every table of a journal as CSV, what was worked out among them, for whoever has no Pitjournal."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from pitjournal.domain.catalogue import Kind
from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.files.bundle import Table
from pitjournal.files.bundle.content import Bundle, Column, Entry, Written
from pitjournal.files.bundle.plain import write_plain
from pitjournal.journal.bundles.cells import cell_of, cells_of, columns_of
from pitjournal.journal.bundles.leaving import EVERYTHING
from pitjournal.journal.bundles.records_out import HELPING, TABLE_WORDS, CooksOut
from pitjournal.journal.journal import Journal
from pitjournal.store.schema import RECORDS, SCHEMA_VERSION
from pitjournal.units import STORED

WORKED_OUT, VARIABLES = "worked_out", "variables"

_MORE_WORDS = {"saved_question": "Questions that were kept, and their filters"}
_APART = frozenset({"setting"})
"""What is of this computer's window, and no record of a cook."""


def export_plain(journal: Journal, folder: Path) -> tuple[Written, ...]:
    """Write all that is recorded and worked out into a new folder as CSV; return the tables.

    Parameters
    ----------
    journal
        The open journal; it is read while it is written.
    folder
        Where to; a new one, or an empty one.

    Raises
    ------
    JournalError
        If something is in its place, or the place cannot be written to.
    """
    cooks = _WholeJournal(journal)
    bundle = Bundle(
        folder="journal",
        title=f"The journal {journal.name}",
        words=(
            "All records of a barbecue journal, and what was worked out of them. Times are UTC, "
            "numbers are in the units that each column names, ids tie rows together."
        ),
        made_at=datetime.now(UTC),
        tables=(*cooks.tables(), _worked_out(journal), _variables(journal)),
        entries=cooks.entries(),
        schema=SCHEMA_VERSION,
    )
    return write_plain(bundle, folder)


class _WholeJournal(CooksOut):
    """All cooks with all that leaves to oneself, and what belongs to no cook."""

    def __init__(self, journal: Journal) -> None:
        ids = [cook.id for cook in sorted(journal.find(Cook), key=lambda cook: cook.number)]
        super().__init__(journal, ids, EVERYTHING)

    def tables(self) -> Iterator[Table]:
        """Give a table for each kind of record."""
        for kind in RECORDS:
            if kind.KIND not in _APART:
                yield Table(
                    name=kind.KIND,
                    words=TABLE_WORDS.get(kind.KIND) or _MORE_WORDS[kind.KIND],
                    columns=columns_of(kind),
                    rows=self._rows(kind),
                    links={**kind.PARENTS, **kind.LOOSE},
                )

    def _rows(self, kind: type[Record]) -> Iterator[Sequence[str]]:
        of_cooks = kind is Cook or kind.PARENTS.get("cook_id") == Cook.KIND
        for record in self._records(kind) if of_cooks else self._journal.find(kind):
            yield cells_of(record)

    def entries(self) -> Iterator[Entry]:
        """Give the readings of each cook; files stay where they are."""
        for entry in super().entries():
            yield replace(entry, parts=tuple(part for part in entry.parts if part.columns))


def _worked_out(journal: Journal) -> Table:
    columns = (
        Column("cook_id", "string", needed=True),
        Column("level", "string", "cook, arm, piece or tasting: what the value is of"),
        Column("owner_id", "string", "id of what the value is of", needed=True),
        Column("variable", "string", f"key of a row in {VARIABLES}", needed=True),
        Column("value", "string", f"a number in the unit of {VARIABLES}, or a word"),
    )

    def rows() -> Iterator[Sequence[str]]:
        cooks = [cook.id for cook in journal.find(Cook)]
        for at in range(0, len(cooks), HELPING):
            for owner, cook_id, level, said in journal.values(cooks[at : at + HELPING]):
                for key, value in said.items():
                    yield cook_id, level, owner, key, cell_of(value)

    words = "What was worked out of each cook, arm and piece, a value a row"
    return Table(WORKED_OUT, words, columns, rows(), {"cook_id": "cook"})


def _variables(journal: Journal) -> Table:
    columns = (
        Column("variable", "string", "its key", needed=True),
        Column("label", "string"),
        Column("level", "string", "what it is of"),
        Column("kind", "string"),
        Column("unit", "string", "of its numbers"),
        Column("words", "string", "what it is"),
    )
    catalogue = journal.catalogue()

    def rows() -> Iterator[Sequence[str]]:
        for key in catalogue:
            one = catalogue[key]
            unit = STORED[one.dimension] if one.kind is Kind.NUMBER else ""
            yield key, one.label, one.level, one.kind, unit, cell_of(one.help)

    return Table(VARIABLES, "The variables of cooks, with their units", columns, rows())
