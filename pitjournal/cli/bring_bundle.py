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
    from pitjournal.journal.bundles.incoming import Incoming
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
            }
            for one in found.otherwise
        ],
        "rows_left_out": [
            {"table": one.table, "row": one.row, "reason": one.why} for one in found.left
        ],
        "files_missing": found.lost,
        "kept": take if kept else None,
    }


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
    if found.otherwise:
        heading(f"Not the same here and there; {take} stays")
        rows = [(one.kind, one.field, one.mine, one.theirs) for one in found.otherwise[:SHOWN]]
        table(("Of", "Field", "Mine", "Theirs"), [tuple(c[:40] for c in row) for row in rows])
        if len(found.otherwise) > SHOWN:
            line(f"... and {len(found.otherwise) - SHOWN} more; --json lists all")
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
    elif not new and not found.added and (take == "mine" or not found.otherwise):
        line("Nothing new.")
    else:
        line("Kept. Undo takes all of it out again.")


def _are(count: int) -> str:
    return "is" if count == 1 else "are"
