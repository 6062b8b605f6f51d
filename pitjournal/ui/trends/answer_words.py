"""What is said beside an answer: how sure it is, and what else may explain it."""

import numpy as np

from pitjournal.analysis.trade_words import signed_size
from pitjournal.analysis.trends.answer import Answer
from pitjournal.analysis.trends.columns.cook_means import cook_means_of
from pitjournal.analysis.trends.columns.row_selection import select_rows
from pitjournal.analysis.trends.inference.explanation import Explanation
from pitjournal.analysis.trends.inference.significance import Inference
from pitjournal.analysis.trends.inference.variable_ranking import RankedVariable
from pitjournal.analysis.trends.question import Sign
from pitjournal.analysis.trends.starters import STARTERS
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.science.robust import RobustLine
from pitjournal.ui.destination import ToTest
from pitjournal.units import (
    Dimension,
    UnitSystem,
    difference_of,
    from_display,
    show,
    unit_label,
)
from pitjournal.units.figures import counted, figure
from pitjournal.units.first_letter import capital

TELLS = 0.05

MOST_WAYS = 4
"""More ways than so many are hard to cook at once."""

ENOUGH = 10
"""Nine of ten can be told from so many cooks."""


def sample_words(found: Answer, looks: int) -> str:
    """Return what was counted, and that it is a hint."""
    few = sum(group.few for group in found.groups)
    parts = ["Exploratory: a hint, not a test."]
    if looks > 1:
        parts.append(f"Question {looks} of this sitting.")
    missing = found.not_recorded
    parts.append(
        f"{counted(found.cooks, 'cook')} and {counted(found.pieces, 'piece')} counted; "
        f"not recorded: {counted(missing, 'piece')}."
    )
    if few:
        parts.append(f"Grey rests on fewer than three cooks ({few}).")
    return " ".join(parts)


def chance_words(judged: Inference, looks: int) -> str:
    """Return how often chance alone would show as much, counted for the looks so far."""
    if judged.chance is None or judged.adjusted is None:
        return "There is not enough here to tell it from chance."
    alone = f"Chance alone would show this much {_often(judged.chance)}"
    if looks > 1 and judged.adjusted > judged.chance:
        alone += f"; counted for the {looks} you asked, {_often(judged.adjusted)}"
    if judged.adjusted < TELLS:
        return f"{alone}. Worth a test."
    return f"{alone}. Not enough to tell."


def _often(chance: float) -> str:
    if chance < 0.001:
        return "in fewer than 1 of 1,000 questions"
    if chance < 0.01:
        return f"in {max(round(1000 * chance), 1)} of 1,000 questions"
    return f"in {round(100 * chance)} of 100 questions"


def explaining_words(found: Explanation, measure: Variable, system: UnitSystem) -> str:
    """Return what else differs, and what is left of the difference with it held."""
    variable = found.variable
    if found.apart is None:
        said = f"{capital(found.group)}: also more often {found.choice} ({variable.label})."
    else:
        more = _more(variable, found.apart)
        size = _size(variable, abs(found.apart), system)
        said = f"{capital(found.group)}: {variable.label} was also {more}, by {size} on average."
    before, after = (signed_size(v, measure, system) for v in (found.before, found.after))
    return (
        f"{said} With {variable.label} held, the difference to {found.other} goes from "
        f"{before} to {after}."
    )


def _more(variable: Variable, apart: float) -> str:
    if variable.key == "date":
        return "later" if apart > 0 else "earlier"
    return "higher" if apart > 0 else "lower"


def _size(variable: Variable, value: float, system: UnitSystem) -> str:
    if variable.key == "date":
        return f"{figure(value)} days"
    return show(value, difference_of(variable.dimension), system)


