"""A column read whole: its variable, its unit, its dates' order, its scale, what is asked of it."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from pitjournal.domain.times.moments import date_words, hours_words
from pitjournal.files.old_cooks.amounts import Amount, decimal_comma, in_storage, read_amount
from pitjournal.files.old_cooks.column_profile import ColumnProfile, wrap_of
from pitjournal.files.old_cooks.days import order_of, read_date
from pitjournal.files.old_cooks.fitting import DIMENSIONS, RATINGS, Fit
from pitjournal.files.old_cooks.heads import unit_of_head
from pitjournal.files.old_cooks.ratings import (
    RatingScale,
    before_words,
    likely_scale,
    read_rating,
    scale_of_cells,
    scale_of_head,
)
from pitjournal.files.old_cooks.report import ColumnAnswer, ColumnQuestion, Value
from pitjournal.files.old_cooks.words import is_blank, plain
from pitjournal.units.figures import trimmed

UNITS: Mapping[str, tuple[str, str]] = {
    "mass": ("lb", "kg"),
    "temperature": ("degF", "degC"),
    "duration": ("h", "min"),
    "length": ("inch", "cm"),
    "speed": ("mph", "km/h"),
}
SHOWN = {"degF": "°F", "degC": "°C", "inch": "inches", "min": "minutes", "h": "hours", "lb": "lb"}


@dataclass(frozen=True)
class Around:
    """What the rest of a table says: its decimal mark, language, units named elsewhere."""

    comma: bool
    day_first: bool
    units: Mapping[str, str] = field(default_factory=dict)
    years: Mapping[int, int] = field(default_factory=dict)


Read = Callable[[str, int], tuple[Value | date, str] | None]
"""Reads a cell of a row."""


@dataclass(frozen=True)
class ReadColumn:
    """How to read a column's cells, and what is asked of it.

    `read` gives a cell's value in the form kept, and the cell as written where reading it lost
    something; None where it cannot be read.
    """

    variable: str | None
    read: Read
    unit: str = ""
    said: str = ""
    question: ColumnQuestion | None = None


def read_column(
    head: str, fit: Fit | None, looks: ColumnProfile, around: Around, answer: ColumnAnswer | None
) -> ReadColumn:
    """Return how a column is read.

    Parameters
    ----------
    head
        The column's head as written.
    fit
        The variable it becomes; None for one that is kept as a note.
    looks
        Its cells.
    around
        What the rest of the table says.
    answer
        What the cook said of it, where he was asked.
    """
    variable = fit.variable if fit else None
    if answer is not None and answer.variable is not None:
        variable = answer.variable or None
    comma = decimal_comma(looks.cells) or (around.comma and not _points(looks.cells))
    if variable == "date":
        return _dates(looks, around, answer)
    if variable in RATINGS:
        return _ratings(variable, head, looks, answer, comma=comma)
    if variable is not None and DIMENSIONS.get(variable) in UNITS:
        return _amounts(variable, head, looks, around, answer, comma=comma)
    return ReadColumn(variable, _plainly(variable, comma=comma), said=_words(variable, looks))


def _plainly(variable: str | None, *, comma: bool) -> Read:
    if variable is not None and variable in DIMENSIONS:
        return _plain_amounts(variable, comma=comma)
    return _wraps if variable == "wrap" else _text


def _points(cells: Sequence[str]) -> bool:
    """Whether points can only be decimal ones: there are no commas, and not all are of thousands."""
    tokens = [token for cell in cells for token in re.findall(r"\d[\d.,]*\d", cell)]
    if any("," in token for token in tokens):
        return False
    return any("." in t and not re.fullmatch(r"[1-9]\d{0,2}(?:\.\d{3})+", t) for t in tokens)


def _words(variable: str | None, looks: ColumnProfile) -> str:
    if not looks.filled:
        return "empty"
    if variable is None:
        return "kept as a note"
    if variable == "number":
        return "numbers the cooks"
    if variable in {"time_on_at", "time_off_at"}:
        return "times of day"
    return "1 word" if looks.distinct == 1 else f"{looks.distinct} different"


def _text(cell: str, _row: int) -> tuple[Value, str] | None:
    return (cell, "") if cell.strip() else None


def _wraps(cell: str, _row: int) -> tuple[Value, str] | None:
    if not cell.strip():
        return None
    wrap = wrap_of(cell)
    return None if wrap is None else (wrap, "" if plain(cell) == wrap else cell)


_DOTTED = re.compile(r"\d{1,2}\.\s?\d{1,2}\.")
"""German and Spanish hands that write points write the day first (DIN 5008)."""


def _dates(looks: ColumnProfile, around: Around, answer: ColumnAnswer | None) -> ReadColumn:
    written = [found for cell in looks.cells if (found := read_date(cell))]
    order = order_of(written, leaning=around.day_first)
    asked = answer is not None and answer.day_first is not None
    day_first = order.day_first
    if answer is not None and answer.day_first is not None:
        day_first = answer.day_first
    said_year = answer.year if answer is not None else None
    no_year = sum(one.year is None for one in written)

    def read(cell: str, row: int) -> tuple[date, str] | None:
        found = read_date(cell)
        day = (
            found.on(day_first=day_first, year=around.years.get(row, said_year)) if found else None
        )
        return None if day is None else (day, cell)

    question = None
    dotted = around.day_first and all(_DOTTED.match(cell.strip()) for cell in looks.cells)
    if not order.told and not asked and not dotted:
        sample = next(
            (cell for cell in looks.cells if (w := read_date(cell)) and w.month_first is None), ""
        )
        kinds = [(f"day first: {_spoken(sample, day_first=True)}", ColumnAnswer(day_first=True))]
        kinds.append(
            (f"month first: {_spoken(sample, day_first=False)}", ColumnAnswer(day_first=False))
        )
        first, second = kinds if order.day_first else kinds[::-1]
        why = "both occur" if order.mixed else "no day is above 12"
        question = ColumnQuestion(f"Day or month first? “{sample}”, {why}", (first, second))
    elif (
        no_year
        and said_year is None
        and not all(around.years.get(row) for row in around.years or {0: 0})
    ):
        question = ColumnQuestion(f"{no_year} dates have no year: which year was it?", ())
    said = (
        ("day first" if day_first else "month first")
        if any(w.month_first is not True for w in written)
        else "dates"
    )
    return ReadColumn("date", read, said=said, question=question)


def _spoken(cell: str, *, day_first: bool) -> str:
    found = read_date(cell)
    day = found.on(day_first=day_first, year=2000) if found else None
    return date_words(day, with_year=bool(found and found.year)) if day else cell


def _amounts(
    variable: str,
    head: str,
    looks: ColumnProfile,
    around: Around,
    answer: ColumnAnswer | None,
    *,
    comma: bool,
) -> ReadColumn:
    dimension = DIMENSIONS[variable]
    read = [
        one for cell in looks.cells if (one := read_amount(cell, comma=comma, dimension=dimension))
    ]
    stated = answer.unit if answer and answer.unit else unit_of_head(head, dimension)
    stated = "" if stated == "h:mm" else stated
    in_cells = [one.unit for one in read if one.unit]
    bare = [one.number for one in read if not one.unit]
    question = None
    unit = stated
    if bare and not stated:
        usual = (
            max(set(in_cells), key=in_cells.count)
            if len(in_cells) >= 0.3 * len(read) and in_cells
            else ""
        )
        if usual == "h" and max(bare) > 24:
            usual = ""
        unit = usual or _stated_elsewhere(dimension, bare, variable, around)
        if not unit:
            unit, sure = likely_unit(variable, bare, around)
            question = None if sure else _unit_question(dimension, unit)

    def value(cell: str, _row: int) -> tuple[Value, str] | None:
        amount = read_amount(cell, comma=comma, dimension=dimension)
        if amount is None:
            return None
        return in_storage(amount.number, amount.unit or unit), cell if _lossy(amount, cell) else ""

    shown = [in_storage(one.number, one.unit or unit) for one in read]
    said = (
        "nothing that can be read"
        if not shown
        else f"{_clock(min(shown))} to {_clock(max(shown))}"
        if dimension == "duration"
        else _range(read) + (f" {SHOWN.get(unit, unit)}" if unit and bare else "")
    )
    return ReadColumn(
        variable,
        value,
        unit=unit or (in_cells[0] if in_cells else ""),
        said=said,
        question=question,
    )


def _clock(minutes: float) -> str:
    return hours_words(60 * minutes)


def _range(read: Sequence[Amount]) -> str:
    numbers = [one.number for one in read]
    return f"{trimmed(min(numbers))} to {trimmed(max(numbers))}"


def _lossy(amount: Amount, cell: str) -> bool:
    return amount.is_range or cell.lstrip().startswith(("~", "≈", "<", ">", "c"))


def _unit_question(dimension: str, unit: str) -> ColumnQuestion:
    other = UNITS[dimension][1] if unit == UNITS[dimension][0] else UNITS[dimension][0]
    return ColumnQuestion(
        f"No unit is said: {SHOWN.get(unit, unit)} or {SHOWN.get(other, other)}?",
        tuple((SHOWN.get(one, one), ColumnAnswer(unit=one)) for one in (unit, other)),
    )


def _stated_elsewhere(dimension: str, bare: Sequence[float], variable: str, around: Around) -> str:
    """Return the unit that another column or a title names, where these numbers can be of it."""
    unit = around.units.get(dimension, "")
    if dimension not in {"temperature", "mass"} or not unit:
        return ""
    low, high = _PLAUSIBLE.get((variable, unit), (float("-inf"), float("inf")))
    fits = sum(low <= number <= high for number in bare)
    return unit if fits >= 0.8 * len(bare) else ""


_PLAUSIBLE = {
    ("set_point", "degF"): (150.0, 750.0),
    ("set_point", "degC"): (60.0, 400.0),
    ("internal_off", "degF"): (100.0, 215.0),
    ("internal_off", "degC"): (38.0, 102.0),
    ("ambient", "degF"): (-30.0, 115.0),
    ("ambient", "degC"): (-35.0, 46.0),
    ("mass_on", "lb"): (0.2, 300.0),
    ("mass_on", "kg"): (0.1, 140.0),
}
"""What people cook at and what they cook (common practice, no source)."""


def likely_unit(variable: str, numbers: Sequence[float], around: Around) -> tuple[str, bool]:
    """Return the unit that bare numbers most likely are in, and whether nothing else can be.

    A pit above 180 can hardly be in Celsius, but a cook is asked all the same: a wrong
    temperature or weight is worse than a question. Lengths of time tell themselves.
    """
    dimension = DIMENSIONS[variable]
    middle = sorted(numbers)[len(numbers) // 2]
    if dimension == "temperature":
        edge = {"set_point": 180.0, "internal_off": 104.0, "ambient": 45.0}[variable]
        return ("degF" if middle > edge else "degC"), False
    if dimension == "mass":
        if middle > 150:
            return "g", False
        return ("kg" if around.day_first else "lb"), False
    if dimension == "duration":
        if variable == "time_rested":
            return ("min" if middle >= 8 else "h"), middle >= 10 or all(n < 5 for n in numbers)
        return ("h" if middle <= 30 else "min"), max(numbers) <= 30 or min(numbers) >= 30
    return UNITS[dimension][1 if around.day_first else 0], dimension == "speed"


def _plain_amounts(variable: str, *, comma: bool) -> Callable[[str, int], tuple[Value, str] | None]:
    dimension = DIMENSIONS[variable]
    share = variable in {"yield_off", "humidity"}

    def read(cell: str, _row: int) -> tuple[Value, str] | None:
        percent = cell.rstrip().endswith("%")
        amount = read_amount(cell.replace("%", ""), comma=comma, dimension=dimension)
        if amount is None:
            return None
        number = amount.number
        if share and (percent or number > 1.5):
            number /= 100.0
        return number, cell if amount.is_range else ""

    return read


def _ratings(
    variable: str, head: str, looks: ColumnProfile, answer: ColumnAnswer | None, *, comma: bool
) -> ReadColumn:
    scale = scale_of_head(head)
    if answer is not None and answer.low is not None and answer.high is not None:
        scale = RatingScale(answer.low, answer.high)
    if not scale.known:
        scale = scale_of_cells(looks.cells)
    question = _outside(looks, scale, comma=comma) if answer is None or answer.low is None else None
    if not scale.known:
        read_ = (read_amount(cell, comma=comma, dimension="number") for cell in looks.cells)
        numbers = [one.number for one in read_ if one]
        scale = likely_scale(numbers) if numbers else RatingScale()
        ends = [(1.0, 5.0), (1.0, 10.0), (0.0, 10.0), (0.0, 100.0)]
        first = (scale.low or 0.0, scale.high or 10.0)
        if numbers:  # words have no ends that could be asked for
            question = _scale_question("Which scale is it?", first, ends)

    def read(cell: str, _row: int) -> tuple[Value, str] | None:
        if is_blank(cell):
            return None
        found: Mapping[str, Any] | None = read_rating(cell, scale, comma=comma)
        if found is None and (told := before_words(cell)):
            found = read_rating(told, scale, comma=comma)
            return (found, cell) if found else ({"value": cell, "low": None, "high": None}, "")
        return (found or {"value": cell, "low": None, "high": None}), ""

    return ReadColumn(variable, read, said=f"worst to best: {_ends(scale)}", question=question)


def _scale_question(
    words: str, first: tuple[float, float], others: Sequence[tuple[float, float]]
) -> ColumnQuestion:
    offered = [first, *(pair for pair in others if pair != first)]
    return ColumnQuestion(
        words,
        tuple(
            (f"{trimmed(low)} to {trimmed(high)}", ColumnAnswer(low=low, high=high))
            for low, high in offered
        ),
    )


def _outside(looks: ColumnProfile, scale: RatingScale, *, comma: bool) -> ColumnQuestion | None:
    """Return what is asked where a score lies outside the scale that its head names."""
    if scale.low is None or scale.high is None:
        return None
    worst, best = sorted((scale.low, scale.high))
    found = (read_rating(cell, scale, comma=comma) for cell in looks.cells if not is_blank(cell))
    given = [one["value"] for one in found if one and one["high"] == scale.high]
    strays = [value for value in given if not worst <= value <= best]
    if not strays:
        return None
    words = f"{trimmed(strays[0])} is not on a scale of {_ends(scale)}. Which scale is it?"
    return _scale_question(words, (scale.low, scale.high), [(1.0, 10.0), (0.0, 10.0), (0.0, 100.0)])


def _ends(scale: RatingScale) -> str:
    if scale.letters:
        return f"{scale.letters[0]} to {scale.letters[-1]}"
    return f"{trimmed(scale.low)} to {trimmed(scale.high)}" if scale.known else "in words"
