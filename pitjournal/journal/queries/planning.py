"""What one's own past cooks say about a planned one."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pitjournal.analysis.plan.past import Past
    from pitjournal.analysis.plan.planner import Planner, PlannerAsked
    from pitjournal.domain.whole_cook import WholeCook
    from pitjournal.journal.journal import Journal


def past(journal: "Journal", whole: "WholeCook") -> "Past":
    """Return what the past cooks say about a planned one; for a worker."""
    from pitjournal.analysis.plan.past import past_of

    found = past_of(whole, journal.trends.frame())
    for group in found.spans.groups:
        if group.time_on is not None:
            group.time_on.chance(1.0)  # loads what the window will need
    return found


def planner(journal: "Journal", asked: "PlannerAsked", skip: str = "") -> "Planner":
    """Return what a comparison can show, by the spread of the past ones; for a worker.

    Parameters
    ----------
    journal
        The open journal.
    asked
        What is asked.
    skip
        The id of the planned cook, which does not count.
    """
    from pitjournal.analysis.plan.planner import own_spread, plan

    spread = None
    if asked.outcome is not None and asked.arms > 1:
        frame = journal.trends.frame()
        spread = own_spread(frame, asked.outcome, paired=asked.paired, skip=skip)
    return plan(asked, spread)
