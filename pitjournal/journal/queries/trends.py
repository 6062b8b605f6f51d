"""Ask all cooks: the columns stay warm, and follow each change of a cook."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from threading import Lock
from typing import TYPE_CHECKING, TypeVar

from pitjournal.domain.blocks import Block, Column, Head
from pitjournal.domain.catalogue import Kind
from pitjournal.domain.cuts import groups_among
from pitjournal.journal.jobs import Progress
from pitjournal.store import cook_list
from pitjournal.store.faults import DamagedError
from pitjournal.units import UnitSystem

if TYPE_CHECKING:
    from pitjournal.analysis.trends.answer import Answer
    from pitjournal.analysis.trends.columns.frame import Frame
    from pitjournal.analysis.trends.columns.lines import Columns
    from pitjournal.analysis.trends.question import Question, Where
    from pitjournal.domain.catalogue import Catalogue, Variable
    from pitjournal.journal.changes import Changes
    from pitjournal.journal.journal import Journal

T = TypeVar("T")

AT_ONCE = 2
"""So many changed cooks are worked out in the time of a blink, also with their traces."""


@dataclass
class _LoadedBlock:
    """A block in memory, with the columns that were asked for so far, by key and level.

    Once the kept block has changed, this one is `whole`: whoever still works with it finds
    every column as it was.
    """

    number: int
    head: Head
    columns: "dict[str, Columns]" = field(default_factory=dict)
    block: Block | None = None


class Trends:
    """The values of an open journal in columns. May be used from any thread."""

    def __init__(self, journal: "Journal") -> None:
        self._journal = journal
        self._worked_out = journal.worked_out
        self._worked_out.heard = self._written
        self._loaded: dict[int, _LoadedBlock] | None = None
        self._frame: Frame | None = None
        self._changed: set[int] = set()
        self._catalogue: Catalogue | None = None
        self._looks: dict[str, int] | None = None
        self._passed: tuple[tuple[Where, ...], list[str]] | None = None
        self._changes, self._followed = 0, -1
        self._turn = Lock()  # of what is kept here and taken away by a change
        journal.subscribe(self._hear)

    def _hear(self, changes: "Changes") -> None:
        with self._turn:
            if {"own_variable", "scheme", "tasting"} & set(changes.kinds):
                self._catalogue = None
            if "arm" in changes.kinds:  # a cook that comes or goes takes its arms along
                self._looks = None
            self._passed = None
            self._changes += 1

    def _written(self, number: int, before: Block, after: Block) -> None:
        if self._loaded is None:
            return
        old = self._loaded.get(number)
        if old is not None:
            old.block = before
        self._loaded[number] = _LoadedBlock(number, after.head, block=after)
        self._changed.add(number)

    @property
    def warm(self) -> bool:
        """Whether the next question is answered at once, with all cooks in memory."""
        return self._loaded is not None and self.up_to_date

    def holds(self, keys: Iterable[str]) -> bool:
        """Whether all cooks are in memory, with all there is of these variables."""
        loaded = self._loaded
        if loaded is None or not self.up_to_date:
            return False
        blocks = list(loaded.values())
        return all(one.block is not None or key in one.columns for key in keys for one in blocks)

    @property
    def up_to_date(self) -> bool:
        """Whether next to nothing has to be worked out before the next answer."""
        followed = self._followed == self._changes
        return followed or len(self._worked_out.stale()) <= AT_ONCE

    def frame(self, progress: Progress | None = None) -> "Frame":
        """Return the columns as the cooks are now; only what changed is worked out and read."""
        if self._followed != self._changes:
            heard = self._changes
            self._worked_out.catch_up(progress)
            self._followed = heard
        with self._worked_out.lock:
            if self._loaded is None:
                heads = self._worked_out.blocks.heads()
                self._loaded = {
                    number: _LoadedBlock(number, head) for number, head in heads.items()
                }
            if self._frame is None or self._changed:
                self._frame = self._frame_over(self._loaded, self._frame)
                self._passed = None
                self._changed.clear()
            return self._frame

    def arm_looks(self) -> Mapping[str, int]:
        """Return the look that arms of each name have most often in their own cooks."""
        found, heard = self._looks, self._changes
        if found is None:
            found = cook_list.arm_looks(self._journal.database)
            with self._turn:
                if heard == self._changes:  # else it may be of before the change
                    self._looks = found
        return found

    def _frame_over(self, blocks: Mapping[int, _LoadedBlock], before: "Frame | None") -> "Frame":
        from pitjournal.analysis.trends.columns.frame import Frame

        held = [blocks[number] for number in sorted(blocks)]

        def read(key: str) -> "list[Columns]":
            return self._columns(held, key)

        def pieces() -> list[str]:
            return self._pieces(held)

        def having(words: str) -> Collection[str]:
            return cook_list.cooks_having(self._journal.database, words)

        if before is None or len(self._changed) > 1 or before.blocks != len(held):
            return Frame([one.head for one in held], read, pieces, having)
        place = [one.number for one in held].index(*self._changed)
        return before.with_block(place, held[place].head, read, pieces)

    def _columns(self, held: Sequence[_LoadedBlock], key: str) -> "list[Columns]":
        from pitjournal.analysis.trends.columns.frame import columns_of

        with self._worked_out.lock:
            if any(one.block is None and key not in one.columns for one in held):
                heads = {one.number: one.head for one in held}
                found: dict[int, dict[str, Column]] = {}
                for (number, level), column in self._worked_out.blocks.column(key, heads).items():
                    found.setdefault(number, {})[level] = column
                for one in held:
                    one.columns.setdefault(key, found.get(one.number, {}))
            return [
                one.columns[key] if one.block is None else columns_of(one.block, key)
                for one in held
            ]

    def _pieces(self, held: Sequence[_LoadedBlock]) -> list[str]:
        with self._worked_out.lock:
            kept = self._worked_out.blocks.pieces()
        pieces = [kept[one.number] if one.block is None else one.block.pieces for one in held]
        return [piece for some in pieces for own in some for piece in own or ("",)]

    def ask(self, question: "Question", system: UnitSystem) -> "Answer":
        """Answer a question.

        Raises
        ------
        JournalError
            If it cannot be asked.
        """
        from pitjournal.analysis.trends.inference.adjusted import answered

        return self._or_anew(lambda: answered(self.frame(), question, self._known(), system))

    def _or_anew(self, work: Callable[[], T]) -> T:
        """Do what reads columns; where what was kept is damaged, again on what is worked out anew.

        What was kept was thrown away then (`DerivedBlocks`), and so is what is held of it here.
        """
        try:
            return work()
        except DamagedError:
            with self._worked_out.lock:
                self._loaded = self._frame = self._passed = None
                self._changed.clear()
                self._followed = -1
            return work()

    def _known(self) -> "Catalogue":
        found, heard = self._catalogue, self._changes
        if found is None:
            found = self._journal.catalogue()
            with self._turn:
                if heard == self._changes:
                    self._catalogue = found
        return found

    def cooks_where(self, where: "tuple[Where, ...]") -> list[str]:
        """Return the cooks with something that passes these filters, newest first.

        Raises
        ------
        JournalError
            If a filter names what is no longer there.
        """
        from pitjournal.analysis.trends.columns.row_selection import cooks_where

        def passed() -> list[str]:
            heard, frame, kept = self._changes, self.frame(), self._passed
            if kept is not None and kept[0] == where:
                return list(kept[1])
            found = cooks_where(frame, where, self._known())
            with self._turn:
                if heard == self._changes and frame is self._frame:
                    self._passed = where, found
            return list(found)

        return self._or_anew(passed)

    def counts_where(
        self, base: "tuple[Where, ...]", more: "Sequence[Where]"
    ) -> tuple[int, list[int]]:
        """Return how many cooks pass some filters, and how many of them each further one.

        Raises
        ------
        JournalError
            If a filter names what is no longer there.
        """
        from pitjournal.analysis.trends.columns.row_selection import cooks_where

        def counted() -> tuple[int, list[int]]:
            frame, known = self.frame(), self._known()
            passing = len(cooks_where(frame, base, known))
            return passing, [len(cooks_where(frame, (*base, one), known)) for one in more]

        return self._or_anew(counted)

    def values_of(self, variable: "Variable") -> list[str]:
        """Return the texts a variable has so far; none of a number."""
        if variable.kind in {Kind.NUMBER, Kind.TIME, Kind.WORDS}:
            return []
        found = self._or_anew(lambda: self.frame().choices(variable.key)[1])
        names = sorted(found, key=str.casefold)
        return [*names, *groups_among(names)] if variable.key == "cut" else names
