"""`pitjournal plan`: the day of a planned cook, as text, a calendar file or a card to print."""

from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from pitjournal.cli.output import as_json, line, table
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal

if TYPE_CHECKING:
    from pitjournal.domain.whole_cook import WholeCook
    from pitjournal.units import UnitSystem


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cook", metavar="COOK")
    parser.add_argument("--to", metavar="FILE", type=Path)
    parser.add_argument("--paper", choices=("a4", "letter"))
    parser.add_units()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Say the steps, or write them."""
    target: Path | None = arguments.to
    if target is not None and target.suffix.lower() not in {".ics", ".pdf"}:
        raise JournalError(f"{target.name} could be anything.", "End it in .ics or .pdf.")
    system = system_of(arguments)
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        whole = journal.whole(journal.find_cook(arguments.cook))
        if target is not None:
            _write(journal, whole, target, system, arguments.paper)
    if target is not None and arguments.json:
        as_json({"file": str(target.absolute())})
    elif target is not None:
        line(f"Written to {target}.")
    elif arguments.json:
        as_json(_answer(whole, system))
    else:
        _tell(whole, system)
    return 0


def _write(
    journal: Journal, whole: "WholeCook", target: Path, system: "UnitSystem", paper: str | None
) -> None:
    if target.suffix.lower() == ".ics":
        from pitjournal.files.writing import write_text
        from pitjournal.ui.plan.day_calendar import calendar_of

        write_text(target, calendar_of(whole, system, datetime.now(UTC)))
        return
    from pitjournal.journal.queries.planning import past
    from pitjournal.ui.plan.lists_panel import print_card
    from pitjournal.units import UnitSystem

    usual = "letter" if system is UnitSystem.US else "a4"
    print_card(journal, whole, past(journal, whole), system, target, paper or usual)


def _answer(whole: "WholeCook", system: "UnitSystem") -> dict[str, Any]:
    from pitjournal.ui.plan.schedule_model import planned_steps, step_words

    place = ZoneInfo(whole.cook.zone)
    labels = {piece.id: piece.label for piece in whole.pieces}

    def local(moment: datetime | None) -> str | None:
        return None if moment is None else moment.astimezone(place).isoformat()

    return {
        "cook": whole.cook.title,
        "serve_at": local(whole.cook.serve_at),
        "steps": [
            {
                "at": local(step.planned_at),
                "kind": step.kind,
                "words": step_words(whole, step, system),
                "pieces": [labels[piece] for piece in step.pieces if piece in labels],
                "locked": step.locked,
                "happened_at": local(step.happened_at),
            }
            for step in planned_steps(whole)
        ],
    }


def _tell(whole: "WholeCook", system: "UnitSystem") -> None:
    from pitjournal.ui.plan.schedule_model import step_lines

    line(whole.cook.title)
    lines = step_lines(whole, system)
    if not lines:
        line("No step is planned. Say on its plan when it is served, and work the day out.")
        return
    line()
    rows = [(step.day, step.clock, step.text, step.who, "done" * step.done) for step in lines]
    table(("Day", "Time", "Step", "For", ""), rows)
