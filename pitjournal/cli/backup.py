"""`pitjournal backup`: the journal as one ZIP file, also while it is open."""

from contextlib import closing
from pathlib import Path

from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.journal import open_journal
from pitjournal.journal.backups.archive import Archive, archive
from pitjournal.units.figures import figure


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--to", metavar="FILE", type=Path)
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it and say where; 1 when some kept files are not in it."""
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        made = archive(journal.database, arguments.to)
    size = made.path.stat().st_size
    if arguments.json:
        counts = {"missing": made.missing, "changed": made.changed}
        as_json({"file": str(made.path.absolute()), "bytes": size, "left_out": counts})
    else:
        line(f"Backed up to {made.path} ({figure(size / 1e6, 1)} MB).")
        _say_left_out(made)
    return int(bool(made.missing or made.changed))


def _say_left_out(made: Archive) -> None:
    counts = ((made.missing, "missing"), (made.changed, "changed"))
    said = " and ".join(f"{count} {how}" for count, how in counts if count)
    if said:
        line(f"Not in it: of the photos and logs that were kept, {said}.")
        line("Try: pitjournal check JOURNAL --repair")
