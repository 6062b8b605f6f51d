"""Work out a part of the questions that the forecast learns from, and keep them in a file.

python -m tests.benchmarks.forecast_rows FOLDER WORLD PEOPLE FIRST-SEED
"""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.forecast_people import WORLDS, Row, people, rows_of

Array = NDArray[np.float64]


class Rows(NamedTuple):
    """Many questions: names of the signs, signs (n, names), and the rest (n,) as in `Row`."""

    names: tuple[str, ...]
    numbers: Array
    usual: Array
    truth: Array
    share: Array
    person: Array
    world: Array

    def where(self, kept: NDArray[np.bool_]) -> "Rows":
        """Return some of them."""
        return Rows._make((self.names, *(getattr(self, field)[kept] for field in Rows._fields[1:])))


def _gathered(rows: Sequence[Row]) -> Rows:
    names = tuple(rows[0].numbers)
    return Rows(
        names,
        np.array([[row.numbers[name] for name in names] for row in rows]),
        np.array([row.usual for row in rows]),
        np.array([row.truth for row in rows]),
        np.array([row.share for row in rows]),
        np.array([float(row.person) for row in rows]),
        np.array([float(list(WORLDS).index(row.world)) for row in rows]),
    )


def part(folder: Path, world: str, count: int, first: int) -> Rows:
    """Return the questions of some people of a simulator, from the folder if they are there."""
    path = folder / f"{world}-{first}-{count}.npz"
    if not path.exists():
        rows = [
            row
            for seed, cooks in people(world, count, first)
            for row in rows_of(world, cooks, seed)
        ]
        np.savez(path, **_gathered(rows)._asdict())
    with np.load(path) as kept:
        names = tuple(str(name) for name in kept["names"])
        return Rows._make((names, *(kept[field] for field in Rows._fields[1:])))


def joined(parts: Sequence[Rows]) -> Rows:
    """Return the questions of several parts as one."""
    fields = zip(*(one[1:] for one in parts), strict=True)
    return Rows._make((parts[0].names, *(np.concatenate(field) for field in fields)))


def main() -> None:
    """Work out one part."""
    folder, world, count, first = sys.argv[1:]
    found = part(Path(folder), world, int(count), int(first))
    sys.stdout.write(f"{found.truth.size} questions of {world} from {first}\n")


if __name__ == "__main__":
    main()
