"""From 1,000 to 10,000 to 100,000 cooks a question must not take more than in proportion.

The least of some rounds is taken: the largest columns no longer lie in the processor's own
memory, so that whatever else runs beside takes from them first.

Making the largest journal takes minutes, so this runs only when asked for by name.
"""

import sys
from contextlib import closing
from itertools import pairwise

from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.journal import open_journal
from pitjournal.units import UnitSystem
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, rounds, seconds

LIMIT = 1.0
ROUNDS = rounds(9)
SIZES = (1_000, 10_000, 100_000)

QUESTION = Question(
    "yield_off",
    (By("treatment"), By("cooker")),
    (Where("cut", Sign.IS, ("brisket",)),),
)


def times(cooks: int) -> tuple[float, float]:
    """Return the seconds of the first question after opening, and of the next ones."""
    found: tuple[list[float], list[float]] = ([], [])
    for number in range(ROUNDS + 1):
        with closing(open_journal(large_journal(cooks), read_only=True)) as journal:
            for place in (0, 1, 1, 1):
                taken = seconds(lambda: journal.trends.ask(QUESTION, UnitSystem.US))
                if number:
                    found[place].append(taken)
    return min(found[0]), min(found[1])


def run() -> Measurement:
    """Return the worst of what each tenfold takes, first and warm, against ten times before."""
    measured = [times(cooks) for cooks in SIZES]
    for cooks, (first, warm) in zip(SIZES, measured, strict=True):
        sys.stdout.write(f"  {cooks:>7} cooks: first {1e3 * first:.1f} ms, ")
        sys.stdout.write(f"warm {1e3 * warm:.2f} ms\n")
    pairs = [
        (more, 10 * less)
        for before, after in pairwise(measured)
        for less, more in zip(before, after, strict=True)
    ]
    ours, peer = max(pairs, key=lambda pair: pair[0] / pair[1])
    return Measurement("growth", ours, peer, LIMIT)
