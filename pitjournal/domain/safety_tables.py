"""Read the published tables of `resources/safety`: holding times and rules, with sources."""

import csv
import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from pitjournal.resource_files import resource_path

GUIDELINE = "USDA FSIS Cooking Guideline (Revised Appendix A), December 2021, FSIS-GD-2021-14"

MOST_FAT = 0.12
"""The last column of the poultry tables; also the one for fat unknown."""


@dataclass(frozen=True, eq=False)
class HoldingTable:
    """Temperatures and the time each must be held.

    Attributes
    ----------
    temperatures
        °C, rising, shape (n,).
    seconds
        s at or above each, shape (n,); 0 is at once.
    log_reduction
        Powers of ten of Salmonella.
    source
        Document and table.
    """

    temperatures: NDArray[np.float64]
    seconds: NDArray[np.float64]
    log_reduction: float
    source: str


@dataclass(frozen=True)
class SafetyRule:
    """One published rule: up to two numbers with their units, where it stands, and where read."""

    key: str
    rule: str
    value: float | None
    unit: str
    second_value: float | None
    second_unit: str
    citation: str
    grade: str
    note: str
    read: str = ""

    @property
    def celsius(self) -> float:
        """The temperature of the rule, °C.

        Raises
        ------
        ValueError
            If the rule has none.
        """
        if self.value is None or not self.unit.startswith("F"):
            raise ValueError(f"{self.key} holds no temperature")
        return celsius(self.value)

    @property
    def hold(self) -> float:
        """How long the temperature is asked for, s; 0 is at once."""
        return self.second_value if self.second_value and self.second_unit == "s" else 0.0


@cache
def _rows(name: str) -> tuple[Mapping[str, str], ...]:
    with resource_path(f"safety/{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(MappingProxyType(row) for row in csv.DictReader(file))


def _column(rows: tuple[Mapping[str, str], ...], name: str) -> NDArray[np.float64]:
    return np.array([float(row[name]) for row in rows], dtype=np.float64)


Degrees = TypeVar("Degrees", float, NDArray[np.float64])


def celsius(fahrenheit: Degrees) -> Degrees:
    """Return what a rule says in °F in °C."""
    return (fahrenheit - 32.0) / 1.8


def meat_lethality(log_reduction: float = 6.5) -> HoldingTable:
    """Return the holding times for meat other than poultry.

    Parameters
    ----------
    log_reduction
        5, 6.5 or 7.

    Raises
    ------
    ValueError
        For any other reduction.
    """
    if log_reduction not in {5, 6.5, 7}:
        raise ValueError(f"no table for a {log_reduction:g}-log reduction")
    rows = _rows("meat_lethality")
    return HoldingTable(
        celsius(_column(rows, "temperature_F")),
        _column(rows, f"seconds_{log_reduction:g}_log"),
        log_reduction,
        f"{GUIDELINE}, Table {6 if log_reduction == 5 else 2}",
    )


def poultry_lethality(species: str | None = None, fat: float | None = None) -> HoldingTable:
    """Return the 7-log holding times for poultry.

    Parameters
    ----------
    species
        "chicken" or "turkey"; None takes the longer time of the two.
    fat
        Fraction of the meat; the next fatter column is read, the fattest when None.

    Raises
    ------
    ValueError
        For a species without a table.
    """
    if species not in {None, "chicken", "turkey"}:
        raise ValueError(f"no table for {species}")
    share = MOST_FAT if fat is None or not math.isfinite(fat) else min(max(fat, 0.01), MOST_FAT)
    name = f"seconds_{math.ceil(100 * share - 1e-9)}_percent_fat"
    wanted = ("chicken", "turkey") if species is None else (species,)
    tables = [tuple(r for r in _rows("poultry_lethality") if r["species"] == s) for s in wanted]
    seconds = np.maximum.reduce([_column(table, name) for table in tables])
    numbers = {"chicken": "Table 3", "turkey": "Table 4"}
    return HoldingTable(
        celsius(_column(tables[0], "temperature_F")),
        seconds,
        7.0,
        f"{GUIDELINE}, {' and '.join(numbers[s] for s in wanted)}",
    )


@cache
def safety_rules() -> Mapping[str, SafetyRule]:
    """Return the published rules by their key."""
    rules = (
        SafetyRule(
            key=row["key"],
            rule=row["rule"],
            value=float(row["value"]) if row["value"] else None,
            unit=row["unit"],
            second_value=float(row["second_value"]) if row["second_value"] else None,
            second_unit=row["second_unit"],
            citation=row["citation"],
            grade=row["grade"],
            note=row["note"],
            read=row["read"],
        )
        for row in _rows("rules")
    )
    return MappingProxyType({rule.key: rule for rule in rules})
