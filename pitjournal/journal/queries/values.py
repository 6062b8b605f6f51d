"""Worked-out values, always fresh: what is behind is worked out again before it is read."""

import math
import threading
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING

from pitjournal.domain.blocks import COOK, PIECE, Block, Value, block_of, joined, values_in
from pitjournal.domain.catalogue import formulas
from pitjournal.domain.impossible import possible
from pitjournal.journal.jobs import Progress
from pitjournal.store.derived_blocks import DerivedBlocks
from pitjournal.store.faults import DamagedError

if TYPE_CHECKING:
    from pitjournal.analysis.derived import CookValues
    from pitjournal.journal.journal import Journal

TOGETHER = 64
"""So many new cooks make a block: small to write again, few to read."""

ROUNDS = 3
"""So often it is looked whether something is still behind, for others work here too."""

Row = tuple[str, str, str, Mapping[str, Value]]
"""Owner id, cook id, level ("cook" or "piece"), value by catalogue key."""

Heard = Callable[[int, Block, Block], None]
"""Told the number of a block that was written, and what it was and is."""


class WorkedOut:
    """The worked-out values of an open journal.

    May be used from any thread. The lock is never held while cooks are worked out, only while
    a block is written or read.
    """

    def __init__(self, journal: "Journal") -> None:
        self._journal = journal
        self._blocks = DerivedBlocks(journal.database)
        self._blocks.made_by(formulas())
        self.lock = threading.RLock()
        self.heard: Heard | None = None

    @property
    def blocks(self) -> DerivedBlocks:
        """The kept blocks; hold the lock while reading more than one thing."""
        return self._blocks

    def stale(self) -> list[str]:
        """Return the cooks that have changed since they were worked out."""
        return list(self._blocks.stale())

    def catch_up(
        self, progress: Progress | None = None, cook_ids: Iterable[str] | None = None
    ) -> None:
        """Work out what is behind, or what of these cooks is, in small pieces.

        Raises
        ------
        CancelledJobError
            If the job was cancelled; what was worked out by then is kept.
        """
        asked = None if cook_ids is None else list(cook_ids)
        for _ in range(ROUNDS):
            groups = self._groups(list(self._blocks.stale(asked)))
            for done, (number, some) in enumerate(groups):
                if progress is not None:
                    progress.report(done / len(groups), "Working out what each cook shows")
                self._work_out(number, some)
            if not groups:
                break

    def help_on(self, most: int) -> bool:
        """Work out some of what is behind; return whether there is more.

        A journal that can only be read waits until somebody asks.
        """
        if self._journal.read_only:
            return False
        found = list(self._blocks.stale(most=most + 1))
        for number, some in self._groups(found[:most]):
            self._work_out(number, some)
        return len(found) > most

    def _work_out(self, number: int | None, cook_ids: list[str]) -> None:
        changes = self._blocks.stale(cook_ids)  # before their records are read
        self._keep(number, changes, worked_out(self._journal, list(changes)))

    def _groups(self, cook_ids: list[str]) -> list[tuple[int | None, list[str]]]:
        """Return what is worked out together: a block's cooks, or new ones, at most TOGETHER."""
        if not cook_ids:
            return []
        places = self._blocks.places(cook_ids)
        sorted_out: dict[int | None, list[str]] = {}
        for cook_id in cook_ids:
            sorted_out.setdefault(places.get(cook_id), []).append(cook_id)
        return [
            (number, own[start : start + TOGETHER])
            for number, own in sorted_out.items()
            for start in range(0, len(own), TOGETHER)
        ]

    def _keep(
        self, number: int | None, changes: Mapping[str, int], fresh: "Mapping[str, CookValues]"
    ) -> None:
        with self.lock:
            # Another thread may have been quicker: with all of it, or with an older state.
            now, places = self._blocks.stale(changes), self._blocks.places(changes)
            changes = {
                cook_id: seen
                for cook_id, seen in changes.items()
                if now.get(cook_id) == seen and places.get(cook_id) == number
            }
            if not changes:
                return
            if number is None:
                number = self._room_for(len(changes))
            before = self._blocks.read(number)
            after = _changed(before, changes, fresh)
            self._blocks.write(number, before, after, changes)
            if self.heard is not None:
                self.heard(number, before, after)

    def _room_for(self, cooks: int) -> int:
        last = self._blocks.last()
        full = not last or len(self._blocks.read(last).cooks) + cooks > TOGETHER
        return last + 1 if full else last

    def rows(self, cook_ids: Iterable[str] | None = None) -> list[Row]:
        """Return the rows of these cooks, or of all, with every value that is known."""
        asked = None if cook_ids is None else list(cook_ids)
        try:
            return self._rows(asked)
        except DamagedError:  # where it was what is kept, that was thrown away
            return self._rows(asked)

    def _rows(self, asked: list[str] | None) -> list[Row]:
        self.catch_up(cook_ids=asked)
        with self.lock:
            if asked is None:
                numbers = set(self._blocks.heads())
            else:
                numbers = set(self._blocks.places(asked).values())
            wanted = None if asked is None else set(asked)
            found: list[Row] = []
            for number in sorted(numbers):
                for cook_id, (cook, pieces) in values_in(self._blocks.read(number)).items():
                    if wanted is None or cook_id in wanted:
                        found.append((cook_id, cook_id, COOK, cook))
                        found += [(piece, cook_id, PIECE, own) for piece, own in pieces.items()]
        return found

    @property
    def older(self) -> bool:
        """Whether what is kept was worked out by formulas of another version of the program."""
        return self._blocks.older

    def agree(self, progress: Progress | None = None) -> bool:
        """Whether every kept value is what its records say, save for cooks that are behind."""
        behind = set(self.stale())
        heads = self._blocks.heads()
        for place, number in enumerate(heads):
            if progress is not None:
                progress.report(place / len(heads), f"{64 * place} cooks worked out again")
            kept = values_in(self._blocks.read(number))
            fresh = worked_out(self._journal, [cook for cook in kept if cook not in behind])
            for cook_id, found in kept.items():
                if cook_id in behind:
                    continue
                if cook_id not in fresh or found != _known(fresh[cook_id]):
                    return False
        return True


