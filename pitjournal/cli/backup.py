"""`pitjournal backup`: the journal as one ZIP file, also while it is open."""

from contextlib import closing
from pathlib import Path

from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.journal import open_journal
from pitjournal.journal.backups import backup
from pitjournal.units.figures import figure


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--to", metavar="FILE", type=Path)
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it and say where."""
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        target = backup(journal.database, arguments.to)
    size = target.stat().st_size
    if arguments.json:
        as_json({"file": str(target.absolute()), "bytes": size})
    else:
        line(f"Backed up to {target} ({figure(size / 1e6, 1)} MB).")
    return 0
