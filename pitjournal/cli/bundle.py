"""`pitjournal bundle`: cooks as one file, for another journal or other software."""

from contextlib import closing
from pathlib import Path

from pitjournal.cli.missed import left_out_of
from pitjournal.cli.output import as_json, line, problem
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.files.bundle.content import SUFFIX
from pitjournal.files.summary.content import Choice, Detail, PrivatePart

SHOWN = 6
"""Names of files that are listed."""


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cooks", metavar="COOK", nargs="*")
    parser.add_argument("--to", metavar="FILE", type=Path, required=True)
    parser.add_argument("--detail", choices=[str(d) for d in Detail], default=str(Detail.NAMES))
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
    from pitjournal.journal.bundles.gathering import bundle_of, protocol_of
    from pitjournal.journal.bundles.leaving import EVERYTHING

    target: Path = arguments.to
    if target.suffix.lower() != SUFFIX:
        raise JournalError(f"{target.name} could be anything.", f"End it in {SUFFIX}.")
    parts = frozenset(PrivatePart(part) for part in arguments.parts)
    if arguments.everything and arguments.without_times:
        raise JournalError("Everything has clock times too.", "Leave one of the two out.")
    chosen = Choice(Detail(arguments.detail), parts, clockless=arguments.without_times)
    choice = EVERYTHING if arguments.everything else chosen
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        found = [journal.cooks.find(words) for words in arguments.cooks]
        cook_ids = list(dict.fromkeys(found)) or [
            cook.id for cook in sorted(journal.find(Cook), key=lambda cook: cook.number)
        ]
        gather = protocol_of if arguments.plan else bundle_of
        gathered = gather(journal, cook_ids, choice, target.stem)
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
    line(
        f"Written to {target}: {what}{gathered.cooks} {'cook' if gathered.cooks == 1 else 'cooks'}."
    )
    line(f"Leaves with it: {'; '.join(gathered.leaves)}.")
    if gathered.left_out:
        line(f"Stays here: {'; '.join(gathered.left_out)}.")
    if lost:
        line(
            f"Not in it, {len(lost)} kept files: {'; '.join(lost[:SHOWN])}{' ...' if len(lost) > SHOWN else ''}"
        )
    return 1 if lost or rows else 0
