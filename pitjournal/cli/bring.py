"""`pitjournal bring`: take a table of past cooks along, or a bundle of cooks."""

from collections.abc import Mapping
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from pitjournal.cli.output import as_json, heading, line, table
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.files import strangers
from pitjournal.files.bundle.content import SUFFIX
from pitjournal.files.places import name_of
from pitjournal.units.figures import counted

if TYPE_CHECKING:
    from pitjournal.files.old_cooks import ColumnAnswer, OldCooks


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_argument("file", metavar="FILE", type=Path)
    parser.add_journal()
    parser.add_argument("--answers", metavar="FILE", type=Path)
    parser.add_argument("--timezone", metavar="NAME")
    parser.add_argument("--dry-run", action="store_true")
    parser.add_argument("--take", choices=("mine", "theirs"), default="mine")
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Read the table, say what it holds, and unless it is a dry run keep the cooks."""
    path: Path = arguments.file
    if path.suffix.lower() == SUFFIX:
        from pitjournal.cli.bring_bundle import bring_bundle

        return bring_bundle(arguments)
    answers = _answers(arguments.answers)
    old = strangers.old_cooks(strangers.file_bytes(path), name_of(path), answers)
    kept = None
    if not arguments.dry_run:
        from pitjournal.journal.bringing import left_open

        sure = old
        if old.questions:
            data = strangers.file_bytes(path)
            sure = strangers.old_cooks(data, name_of(path), left_open(old, answers))
        kept = _keep(arguments.journal, sure, arguments.timezone)
    if arguments.json:
        as_json({**old.as_json(), "kept": kept})
    else:
        _tell(old, kept)
    return 0


def _answers(path: Path | None) -> "Mapping[str, ColumnAnswer]":
    from pitjournal.journal.bringing import answers_of

    if path is None:
        return {}
    return answers_of(strangers.file_bytes(path).decode("utf-8", errors="replace"))


def _keep(folder: Path, old: "OldCooks", zone: str | None) -> dict[str, object]:
    from pitjournal.domain.times.moments import time_zone
    from pitjournal.journal import open_journal
    from pitjournal.journal.bringing import bringing
    from pitjournal.local_zone import local_zone

    where = zone or local_zone()
    time_zone(where)
    with closing(open_journal(folder, new=True)) as journal:
        found = bringing(journal, old, where)
        if found.command is not None:
            journal.do(found.command)
    return {"added": found.fresh, "known": found.known, "undated_rows": list(found.undated)}


def _tell(old: "OldCooks", kept: dict[str, object] | None) -> None:
    line(f"{old.file}: {len(old.cooks)} rows are cooks, {len(old.skipped)} left out.")
    heading("Columns")
    heads = ("Column", "Becomes", "Read", "To settle")
    rows = [
        (
            column.header or column.letter,
            column.variable or "a note",
            column.said,
            column.question.words if column.question else "",
        )
        for column in old.columns
    ]
    table(heads, rows)
    if old.skipped:
        heading("Left out")
        table(("Row", "Why"), [(str(one.row), one.reason) for one in old.skipped], right=(0,))
    heading("As they would be kept" if kept is None else "Kept")
    shown = [
        (str(cook.row), cook.date.isoformat() if cook.date else "no day", cook.title, cook.cut)
        for cook in old.cooks[:5]
    ]
    table(("Row", "Day", "Title", "Cut"), shown, right=(0,))
    if len(old.cooks) > len(shown):
        line(f"... and {len(old.cooks) - len(shown)} more rows")
    if kept is not None:
        line(_kept(int(str(kept["added"])), int(str(kept["known"]))))


def _kept(added: int, known: int) -> str:
    there = "" if not known else f" {known} {'was' if known == 1 else 'were'} there already."
    if not added:
        return f"Nothing new.{there}"
    many = counted(added, "cook")
    return f"{many} added.{there} Undo takes {'it' if added == 1 else 'them'} out again."
