"""What one's own past cooks say about a planned one."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pitjournal.analysis.schedule import Spans
    from pitjournal.domain.whole_cook import WholeCook
    from pitjournal.journal.journal import Journal


def spans(journal: "Journal", whole: "WholeCook") -> "Spans":
    """Return how long everything in a planned cook takes; for a worker."""
    from pitjournal.analysis.schedule import spans_of  # noqa: PLC0415 - numpy, when first needed

    found = spans_of(whole, journal.trends.frame())
    for group in found.groups:
        if group.time_on is not None:
            group.time_on.chance(1.0)  # loads what the window will need
    return found
