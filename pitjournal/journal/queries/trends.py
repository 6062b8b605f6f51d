"""Ask all cooks: the columns stay warm, and follow each change of a cook."""

from typing import TYPE_CHECKING

from pitjournal.domain.catalogue import Kind
from pitjournal.units import UnitSystem

if TYPE_CHECKING:
    from pitjournal.analysis.trends.answer import Answer
    from pitjournal.analysis.trends.frame import Frame
    from pitjournal.analysis.trends.question import Question, Where
    from pitjournal.domain.catalogue import Catalogue, Variable
    from pitjournal.journal.changes import Changes
    from pitjournal.journal.journal import Journal
    from pitjournal.journal.queries.values import Row


class Trends:
    """The values of an open journal in columns."""

    def __init__(self, journal: "Journal") -> None:
        self._journal = journal
        self._rows: dict[str, list[Row]] = {}
        self._frame: Frame | None = None
        self._changed: set[str] = set()
        self._all = True
        self._catalogue: Catalogue | None = None
        journal.subscribe(self._hear)

    def _hear(self, changes: "Changes") -> None:
        if "shelf_item" in changes.kinds or "own_variable" in changes.kinds:
            self._all = True
        if "tasting" in changes.kinds or "own_variable" in changes.kinds:
            self._catalogue = None
        self._changed |= changes.cooks

    @property
    def warm(self) -> bool:
        """Whether the next question is answered without reading the journal."""
        return self._frame is not None and not self._all and not self._changed

    def frame(self) -> "Frame":
        """Return the columns as the cooks are now; only what changed is read again."""
        from pitjournal.analysis.trends.frame import frame_of  # noqa: PLC0415 - numpy

        if self._all:
            self._take(self._journal.values())
            self._all = False
            self._changed.clear()
            self._frame = None
        elif self._changed:
            ids = sorted(self._changed)
            self._changed.clear()
            for cook_id in ids:
                self._rows.pop(cook_id, None)
            self._take(self._journal.values(ids), keep=True)
            self._frame = None
        if self._frame is None:
            self._frame = frame_of([row for rows in self._rows.values() for row in rows])
        return self._frame

    def _take(self, rows: "list[Row]", *, keep: bool = False) -> None:
        if not keep:
            self._rows.clear()
        for row in rows:
            self._rows.setdefault(row[1], []).append(row)

    def ask(self, question: "Question", system: UnitSystem) -> "Answer":
        """Answer a question.

        Raises
        ------
        JournalError
            If it cannot be asked.
        """
        from pitjournal.analysis.trends.held import answered  # noqa: PLC0415

        if self._catalogue is None:
            self._catalogue = self._journal.catalogue()
        return answered(self.frame(), question, self._catalogue, system)

    def cooks_where(self, where: "tuple[Where, ...]") -> list[str]:
        """Return the cooks with something that passes these filters, newest first.

        Raises
        ------
        JournalError
            If a filter names what is no longer there.
        """
        from pitjournal.analysis.trends.counted import cooks_where  # noqa: PLC0415

        return cooks_where(self.frame(), where, self._journal.catalogue())

    def values_of(self, variable: "Variable") -> list[str]:
        """Return the texts a variable has so far; none of a number."""
        if variable.kind in {Kind.NUMBER, Kind.TIME}:
            return []
        return sorted(self.frame().choices(variable.key)[1], key=str.casefold)
