"""Ratings as people give them: of ten, in stars, as letters, in per cent, as school marks."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pitjournal.files.old_cooks.amounts import LONGEST_FIGURE, number_of
from pitjournal.files.old_cooks.words import plain

LETTERS = "FEDCBA"
_VALUE = r"\d+(?:[.,]\d+)?(?:\s*1/2)?"
_STARS = re.compile(r"[★☆⭐✩✭*½\uFE0F ]+")
_OF = re.compile(
    rf"(?:(?P<least>{_VALUE})\s*(?:-|–|—|to|bis|a)\s*)?(?P<value>{_VALUE})\s*(?:stars?\s*)?(?:/|of|out of|von|de|sobre|aus)\s*(?P<high>\d+)\s*"
    r"(?:stars?|points?|pts?|punkte?n?|puntos|sterne?n?|estrellas)?"
)
_LETTER = re.compile(r"[A-F][+-]?", re.IGNORECASE)
_SPAN = re.compile(
    r"(?<![\d.,])(\d{1,3})\s*(?:-|–|—|to|bis|a|\.\.\.?|hasta|\.\.)\s*(\d{1,3})(?!\d)"
)
_UP_TO = re.compile(r"(?:/|of|out of|von|de|sobre|max\.?|aus)\s*(\d{1,3})\b")
_WORDY = re.compile(
    r"(?P<value>\d+(?:[.,]\d+)?)\s*(?P<what>stars?|sterne?n?|estrellas?|points?|pts?|punkte?|puntos?|%)?\s*[+!]*"
)


@dataclass(frozen=True)
class RatingScale:
    """The worst and the best of a scale; `letters` from worst to best where it is of letters."""

    low: float | None = None
    high: float | None = None
    letters: str = ""

    @property
    def known(self) -> bool:
        """Whether both ends are."""
        return bool(self.letters) or (self.low is not None and self.high is not None)


_NAMED_SCALES = (
    (r"%|percent|prozent|por ciento", RatingScale(0.0, 100.0)),
    (r"\b5\s*(?:star|stern|estrella)", RatingScale(1.0, 5.0)),
    (r"\bf\s*(?:-|–|to)\s*a\b|\ba\s*(?:-|–|to)\s*f\b", RatingScale(letters="FDCBA")),
)
"""Scales that a head names in words."""


def scale_of_head(head: str) -> RatingScale:
    """Return the scale a head names: ``(1-10)``, ``/10``, ``von 6, 1 = beste``, ``stars``."""
    text = plain(head.replace("_", " "))
    best_is_one = re.search(
        r"\b1\s*(?:=|is|ist|es|:)\s*(?:the\s+)?(?:best|beste?r?|top|sehr gut|mejor|gut)", text
    )
    if "schulnote" in text:
        return RatingScale(6.0, 1.0)
    ends = [float(number) for number in re.findall(r"\b(\d{1,3})\s*[=:]\s*[^\W\d]", text)]
    if len(ends) == 2:
        low, high = min(ends), max(ends)
        return RatingScale(high, low) if best_is_one and low == 1 else RatingScale(low, high)
    if span := _SPAN.search(text):
        low, high = float(span[1]), float(span[2])
        return RatingScale(high, low) if best_is_one or low > high else RatingScale(low, high)
    if bare := re.search(r"\D\s([01])\s(5|6|9|10|20|100)$", text):
        return RatingScale(float(bare[1]), float(bare[2]))
    if up := _UP_TO.search(text):
        return RatingScale(1.0 if float(up[1]) <= 10 else 0.0, float(up[1]))
    named = (scale for form, scale in _NAMED_SCALES if re.search(form, text))
    return next(named, RatingScale())


_SCORE_FIRST = re.compile(rf"({_VALUE}\s*/\s*\d+)[\s,;:.(–-]+[^\W\d]")


def before_words(cell: str) -> str:
    """Return the score that words follow in a cell, ``8/10 a bit salty``; "" without one."""
    found = _SCORE_FIRST.match(plain(cell)) if len(cell) <= LONGEST_FIGURE else None
    return found[1] if found else ""


def _of(cell: str) -> tuple[float, float] | None:
    found = _OF.fullmatch(plain(cell)) if len(cell) <= LONGEST_FIGURE else None
    if not found:
        return None
    value = number_of(found["value"].replace(",", "."), comma=False)
    least = number_of((found["least"] or "").replace(",", "."), comma=False)
    if value is not None and least is not None:  # 7-8/10: the middle of two
        value = (value + least) / 2.0
    return None if value is None or value > float(found["high"]) else (value, float(found["high"]))


def _stars(cell: str) -> tuple[float, float] | None:
    if len(cell) > LONGEST_FIGURE or not _STARS.fullmatch(cell) or not re.search(r"[★☆⭐*]", cell):
        return None
    full = sum(cell.count(star) for star in "★⭐✭*")
    half = 0.5 * cell.count("½")
    hollow = cell.count("☆") + cell.count("✩")
    return (full + half, max(5.0, full + hollow)) if full + hollow <= 10 else None


def is_rating(cell: str) -> bool:
    """Whether a cell can be nothing but a rating."""
    return bool(_of(cell) or _stars(cell) or _LETTER.fullmatch(cell.strip()))


def scale_of_cells(cells: Sequence[str]) -> RatingScale:
    """Return the scale that the cells name."""
    ofs = [found for cell in cells if (found := _of(cell))]
    stars = [found for cell in cells if (found := _stars(cell))]
    letters = [cell for cell in cells if _LETTER.fullmatch(cell.strip())]
    if ofs and len({high for _, high in ofs}) == 1:
        low = 0.0 if any(value < 1 for value, _ in ofs) or ofs[0][1] > 10 else 1.0
        return RatingScale(low, ofs[0][1])
    if stars and len(stars) >= 0.5 * len(cells):
        return RatingScale(1.0, max(high for _, high in stars))
    if letters and len(letters) >= 0.6 * len(cells):
        return RatingScale(
            letters=LETTERS if any(x.strip().upper()[0] == "E" for x in letters) else "FDCBA"
        )
    wordy = [
        named["what"]
        for cell in cells
        if len(cell) <= LONGEST_FIGURE
        and (named := _WORDY.fullmatch(plain(cell)))
        and named["what"]
    ]
    if len(wordy) >= 0.6 * len(cells):
        if wordy[0] == "%":
            return RatingScale(0.0, 100.0)
        if wordy[0].startswith(("star", "stern", "estrella")):
            return RatingScale(1.0, 5.0)
    return RatingScale()


def likely_scale(values: Sequence[float]) -> RatingScale:
    """Return the scale that numbers most likely are of, where nothing names one."""
    most, least = max(values, default=0.0), min(values, default=0.0)
    high = next((top for top in (5.0, 10.0, 20.0, 100.0) if most <= top), most)
    return RatingScale(0.0 if least < 1 or high > 10 else 1.0, high)


def read_rating(cell: str, scale: RatingScale, *, comma: bool) -> Mapping[str, Any] | None:
    """Return a rating with its scale, or None."""
    text = cell.strip()
    if scale.letters and _LETTER.fullmatch(text):
        ends = {"low": scale.letters[0], "high": scale.letters[-1], "letters": scale.letters}
        return {"value": text.upper(), **ends}
    given = _of(text) or _stars(text)
    if given:
        value, high = given
        usual = 1.0 if high <= 10 else 0.0
        low = scale.low if scale.high == high and scale.low is not None else usual
        return {"value": _tidy(value), "low": _tidy(low), "high": _tidy(high)}
    number = _number(plain(text), comma=comma)
    if number is None:
        return None
    return {"value": _tidy(number), "low": _tidy(scale.low), "high": _tidy(scale.high)}


def _number(text: str, *, comma: bool) -> float | None:
    """Return a bare rating, the middle of two (``7-8``), or None."""
    if len(text) > LONGEST_FIGURE:
        return None
    if span := _SPAN.fullmatch(text):
        return (float(span[1]) + float(span[2])) / 2.0
    wordy = _WORDY.fullmatch(text)
    return (
        None if wordy is None else number_of(wordy["value"], comma=comma or "," in wordy["value"])
    )


def _tidy(number: float | None) -> float | int | None:
    return int(number) if number is not None and float(number).is_integer() else number
