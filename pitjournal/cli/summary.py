"""`pitjournal summary`: one cook as a file for someone else."""

from contextlib import closing
from pathlib import Path

from pitjournal.cli.output import as_json, left_out, line
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.errors import JournalError
from pitjournal.files.formats import format_for
from pitjournal.files.paper import PAPERS, usual_paper
from pitjournal.files.summary.content import Choice, Detail, PrivatePart
from pitjournal.files.summary.posted import Shape
from pitjournal.files.writing import write_bytes
from pitjournal.journal import open_journal
from pitjournal.ui.summary_formats import PICTURE, SUMMARY_FORMATS, ToWrite


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cook", metavar="COOK")
    parser.add_argument("--to", metavar="FILE", type=Path, required=True)
    parser.add_argument("--detail", choices=[str(d) for d in Detail], default=str(Detail.NAMES))
    parser.add_argument(
        "--with", dest="parts", action="append", choices=[str(p) for p in PrivatePart], default=[]
    )
    parser.add_argument("--ask", metavar="WORDS", action="append", default=[])
    parser.add_argument("--shape", choices=[str(shape) for shape in Shape])
    parser.add_argument("--paper", choices=PAPERS)
    parser.add_units()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it; say where, what leaves with it and what does not."""
    from pitjournal.cli.questions import asked_in_words
    from pitjournal.journal.sharing import whole_summary

    target: Path = arguments.to
    form = format_for(target, SUMMARY_FORMATS)
    shape = Shape(arguments.shape) if arguments.shape else None
    if shape is not None and form.suffix != PICTURE:
        raise JournalError("Only a picture has a shape.", f"End the name in {PICTURE}.")
    system = system_of(arguments)
    paper = arguments.paper or usual_paper(system)
    choice = Choice(
        Detail(arguments.detail), frozenset(PrivatePart(part) for part in arguments.parts)
    )
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        chosen = [asked_in_words(words, journal, system) for words in arguments.ask]
        cook_id = journal.cooks.find(arguments.cook)
        made = whole_summary(journal, cook_id, choice, system, chosen=chosen)
        left_out(journal)
    write_bytes(target, form.make(ToWrite(made, paper, shape=shape)))
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
