"""How everything on the page of findings was worked out: data, method, formula, source."""

from dataclasses import replace

from pitjournal.analysis.findings.comparison import Difference
from pitjournal.analysis.findings.explain_several import borrowed_words, looking, matters, several
from pitjournal.analysis.findings.factorial import worked_of
from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.findings.leeway_model import DRAWS, ENOUGH, SEEN_PAST, LeewayModel
from pitjournal.analysis.findings.past_slope import LEAST_FREE
from pitjournal.analysis.findings.slow_findings import SlowFindings
from pitjournal.analysis.findings.spread import Spread
from pitjournal.analysis.findings.worked import Worked
from pitjournal.units import UnitSystem, show
from pitjournal.units.figures import trimmed

AXIS = {"time": "Leeway in minutes", "temperature": "Leeway in degrees", "hold": "Hold in the box"}


def explanations(
    found: Findings, deeper: SlowFindings, system: UnitSystem
) -> tuple[tuple[str, Worked], ...]:
    """Return each thing worked out with how it was, numbers in the cook's units.

    Parameters
    ----------
    found
        What the cook showed.
    deeper
        What takes longer to work out of it.
    system
        The units of the words.
    """
    made = [
        (d.arm, _declared(found, d, d.worked, system))
        for d in found.declared
        if d.worked is not None
    ]
    if found.effects:
        made.append(("Two by two", worked_of(found.effects)))
    made += [(f"{a.arm}, adjusted for {a.variable.label}", a.worked) for a in found.adjusted]
    made += [(scale.title, scale.worked) for scale in deeper.scales]
    made += [
        (f"{d.arm}, spread borrowed", borrowed_words(d))
        for d in found.declared
        if d.borrowed is not None
    ]
    made += [(f"{joined.arm} over several cooks", several(joined)) for joined in found.across]
    made += matters(found.declared, found.across)
    if found.declared:
        made.append(("Looking after every cook", looking(found.across)))
    if any(row.went is not None for row in found.ledger):
        made.append(("What else differed, sized", _PAST))
    if any(not d.declared for d in found.differences):
        made.append(("Exploratory differences", _EXPLORED))
    made.append(("Leeway as bounds", _BOUNDS))
    made += [(AXIS[model.axis], _modelled(model)) for model in deeper.models if model.arms]
    if deeper.spread is not None:
        made.append(("Where the spread comes from", _split(deeper.spread)))
    return tuple(made)


def _declared(
    found: Findings, difference: Difference, worked: Worked, system: UnitSystem
) -> Worked:
    """Return how a declared difference was worked out, with the pieces it rests on."""
    assert found.outcome is not None
    arms = [arm for arm in found.arms if arm.control or arm.arm_id == difference.arm_id]
    dimension = found.outcome.dimension
    data = "; ".join(
        f"{arm.name}: "
        + ", ".join(
            f"{point.label} {show(point.value, dimension, system)}"
            + (f" ({point.block})" if point.block else "")
            for point in arm.points
        )
        for arm in arms
    )
    lot = next((lot for lot in found.lots if lot.arm_id == difference.arm_id), None)
    if lot is not None and difference.p is not None:
        worked = replace(
            worked,
            method=f"{worked.method}, p {trimmed(difference.p, 2)}; {lot.words}",
            source=f"{worked.source}; the lot: Fisher (1935), The Design of Experiments, ch. 3"
            + ("; Morgan & Rubin (2012), The Annals of Statistics 40, 1263–1282" * lot.evened),
        )
    if difference.adjusted is None:
        return replace(worked, data=data)
    several = (
        f"{worked.method}; said to differ only if Holm's p over the arms held against the control, "
        f"{trimmed(difference.adjusted, 2)}, is below 0.05"
    )
    return replace(worked, data=data, method=several)


_PAST = Worked(
    "pieces of other cooks of the same cut in which both variables are known",
    f"slope within each arm of each cook, at least {LEAST_FREE} degrees of freedom, times the "
    "difference of this cook",
    "Σ(x − x̄)(y − ȳ) ÷ Σ(x − x̄)², means taken within each arm of each cook; ± t × its error",
    "least squares with a level for each group; checked against Belenky et al. (2003)",
    "A straight line that is the same in every cook. It shows what went together, not what caused "
    "what.",
)
_EXPLORED = Worked(
    "every other score and measure of this cook",
    "as the declared outcome, then corrected for the number of looks",
    "Holm: the smallest p value × the number of looks, the next × one less, and so on",
    "Holm (1979), Scandinavian Journal of Statistics 6, 65–70",
    "None was declared before the cook, so each is a hint for a cook that would test it.",
)
_BOUNDS = Worked(
    "each doneness check with its time, internal temperature and feel (1–2 under, 3–5 right, 6–7 "
    "over)",
    "bounds, no estimate: a piece became right between its last under and its first right, and "
    "stopped between its last right and its first over",
    "at least last right − first right; at most first over − last under",
    "interval-censored data; a piece taken off while right is right-censored",
    "Feel is judged alike all day, and a piece that is over does not become right again.",
)


def _modelled(model: LeewayModel) -> Worked:
    pieces = ", ".join(f"{arm.arm} {arm.pieces}" for arm in model.arms)
    return Worked(
        f"pieces with checks: {pieces}; {model.cooks} cooks of this comparison with the same cut",
        f"{model.law} times, the likelier of log-normal and Weibull, each arm stretching them by "
        f"a factor; interval from {DRAWS} draws of the cooks and of the pieces within each, "
        f"percentiles moved out for few pieces. At least {ENOUGH} pieces an arm, {SEEN_PAST} of them seen past right.",
        "likelihood of each stay lying between its bounds",
        "Turnbull (1976), J. R. Stat. Soc. B 38, 290–295; Hesterberg (2015), The American "
        "Statistician 69, 371–386; checked on Finkelstein & Wolfe (1985)",
        "Whether a piece is pulled early has nothing to do with how long it would have stayed "
        "right; cooks hold about as many pieces of each arm.",
    )


def _split(spread: Spread) -> Worked:
    return Worked(
        f"{spread.readings} readings of {spread.pieces} pieces in {spread.cooks} cooks",
        "mixed model by restricted likelihood, the arms compared as fixed effects",
        "variance = pieces + days + cookers + tasters + what is left",
        "Bates, Mächler, Bolker & Walker (2015), J. Stat. Softw. 67(1); checked on the dyestuff "
        "data (Davies & Goldsmith 1972)",
        "The sources add up. A source with two or three levels is hardly known, and 0 says that "
        "the readings show none of it, not that there is none.",
    )
