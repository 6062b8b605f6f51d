"""`pitjournal bundle`: cooks as one file, for another journal or other software."""

from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from pitjournal.cli.missed import left_out_of
from pitjournal.cli.output import as_json, line, problem
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.files.bundle.content import SUFFIX
from pitjournal.files.summary.content import Choice, Detail, PrivatePart
from pitjournal.units.figures import counted

if TYPE_CHECKING:
    from pitjournal.journal import Journal
    from pitjournal.journal.bundles.gathering import Gathered

SHOWN = 6
"""Names of files that are listed."""


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cooks", metavar="COOK", nargs="*")
    parser.add_argument("--to", metavar="FILE", type=Path, required=True)
    parser.add_argument("--question", metavar="WORDS")
    parser.add_argument("--recipe", metavar="NAME", action="append", default=[])
    parser.add_argument("--detail", choices=[str(d) for d in Detail])
    parts = [str(part) for part in PrivatePart if part is not PrivatePart.TIMES]
    parser.add_argument("--with", dest="parts", action="append", choices=parts, default=[])
    parser.add_argument("--without-times", action="store_true")
    parser.add_argument("--everything", action="store_true")
    parser.add_argument("--plan", action="store_true")
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Write it; say where, what leaves with it and what does not."""
    from pitjournal.files.bundle import write_bundle
    from pitjournal.files.writing import whole_file
    from pitjournal.journal import open_journal

    target: Path = arguments.to
    if target.suffix.lower() != SUFFIX:
        raise JournalError(f"{target.name} could be anything.", f"End it in {SUFFIX}.")
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        gathered = _gathered(journal, arguments)
        with whole_file(target) as file:
            changed = write_bundle(gathered.bundle, file)
        lost = [f"{name}: gone" for name in gathered.missing]
        lost += [f"{name}: not as it was kept" for name in changed]
        rows = left_out_of(journal)
    for message in rows:
        problem(message)
    if arguments.json:
        as_json(
            {
                "file": str(target.absolute()),
                "cooks": gathered.cooks,
                "leaves": list(gathered.leaves),
                "left_out": list(gathered.left_out),
                "files_missing": lost,
                "rows_missing": len(rows),
            }
        )
        return 1 if lost or rows else 0
    what = "the plan of " if arguments.plan else ""
    many = counted(gathered.cooks, "cook")
    line(f"Written to {target}: {gathered.bundle.title if arguments.recipe else what + many}.")
    line(f"Leaves with it: {'; '.join(gathered.leaves)}.")
    if gathered.left_out:
        line(f"Stays here: {'; '.join(gathered.left_out)}.")
    if lost:
        line(
            f"Not in it, {len(lost)} kept files: {'; '.join(lost[:SHOWN])}{' ...' if len(lost) > SHOWN else ''}"
        )
    return 1 if lost or rows else 0


def _choice(arguments: Arguments) -> Choice:
    """Return what leaves; a recipe that is sent by its name leaves with its amounts."""
    from pitjournal.journal.bundles.leaving import EVERYTHING

    if arguments.everything and arguments.without_times:
        raise JournalError("Everything has clock times too.", "Leave one of the two out.")
    if arguments.everything:
        return EVERYTHING
    usual = Detail.GRAMS if arguments.recipe else Detail.NAMES
    parts = frozenset(PrivatePart(part) for part in arguments.parts)
    return Choice(Detail(arguments.detail or usual), parts, clockless=arguments.without_times)


def _gathered(journal: "Journal", arguments: Arguments) -> "Gathered":
    """Return what is to be written: recipes, the cooks of a question, chosen cooks, or all."""
    from pitjournal.journal.bundles import gathering
    from pitjournal.journal.bundles.recipes_out import recipe_named

    choice, name = _choice(arguments), Path(arguments.to).stem
    asked = [bool(arguments.cooks), arguments.question is not None, bool(arguments.recipe)]
    if sum(asked) > 1:
        raise JournalError("Cooks, a question or recipes, not several.", "Name one sort of them.")
    if arguments.recipe:
        items = [recipe_named(journal, words) for words in arguments.recipe]
        return gathering.recipes_bundle(journal, items, choice, name)
    if arguments.question is not None:
        cook_ids = gathering.asking(journal, arguments.question)
    else:
        found = [journal.cooks.find(words) for words in arguments.cooks]
        cook_ids = list(dict.fromkeys(found)) or [
            cook.id for cook in sorted(journal.find(Cook), key=lambda cook: cook.number)
        ]
    gather = gathering.protocol_of if arguments.plan else gathering.bundle_of
    return gather(journal, cook_ids, choice, name)
