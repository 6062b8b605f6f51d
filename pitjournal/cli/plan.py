"""`pitjournal plan`: the day of a planned cook, as text, a calendar file or a card to print."""

from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from pitjournal.cli.output import as_json, line, table
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.files.paper import PAPERS
from pitjournal.journal import Journal, open_journal

if TYPE_CHECKING:
    from pitjournal.domain.whole_cook import WholeCook
    from pitjournal.units import UnitSystem


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cook", metavar="COOK")
    parser.add_argument("--to", metavar="FILE", type=Path)
    parser.add_argument("--paper", choices=PAPERS)
    parser.add_units()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Say the steps, or write them."""
    target: Path | None = arguments.to
    if target is not None:
        from pitjournal.files.formats import format_for
        from pitjournal.ui.plan.plan_formats import DAY_FORMATS

        format_for(target, DAY_FORMATS)  # said before the journal is read
    system = system_of(arguments)
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        whole = journal.whole(journal.cooks.find(arguments.cook))
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
    from pitjournal.files.formats import format_for
    from pitjournal.files.paper import usual_paper
    from pitjournal.files.writing import write_bytes
    from pitjournal.journal.queries.planning import past
    from pitjournal.ui.plan.plan_formats import DAY_FORMATS, Day

    known = past(journal, whole)
    day = Day(journal, whole, known, system, paper or usual_paper(system), datetime.now(UTC))
    write_bytes(target, format_for(target, DAY_FORMATS).make(day))


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
