"""Read the check values beside the tests; `data/README.md` names their sources."""

import csv
from fractions import Fraction
from pathlib import Path

_DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    """Return the graded rows of `data/NAME.csv`."""
    with (_DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return [row for row in csv.DictReader(file) if row["grade"] == "computed"]


def exact(row: dict[str, str]) -> Fraction:
    """Return the exact value of a row."""
    return Fraction(row["exact_fraction"])
