"""A card for each who helps: what to do and when, what to carve, what the box has to hold."""

from collections.abc import Iterator, Sequence

from pitjournal.analysis.plan.carving import carved, carving_lines
from pitjournal.analysis.plan.hands import busy_for, steps_for
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.day.turn_in import turn_in_of
from pitjournal.domain.event import CUT_UP, Event
from pitjournal.domain.times.moments import (
    date_words,
    show_day,
    show_time,
    time_zone,
    weekday_words,
)
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import SummaryTable, TableColumn
from pitjournal.files.summary.report import Report, ReportPart
from pitjournal.journal.queries.plan_notes import notes_of_plan
from pitjournal.ui.contest_words import box_words, window_words
from pitjournal.ui.plan.schedule_model import step_words, who
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import counted
from pitjournal.units.first_letter import capital

NOTHING = "Nothing of the day is this hand’s yet: deal the steps out on the plan."


def hand_cards(whole: WholeCook, hands: Sequence[str], system: UnitSystem) -> Report:
    """Return the cards of some hands as one report; cautions stand on it once.

    Parameters
    ----------
    whole
        The cook with its plan.
    hands
        Whose cards, by name.
    system
        The units of the words.
    """
    alone = len(hands) == 1
    cook = whole.cook
    under = [show_day(cook.starts_at, cook.zone)]
    under += [whole.cooker.name] if whole.cooker else []
    under += [work_words(whole, hands[0])] if alone else []
    parts: list[ReportPart] = [ReportPart("When each box is due", listed=tuple(_windows(whole)))]
    for hand in hands:
        parts += _of_hand(whole, hand, system, named=not alone)
    parts.append(ReportPart("Before you cook", listed=tuple(notes_of_plan(whole))))
    title = f"{hands[0]}: {cook.title}" if alone else cook.title
    return Report(title, " · ".join(under), parts=tuple(parts))


def work_words(whole: WholeCook, hand: str) -> str:
    """Return how much a hand does: "9 steps, 1 h 20 min of work"."""
    said = counted(len(steps_for(whole, hand)), "step")
    work = busy_for(whole, hand).total_seconds()
    if not work:
        return said
    return f"{said}, {show(work, Dimension.DURATION, UnitSystem.US)} of work"


def _windows(whole: WholeCook) -> Iterator[str]:
    for turn_in in whole.turn_ins:
        said = window_words(turn_in)
        if said:
            yield f"{capital(turn_in.category.name)}: {said}"


def _of_hand(
    whole: WholeCook, hand: str, system: UnitSystem, *, named: bool
) -> Iterator[ReportPart]:
    steps = steps_for(whole, hand)
    if not steps:
        yield ReportPart(hand, words=(NOTHING,))
        return
    heading = f"{hand}, {work_words(whole, hand)}" if named else "What you do"
    yield ReportPart(heading, table=_table(whole, steps, system))
    lines = tuple(_carves(whole, steps, system))
    yield ReportPart(f"{hand} carves" if named else "What you carve", listed=lines)
    box = tuple(dict.fromkeys(_boxes(whole, steps)))
    yield ReportPart("The box" if not named else f"{hand}’s boxes", listed=box)


def _table(whole: WholeCook, steps: Sequence[Event], system: UnitSystem) -> SummaryTable:
    days, clocks, said, whom = [], [], [], []
    before = ""
    for step in steps:
        assert step.planned_at is not None
        local = step.planned_at.astimezone(time_zone(whole.cook.zone))
        day = f"{weekday_words(local)} {date_words(local, with_year=False)}"
        days.append(day if day != before else "")
        before = day
        clocks.append(show_time(step.happened_at or step.planned_at, whole.cook.zone))
        done = ", done" if step.happened_at is not None else ""
        said.append(f"{step_words(whole, step, system)}{done}")
        whom.append(who(whole, step.pieces))
    columns = (("day", days), ("time", clocks), ("what", said), ("for", whom))
    return SummaryTable("", tuple(TableColumn(name, tuple(cells)) for name, cells in columns))


def _carves(whole: WholeCook, steps: Sequence[Event], system: UnitSystem) -> Iterator[str]:
    mine = {piece for step in steps if step.kind in CUT_UP for piece in step.pieces}
    for group in carved(whole):
        if mine & {piece.id for piece in group.pieces}:
            yield from carving_lines(whole, group, system)


def _boxes(whole: WholeCook, steps: Sequence[Event]) -> Iterator[str]:
    for step in steps:
        turn_in = turn_in_of(whole, step)
        if turn_in is not None and step.kind in {*CUT_UP, StepKind.BOX_PHOTO}:
            for text in box_words(turn_in):
                yield f"{capital(turn_in.category.name)}. {text}"
