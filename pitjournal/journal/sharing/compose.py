"""Put a summary together from a cook's records, values and findings."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

from pitjournal.analysis.findings.story import NOTED
from pitjournal.analysis.safety.cautions import DEFERENCE, FIRE, after_the_cook
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.samples import Samples
from pitjournal.domain.times.moments import date_words
from pitjournal.domain.trace import Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import (
    Caution,
    Choice,
    Interval,
    IntervalChart,
    PlateChart,
    PointChart,
    Points,
    PrivatePart,
    Summary,
    SummaryArm,
)
from pitjournal.journal.sharing.curves import curve_chart
from pitjournal.journal.sharing.facts import facts_of, notes_of, what_leaves
from pitjournal.journal.sharing.figures import Figures
from pitjournal.journal.sharing.photos import photos_of
from pitjournal.journal.sharing.recipes import protecting, treated
from pitjournal.journal.sharing.ribbon import day_chart
from pitjournal.journal.sharing.tables import (
    Values,
    arms_table,
    differences_table,
    judged_by,
    ledger_table,
    leeway_table,
    pieces_table,
)
from pitjournal.units import UnitSystem, difference_of
from pitjournal.units.first_letter import capital

NOTHING_FOUND: Mapping[str, Any] = {
    "outcome": None,
    "arms": (),
    "differences": (),
    "ledger": (),
    "leeway": (),
    "fuel": None,
    "safety": (),
    "below": (),
    "words": (),
}
"""The findings of a cook that has none."""


@dataclass(frozen=True)
class Material:
    """What a summary is made from: records, values in storage units, findings as JSON."""

    whole: WholeCook
    catalogue: Catalogue
    values: Values
    found: Mapping[str, Any]
    shelf: Mapping[str, Mapping[str, Any]]
    samples: Callable[[Trace], Samples]
    attachment: Callable[[str], bytes]
    plate: PlateChart | None = None


def compose(material: Material, choice: Choice, system: UnitSystem) -> Summary:
    """Return what a summary says, at a level of detail, in the reader's units."""
    figures = Figures(system)
    whole, found = material.whole, material.found
    catalogue, values = material.catalogue, material.values
    tables = (
        arms_table(whole, values, catalogue, found, figures),
        differences_table(whole, catalogue, found, figures),
        leeway_table(whole, found, figures),
        ledger_table(whole, catalogue, found, figures),
    )
    leaves, left_out = what_leaves(whole, choice, material.shelf)
    photos = photos_of(whole, material.attachment) if PrivatePart.PHOTOS in choice else ()
    return Summary(
        title=whole.cook.title,
        under_title=_under_title(whole),
        question=whole.cook.question,
        words=tuple(said for said in found["words"] if not said.startswith(NOTED)),
        protects=(*found.get("below", ()), *protecting(whole, material.shelf, figures)),
        arms=_arms(material, choice, figures),
        facts=facts_of(whole, found, choice, figures),
        tables=tuple(table for table in tables if table),
        pieces=pieces_table(whole, values, catalogue, choice, figures),
        plate=material.plate,
        points=_points(whole, values, catalogue, figures),
        intervals=_intervals(whole, catalogue, found, figures),
        curves=curve_chart(whole, material.samples, figures),
        day=day_chart(whole, choice),
        cautions=tuple(Caution(c["fact"], c["state"], c["source"]) for c in found["safety"]),
        usual=(*after_the_cook(), FIRE),
        deference=DEFERENCE,
        notes=notes_of(whole) if PrivatePart.NOTES in choice else (),
        photos=photos,
        leaves=leaves,
        left_out=left_out,
    )


def _under_title(whole: WholeCook) -> str:
    day = whole.cook.starts_at.astimezone(ZoneInfo(whole.cook.zone))
    cuts = ", ".join(dict.fromkeys(piece.cut for piece in whole.pieces))
    parts = (date_words(day), f"{whole.cook.kind} cook", cuts)
    return " · ".join(part for part in parts if part)


def _arms(material: Material, choice: Choice, figures: Figures) -> tuple[SummaryArm, ...]:
    whole, found = material.whole, []
    for arm in whole.ordered_arms:
        own = next((t for t in whole.treatments if t.arm_id == arm.id), None)
        words = treated(own, choice, figures, material.shelf)
        look = whole.arm_index(arm.id)
        assert look is not None
        said = "" if words.casefold() == arm.name.casefold() else words
        found.append(SummaryArm(arm.name, look, said, control=arm.control))
    return tuple(found)


def _points(
    whole: WholeCook, values: Values, catalogue: Catalogue, figures: Figures
) -> PointChart | None:
    outcome = catalogue.get(whole.cook.outcome or "")
    if outcome is None or not whole.arms:
        return None
    arms = []
    for arm in whole.ordered_arms:
        points = []
        for piece in whole.pieces_of(arm):
            value = values.get(piece.id, {}).get(outcome.key)
            if value is not None:
                number = figures.number(float(value), outcome.dimension)
                points.append((piece.label, piece.block, number))
        mean = sum(point[2] for point in points) / len(points) if points else None
        look = whole.arm_index(arm.id)
        assert look is not None
        arms.append(Points(look, arm.name, tuple(points), mean))
    title = f"{capital(outcome.label)}, each piece"
    if any(piece.block for piece in whole.pieces):
        title += ", packs and pairs joined"
    return PointChart(title, figures.unit(outcome.dimension) or outcome.label, tuple(arms))


def _intervals(
    whole: WholeCook, catalogue: Catalogue, found: Mapping[str, Any], figures: Figures
) -> IntervalChart | None:
    outcome = catalogue.named(found["outcome"] or "")
    looks = {arm.name: whole.arm_index(arm.id) for arm in whole.arms}
    if outcome is None:
        return None
    dimension = difference_of(outcome.dimension)

    def step(value: float | None) -> float | None:
        return None if value is None else figures.number(value, dimension)

    rows = []
    for row in found["differences"]:
        look = looks.get(row["arm"])
        if not row["declared"] or row["estimate"] is None or look is None:
            continue
        estimate = figures.number(row["estimate"], dimension)
        words = figures.signed(row["estimate"], dimension, with_unit=False)
        low, high = judged_by(row)
        limits = step(low), step(high)
        rows.append(Interval(look, row["arm"], estimate, *limits, words))
    control = whole.control.name if whole.control else "the control"
    unit = figures.unit(dimension)
    words = f"{outcome.label}, {unit}" if unit else outcome.label
    return IntervalChart(f"Difference from {control}, 95 % interval", words, tuple(rows))
