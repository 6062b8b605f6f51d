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
    lost = bool(found.lost or found.files_missing)
    if arguments.json:
        as_json({**vars(found), "folder": str(found.folder), "lost": list(found.lost)})
        return int(lost)
    line(f"Wrote {found.cooks} cooks, {found.records} records in all, to {found.folder}.")
    if found.from_history:
        line(f"Of these, {found.from_history} came from the steps for undo.")
    line(f"Kept files: {found.files} came along, {found.files_missing} are missing or damaged.")
    if found.lost:
        line("\nNot read:")
    for words in found.lost:
        line(f"  {words}")
    line("\nThe damaged journal was not touched.")
    return int(lost)
