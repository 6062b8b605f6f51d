"""A place and a total of a contest in words, as judges say them."""

from pitjournal.units.figures import figure

TEENS = range(11, 14)
ENDINGS = {1: "st", 2: "nd", 3: "rd"}


def place_words(place: int | None, field: int | None = None) -> str:
    """Return a place, "3rd of 42"; nothing where it is not known."""
    if place is None:
        return ""
    ending = "th" if place % 100 in TEENS else ENDINGS.get(place % 10, "th")
    return f"{place}{ending}" + (f" of {field}" if field else "")


def total_words(total: float | None) -> str:
    """Return a total as judges say it, with four decimals."""
    return "" if total is None else figure(total, 4)
