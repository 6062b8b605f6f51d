"""`pitjournal export`: every table as CSV with its description, for any other software."""

from contextlib import closing
from pathlib import Path

from pitjournal.cli.missed import left_out_of
from pitjournal.cli.output import as_json, line, problem
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.units.figures import counted


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--to", metavar="FOLDER", type=Path, required=True)
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it; say where, and which records could not be read."""
    from pitjournal.journal import open_journal
    from pitjournal.journal.bundles.plain_export import export_plain

    folder: Path = arguments.to
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        written = export_plain(journal, folder)
        rows = left_out_of(journal)
    for message in rows:
        problem(message)
    if arguments.json:
        tables = [str(folder.absolute() / one.path) for one in written]
        as_json({"folder": str(folder.absolute()), "tables": tables, "rows_missing": len(rows)})
    else:
        line(f"Written to {folder}: {counted(len(written), 'table')}, with what each column holds.")
    return 1 if rows else 0
