"""A cook's day as a calendar; no widgets, so that the command line writes it too."""

from datetime import datetime

from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.plan_calendar import CalendarStep, to_calendar
from pitjournal.ui.plan.schedule_model import planned_steps, step_words, who
from pitjournal.units import UnitSystem


def calendar_of(whole: WholeCook, system: UnitSystem, now: datetime) -> str:
    """Return the steps that are still to do as the text of an .ics file.

    Raises
    ------
    JournalError
        If nothing is planned, or all of it is done.
    """
    place = time_zone(whole.cook.zone)
    steps = []
    for step in planned_steps(whole):
        if step.planned_at is None or step.happened_at is not None:
            continue
        whom = who(whole, step.pieces)
        words = step_words(whole, step, system) + (f" ({whom})" if whom else "")
        steps.append(CalendarStep(step.id, step.planned_at.astimezone(place), words))
    if not steps:
        raise JournalError(
            f"{whole.cook.title} has no step that is still to do.",
            "Say on its plan when it is served, and work the day out.",
        )
    return to_calendar(whole.cook.title, steps, now)
