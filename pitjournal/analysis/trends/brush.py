"""Filters made from what was brushed in a picture."""

from collections.abc import Sequence

from pitjournal.analysis.trends.columns.lines import Floats
from pitjournal.analysis.trends.question import By, Part, Sign, Where
from pitjournal.domain.catalogue import Catalogue, Kind


def of_range(key: str, low: float, high: float) -> tuple[Where, ...]:
    """Return the filters that keep a stretch of a number, storage unit.

    Parameters
    ----------
    key
        Of the catalogue.
    low, high
        Storage unit.
    """
    return Where(key, Sign.AT_LEAST, (low,)), Where(key, Sign.AT_MOST, (high,))


def of_groups(
    by: By, catalogue: Catalogue, names: Sequence[str], wanted: set[str], edges: Floats
) -> tuple[Where, ...]:
    """Return the filters that keep some of a variable's groups; none where all are wanted.

    Parameters
    ----------
    by, catalogue
        How it is grouped, and the variables of the journal.
    names
        All groups in order; those of a number lie between the edges.
    wanted
        Those that are kept.
    edges
        Where a number is cut, storage unit.
    """
    if not wanted or wanted >= set(names):
        return ()
    kind = catalogue[by.key].kind
    if kind is Kind.NUMBER:
        places = [place for place, name in enumerate(names) if name in wanted]
        low, high = min(places), max(places)
        found = []
        if low > 0:
            found.append(Where(by.key, Sign.AT_LEAST, (float(edges[low - 1]),)))
        if high < len(edges):
            found.append(Where(by.key, Sign.LESS, (float(edges[high]),)))
        return tuple(found)
    ordered = [name for name in names if name in wanted]
    if kind is Kind.TIME:
        if by.part not in {Part.MONTH, Part.YEAR}:
            return ()
        return (
            Where(by.key, Sign.AT_LEAST, (min(ordered),)),
            Where(by.key, Sign.AT_MOST, (max(ordered),)),
        )
    return (Where(by.key, Sign.IS, tuple(ordered)),)
