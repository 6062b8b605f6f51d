"""What is understood of a cut as it is typed, or what is asked about it, in a cook's words."""

from collections.abc import Iterable

from pitjournal.analysis.safety.end_points import asked, rows_of
from pitjournal.domain.cuts import meat_of
from pitjournal.domain.cuts.meat import Meat
from pitjournal.domain.piece import Piece
from pitjournal.units import Dimension, UnitSystem, show

MOST_NAMED = 3
"""More cuts that a text may mean are counted, not named."""


def meat_note(text: str, system: UnitSystem) -> str:
    """Return what a cut is read as, or what is asked about it; empty for a blank one."""
    if not text.strip():
        return ""
    meat = meat_of(text)
    if meat.question:
        return f"{meat.question} {_until_then(meat)}"
    if meat.cut is None:
        return f"{_several(meat)} Judged as {meat.judged_as}."
    low, high = meat.cut.off.low, meat.cut.off.high
    first = show(low, Dimension.TEMPERATURE, system, with_unit=False)
    last = show(high, Dimension.TEMPERATURE, system)
    as_named = meat.cut.name.casefold() == text.strip().casefold()
    read = "" if as_named else f"Read as {meat.cut.name}, {meat.judged_as}. "
    return f"{read}Usually off at {first} to {last} inside (common practice, no source)."


def asks_of(pieces: Iterable[Piece]) -> tuple[str, ...]:
    """Return what is asked about the meat of a cook, a line for each cut."""
    by_cut: dict[str, list[str]] = {}
    for piece in pieces:
        if meat_of(piece.cut).question:
            by_cut.setdefault(piece.cut, []).append(piece.label)
    return tuple(
        f"{', '.join(labels)}, “{cut}”: {meat_of(cut).question} {_until_then(meat_of(cut))}"
        for cut, labels in by_cut.items()
    )


def _until_then(meat: Meat) -> str:
    row = rows_of(meat.judged_as)[0]
    return f"Until then: {meat.judged_as}, {asked(row)} all through ({row.citation})."


def _several(meat: Meat) -> str:
    """Return what a text may mean where that is several cuts, or no cut that is known."""
    if not meat.cuts:
        return "No times are known for this cut."
    names = [cut.name for cut in meat.cuts]
    more = len(names) - MOST_NAMED
    said = f"{', '.join(names[:MOST_NAMED])} or {more} more" if more > 0 else " or ".join(names)
    return f"Could be {said}: name one, and its times are its own."
