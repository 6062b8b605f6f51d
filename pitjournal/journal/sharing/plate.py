"""The verdict plate of a summary, with the lines below it."""

from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.findings.next_cook import suggestions
from pitjournal.analysis.findings.plate import cooks_behind, plate_of, verdicts
from pitjournal.analysis.findings.plate_words import but_of, concluded
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import PlateChart
from pitjournal.units import UnitSystem


def plate_chart_of(whole: WholeCook, found: Findings, system: UnitSystem) -> PlateChart | None:
    """Return what a cook showed at a glance; None where nothing was compared."""
    plate = plate_of(found, system)
    if not plate.rows:
        return None
    first = next(iter(suggestions(found, whole, system)), None)
    following = "" if first is None else f"{first.heading}. {first.words}"
    kept = whole.conclusion
    when = ""
    if kept is not None:
        when = concluded(kept, whole.cook.zone, cooks_behind(found), verdicts(plate))
    text = "" if kept is None else kept.text
    return PlateChart(plate, but_of(found, system)[0], following, text, when)
