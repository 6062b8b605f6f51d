"""The columns that Trends asks, made of values as a test has them."""

from collections.abc import Callable, Collection, Mapping, Sequence

from pitjournal.analysis.trends.columns.frame import Frame, columns_of
from pitjournal.analysis.trends.columns.lines import Columns
from pitjournal.domain.blocks import Value, block_of
from pitjournal.journal.queries.values import Row

Having = Callable[[str], Collection[str]]


def frame_of(rows: Sequence[Row], having: Having = lambda _words: ()) -> Frame:
    """Return the columns of value rows."""
    cooks: dict[str, Mapping[str, Value]] = {}
    pieces: dict[str, dict[str, Mapping[str, Value]]] = {}
    for owner, cook_id, level, values in rows:
        if level == "cook":
            cooks[cook_id] = values
        else:
            pieces.setdefault(cook_id, {})[owner] = values
    ids = dict.fromkeys([*cooks, *pieces])
    blocks = [block_of(c, cooks.get(c, {}), pieces.get(c, {})) for c in ids]

    def read(key: str) -> list[Columns]:
        return [columns_of(block, key) for block in blocks]

    def names() -> list[str]:
        return [piece for block in blocks for own in block.pieces for piece in own or ("",)]

    return Frame([block.head for block in blocks], read, names, having)
