"""All variables of a journal: the built-in ones, what its tastings score, the cook's own."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from typing import ClassVar

from pitjournal.domain.catalogue.of_cook import of_cook
from pitjournal.domain.catalogue.of_piece import of_arm, of_piece
from pitjournal.domain.catalogue.variable import Family, Kind, Level, Origin, Variable
from pitjournal.domain.scheme import PLAIN, Scored
from pitjournal.domain.shelf import OwnVariable
from pitjournal.domain.tasting import HOME_PANEL
from pitjournal.units import Dimension


def score_variable(scored: Scored) -> Variable:
    """Return the variable of what is scored in a tasting."""
    return Variable(
        key=f"score.{scored.name}",
        label=scored.name,
        level=Level.TASTING,
        dimension=Dimension.SCORE,
        origin=Origin.DERIVED,
        help="mean of the tasters for each piece; their levels set even where each met only some",
        outcome=True,
        families=(Family.SCORE,),
        criterion=scored.criterion,
        ends=scored.ends,
    )


def own_variable(own: OwnVariable) -> Variable:
    """Return the catalogue entry of a variable of the cook's own."""
    return Variable(
        key=f"own.{own.id}",
        label=own.name,
        level=Level(own.level),
        kind=Kind(own.kind),
        dimension=Dimension(own.dimension),
        origin=Origin.OWN,
        choices=own.choices,
        outcome=own.dimension == "score",
        families=(Family.SCORE,) if own.dimension == "score" else (),
        ledger=own.kind == "number" and own.level == "piece" and own.dimension != "score",
    )


class Catalogue(Mapping[str, Variable]):
    """The variables of a journal by key: the built-in ones, what it scores, the cook's own."""

    BUILT_IN: ClassVar[tuple[Variable, ...]] = (
        *of_cook(),
        *of_arm(),
        *of_piece(),
    )

    def __init__(self, scored: Iterable[Scored] = (), own: Iterable[OwnVariable] = ()) -> None:
        scores = {name: Scored(name, name, PLAIN) for name in HOME_PANEL}
        for one in scored:
            scores.setdefault(one.name, one)
        self.own = tuple(own)
        variables = (
            *self.BUILT_IN,
            *(score_variable(one) for one in scores.values()),
            *(own_variable(variable) for variable in self.own),
        )
        self._by_key = {variable.key: variable for variable in variables}

    def __getitem__(self, key: str) -> Variable:
        return self._by_key[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_key)

    def __len__(self) -> int:
        return len(self._by_key)

    def named(self, words: str) -> Variable | None:
        """Return the variable with this key or label, in any case; None if there is none."""
        wanted = words.strip().casefold()
        for variable in self.values():
            if wanted in {variable.key.casefold(), variable.label.casefold()}:
                return variable
        spelled = wanted.replace("_", " ")
        return next((v for v in self.values() if v.label.casefold() == spelled), None)

    def own_scales(self, variable: Variable) -> list[str]:
        """Return the names of scores of the same criterion that old tables have, by their scale."""
        begins = f"{variable.label} (".casefold()
        mine = (one for one in self.values() if one.outcome and one.origin is Origin.OWN)
        return [one.label for one in mine if one.label.casefold().startswith(begins)]


SCORES_FORMULA = 3
"""The version of how scores and the cook's own variables are worked out of what was given."""

LIMITS_FORMULA = 1
"""The version of what counts as unknown because it cannot be."""


def formulas() -> int:
    """Return a number for all formulas of this program, 1 to 2³¹ − 1, the same on every machine.

    It changes with each derived variable that is new, gone, or has another version.
    """
    derived = sorted(
        (variable.key, variable.formula)
        for variable in Catalogue.BUILT_IN
        if variable.origin is Origin.DERIVED or variable.kind is not Kind.WORDS
    )
    told = repr((derived, SCORES_FORMULA, LIMITS_FORMULA)).encode()
    return max(1, int.from_bytes(hashlib.sha256(told).digest()[:4]) & 0x7FFF_FFFF)
