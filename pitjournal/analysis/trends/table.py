"""An answer as a table for other programs, in the units shown."""

import csv
import io

from pitjournal.analysis.trends.answer import Answer
from pitjournal.units import Dimension, UnitSystem, difference_of, to_display, unit_label

DIGITS = 10
"""So many digits of a number: more than was measured, and none of its rounding."""


def table_of(found: Answer, system: UnitSystem) -> list[list[str]]:
    """Return the groups as rows of cells, the headings first; unknown is empty.

    Numbers are in the unit that the words of the same answer have (`unit_label`), which stands
    in their headings; a spread is a difference, so that of a temperature has no zero point.
    """
    what = found.measure.dimension
    unit = unit_label(what, system)
    named = f" ({unit})" if unit else ""
    numbers = [f"{name}{named}" for name in ("mean", "low", "high", "sd", "median")]
    rows = [[*(variable.label for variable in found.by), "cooks", "pieces", *numbers]]
    for group in found.groups:
        cells = [
            _cell(group.mean, what, system),
            _cell(group.low, what, system),
            _cell(group.high, what, system),
            _cell(group.sd, difference_of(what), system),
            _cell(group.median, what, system),
        ]
        rows.append([*group.key, str(group.cooks), str(group.pieces), *cells])
    return rows


def answer_as_csv(found: Answer, system: UnitSystem) -> bytes:
    """Return the same as a file (RFC 4180) that a spreadsheet takes for UTF-8."""
    lines = io.StringIO(newline="")
    lines.write("\N{ZERO WIDTH NO-BREAK SPACE}")
    csv.writer(lines).writerows(table_of(found, system))
    return lines.getvalue().encode()


def _cell(value: float | None, dimension: Dimension, system: UnitSystem) -> str:
    return "" if value is None else f"{float(to_display(value, dimension, system)):.{DIGITS}g}"
