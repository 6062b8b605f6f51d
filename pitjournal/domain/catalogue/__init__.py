"""The variable catalogue: each variable is described here once, and read everywhere.

Forms, Trends, CSV columns, filters, units and the ledger of differences all read it.
Adding a variable is one entry in `of_cook` or `of_piece` (and, when it is derived, one line in
`analysis.derived`).
"""

from pitjournal.domain.catalogue.catalogue import (
    SCORES_FORMULA,
    Catalogue,
    formulas,
    own_variable,
    score_variable,
)
from pitjournal.domain.catalogue.variable import Family, Kind, Level, Origin, Variable

__all__ = [
    "SCORES_FORMULA",
    "Catalogue",
    "Family",
    "Kind",
    "Level",
    "Origin",
    "Variable",
    "formulas",
    "own_variable",
    "score_variable",
]
