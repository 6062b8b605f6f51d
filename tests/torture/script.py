"""What the scripts of torture have in common: a number, a seed, one line of figures."""

import argparse
import faulthandler
import random
import sys
from collections.abc import Callable, Mapping


def run_by_name(
    name: str, rounds: int, work: Callable[[int, int], tuple[Mapping[str, object], list[str]]]
) -> int:
    """Run work with the rounds and the seed that are asked for; say what it found.

    Parameters
    ----------
    name
        Of the script.
    rounds
        How many where nobody says.
    work
        Takes rounds and seed; returns its figures, and what went wrong in words.

    Returns
    -------
    int
        0, or 1 where something went wrong.
    """
    parser = argparse.ArgumentParser(prog=f"python -m tests.torture.{name}")
    parser.add_argument("rounds", metavar="N", nargs="?", type=int, default=rounds)
    parser.add_argument("--seed", metavar="S", type=int, default=None)
    told = parser.parse_args()
    seed = random.SystemRandom().randrange(1_000_000) if told.seed is None else told.seed
    faulthandler.enable()
    sys.stderr.write(f"{name}: begins with seed {seed}\n")  # a crash says no more
    sys.stderr.flush()
    figures, wrong = work(told.rounds, seed)
    for line in wrong:
        sys.stdout.write(f"WRONG {line}\n")
    said = ", ".join(f"{what} {value}" for what, value in figures.items())
    sys.stdout.write(f"{name}: seed {seed}, {said}, wrong {len(wrong)}\n")
    return 1 if wrong else 0
