"""What each drawer of the findings says of itself in a line; an empty one is not there."""

from collections import Counter
from collections.abc import Mapping

from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.trade_words import in_letters, number_of
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.findings.model import Shown
from pitjournal.units import Dimension, UnitSystem, show, show_interval

MOST = 4
"""So many things are named."""

WORKING = "being worked out"


def drawer_words(shown: Shown, whole: WholeCook) -> Mapping[str, str]:
    """Return a line for each drawer by its key."""
    found = shown.found
    return {
        "else": _else(found) if len(found.arms) > 1 else "",
        "cooks": _cooks(found),
        "pieces": _pieces(shown, whole),
        "right": _right(shown),
        "explored": _explored(shown),
        "panel": _panel(shown),
        "safety": _safety(found),
        "day": _day(shown, whole),
        "how": _how(found),
    }


def _else(found: Findings) -> str:
    labels = [one.variable.label for one in found.confounded]
    labels += [one.variable.label for one in found.ledger]
    return ", ".join(list(dict.fromkeys(labels))[:MOST]) or "nothing else is recorded"


def _cooks(found: Findings) -> str:
    said = [
        f"{in_letters(len(joined.cooks))} of {joined.arm.casefold()}" for joined in found.across
    ]
    if not said and found.other_cuts:
        said = [f"{in_letters(len(found.other_cuts))} with another cut"]
    return ", ".join(said)


def _pieces(shown: Shown, whole: WholeCook) -> str:
    count = number_of(len(whole.pieces), shown.found.noun)
    yielded = _of_the_arms(shown, "yield_off", Dimension.FRACTION)
    return f"{count}, yield {yielded}" if yielded else count


def _of_the_arms(shown: Shown, key: str, what: Dimension) -> str:
    """Return from where to where the means of the arms go; an empty text where none is known."""
    means = [
        mean.value
        for variable, own in shown.found.about
        if variable.key == key
        for mean in own
        if mean.value is not None
    ]
    return _span(min(means), max(means), what, shown.system) if means else ""


def _span(low: float, high: float, what: Dimension, system: UnitSystem) -> str:
    if show(low, what, system) == show(high, what, system):
        return show(low, what, system)
    return show_interval(low, high, what, system)


def _right(shown: Shown) -> str:
    least = [s for one in shown.found.leeways if one.axis == "time" for s in one.least]
    if not least:
        return "not felt" if not shown.found.windows else "not seen right"
    return f"at least {_span(min(least), max(least), Dimension.DURATION, shown.system)}"


def _explored(shown: Shown) -> str:
    looks = [d for d in shown.found.differences if not d.declared and d.estimate is not None]
    if not looks:
        return ""
    worth = [d for d in looks if d.tells]
    labels = dict.fromkeys(
        variable.label for d in worth if (variable := shown.catalogue.get(d.key)) is not None
    )
    count = f"{in_letters(len(looks))} {'look' if len(looks) == 1 else 'looks'}"
    told = f"worth a test: {', '.join(labels)}" if worth else "none worth a test"
    return f"{count}, {told}"


def _panel(shown: Shown) -> str:
    if shown.deeper is None:
        return WORKING if shown.found.seen else ""
    titles = (scale.title.partition(",")[0] for scale in shown.deeper.scales)
    return ", ".join(dict.fromkeys(titles))


def _safety(found: Findings) -> str:
    states = Counter(str(fact.state) for fact in found.safety)
    order = ("not reached", "unknown", "reached")
    said = [f"{in_letters(states[one])} {one}" for one in order if states[one]]
    return ", ".join(said) or "the usual cautions"


def _day(shown: Shown, whole: WholeCook) -> str:
    said = []
    on = _of_the_arms(shown, "time_on", Dimension.DURATION)
    if on:
        said.append(f"on {on}")
    if shown.found.fuel.used is not None:
        said.append(f"fuel {show(shown.found.fuel.used, Dimension.MASS, shown.system)}")
    if whole.cook.weather:
        said.insert(min(1, len(said)), whole.cook.weather.casefold())
    return ", ".join(said) or "nothing was logged"


def _how(found: Findings) -> str:
    count = len(found.words)
    sentences = f"{in_letters(count)} sentence{'s' * (count != 1)}"
    known = any(d.shown[0] is not None for d in found.declared)
    return f"{sentences}, 95 % intervals" if known else sentences
