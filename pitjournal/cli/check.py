"""`pitjournal check`: whether a journal is whole."""

from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.journal.checks import Check, check_folder


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Check it; 1 when something did not hold."""
    found = check_folder(arguments.journal)
    if arguments.json:
        as_json(found.as_json())
    else:
        tell(found)
    return 0 if found.held else 1


def tell(found: Check) -> None:
    """Say what held and what did not, a line each."""
    files = f"{found.checked} kept {'file' if found.checked == 1 else 'files'} looked at"
    if found.missing:
        files += f", {found.missing} missing"
    if found.changed:
        files += f", {found.changed} changed"
    whole = not found.missing and not found.changed
    for held, words in (
        (found.database, "the database is whole"),
        (found.foreign_keys, "every record that is pointed at is there"),
        (whole, files),
        (found.traces, "each trace has its readings, as many as were noted"),
        (found.derived, "each worked-out value is what its records give"),
    ):
        line(f"{'held    ' if held else 'NOT HELD'}  {words}")
    line()
    line("The journal is whole." if found.held else "The journal is not whole.")
    if not found.held:
        line("Nothing was changed. Copy it aside, then look into its backups.")
