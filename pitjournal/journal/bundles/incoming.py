"""What a bundle would bring: what is new, what is here just so, what is otherwise here."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from typing import Any

from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.files.bundle import BundleRead, FileRead, Unpacked
from pitjournal.journal.bundles.alike import Alike, Changed, to_keep
from pitjournal.journal.bundles.cells import cells_of
from pitjournal.journal.bundles.own_plan import own_plan
from pitjournal.journal.bundles.parsing import Left, Parsed, files_of, parse
from pitjournal.journal.commands.bundle import BringBundle
from pitjournal.journal.commands.files import KeptFile
from pitjournal.journal.jobs import Progress
from pitjournal.journal.journal import Journal
from pitjournal.store.columns import fields_of
from pitjournal.units.figures import counted

_HERE_ONLY: Mapping[str, frozenset[str]] = {
    "cook": frozenset({"number", "brought_from", "brought_as"}),
    "alarm": frozenset({"heard", "done", "later"}),
    "probe_file": frozenset({"follows", "added_at"}),
}
"""What a journal says for itself of a record: never compared, never taken over."""


@dataclass(frozen=True)
class Otherwise:
    """A field that is not the same here and in the bundle, as the cells of a table say it."""

    kind: str
    row_id: str
    cook_id: str
    field: str
    mine: str
    theirs: str
    value: Any
    """What it would become."""
    changed: Changed = Changed.UNKNOWN
    """Who changed it since both sides had it alike."""


@dataclass(frozen=True)
class Incoming:
    """What a bundle would do to a journal.

    Attributes
    ----------
    title
        As whoever made it called it.
    protocol
        Whether it is a plan: its cooks are new each time it is brought.
    cooks
        Cooks that are new.
    added
        Other new records: of the Shelf, and of cooks that are here.
    same
        How many cooks are here just as they are in the bundle.
    otherwise
        Fields that differ, of records that are here.
    left
        Rows that could not be read.
    lost
        How many files its records name that are neither in it nor here.
    """

    title: str
    protocol: bool
    cooks: tuple[Cook, ...]
    added: int
    same: int
    otherwise: tuple[Otherwise, ...]
    left: tuple[Left, ...]
    lost: int
    _records: tuple[Record, ...]
    _files: tuple[FileRead, ...]
    _alike: Mapping[str, str] = field(default_factory=dict)

    @property
    def nothing_new(self) -> bool:
        """Whether there is nothing to add; there may still be fields to take over."""
        return not self._records

    def by(self, *changed: Changed) -> tuple[Otherwise, ...]:
        """Return the fields that differ and were changed there, here, on both sides, who knows."""
        return tuple(one for one in self.otherwise if one.changed in changed)

    def kept(
        self, journal: Journal, unpacked: Unpacked, *, theirs: bool, progress: Progress
    ) -> BringBundle | None:
        """Keep the files that are needed, and return the step that takes the records over.

        Parameters
        ----------
        journal
            Where they go. Nothing names the files until the command is done.
        unpacked
            The bundle's files.
        theirs
            Whether fields that differ become what the bundle says; else they stay, but for
            those that were changed there alone.
        progress
            Told after each file; raises where it is no longer wanted.

        Returns
        -------
        BringBundle or None
            None where there is nothing to do.
        """
        files: list[KeptFile] = []
        for number, file in enumerate(self._files):
            progress.report(number / len(self._files), f"Keeping {file.name}")
            data = unpacked.bytes_of(file)
            files.append(journal.files.keep(data, file.media_type, file.name))
        changes: dict[tuple[str, str], dict[str, Any]] = {}
        for one in self.otherwise if theirs else self.by(Changed.THERE):
            changes.setdefault((one.kind, one.row_id), {})[one.field] = one.value
        if not self._records and not changes:
            return None
        many = len(self.cooks)
        words = counted(many, "cook")
        label = f"Bring {words} along" if many else "Bring a bundle along"
        told = tuple((kind, row_id, fields) for (kind, row_id), fields in changes.items())
        return BringBundle(self._records, told, tuple(files), label, tuple(self._alike.items()))


def incoming(journal: Journal, read: BundleRead, file: str) -> Incoming:
    """Compare a bundle that was read with a journal.

    Parameters
    ----------
    journal
        The journal it is to join; nothing is written.
    read
        What `read_bundle` found. Of a protocol, its cooks become planned cooks of one's own.
    file
        The bundle's name, which new cooks say they came from.
    """
    parsed = parse(journal, read)
    if read.protocol:
        parsed.records = own_plan(parsed.records, datetime.now(UTC))
    here = _Here(journal, parsed)
    fresh, otherwise = [], []
    changed_cooks: set[str] = set()
    alike = Alike(journal, [one.id for one in parsed.records if isinstance(one, Cook)])
    unsaid = {kind: _unsaid(read, kind) for kind in {type(one) for one in parsed.records}}
    for record in parsed.records:
        mine = here.like(record)
        if mine is None:
            fresh.append(_marked(record, file))
            changed_cooks.add(_cook_of(record))
            continue
        found = list(_differences(mine, record, unsaid[type(record)], alike))
        otherwise += found
        if found:
            changed_cooks.add(_cook_of(record))
    cooks = tuple(record for record in fresh if isinstance(record, Cook))
    known = {record.id for record in parsed.records if isinstance(record, Cook)}
    needed = list(files_of(fresh))
    attachments = journal.database.attachments
    lost = [sha for sha in needed if sha not in read.files and not attachments.path(sha).is_file()]
    return Incoming(
        title=read.title,
        protocol=read.protocol,
        cooks=cooks,
        added=len(fresh) - len(cooks),
        same=len(known - changed_cooks),
        otherwise=tuple(otherwise),
        left=tuple(parsed.left),
        lost=len(lost),
        _records=tuple(fresh),
        _files=tuple(read.files[sha] for sha in needed if sha in read.files),
        _alike={} if read.protocol else to_keep(parsed.records, unsaid),
    )


class _Here:
    """The records of the journal that a bundle's may be: by id, else by what is unique."""

    def __init__(self, journal: Journal, parsed: Parsed) -> None:
        kinds = {type(record) for record in parsed.records}
        cooks = [record.id for record in parsed.records if isinstance(record, Cook)]
        own = [kind for kind in kinds if kind is Cook or kind.PARENTS.get("cook_id") == Cook.KIND]
        there = journal.database.of_cooks(own, cooks)
        self._by_id: dict[tuple[str, str], Record] = {}
        self._by_key: dict[tuple[object, ...], Record] = {}
        for kind in kinds:
            for record in there[kind] if kind in own else journal.find(kind):
                self._by_id[kind.KIND, record.id] = record
                if kind.UNIQUE:
                    self._by_key[self._key(record)] = record

    @staticmethod
    def _key(record: Record) -> tuple[object, ...]:
        return (record.KIND, *(getattr(record, name) for name in record.UNIQUE))

    def like(self, record: Record) -> Record | None:
        """Return the record here that is this one."""
        found = self._by_id.get((record.KIND, record.id))
        if found is None and record.UNIQUE:
            return self._by_key.get(self._key(record))
        return found