def line_words(
    line: RobustLine, series: str, measure: Variable, along: Variable, system: UnitSystem
) -> str:
    """Return a line's slope in words; the numbers are in the units shown."""
    if series and line.low <= 0 <= line.high:
        return f"{series}: not enough to tell a slope"
    each, unit = _each(along, system)
    low, mid, high = (
        _stored(value * each, measure, system) for value in (line.low, line.slope, line.high)
    )
    bounds = f"{signed_size(low, measure, system)} to {signed_size(high, measure, system)}"
    sure = "" if line.low > 0 or line.high < 0 else ", which may be none"
    head = f"{series}: " if series else ""
    return f"{head}{signed_size(mid, measure, system)} for each {unit} more ({bounds}{sure})"


def _each(along: Variable, system: UnitSystem) -> tuple[float, str]:
    """Return a round amount of the number along, in its unit shown, and in words."""
    amounts = {
        Dimension.TEMPERATURE: (10.0, "10 °F" if system is UnitSystem.US else "10 °C"),
        Dimension.DURATION: (60.0, "hour"),
        Dimension.LENGTH: (0.25, "1/4 in") if system is UnitSystem.US else (10.0, "10 mm"),
        Dimension.MASS: (1.0, "lb" if system is UnitSystem.US else "kg"),
        Dimension.FRACTION: (10.0, "10 %"),
        Dimension.SCORE: (1.0, "point"),
    }
    if along.dimension in amounts:
        return amounts[along.dimension]
    return 1.0, unit_label(along.dimension, system) or "one"


def _stored(shown: float, measure: Variable, system: UnitSystem) -> float:
    """Return a difference in the unit shown as it is stored."""
    return float(from_display(shown, difference_of(measure.dimension), system))


def spread_words(found: Answer, catalogue: Catalogue, system: UnitSystem) -> str:
    """Return for each group what half and nine of ten cooks kept to."""
    cells = cook_means_of(found.frame, select_rows(found.frame, found.question, catalogue, system))
    said = []
    for place, key in enumerate(cells.keys[:6]):
        own = cells.values[cells.groups == place]

        def at(share: float, own: "np.ndarray" = own) -> str:
            return show(float(np.quantile(own, share)), found.measure.dimension, system)

        head = ", ".join(key)
        if own.size >= ENOUGH:
            words = f"half lie from {at(0.25)} to {at(0.75)}, nine of ten at {at(0.9)} or less"
        else:
            words = f"{counted(own.size, 'cook')}, at most {at(1.0)}"
        said.append(f"{head}: {words}" if head else words)
    return capital("; ".join(said)) + "." if said else ""


def matters_words(found: tuple[RankedVariable, ...], measure: Variable) -> str:
    """Return what a ranking says, and does not."""
    tells = sum(matter.tells for matter in found)
    rest = len(found) - tells
    if not found:
        return f"There are too few cooks with {measure.label} to look."
    head = (
        f"{tells} of {len(found)} variables {'goes' if tells == 1 else 'go'} with "
        f"{measure.label} more than shuffled numbers do"
        if tells
        else f"Nothing goes with {measure.label} more than shuffled numbers do"
    )
    tail = "; the rest count nothing" if tells and rest else ""
    return (
        f"{head}{tail}. Each is looked at alone, and foretold for cooks that were left out. "
        "A place to start a question, not an answer."
    )


def to_test(found: Answer) -> ToTest:
    """Return the cook that would test what an answer hints at."""
    starter = next((s for s in STARTERS if s.question == found.question), None)
    measure = found.measure.label
    what = found.by[0].label if found.by else "that"
    words = starter.words if starter is not None else f"Does {what} change {measure}?"
    names = dict.fromkeys(group.key[0] for group in found.groups if group.key)
    cuts = [w.values for w in found.question.where if w.key == "cut" and w.sign is Sign.IS]
    cut = str(cuts[0][0]) if cuts and len(cuts[0]) == 1 else ""
    variable = found.by[0].key if found.by else ""
    return ToTest(words, variable, tuple(names)[:MOST_WAYS], found.question.measure, cut)
