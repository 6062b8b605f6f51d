"""Which cook would tell most next, and what it could show."""

from dataclasses import dataclass

from pitjournal.analysis.comparison import Difference
from pitjournal.analysis.findings import Findings
from pitjournal.analysis.wording import step
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem


@dataclass(frozen=True)
class Suggestion:
    """A cook to do next: what, and why or what it could show."""

    heading: str
    words: str


SERIES = (
    "Pull pieces in series: one 30 min early, one on time, one 30 and one 60 min late, and probe "
    "every 15 min at the same points."
)


def suggestions(found: Findings, whole: WholeCook, system: UnitSystem) -> tuple[Suggestion, ...]:
    """Return what would tell most, the first one first; nothing where nothing was compared."""
    if len(whole.arms) < 2 or found.outcome is None:
        return ()
    made = []
    both = _two_by_two(whole)
    if both is not None:
        made.append(both)
    open_ones = [d for d in found.declared if d.estimate is not None and not d.tells]
    if open_ones:
        again = _again(found, max(open_ones, key=lambda d: abs(d.estimate or 0.0)), system)
        if again is not None:
            made.append(again)
    timed = [leeway for leeway in found.leeways if leeway.axis == "time" and leeway.pieces]
    if timed and not any(leeway.known for leeway in timed):
        made.append(Suggestion("Leave one on past right", SERIES))
    return tuple(made)


def _two_by_two(whole: WholeCook) -> Suggestion | None:
    kinds = [t.kind for t in whole.treatments if t.kind is not TreatmentKind.NONE]
    single = list(dict.fromkeys(kinds))
    if len(whole.arms) != 3 or len(single) != 2:
        return None
    first, second = (str(kind) for kind in single)
    words = (
        "Neither, each alone, and both, in every pack: it shows whether the two add up, and "
        "counts each way twice."
    )
    return Suggestion(f"{first.capitalize()} × {second}, two by two", words)


def _again(found: Findings, difference: Difference, system: UnitSystem) -> Suggestion | None:
    assert found.outcome is not None
    if difference.low is None or difference.high is None or not difference.estimate:
        words = "Two packs or more: only then can an interval be given."
        return Suggestion("The same again, with more packs", words)
    if not difference.se:
        return None
    from pitjournal.science.power import pairs_needed  # noqa: PLC0415 - scipy, when needed

    # A mean of n pairs is known √n times as well as one pair, so one pair scatters this much.
    spread = difference.se * (difference.pieces / 2) ** 0.5
    needed = pairs_needed(abs(difference.estimate) / spread)
    if needed is None or needed > 200:
        return Suggestion(
            "Another question",
            f"A difference of {step(abs(difference.estimate), found.outcome, system, signed=False)}"
            " would take more than 200 packs to show.",
        )
    size = step(abs(difference.estimate), found.outcome, system, signed=False)
    return Suggestion(
        "The same again, with more packs",
        f"If {difference.arm} really differs by {size}, about {needed} packs show it four times "
        "in five.",
    )
