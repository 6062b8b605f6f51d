"""The half of `pitjournal bring` that takes a bundle of cooks over."""

from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from pitjournal.cli.at_terminal import AtTerminal
from pitjournal.cli.output import as_json, heading, line, table
from pitjournal.cli.parser import Arguments
from pitjournal.files import strangers
from pitjournal.files.places import name_of
from pitjournal.units.figures import counted

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pitjournal.journal.bundles.incoming import Incoming, Otherwise
    from pitjournal.journal.journal import Journal

SHOWN = 20
"""Lines of one sort that are shown at a terminal."""


def bring_bundle(arguments: Arguments) -> int:
    """Say what is new, the same, and otherwise; unless it is a dry run keep what is new."""
    from pitjournal.journal import open_journal
    from pitjournal.journal.bundles.incoming import incoming

    path: Path = arguments.file
    read = strangers.bundle(path)
    folder: Path = arguments.journal
    if arguments.dry_run and not folder.exists():
        import tempfile

        with (
            tempfile.TemporaryDirectory() as nowhere,
            closing(open_journal(Path(nowhere) / "empty", new=True)) as journal,
        ):
            found = incoming(journal, read, name_of(path))
    else:
        opened = open_journal(folder, new=not arguments.dry_run, read_only=arguments.dry_run)
        with closing(opened) as journal:
            found = incoming(journal, read, name_of(path))
            if not arguments.dry_run:
                _keep(journal, found, path, theirs=arguments.take == "theirs")
    if arguments.json:
        as_json(_as_json(found, kept=not arguments.dry_run, take=arguments.take))
    else:
        _tell(found, kept=not arguments.dry_run, take=arguments.take)
    return 0


def _keep(journal: "Journal", found: "Incoming", path: Path, *, theirs: bool) -> None:
    from pitjournal.files.bundle import Unpacked

    with Unpacked(path) as unpacked:
        command = found.kept(journal, unpacked, theirs=theirs, progress=AtTerminal())
    if command is not None:
        journal.do(command)


def _as_json(found: "Incoming", *, kept: bool, take: str) -> dict[str, object]:
    return {
        "bundle": found.title,
        "protocol": found.protocol,
        "cooks": [
            {"id": cook.id, "title": cook.title, "date": cook.starts_at.date().isoformat()}
            for cook in found.cooks
        ],
        "added": found.added,
        "same": found.same,
        "otherwise": [
            {
                "table": one.kind,
                "id": one.row_id,
                "cook": one.cook_id or None,
                "field": one.field,
                "mine": one.mine,
                "theirs": one.theirs,
                "changed": str(one.changed),
            }
            for one in found.otherwise
        ],
        "rows_left_out": [
            {"table": one.table, "row": one.row, "reason": one.why} for one in found.left
        ],
        "files_missing": found.lost,
        "kept": take if kept else None,
    }


def _differences(found: "Incoming", take: str) -> "Iterator[tuple[str, Sequence[Otherwise]]]":
    """Yield what differs, by who changed it and so what becomes of it."""
    from pitjournal.journal.bundles.alike import Changed

    if take == "theirs":
        yield "Not the same here and there; theirs is taken", found.otherwise
        return
    yield "Changed there alone, and taken", found.by(Changed.THERE)
    yield "Changed here alone; it stays", found.by(Changed.HERE)
    asked = found.by(Changed.BOTH, Changed.UNKNOWN)
    yield "Not the same here and there; mine stays", asked


def _tell_differences(head: str, otherwise: "Sequence[Otherwise]") -> None:
    if not otherwise:
        return
    heading(head)
    rows = [(one.kind, one.field, one.mine, one.theirs) for one in otherwise[:SHOWN]]
    table(("Of", "Field", "Mine", "Theirs"), [tuple(c[:40] for c in row) for row in rows])
    if len(otherwise) > SHOWN:
        line(f"... and {len(otherwise) - SHOWN} more; --json lists all")


def _tell(found: "Incoming", *, kept: bool, take: str) -> None:
    new, same = len(found.cooks), found.same
    if found.protocol:
        line(f"{found.title}: a plan. It becomes {counted(new, 'planned cook')} of your own.")
    else:
        line(
            f"{found.title}: {counted(new, 'new cook', none='no')}, {counted(same, 'cook', none='no')} that {_are(same)} here."
        )
    if found.added:
        line(f"With them: {counted(found.added, 'record')} more.")
    for head, otherwise in _differences(found, take):
        _tell_differences(head, otherwise)
    if found.left:
        heading("Rows that could not be read, and were left out")
        told = [(one.table, str(one.row), one.why) for one in found.left[:SHOWN]]
        table(("Table", "Row", "Why"), told, right=(1,))
        if len(found.left) > SHOWN:
            line(f"... and {len(found.left) - SHOWN} more; --json lists all")
    if found.lost:
        line(f"Not in the bundle: {counted(found.lost, 'file')} that its cooks name.")
    if not kept:
        line("Nothing was kept: this was a dry run.")
    elif not new and not found.added and not _taken(found, take):
        line("Nothing new.")
    else:
        line("Kept. Undo takes all of it out again.")


def _taken(found: "Incoming", take: str) -> bool:
    """Whether any field became what the bundle says."""
    from pitjournal.journal.bundles.alike import Changed

    return bool(found.otherwise if take == "theirs" else found.by(Changed.THERE))


def _are(count: int) -> str:
    return "is" if count == 1 else "are"
