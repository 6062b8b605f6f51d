"""`pitjournal class`: one cook as a sheet for a class."""

from contextlib import closing
from pathlib import Path

from pitjournal.cli.output import left_out
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.cli.reports import write_report
from pitjournal.files.formats import format_for
from pitjournal.files.paper import PAPERS
from pitjournal.files.summary.content import Choice, Detail
from pitjournal.journal import open_journal
from pitjournal.ui.summary_formats import REPORT_FORMATS


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cook", metavar="COOK")
    parser.add_argument("--pieces", metavar="NUMBER", type=int)
    parser.add_argument("--to", metavar="FILE", type=Path, required=True)
    parser.add_argument("--detail", choices=[str(d) for d in Detail], default=str(Detail.NAMES))
    parser.add_argument("--paper", choices=PAPERS)
    parser.add_units()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it; say where, what leaves with it and what does not."""
    from pitjournal.journal.sharing.class_sheet import USUAL_PIECES, class_sheet

    format_for(arguments.to, REPORT_FORMATS)  # said before the journal is read
    pieces = USUAL_PIECES if arguments.pieces is None else arguments.pieces
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        cook_id = journal.cooks.find(arguments.cook)
        choice = Choice(Detail(arguments.detail))
        report = class_sheet(journal, cook_id, pieces, choice, system_of(arguments))
        left_out(journal)
    write_report(report, arguments)
    return 0
