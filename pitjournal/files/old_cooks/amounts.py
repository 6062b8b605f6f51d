"""Amounts as people write them in a table: numbers, ranges, sums of units, either decimal mark."""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pitjournal.files.old_cooks.words import plain, words

_ABOUT = re.compile(
    r"^(?:~|≈|ca\.?|approx\.?|approximately|about|around|circa|etwa|rund|ungefahr|unos|unas"
    r"|aprox\.?|just over|just under|under|over|max\.?|min\.?(?=\s*\d)|<|>|≤|≥|c\.)+\s*"
)
_ISH = re.compile(r"(\d)\s*-?(?:ish|or so|oder so|mas o menos)\b")
_RANGE = r"-|–|—|−|\.\.\.?|…|/|to|bis|a|hasta|y|und|and|through|thru|→|->|then|dann|luego"
_NUMBER = r"(?:1/2|[12]/3|[13]/4|[1357]/8)(?!\d)|[1-9]\d{0,2}(?: \d{3})+(?:[.,]\d+)?(?![\d/])|\d+(?:[.,']\d+)*(?:\s+\d+/\d+)?|\d+/\d+|[.,]\d+"
_PART = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>[^\d\s.,;:()/+~–—−-][^\d(;/+~–—−-]*)?")
_CLOCK = re.compile(
    r"(\d{1,3}):([0-5]\d)(?::([0-5]\d))?(?:\.\d+)?\s*(?:h|hrs?|hours?|std|uhr|horas)?\.?"
)
_GLUED = re.compile(r"(\d{1,3})\s*h\s*([0-5]?\d)")

LONGEST_FIGURE = 120
"""Signs of a cell that can still be an amount, a rating or a time of day: more is a note."""
_MOST_DIGITS = 15

SCALE = {
    "lb": 453.59237,
    "oz": 28.349523125,
    "kg": 1000.0,
    "g": 1.0,
    "pfund": 500.0,
    "h": 60.0,
    "min": 1.0,
    "s": 1.0 / 60.0,
    "day": 1440.0,
    "mm": 1.0,
    "cm": 10.0,
    "inch": 25.4,
    "mph": 0.44704,
    "km/h": 1.0 / 3.6,
    "m/s": 1.0,
}
"""Units in g, minutes, mm and m/s: exact by definition (international pound and inch, 1959)."""


@dataclass(frozen=True)
class Amount:
    """A number as written: its unit's name ("" where none stands there), or a range of two."""

    number: float
    unit: str = ""
    low: float | None = None
    high: float | None = None

    @property
    def is_range(self) -> bool:
        """Whether two ends were given; `number` is their middle."""
        return self.low is not None


def unit_named(text: str) -> tuple[str, str] | None:
    """Return the dimension and the name of a unit as written, or None."""
    spelled = plain(text).strip(" .")
    found = words().units.get(spelled) or words().units.get(spelled.replace(".", ""))
    return found or words().units.get(re.sub(r"^(?:°|º|deg(?:rees?)?|grad|grados)\s*", "", spelled))


def decimal_comma(cells: Iterable[str]) -> bool:
    """Whether numbers have a decimal comma: what the cells that can only be read one way say."""
    commas = points = 0
    for cell in cells:
        for token in re.findall(r"\d[\d.,]*\d", cell):
            if re.fullmatch(r"\d+,\d{1,2}|\d+,\d{4,}|0,\d+|\d{1,3}(\.\d{3})+,\d+", token):
                commas += 1
            elif re.fullmatch(r"\d+\.\d{1,2}|\d+\.\d{4,}|0\.\d+|\d{1,3}(,\d{3})+(\.\d+)?", token):
                points += 1
    return commas > points


def number_of(token: str, *, comma: bool) -> float | None:
    """Return a bare number: ``5 1/2``, ``1/2``, ``1.850`` and ``1,850`` by the table's mark."""
    token = token.strip()
    if sum(sign.isdigit() for sign in token) > _MOST_DIGITS:
        return None
    if "/" in token:
        *whole, part = token.split()
        above, below = part.split("/")
        return (
            (float(whole[0]) if whole else 0.0) + float(above) / float(below)
            if float(below)
            else None
        )
    token = token.replace("'", "").replace(" ", "")
    mark, other = (",", ".") if comma else (".", ",")
    if token.count(mark) > 1:  # 1.234.567 in a table of points: thousands all the same
        token = token.replace(mark, "")
    if other in token and not re.fullmatch(
        rf"\d{{1,3}}(?:{re.escape(other)}\d{{3}})+(?:{re.escape(mark)}\d+)?", token
    ):
        token = token.replace(mark, "").replace(other, mark)  # 5,4 among points
    token = token.replace(other, "").replace(mark, ".")
    try:
        return float(token)
    except ValueError:
        return None


