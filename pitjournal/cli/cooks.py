"""`pitjournal cooks`: list the cooks of a journal."""

from contextlib import closing
from zoneinfo import ZoneInfo

from pitjournal.cli.missed import left_out_of
from pitjournal.cli.output import as_json, line, problem, table
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.journal import open_journal
from pitjournal.store.cook_list import CookLine


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--find", metavar="WORDS", default="")
    parser.add_json()


def run(arguments: Arguments) -> int:
    """List them, newest first."""
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        found = journal.cooks.page(arguments.find, most=max(1, journal.cooks.count()))
        missed = left_out_of(journal)
    for message in missed:
        problem(message)
    if arguments.json:
        as_json([_entry(cook) for cook in found])
    elif not found:
        line("No cooks yet." if not arguments.find else "No cook has those words.")
    else:
        _list(found)
    return 0


def _date(cook: CookLine) -> str:
    return cook.starts_at.astimezone(ZoneInfo(cook.zone)).date().isoformat()


def _entry(cook: CookLine) -> dict[str, object]:
    return {
        "id": cook.id,
        "number": cook.number,
        "title": cook.title,
        "date": _date(cook),
        "kind": str(cook.kind),
        "status": str(cook.status),
        "cooker": cook.cooker,
        "cuts": list(cook.cuts),
        "arms": len(cook.arms),
        "pieces": cook.pieces,
    }


def _list(found: list[CookLine]) -> None:
    heads = ("No.", "Date", "Title", "Kind", "Status", "Cooker", "Cut", "Arms", "Pieces")
    rows = (
        (
            str(cook.number),
            _date(cook),
            cook.title,
            str(cook.kind),
            str(cook.status),
            cook.cooker or "not recorded",
            ", ".join(cook.cuts) or "not recorded",
            str(len(cook.arms)),
            str(cook.pieces),
        )
        for cook in found
    )
    table(heads, rows, right=(0, 7, 8))
