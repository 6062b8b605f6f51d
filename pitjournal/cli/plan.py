"""`pitjournal plan`: the day of a planned cook, or of one hand of it, as text or as a file."""

from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from pitjournal.cli.output import as_json, left_out, line, table
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.errors import JournalError
from pitjournal.files.paper import PAPERS
from pitjournal.journal import Journal, open_journal

if TYPE_CHECKING:
    from pitjournal.domain.whole_cook import WholeCook
    from pitjournal.units import UnitSystem


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cook", metavar="COOK")
    parser.add_argument("--hand", metavar="NAME")
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
        from pitjournal.ui.summary_formats import HAND_FORMATS

        if arguments.hand is None:  # said before the journal is read
            format_for(target, DAY_FORMATS)
        else:
            format_for(target, HAND_FORMATS)
    system = system_of(arguments)
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        whole = journal.whole(journal.cooks.find(arguments.cook))
        hand = None if arguments.hand is None else _hand(whole, arguments.hand)
        if target is not None and hand is not None:
            _write_card(whole, hand, target, system, arguments.paper)
        elif target is not None:
            _write(journal, whole, target, system, arguments.paper)
        left_out(journal)
    if target is not None and arguments.json:
        as_json({"file": str(target.absolute())})
    elif target is not None:
        line(f"Written to {target}.")
    elif arguments.json:
        as_json(_answer(whole, system, hand))
    elif hand is not None:
        _tell_card(whole, hand, system)
    else:
        _tell(whole, system)
    return 0


def _hand(whole: "WholeCook", name: str) -> str:
    """Return a hand by its name, in any case.

    Raises
    ------
    JournalError
        If nobody of that name helps.
    """
    from pitjournal.analysis.plan.hands import hands_of

    known = hands_of(whole)
    found = next((one for one in known if one.casefold() == name.strip().casefold()), None)
    if found is None:
        said = f"There are {', '.join(known)}." if known else "Name who helps on its plan."
        raise JournalError(f"Nobody called {name} helps at {whole.cook.title}.", said)
    return found


def _write_card(
    whole: "WholeCook", hand: str, target: Path, system: "UnitSystem", paper: str | None
) -> None:
    from pitjournal.files.formats import format_for
    from pitjournal.files.paper import usual_paper
    from pitjournal.files.writing import write_bytes
    from pitjournal.ui.plan.hand_card import hand_cards
    from pitjournal.ui.summary_formats import HAND_FORMATS, ReportToWrite

    form, report = format_for(target, HAND_FORMATS), hand_cards(whole, (hand,), system)
    write_bytes(target, form.make(ReportToWrite(report, paper or usual_paper(system))))


def _tell_card(whole: "WholeCook", hand: str, system: "UnitSystem") -> None:
    from pitjournal.files.summary.report_text import report_to_text
    from pitjournal.ui.plan.hand_card import hand_cards

    line(report_to_text(hand_cards(whole, (hand,), system)).rstrip())


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


def _answer(whole: "WholeCook", system: "UnitSystem", hand: str | None) -> dict[str, Any]:
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
                "by": step.by or None,
                "happened_at": local(step.happened_at),
            }
            for step in planned_steps(whole)
            if hand is None or step.by == hand
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
    rows = [
        (step.day, step.clock, step.text, step.who, step.by, "done" * step.done) for step in lines
    ]
    table(("Day", "Time", "Step", "For", "By", ""), rows)