def worked_out(journal: "Journal", cook_ids: list[str]) -> "Mapping[str, CookValues]":
    """Work out the values of these cooks from their records."""
    from pitjournal.analysis.derived import values_of

    wholes, samples = journal.wholes(cook_ids), journal.files.samples
    return {cook_id: values_of(possible(whole), samples) for cook_id, whole in wholes.items()}


def _block(cook_id: str, values: "CookValues") -> Block:
    return block_of(cook_id, values.cook, values.pieces)


def _known(values: "CookValues") -> object:
    """Return what `values_in` gives of a cook that was kept: what is known, as plain values."""
    return _plain(values.cook), {piece: _plain(own) for piece, own in values.pieces.items()}


def _plain(line: Mapping[str, Value]) -> dict[str, Value]:
    known = {key: value for key, value in line.items() if value is not None}
    plain: dict[str, Value] = {}
    for key, value in known.items():
        if isinstance(value, str | bool):
            plain[key] = value if isinstance(value, bool) else str(value)
        elif not math.isnan(value):
            plain[key] = float(value)
    return plain


def _changed(block: Block, cook_ids: Iterable[str], fresh: "Mapping[str, CookValues]") -> Block:
    """Return a block with these cooks as they are now: some anew, some gone."""
    new: list[Block] = []
    for cook_id in cook_ids:
        if cook_id not in fresh:
            block = block.without(cook_id)
        elif cook_id in block.cooks:
            block = block.with_cook(_block(cook_id, fresh[cook_id]))
        else:
            new.append(_block(cook_id, fresh[cook_id]))
    return joined([block, *new]) if new else block
