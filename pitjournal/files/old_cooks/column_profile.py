"""What the cells of a column look like, whatever its head says."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from pitjournal.domain.cuts import meat_of
from pitjournal.files.old_cooks.amounts import LONGEST_FIGURE, read_amount
from pitjournal.files.old_cooks.days import read_date
from pitjournal.files.old_cooks.ratings import is_rating
from pitjournal.files.old_cooks.words import is_blank, plain, words

_CLOCK = re.compile(
    r"(?:[01]?\d|2[0-3])[:.h][0-5]\d(?::[0-5]\d)?\s*(?:uhr|h)?|24[:.h]00(?::00)?\s*(?:uhr|h)?|(?:1[0-2]|0?\d)(?:[:.][0-5]\d)?\s*[ap]\.?m?\.?|noon|midnight"
)


_SAMPLED = 400
"""How many cells, spread over the column, its looks are told by."""


@dataclass(frozen=True)
class ColumnProfile:
    """Shares of a column's filled cells, 0 to 1, that can be read as each sort of thing."""

    filled: int
    cells: Sequence[str]
    shares: dict[str, float] = field(default_factory=dict)
    numbers: Sequence[float] = ()
    length: float = 0.0
    distinct: int = 0

    def share(self, sort: str) -> float:
        """Return the share of a sort."""
        return self.shares.get(sort, 0.0)

    @property
    def middle(self) -> float:
        """The median of its bare numbers; NaN without any."""
        known = sorted(self.numbers)
        return known[len(known) // 2] if known else float("nan")


def wrap_of(cell: str) -> str | None:
    """Return the wrap a cell names, or None."""
    text = plain(cell).strip(" .!")
    listed = words()
    if text in listed.no:
        return "none"
    if text in listed.yes:
        return "yes"
    return listed.wraps.get(text) or _wrap_within(text)


def _wrap_within(text: str) -> str | None:
    """Return the wrap that some words of a cell name, such as ``paper at 165``."""
    tokens = " " + re.sub(r"[^\w]+", " ", text) + " "
    if re.search(r" (?:no|not|never|ohne|nicht|kein|keine|sin|un) ", tokens):
        return "none"
    if re.search(r"alumini|plata|alufol", tokens):
        return "foil"
    named = {wrap for word, wrap in words().wraps.items() if f" {word} " in tokens}
    return next((w for w in ("boat", "paper", "foil", "none", "yes") if w in named), None)


def is_meat(cell: str) -> bool:
    """Whether a cell names a cut or an animal, and little else."""
    if len(cell) > 60 or not re.search(r"[^\W\d_]", cell):
        return False
    meat = meat_of(cell)
    return bool(meat.cuts or meat.animals) and len(meat.unknown) <= 2


def yes_or_no(cell: str) -> bool:
    """Whether a cell is a yes or a no."""
    text = plain(cell)
    return text in words().yes or text in words().no


def is_clock(cell: str) -> bool:
    """Whether a cell is a time of day."""
    return len(cell) <= LONGEST_FIGURE and bool(_CLOCK.fullmatch(plain(cell)))


def profile_of(cells: Sequence[str], *, comma: bool) -> ColumnProfile:
    """Return what a column looks like."""
    kept = [cell for cell in cells if cell and (not is_blank(cell) or yes_or_no(cell))]
    if not kept:
        return ColumnProfile(0, ())
    told = kept[:: max(1, len(kept) // _SAMPLED)]
    bare = [read_amount(cell, comma=comma, dimension="number") for cell in told]
    count = len(told)
    shares = {
        "number": sum(one is not None for one in bare) / count,
        "date": sum(_is_date(cell) for cell in told) / count,
        "dated": sum(_is_date(cell, with_year=True) for cell in told) / count,
        "cut": sum(is_meat(cell) for cell in told) / count,
        "wrap": sum(wrap_of(cell) is not None for cell in told) / count,
        "yes": sum(yes_or_no(cell) for cell in told) / count,
        "clock": sum(is_clock(cell) for cell in told) / count,
        "rating": sum(is_rating(cell) for cell in told) / count,
        "money": sum(bool(re.search(r"[$€£]", cell)) for cell in told) / count,
    }
    for dimension in ("mass", "temperature", "duration", "length", "speed", "money"):
        read = [read_amount(cell, comma=comma, dimension=dimension) for cell in told]
        shares[dimension] = sum(one is not None and one.unit != "" for one in read) / count
        shares[f"{dimension} or number"] = sum(one is not None for one in read) / count
    return ColumnProfile(
        len(kept),
        kept,
        shares,
        [one.number for one in bare if one is not None],
        sum(map(len, kept)) / len(kept),
        len({plain(cell) for cell in kept}),
    )


def _is_date(cell: str, *, with_year: bool = False) -> bool:
    found = read_date(cell)
    if found is None or (with_year and found.year is None):
        return False
    return not re.fullmatch(r"\d{5}", cell.strip())
