"""Damage good probe files many times: never a temperature at a wrong time.

    python -m tests.benchmarks.probe_fuzz [--count 10000] [--seed 1]

Exit 1 where a damaged file gave a pair of time and temperature that the good one has not, and
did not say so.
"""

import argparse
import sys
import time

from tests.files.probe_log.mutations import run

SHOWN = 20


def main() -> int:
    """Run it."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.probe_fuzz")
    parser.add_argument("--count", metavar="N", type=int, default=10_000)
    parser.add_argument("--seed", metavar="N", type=int, default=1)
    arguments = parser.parse_args()
    begun = time.perf_counter()
    outcomes, wrong = run(arguments.count, arguments.seed)
    words = ", ".join(f"{count} {outcome}" for outcome, count in outcomes.most_common())
    sys.stdout.write(f"{arguments.count} in {time.perf_counter() - begun:.0f} s: {words}\n")
    for line in wrong[:SHOWN]:
        sys.stdout.write(f"wrong: {line}\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
