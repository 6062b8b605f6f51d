"""Read the check values beside the tests; `data/README.md` names their sources."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

_DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    """Return the rows of `data/NAME.csv`."""
    with (_DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def column(name: str, key: str) -> list[float]:
    """Return one column of numbers."""
    return [float(row[key]) for row in rows(name)]


@dataclass(frozen=True)
class Expected:
    """A value with the tolerance that its source allows."""

    value: float
    tolerance: float
    source: str

    def holds(self, got: float | None) -> bool:
        """Whether `got` is the value."""
        return got is not None and abs(got - self.value) <= self.tolerance


@cache
def _expected() -> dict[str, Expected]:
    return {
        row["id"]: Expected(float(row["value"]), float(row["tolerance"]), row["source"])
        for row in rows("expected_results")
        if row["grade"] != "recalled"
    }


def expected(identity: str) -> Expected:
    """Return the check value of this number in `data/expected_results.csv`."""
    return _expected()[identity]


def check(identity: str, got: float | None) -> None:
    """Assert that a number is the check value, within its tolerance."""
    value = expected(identity)
    assert value.holds(got), f"{identity}: got {got}, expected {value}"