def spelled(text: str) -> str:
    """Return a cell in plain signs: fractions written out, one kind of space, lower case."""
    parts = []
    for sign in text:
        fraction = unicodedata.decomposition(sign).startswith("<fraction>")
        parts.append(
            f" {unicodedata.normalize('NFKC', sign)} ".replace("\N{FRACTION SLASH}", "/")
            if fraction
            else sign
        )
    folded = plain("".join(parts).replace("º", "°").replace("℉", "°f").replace("℃", "°c"))
    return _ISH.sub(r"\1", _ABOUT.sub("", folded))


def read_amount(text: str, *, comma: bool, dimension: str) -> Amount | None:
    """Return what a cell says of a mass, temperature, duration, length or plain number.

    Parameters
    ----------
    text
        The cell.
    comma
        Whether the table's decimal mark is a comma.
    dimension
        "mass", "temperature", "duration", "length", "speed", "money" or "number".
    """
    if len(text) > LONGEST_FIGURE:
        return None
    said = re.sub(r"\s*\(.*\)$", "", spelled(text))
    if dimension == "money":
        said = re.sub(r"^[$€£]\s*|\s*[$€£]$", "", said)
    if dimension == "duration" and (clock := _clock(said.strip())):
        return clock
    parts = list(_PART.finditer(said))
    if not parts or said[: parts[0].start()].strip(" +@°"):
        return None
    terms = _terms(said, parts, comma=comma, dimension=dimension)
    return None if terms is None else _together(*terms)


def _clock(said: str) -> Amount | None:
    """Return ``5:15`` and ``5h15`` as a length of time."""
    found = _CLOCK.fullmatch(said) or _GLUED.fullmatch(said)
    if not found:
        return None
    hours, minutes, seconds = (int(part or 0) for part in (*found.groups(), None)[:3])
    return Amount(60.0 * hours + minutes + seconds / 60.0, "min")


_Terms = tuple[list[float], list[str], list[str]]


def _terms(
    said: str, parts: Sequence[re.Match[str]], *, comma: bool, dimension: str
) -> _Terms | None:
    """Return the numbers, their units, and what stands behind each; None where one is no number."""
    numbers, units, links = [], [], []
    for part, after in zip(parts, [*parts[1:], None], strict=True):
        number = number_of(part["number"], comma=comma)
        unit, link = _unit_and_link(part["unit"] or "", dimension)
        if number is None or unit is None:
            return None
        numbers.append(number)
        units.append(unit)
        links.append((link + said[part.end() : after.start() if after else None]).strip())
    return numbers, units, links


def _together(numbers: list[float], units: list[str], links: list[str]) -> Amount | None:
    """Return one number, a range, or a sum of units."""
    if len(numbers) == 1:
        return None if links[0].strip(" .+-–°~") else Amount(numbers[0], units[0])
    if len(numbers) == 2 and re.fullmatch(_RANGE, links[0].strip(" .")):
        if units[0] and units[1] and units[0] != units[1]:
            return None
        low, high = sorted(numbers)
        return Amount((low + high) / 2.0, units[1] or units[0], low, high)
    return _summed(numbers, units, links)


def _unit_and_link(written: str, dimension: str) -> tuple[str | None, str]:
    """Return a unit and the word that links it to the next number; None for another sort of unit."""
    written = written.strip(" .")
    if not written:
        return "", ""
    for cut in range(len(written.split()), -1, -1):
        spoken = written.split()
        unit, link = " ".join(spoken[:cut]), " ".join(spoken[cut:])
        if not unit:
            return ("", link) if re.fullmatch(_RANGE, link) else (None, "")
        if unit in {"°", "deg", "grados"} and dimension == "temperature":
            return "", link
        if dimension in {"number", "money"}:
            return ("", link) if cut == 0 or unit_named(unit) is None else (None, "")
        found = unit_named(unit)
        if found and found[0] == dimension and not (link and not re.fullmatch(_RANGE, link)):
            return found[1], link
    return None, ""


def _summed(numbers: list[float], units: list[str], links: list[str]) -> Amount | None:
    """Return ``5 lb 4 oz`` or ``8 h 35`` as a sum in the smallest unit's base."""
    smaller = {"lb": "oz", "h": "min", "min": "s", "kg": "g", "day": "h"}
    if any(link.strip(" .,+&") not in {"", "und", "and", "y"} for link in links[:-1]):
        return None
    total, before = 0.0, ""
    for number, written in zip(numbers, units, strict=True):
        unit = written or smaller.get(before, "")
        if not unit or (before and SCALE[unit] >= SCALE[before]):
            return None
        total, before = total + number * SCALE[unit], unit
    return Amount(total, {"oz": "g", "g": "g"}.get(before, "min"))


def in_storage(number: float, unit: str) -> float:
    """Return an amount in g, °C, minutes, mm or m/s."""
    if unit == "degF":
        return (number - 32.0) / 1.8
    return number if unit in {"degC", ""} else number * SCALE[unit]