def _marked(record: Record, file: str) -> Record:
    return replace(record, brought_from=file) if isinstance(record, Cook) else record


def _cook_of(record: Record) -> str:
    return record.id if isinstance(record, Cook) else str(getattr(record, "cook_id", ""))


def _unsaid(read: BundleRead, kind: type[Record]) -> set[str]:
    """Return the fields of a kind that a bundle says nothing of.

    They stayed at home, or the program that wrote it did not know them.
    """
    table = read.tables.get(kind.KIND)
    heads = set(table.heads) if table is not None else set()
    left_out = set(read.left_out.get(kind.KIND, ()))
    typed = {"typed"} if left_out else set()
    return left_out | typed | (fields_of(kind).keys() - heads)


def _differences(
    mine: Record, theirs: Record, unsaid: set[str], alike: Alike
) -> Iterator[Otherwise]:
    """Give each field that differs; what their side does not say is no difference."""
    ignored = {"id", *unsaid, *_HERE_ONLY.get(mine.KIND, ())}
    names = tuple(fields_of(type(mine)))
    for name, one, other in zip(names, cells_of(mine), cells_of(theirs), strict=True):
        if one != other and name not in ignored:
            value = getattr(theirs, name)
            changed = alike.changed(mine, name, one, other)
            cook_id = _cook_of(mine)
            yield Otherwise(mine.KIND, mine.id, cook_id, name, one, other, value, changed)
