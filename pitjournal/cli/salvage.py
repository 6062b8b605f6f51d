"""`pitjournal salvage`: write what can be read of a damaged journal into a new one."""

from pathlib import Path

from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.journal.backups.salvage import salvage


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--to", metavar="FOLDER", type=Path, required=True)
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it; 1 when something is lost."""
    found = salvage(arguments.journal.expanduser(), arguments.to.expanduser())
    if arguments.json:
        as_json(
            {
                **vars(found),
                "folder": str(found.folder),
                "files_missing": len(found.missing),
                "missing": list(found.missing),
                "mended": list(found.mended),
                "lost": list(found.lost),
            }
        )
        return int(not found.whole)
    line(f"Wrote {found.cooks} cooks, {found.records} records in all, to {found.folder}.")
    if found.from_history:
        line(f"Of these, {found.from_history} came from the steps for undo.")
    if found.from_backup:
        line(f"Of these, {found.from_backup} came from the newest backup.")
    line(f"Kept files: {found.files} came along, {len(found.missing)} are missing or damaged.")
    for name in found.missing:
        line(f"  {name}")
    for heading, lines in (("Mended", found.mended), ("Not read", found.lost)):
        if lines:
            line(f"\n{heading}:")
        for words in lines:
            line(f"  {words}")
    line("\nThe damaged journal was not touched.")
    return int(not found.whole)
