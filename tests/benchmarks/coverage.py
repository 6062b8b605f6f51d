"""Do the intervals hold what they promise: simulated cooks whose truth is known.

    python -m tests.benchmarks.coverage [--sets 2000]

Every interval that the findings show is worked out by the same functions on many simulated data
sets of small size. A nominal 95 % interval should hold the truth in 93 to 97 % of them (the leeway
model, whose data are only bounds, in 92 to 98 %), and where nothing differs at most 5 % may say
that something does, give or take what so many sets can tell. Exit 1 where one does not hold.
"""

import argparse
import math
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from pitjournal.analysis.findings.comparison import ArmSummary, Difference, Point, compare
from pitjournal.analysis.findings.leeway import Stay
from pitjournal.analysis.findings.leeway_model import (
    ArmStay,
    FeltStretch,
    LeewayModel,
    Stays,
    model_of,
)
from pitjournal.science.comparison.nested import nested_difference
from pitjournal.science.comparison.paired import paired_difference, welch_difference
from pitjournal.science.times.leeway import leeway_interval, time_window
from tests.benchmarks.coverage_several import SEVERAL

Lot = np.random.Generator
KEY = "score.tenderness"
EFFECT = 0.6


@dataclass(frozen=True)
class Held:
    """What share of the sets should be between two ends, and what was found."""

    name: str
    least: float
    most: float
    found: float
    sets: int

    @property
    def held(self) -> bool:
        """Whether the share lies there, give or take two standard errors of the simulation."""
        edge = self.least if self.found < self.least else self.most
        room = 2 * math.sqrt(max(edge * (1 - edge), 0.0) / self.sets)
        return self.least - room <= self.found <= self.most + room


def arms_of(
    table: np.ndarray[tuple[int, ...], np.dtype[np.float64]], *, packs: bool
) -> list[ArmSummary]:
    """Return arms from values, shape (arms, pieces)."""
    return [
        ArmSummary(
            str(place),
            f"way {place}",
            place == 0,
            place,
            tuple(
                Point(f"{place}-{n}", f"{place}-{n}", f"pack {n}" if packs else "", float(value))
                for n, value in enumerate(values)
            ),
            float(np.mean(values)),
            float(np.std(values, ddof=1)) if values.size > 1 else None,
        )
        for place, values in enumerate(table)
    ]


def a_cook(
    lot: Lot, arms: int, packs: int, effect: float = EFFECT, tasters: int = 4
) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Return tasters' means of the pieces of a cook: packs differ, pieces differ, tasters err."""
    pack = lot.normal(0, 0.4, packs)
    said = (
        lot.normal(0, 0.5, (arms, packs))
        + pack
        + lot.normal(0, 0.65, (tasters, arms, packs)).mean(0)
    )
    return np.asarray(6 + said + effect * np.minimum(np.arange(arms), 1)[:, None])


def holds(difference: Difference, truth: float) -> bool:
    """Whether the interval is there and holds the truth."""
    low, high = difference.low, difference.high
    return low is not None and high is not None and low <= truth <= high


def paired(packs: int) -> Callable[[Lot], bool]:
    """Two ways in packs."""
    return lambda lot: holds(
        compare(arms_of(a_cook(lot, 2, packs), packs=True), KEY, declared=True)[0], EFFECT
    )


def blocked(lot: Lot) -> bool:
    """Three ways in three packs."""
    return holds(compare(arms_of(a_cook(lot, 3, 3), packs=True), KEY, declared=True)[0], EFFECT)


def apart(lot: Lot) -> bool:
    """Two ways, four pieces of each, no packs."""
    table = 6 + lot.normal(0, 0.6, (2, 4)) + np.array([[0.0], [EFFECT]])
    return holds(compare(arms_of(table, packs=False), KEY, declared=True)[0], EFFECT)


def unequal(
    control: tuple[int, ...], other: tuple[int, ...], spread: float
) -> Callable[[Lot], bool]:
    """Two ways whose pieces come from these packs; packs differ by so much, pieces by 0.6."""
    return lambda lot: holds(
        compare(_in_packs(lot, (control, other), spread), KEY, declared=True)[0], EFFECT
    )


