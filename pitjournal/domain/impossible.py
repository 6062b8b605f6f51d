"""Values of a record that cannot be: named by a check, and unknown to whatever is worked out.

A record that holds one is kept as it is, for nothing of a cook's is taken away; a limit may also be
newer than the record.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, replace
from typing import Any, TypeVar

from pitjournal.domain.contest import Contest
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.plausible import LIMITS
from pitjournal.domain.record import Record
from pitjournal.domain.targets import LEAST_FEEL, MOST_FEEL
from pitjournal.domain.tasting import Score, Tasting
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.figures import trimmed

R = TypeVar("R", bound=Record)


def impossible_in(record: Record) -> dict[str, str]:
    """Return why each field of a record that cannot be cannot; fields that can be are not named."""
    found = {}
    for name, limits in LIMITS.get(record.KIND, {}).items():
        value = getattr(record, name)
        if value is not None and (why := limits.why_not(value)):
            found[name] = why
    more = _MORE.get(type(record))
    return found if more is None else found | more(record)


def _of_check(check: DonenessCheck) -> dict[str, str]:
    feel = check.feel
    if feel is None or LEAST_FEEL <= feel <= MOST_FEEL:
        return {}
    return {"feel": f"A feel is {LEAST_FEEL} to {MOST_FEEL}."}


def _of_tasting(tasting: Tasting) -> dict[str, str]:
    if tasting.low < tasting.high:
        return {}
    return {"low": f"A scale must end above {trimmed(tasting.low)}."}


def _of_contest(contest: Contest) -> dict[str, str]:
    place, field = contest.overall_place, contest.field
    if place is None or field is None or place <= field:
        return {}
    return {"overall_place": f"No place is behind the field of {field}."}


_MORE: Mapping[type[Record], Callable[..., dict[str, str]]] = {
    DonenessCheck: _of_check,
    Tasting: _of_tasting,
    Contest: _of_contest,
}


def off_scale(value: float, criterion: str, tasting: Tasting, samples: int) -> str:
    """Return why a score of a criterion cannot be, or an empty text.

    Parameters
    ----------
    samples
        How many samples the session has: a ranking goes that far.
    """
    if not tasting.rules:
        if tasting.low <= value <= tasting.high:
            return ""
        return f"The scale is {trimmed(tasting.low)} to {trimmed(tasting.high)}."
    asked = tasting.asked.criterion(criterion)
    if asked is None or value == asked.penalty:
        return ""
    least, most = min(asked.bottom(), asked.low), max(asked.top(samples), asked.high)
    return "" if least <= value <= most else f"The scale is {asked.words(samples)}."


def possible(whole: WholeCook) -> WholeCook:
    """Return a cook in which what cannot be is unknown, for all that is worked out of it."""
    changed: dict[str, Any] = {}
    for name in _KINDS:
        kept: tuple[Record, ...] = getattr(whole, name)
        if any(map(impossible_in, kept)):
            changed[name] = _possible(kept)
    if impossible_in(whole.cook):
        changed["cook"] = _possible((whole.cook,))[0]
    scores = _on_scale(whole)
    if len(scores) < len(whole.scores):
        changed["scores"] = scores
    return replace(whole, **changed) if changed else whole


_KINDS = (
    "pieces",
    "weighings",
    "treatments",
    "seasonings",
    "fuel_loads",
    "wood_additions",
    "events",
    "checks",
    "tastings",
)


def _possible(records: Iterable[R]) -> tuple[R, ...]:
    """Return the records without what cannot be; one that is nothing without it is not there."""
    found: list[R] = []
    for record in records:
        odd = impossible_in(record).keys()
        if not odd:
            found.append(record)
            continue
        none = {f.name for f in fields(record) if f.default is None}
        if odd <= none:
            unknown: dict[str, Any] = dict.fromkeys(odd)
            found.append(replace(record, **unknown))
        elif isinstance(record, Tasting):
            found.append(record)  # its scores are off any scale
    return tuple(found)


def _on_scale(whole: WholeCook) -> tuple[Score, ...]:
    tastings = {tasting.id: tasting for tasting in whole.tastings}
    samples = Counter(sample.tasting_id for sample in whole.samples)
    return tuple(
        score
        for score in whole.scores
        if (asked := tastings.get(score.tasting_id)) is None
        or not off_scale(score.value, score.criterion, asked, samples[asked.id])
    )
