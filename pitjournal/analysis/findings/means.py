"""Means over pieces, with of how many they are known."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pitjournal.analysis.derived import CookValues, mean_of
from pitjournal.analysis.findings.comparison import number
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook


@dataclass(frozen=True)
class Mean:
    """The mean of the pieces where a variable is known, and how many those are, of how many.

    It is `open` where an end of some was not seen: then it is at least so much.
    """

    value: float | None
    known: int
    pieces: int
    open: bool = False

    @property
    def of(self) -> str:
        """Of how many pieces, when it is not all of them."""
        return "" if self.known in {0, self.pieces} else f" ({self.known} of {self.pieces})"


def mean_over(values: CookValues, pieces: Sequence[Piece], key: str) -> Mean:
    """Return the mean of a variable over pieces.

    Parameters
    ----------
    values
        What was worked out of their cook, storage units.
    pieces
        Which.
    key
        Of the variable in the catalogue.
    """
    all_values = [number(values.pieces.get(piece.id, {}).get(key)) for piece in pieces]
    known = [value for value in all_values if value is not None]
    cut_short = key == "stall_length" and any(
        values.pieces.get(piece.id, {}).get("stall_ended") is False for piece in pieces
    )
    return Mean(mean_of(known), len(known), len(pieces), cut_short)


def means_by_arm(
    whole: WholeCook, values: CookValues, catalogue: Catalogue, keys: Iterable[str]
) -> tuple[tuple[Variable, tuple[Mean, ...]], ...]:
    """Return the means of variables, an arm each; of all pieces where a cook has no arms.

    Parameters
    ----------
    whole, values
        The cook, and what was worked out of it.
    catalogue
        The variables of the journal.
    keys
        Of those asked for; one that no piece has is left out.
    """
    groups = [whole.pieces_of(arm) for arm in whole.ordered_arms] or [whole.pieces]
    found = []
    for key in keys:
        means = tuple(mean_over(values, group, key) for group in groups)
        if any(mean.known for mean in means):
            found.append((catalogue[key], means))
    return tuple(found)
