"""What a chart of traces shows, in words and as a table."""

from collections.abc import Sequence

import numpy as np

from pitjournal.ui.charts.trace.annotations import clock, number
from pitjournal.ui.charts.trace.layer import TraceLayer
from pitjournal.ui.charts.trace.lines import Probed

QUARTERS = 5

Extent = tuple[float, float]


def sentence(
    layer: TraceLayer, probed: Sequence[Probed], extent: Extent, zone: str | None, unit: str
) -> str:
    """Return from when to when it is, how hot each line got, and what was probed by hand."""
    start, end = (clock(time, zone) for time in extent)
    parts = []
    for line in layer.lines:
        bounds = layer.pyramids[line.key].bounds
        if bounds:
            parts.append(f"{line.label} up to {number(bounds[1])} {unit}")
    parts += [
        f"{one.label} {number(one.value)} {unit} by hand at {clock(one.time, zone)}"
        for one in probed
    ]
    return f"From {start} to {end}: " + ", ".join(parts or ["events only"]) + "."


def table(
    layer: TraceLayer, probed: Sequence[Probed], extent: Extent, zone: str | None, unit: str
) -> list[list[str]]:
    """Return the values at each quarter of the span, a row a line, then a row a probing."""
    times = [float(time) for time in np.linspace(*extent, QUARTERS)]
    rows = [["", *(clock(time, zone) for time in times)]]
    for line in layer.lines:
        values = [layer.pyramids[line.key].value_at(time) for time in times]
        cells = ["" if v is None else f"{number(v)} {unit}" for v in values]
        rows.append([line.label, *cells])
    rows += [
        [f"{one.label} by hand", clock(one.time, zone), f"{number(one.value)} {unit}", "", "", ""]
        for one in probed
    ]
    return rows