def _in_packs(
    lot: Lot, packs: tuple[tuple[int, ...], tuple[int, ...]], spread: float
) -> list[ArmSummary]:
    level = lot.normal(0, spread, 1 + max(max(own) for own in packs))
    return [
        ArmSummary(
            str(place),
            f"way {place}",
            place == 0,
            place,
            tuple(
                Point(
                    f"{place}-{n}",
                    f"{place}-{n}",
                    f"pack {pack}",
                    float(6 + EFFECT * place + level[pack] + lot.normal(0, 0.6)),
                )
                for n, pack in enumerate(own)
            ),
            None,
            None,
        )
        for place, own in enumerate(packs)
    ]


TWO_FIVE = (0, 1), (0, 1, 2, 3, 4)


def narrower(sets: int) -> Held:
    """Two pieces against five: the interval by all of them ÷ that by the two packs in common."""
    lot = np.random.default_rng((20260501, 25))
    now, before = [], []
    for _ in range(sets):
        arms = _in_packs(lot, TWO_FIVE, 0.4)
        one = compare(arms, KEY, declared=True)[0]
        few, many = ([point.value for point in arm.points[:2]] for arm in arms)
        two = paired_difference(few, many)
        assert None not in {one.low, one.high, two.low, two.high}
        now.append((one.high or 0.0) - (one.low or 0.0))
        before.append((two.high or 0.0) - (two.low or 0.0))
    ratio = float(np.median(now) / np.median(before))
    return Held("two against five, width of pairs'", 0.0, 2 / 3, ratio, sets)


