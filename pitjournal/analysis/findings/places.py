"""Places: whether the ways come in one order from pack to pack. 1 is the best place."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean

from pitjournal.analysis.findings.comparison import ArmSummary
from pitjournal.analysis.findings.worked import Worked
from pitjournal.units.figures import figure, trimmed
from pitjournal.units.first_letter import capital

LEVEL = 0.05


@dataclass(frozen=True)
class OwnScale:
    """What one criterion, or one question to the panel, said in its own terms."""

    title: str
    words: tuple[str, ...]
    worked: Worked


def ranked(arms: Sequence[ArmSummary], name: str) -> OwnScale | None:
    """Return whether the arms come in one order from pack to pack; 1 is the best place.

    Friedman's test over the packs that hold every arm, exact where the table is small; Durbin's
    where each pack holds some; Page's besides, where the arms rise in what they are named by.
    """
    there = [arm for arm in arms if arm.points]
    if len(there) < 2:
        return None
    title = f"{capital(name)}, by places"
    means = ", ".join(
        f"{arm.name} {figure(fmean(p.value for p in arm.points), 1)}" for arm in there
    )
    said = [f"Mean place, 1 is best: {means}."]
    blocks = _blocks(there)
    table = [row for row in blocks.values() if len(row) == len(there)]
    method, p = _friedman(table) if len(table) > 1 else _durbin(blocks)
    if p is None:
        said.append("Whether that is one order can't be said: it takes two packs, not all level.")
    else:
        clear = p <= LEVEL
        verdict = "The packs agree on an order" if clear else "Not enough to tell one order"
        said.append(f"{verdict} (p {_chance(p)}; {method}).")
    trend = _page(there, table)
    if trend:
        said.append(trend)
    worked = Worked(
        f"mean place of each piece over its tasters; {len(blocks)} packs, {len(there)} arms",
        method or "none",
        "ranks of the arms within each pack, their sums compared with every way of ranking",
        "Conover (1999), Practical Nonparametric Statistics, 5.8 and 5.9; Page (1963), J. Am. Stat. "
        "Assoc. 58, 216–230",
        "Packs are independent of each other. Tasters are averaged within a piece.",
    )
    return OwnScale(title, tuple(said), worked)


def _blocks(arms: Sequence[ArmSummary]) -> dict[str, dict[int, float]]:
    """Return the mean of each arm in each block that has a name."""
    cells: dict[str, dict[int, list[float]]] = {}
    for place, arm in enumerate(arms):
        for point in arm.points:
            if point.block:
                cells.setdefault(point.block, {}).setdefault(place, []).append(point.value)
    return {
        block: {place: fmean(values) for place, values in row.items()}
        for block, row in cells.items()
    }


def _friedman(table: Sequence[Mapping[int, float]]) -> tuple[str, float | None]:
    from pitjournal.science.sensory.ranks import friedman

    found = friedman([[row[place] for place in sorted(row)] for row in table])
    if found is None:
        return "", None
    if found.exact_p is not None:
        return f"Friedman, exact, {len(table)} packs", found.exact_p
    return f"Friedman, F form, {len(table)} packs", found.p if found.f_p is None else found.f_p


def _durbin(blocks: Mapping[str, Mapping[int, float]]) -> tuple[str, float | None]:
    from pitjournal.science.sensory.ranks import durbin

    cells = [(v, place, b) for b, row in enumerate(blocks.values()) for place, v in row.items()]
    if not cells:
        return "", None
    values, places, packs = zip(*cells, strict=True)
    found = durbin(values, places, packs)
    if found is None:
        return "", None
    return f"Durbin, {len(blocks)} packs", found.p if found.f_p is None else found.f_p


def _page(arms: Sequence[ArmSummary], table: Sequence[Mapping[int, float]]) -> str:
    """Return whether places fall or rise with the number that the arms are named by."""
    doses = [_dose(arm.name) for arm in arms]
    known = [dose for dose in doses if dose is not None]
    if len(arms) < 3 or len(set(known)) < len(arms) or len(table) < 2:
        return ""
    from pitjournal.science.sensory.ranks import page

    order = sorted(range(len(arms)), key=lambda place: doses[place] or 0.0)
    rising = page([[row[place] for place in order] for row in table])
    falling = page([[row[place] for place in reversed(order)] for row in table])
    if rising is None or falling is None:
        return ""
    p = min(1.0, 2 * min(rising.p, falling.p))
    way = "worse" if rising.p < falling.p else "better"
    names = ", ".join(arms[place].name for place in order)
    if p > LEVEL:
        return f"No trend over {names} can be told (Page, p {_chance(p)}, both ways counted)."
    return f"Over {names} places get {way} (Page, p {_chance(p)}, both ways counted)."


def _dose(name: str) -> float | None:
    """Return the number an arm is named by, such as 8 of "8 % injected"; left alone is 0."""
    found = re.search(r"\d+(?:[.,]\d+)?", name)
    if found:
        return float(found.group().replace(",", "."))
    return 0.0 if name.strip().casefold() in {"left alone", "none"} else None


def _chance(p: float) -> str:
    return "below 0.001" if p < 0.001 else trimmed(p, 2)
