"""An answer as a table for other programs, SI units."""

from pitjournal.analysis.trends.answer import Answer
from pitjournal.units import STORED


def table_of(found: Answer) -> list[list[str]]:
    """Return the groups as rows of cells, the headings first; unknown is empty."""
    unit = STORED[found.measure.dimension]
    names = [variable.key for variable in found.by]
    rows = [[*names, "cooks", "pieces", f"mean ({unit})", "low", "high", "sd", "median"]]
    for group in found.groups:
        numbers = (group.mean, group.low, group.high, group.sd, group.median)
        cells = ["" if number is None else repr(number) for number in numbers]
        rows.append([*group.key, str(group.cooks), str(group.pieces), *cells])
    return rows
