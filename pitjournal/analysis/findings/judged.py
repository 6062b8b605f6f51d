"""The declared outcome of one cook, judged: spread borrowed, and held against what matters."""

from collections.abc import Sequence
from dataclasses import replace

from pitjournal.analysis.findings.borrowed import Known, borrowing
from pitjournal.analysis.findings.comparison import ArmSummary, Difference, compare
from pitjournal.analysis.findings.like import cuts_of
from pitjournal.domain.whole_cook import WholeCook


def declared_differences(
    whole: WholeCook, arms: Sequence[ArmSummary], key: str, lenders: Sequence[Known]
) -> tuple[Difference, ...]:
    """Return each arm against the control in the declared outcome.

    Parameters
    ----------
    whole, arms, key
        The cook, its arms' points and the outcome's catalogue key.
    lenders
        Cooks that may lend their spread, oldest first; those before this one do.
    """
    before = [one for one in lenders if one[0].cook.starts_at < whole.cook.starts_at]
    made = borrowing(arms, compare(arms, key, declared=True), before, cuts_of(whole))
    return _beside_the_margin(made, whole.cook.worth_knowing)


def _beside_the_margin(
    differences: Sequence[Difference], matters: float | None
) -> tuple[Difference, ...]:
    """Return the differences with the chance of being too small to matter, Holm over arms."""
    if matters is None or not matters > 0:
        return tuple(differences)
    from pitjournal.science.comparison.equivalence import one_sided_p
    from pitjournal.science.comparison.multiplicity import holm

    raw = [one_sided_p(d.estimate, *d.shown_error, matters) for d in differences]
    corrected = holm([float("nan") if p is None else p for p in raw])
    return tuple(
        replace(d, matters=matters, small_p=None if p is None else float(held))
        for d, p, held in zip(differences, raw, corrected, strict=True)
    )