def _scores(lot: Lot) -> tuple[list[float], list[int], list[int], list[int]]:
    """Return scores of four pieces a way by six tasters, some of them missing."""
    pieces = EFFECT * np.repeat([0, 1], 4) + lot.normal(0, 0.5, 8)
    kind = lot.normal(0, 0.4, 6)
    values, arms, codes, tasters = [], [], [], []
    for piece in range(8):
        for taster in range(6):
            if lot.uniform() < 0.1:
                continue
            values.append(float(6 + pieces[piece] + kind[taster] + lot.normal(0, 0.8)))
            arms.append(piece // 4)
            codes.append(piece)
            tasters.append(taster)
    return values, arms, codes, tasters


def mixed(lot: Lot) -> bool:
    """Every score, pieces as replicates, by the mixed model."""
    values, arms, pieces, tasters = _scores(lot)
    found = nested_difference(values, arms, pieces, 1, 0, taster_codes=tasters)
    return found.low is not None and found.high is not None and found.low <= EFFECT <= found.high


def tasters_counted(lot: Lot) -> bool:
    """The mistake: every score as if it were another piece."""
    values, arms, _, _ = _scores(lot)
    one = [v for v, arm in zip(values, arms, strict=True) if arm == 0]
    two = [v for v, arm in zip(values, arms, strict=True) if arm == 1]
    found = welch_difference(one, two)
    return found.low is not None and found.high is not None and found.low <= EFFECT <= found.high


def false_difference(arms: int, packs: int) -> Callable[[Lot], bool]:
    """Nothing differs; whether any way is said to in the declared outcome."""
    return lambda lot: any(
        d.tells
        for d in compare(arms_of(a_cook(lot, arms, packs, 0.0), packs=True), KEY, declared=True)
    )


MEDIANS = (60.0, 100.0)


def some_stays(lot: Lot, pieces: int, cooks: int) -> Stays:
    """Return stays, min: checked every 15 min, a quarter of the pieces taken off by plan."""
    days = lot.normal(0, 0.15, cooks) if cooks > 1 else np.zeros(1)
    days -= days.mean()
    stays = []
    for arm, middle in enumerate(MEDIANS):
        for piece in range(pieces):
            day = piece % cooks
            entry = lot.normal(45, 20)
            stay = middle * math.exp(days[day] + lot.normal(0, 0.35))
            times = np.arange(lot.uniform(0, 15), 600, 15)
            feels = np.where(times < entry, 2, np.where(times < entry + stay, 4, 6))
            last = int(np.argmax(feels == 6))
            if lot.uniform() < 0.25:
                last = min(
                    last, max(0, int(np.searchsorted(times, entry + lot.uniform(20, 90))) - 1)
                )
            bounds = leeway_interval(time_window(times[: last + 1], feels[: last + 1]))
            if bounds is not None:
                most = bounds[1] if math.isfinite(bounds[1]) else None
                stays.append(Stay(f"{day}", arm, bounds[0], most))
    return Stays("time", ("control", "other"), tuple(stays))


@lru_cache(maxsize=4)
def _model(seed: int, pieces: int, cooks: int) -> LeewayModel:
    return model_of(some_stays(np.random.default_rng(seed), pieces, cooks))


def leeway(pieces: int, cooks: int, what: str) -> Callable[[Lot], bool]:
    """The leeway model: the factor between the ways, or the median of one."""

    def one(lot: Lot) -> bool:
        model = _model(int(lot.integers(1 << 30)), pieces, cooks)
        truth = MEDIANS[1] / MEDIANS[0] if what == "factor" else MEDIANS[int(what)]
        stays = {"0": "control", "1": "other"}
        shown: list[ArmStay | FeltStretch] = [
            *(one for one in model.stretches if what == "factor"),
            *(one for one in model.arms if one.arm == stays.get(what)),
        ]
        if not shown:
            return False  # counted as a miss, though nothing is claimed
        found = shown[0]
        low, high = found.low, found.high
        return (low is None or low <= truth) and (high is None or truth <= high)

    return one


CASES: tuple[tuple[str, float, float, Callable[[Lot], bool]], ...] = (
    ("paired, 3 packs", 0.93, 0.97, paired(3)),
    ("paired, 6 packs", 0.93, 0.97, paired(6)),
    ("three ways in 3 packs", 0.93, 0.97, blocked),
    ("apart, 4 pieces a way", 0.93, 0.97, apart),
    ("2 against 5 pieces, packs alike", 0.93, 0.97, unequal(*TWO_FIVE, 0.0)),
    ("2 against 5 pieces in packs", 0.93, 0.97, unequal(*TWO_FIVE, 0.4)),
    ("2 against 5 pieces, packs far apart", 0.93, 0.97, unequal(*TWO_FIVE, 1.0)),
    ("3 against 5 pieces in packs", 0.93, 0.97, unequal((0, 1, 2), TWO_FIVE[1], 0.4)),
    ("mixed, 4 pieces a way, 6 tasters", 0.93, 0.97, mixed),
    ("tasters as replicates: must fail", 0.0, 0.85, tasters_counted),
    ("false differences, 2 ways", 0.0, 0.05, false_difference(2, 4)),
    ("false differences, 3 ways", 0.0, 0.05, false_difference(3, 3)),
    ("leeway factor, 12 pieces a way", 0.92, 0.98, leeway(12, 1, "factor")),
    ("leeway of the control, 12 pieces", 0.92, 0.98, leeway(12, 1, "0")),
    ("leeway of the other, 12 pieces", 0.92, 0.98, leeway(12, 1, "1")),
    ("leeway factor, 4 cooks of 3 + 3", 0.92, 0.98, leeway(12, 4, "factor")),
    *SEVERAL,
)


def run(sets: int, only: str = "") -> Iterator[Held]:
    """Simulate each case."""
    for seed, (name, least, most, one) in enumerate(CASES):
        if only not in name:
            continue
        lot = np.random.default_rng((20260501, seed))
        found = sum(one(lot) for _ in range(sets)) / sets
        yield Held(name, least, most, found, sets)
    if only in "two against five, width of pairs'":
        yield narrower(sets)


def main() -> int:
    """Run them and print what was found."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.coverage")
    parser.add_argument("--sets", type=int, default=2000)
    parser.add_argument("--only", default="", help="cases whose name has these words")
    arguments = parser.parse_args()
    fine = True
    start = time.monotonic()
    for case in run(arguments.sets, arguments.only):
        fine &= case.held
        took, start = time.monotonic() - start, time.monotonic()
        sys.stdout.write(
            f"{case.name:<36}{100 * case.found:>6.1f} %  wanted {100 * case.least:.0f} to "
            f"{100 * case.most:.0f} %  {'held' if case.held else 'NOT HELD'}  ({took:.0f} s)\n"
        )
        sys.stdout.flush()
    return 0 if fine else 1


if __name__ == "__main__":
    raise SystemExit(main())
