"""`pitjournal season`: a year, or chosen cooks, as one report."""

from contextlib import closing
from pathlib import Path

from pitjournal.cli.output import left_out
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.cli.reports import write_report
from pitjournal.errors import JournalError
from pitjournal.files.formats import format_for
from pitjournal.files.paper import PAPERS
from pitjournal.files.summary.content import Choice, PrivatePart
from pitjournal.journal import open_journal
from pitjournal.ui.summary_formats import REPORT_FORMATS


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cooks", metavar="COOK", nargs="*")
    parser.add_argument("--year", metavar="YEAR", type=int)
    parser.add_argument("--to", metavar="FILE", type=Path, required=True)
    parser.add_argument(
        "--with",
        dest="parts",
        action="append",
        choices=[str(PrivatePart.PLACE), str(PrivatePart.COSTS)],
        default=[],
    )
    parser.add_argument("--paper", choices=PAPERS)
    parser.add_units()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it; say where, what leaves with it and what does not."""
    from pitjournal.journal.sharing.season import report_of_cooks, report_of_year, years_with_any

    format_for(arguments.to, REPORT_FORMATS)  # said before the journal is read
    if arguments.cooks and arguments.year is not None:
        raise JournalError("A year or cooks, not both.", "Leave one of them out.")
    system = system_of(arguments)
    choice = Choice(parts=frozenset(PrivatePart(part) for part in arguments.parts))
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        if arguments.cooks:
            cook_ids = [journal.cooks.find(words) for words in arguments.cooks]
            report = report_of_cooks(journal, cook_ids, choice, system)
        else:
            years = years_with_any(journal)
            if arguments.year is None and not years:
                raise JournalError("There is no cook and no contest yet.", "Write one down first.")
            year = years[0] if arguments.year is None else arguments.year
            report = report_of_year(journal, year, choice, system)
        left_out(journal)
    write_report(report, arguments)
    return 0
