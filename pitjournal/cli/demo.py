"""`pitjournal demo`: the demonstration journal, made when it is not there."""

from contextlib import closing
from pathlib import Path

from pitjournal.cli.at_terminal import AtTerminal
from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.cli.window import need_display, open_window
from pitjournal.domain.cook import CookStatus
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.store.faults import CannotOpenError
from pitjournal.units.figures import counted


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_argument("journal", metavar="JOURNAL", nargs="?", type=Path)
    parser.add_argument("--no-window", action="store_true")
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Make it, and unless told otherwise open the window on it."""
    from pitjournal.journal.demonstration import ensure_demonstration
    from pitjournal.journal.preferences import demonstration_folder

    folder = (arguments.journal or demonstration_folder()).expanduser()
    if arguments.json and not arguments.no_window:
        raise JournalError("The window answers no JSON.", "Add --no-window.")
    if not arguments.no_window:
        need_display()
    made = ensure_demonstration(folder, AtTerminal().report)
    if not made:
        _must_be_invented(folder)
    if not arguments.no_window:
        return open_window(folder, demonstration=True)
    with closing(open_journal(folder, read_only=True)) as journal:
        count = journal.cooks.count()
        comparison = comparison_number(journal)
    if arguments.json:
        as_json({"journal": str(folder.absolute()), "cooks": count, "comparison": comparison})
        return 0
    line(f"{'Made' if made else 'There already'}: {folder}, {count} cooks, all invented.")
    if comparison is not None:
        line(f"Read the comparison with: pitjournal findings {folder} {comparison}")
    return 0


def _must_be_invented(folder: Path) -> None:
    """Refuse a journal of the cook's own: nothing in it is invented.

    Raises
    ------
    JournalError
        If it is one.
    """
    try:
        journal = open_journal(folder, read_only=True)
    except CannotOpenError:
        return  # whoever opens it says why
    with closing(journal):
        invented, count = journal.setting("demonstration"), journal.cooks.count()
    if not invented:
        cooks = counted(count, "cook")
        message = f"{folder} is a journal of yours, with {cooks}: nothing was put into it."
        hint = f"Name another folder, or open it with: pitjournal {folder}"
        raise JournalError(message, hint)


def comparison_number(journal: Journal) -> int | None:
    """Return the number of the fullest finished comparison: most arms, most pieces, newest."""
    lines = journal.cooks.page(most=max(1, journal.cooks.count()))
    done = [cook for cook in lines if cook.status is CookStatus.DONE]
    full = [cook for cook in done if cook.has_control and len(cook.arms) >= 2]
    best = max(full, key=lambda cook: (len(cook.arms), cook.pieces, cook.number), default=None)
    return None if best is None else best.number
