"""`pitjournal summary`: one cook as a file for someone else."""

from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.errors import JournalError
from pitjournal.files.summary.content import Choice, Detail, Part, Summary
from pitjournal.files.writing import write_text
from pitjournal.journal import open_journal
from pitjournal.units import UnitSystem


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cook", metavar="COOK")
    parser.add_argument("--to", metavar="FILE", type=Path, required=True)
    parser.add_argument("--detail", choices=[str(d) for d in Detail], default=str(Detail.NAMES))
    parser.add_argument(
        "--with", dest="parts", action="append", choices=[str(p) for p in Part], default=[]
    )
    parser.add_argument("--ask", metavar="WORDS", action="append", default=[])
    parser.add_argument("--paper", choices=("a4", "letter"))
    parser.add_units()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it; say where, what leaves with it and what does not."""
    from pitjournal.cli.questions import asked_in_words
    from pitjournal.journal.sharing import whole_summary

    target: Path = arguments.to
    write = writer_for(target)
    system = system_of(arguments)
    paper = arguments.paper or ("letter" if system is UnitSystem.US else "a4")
    choice = Choice(Detail(arguments.detail), frozenset(Part(part) for part in arguments.parts))
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        chosen = [asked_in_words(words, journal, system) for words in arguments.ask]
        cook_id = journal.find_cook(arguments.cook)
        made = whole_summary(journal, cook_id, choice, system, chosen=chosen)
    write(made, target, paper)
    if arguments.json:
        as_json(
            {
                "file": str(target.absolute()),
                "leaves": list(made.leaves),
                "left_out": list(made.left_out),
                "links": [asked.link for asked in made.asked],
            }
        )
        return 0
    line(f"Written to {target}.")
    line(f"Leaves with it: {'; '.join(made.leaves)}.")
    if made.left_out:
        line(f"Stays here: {'; '.join(made.left_out)}.")
    return 0


Write = Callable[[Summary, Path, str], None]


def writer_for(target: Path) -> Write:
    """Return what writes a file of this name.

    Raises
    ------
    JournalError
        If the name ends in nothing that can be written.
    """
    writers: dict[str, Write] = {
        ".pdf": _pdf,
        ".html": _html,
        ".htm": _html,
        ".png": _png,
        ".csv": _csv,
    }
    try:
        return writers[target.suffix.lower()]
    except KeyError:
        message = f"{target.name} could be anything."
        raise JournalError(message, "End it in .pdf, .html, .png or .csv.") from None


def _pdf(made: Summary, target: Path, paper: str) -> None:
    from pitjournal.ui.summary_pdf import write_pdf

    write_pdf(made, target, paper=paper)


def _png(made: Summary, target: Path, paper: str) -> None:
    from pitjournal.ui.summary_pdf import write_png

    write_png(made, target, paper=paper)


def _html(made: Summary, target: Path, _paper: str) -> None:
    from pitjournal.files.summary import to_html

    write_text(target, to_html(made))


def _csv(made: Summary, target: Path, _paper: str) -> None:
    from pitjournal.files.summary import to_csv

    write_text(target, "\N{ZERO WIDTH NO-BREAK SPACE}" + to_csv(made))
