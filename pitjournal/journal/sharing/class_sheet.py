"""The sheet of a class: a cook's method on one page, its recipe for so many pieces, cautions."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from statistics import fmean
from typing import TYPE_CHECKING

from pitjournal.analysis.plan.weighed import factor_of, green_mass, mix_of, mixed_system
from pitjournal.domain.event import EventKind
from pitjournal.domain.recipe import AS_WRITTEN, CURE_SOURCE, Line, cures, lines_of, scaled
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.summary.content import Choice
from pitjournal.files.summary.report import Report, ReportPart
from pitjournal.journal.queries.plan_notes import notes_of_plan
from pitjournal.journal.sharing import recipes_of
from pitjournal.journal.sharing.figures import Figures
from pitjournal.journal.sharing.recipes import (
    Shelf,
    has_amounts,
    protecting,
    seasoned,
    treated,
    used,
)
from pitjournal.units import Dimension, UnitSystem
from pitjournal.units.figures import counted, figure
from pitjournal.units.first_letter import capital

if TYPE_CHECKING:
    from pitjournal.journal.journal import Journal

MOST_PIECES = 999
"""More than this is no class."""

USUAL_PIECES = 12

NOT_LET_OUT = "Amounts stay with the cook who wrote this."

_STEPS: Mapping[EventKind, str] = {
    EventKind.FLIP: "Turn over",
    EventKind.ROTATE: "Turn round",
    EventKind.SPRITZ: "Spritz",
    EventKind.WRAP: "Wrap",
    EventKind.UNWRAP: "Unwrap",
    EventKind.GLAZE: "Glaze",
}
"""What is done between on and off, as it is told; the cook's own words for steps stay."""


def class_sheet(
    journal: "Journal", cook_id: str, pieces: int, choice: Choice, system: UnitSystem
) -> Report:
    """Return the sheet of a cook for others to cook by; for a worker.

    Parameters
    ----------
    journal
        The open journal.
    cook_id
        Which cook.
    pieces
        For how many pieces its recipe is worked out, each arm by itself.
    choice
        How much of recipes leaves: names, shares, or amounts for so many pieces.
    system
        The units it is written in; what was typed in others keeps them.

    Raises
    ------
    JournalError
        If the cook is gone, or so many pieces cannot be.
    """
    if not 1 <= pieces <= MOST_PIECES:
        raise _no_class(str(pieces))
    whole, figures, shelf = journal.whole(cook_id), Figures(system), recipes_of(journal)
    values = [said for _, _, level, said in journal.values([cook_id]) if level == "piece"]
    leaves, left_out = what_leaves(whole, choice, shelf)
    return Report(
        whole.cook.title,
        _under_title(whole, pieces),
        whole.cook.question,
        parts=(
            ReportPart("", warns=tuple(protecting(whole, shelf, figures))),
            ReportPart("What it takes", facts=tuple(_takes(whole, figures))),
            ReportPart(
                f"For {counted(pieces, 'piece')}{' of each arm' if len(whole.arms) > 1 else ''}",
                listed=tuple(_recipe(whole, pieces, choice, figures, shelf)),
            ),
            ReportPart("Method", steps=tuple(_method(whole, values, choice, figures, shelf))),
            ReportPart("Cautions", listed=tuple(notes_of_plan(whole))),
        ),
        leaves=leaves,
        left_out=left_out,
        one_page=True,
    )


def pieces_typed(text: str) -> int:
    """Return how many pieces a field says; nothing typed is the usual number.

    Raises
    ------
    JournalError
        If it is no number of pieces.
    """
    typed = text.strip()
    if not typed:
        return USUAL_PIECES
    if not typed.isdecimal() or not 1 <= int(typed[:9]) <= MOST_PIECES:
        raise _no_class(f"“{typed}”")
    return int(typed)


def _no_class(of: str) -> JournalError:
    return JournalError(
        f"A class of {of} pieces cannot be.", f"Give a number from 1 to {MOST_PIECES}."
    )


def what_leaves(
    whole: WholeCook, choice: Choice, shelf: Shelf
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what leaves with the sheet, and what stays."""
    leaves = ["title and question", "the method: cooker, fire, steps and times from on"]
    leaves += ["names of rubs and recipes"] if whole.treatments or whole.seasonings else []
    left_out = [STAYS]
    if has_amounts(whole, shelf):
        (leaves if choice.ratios else left_out).append("shares of recipes")
        (leaves if choice.grams else left_out).append("amounts of recipes")
    return tuple(leaves), tuple(left_out)


STAYS = "place, day and clock times, suppliers, tasters, notes, costs and photos"


def _under_title(whole: WholeCook, pieces: int) -> str:
    cuts = ", ".join(dict.fromkeys(piece.cut for piece in whole.pieces if piece.cut))
    return " · ".join(part for part in ("Class sheet", cuts, counted(pieces, "piece")) if part)


def _takes(whole: WholeCook, figures: Figures) -> Iterator[tuple[str, str]]:
    cook, cooker = whole.cook, whole.cooker
    facts = [
        ("Cooker", cooker.name if cooker is not None else ""),
        ("Set point", figures.known(cook.set_point, Dimension.TEMPERATURE)),
        ("Fuel", ", ".join(dict.fromkeys(load.fuel for load in whole.fuel_loads if load.fuel))),
        ("Wood", ", ".join(dict.fromkeys(one.wood for one in whole.wood_additions if one.wood))),
        ("Held the same", cook.held),
    ]
    yield from ((label, words) for label, words in facts if words)


def _recipe(
    whole: WholeCook, pieces: int, choice: Choice, figures: Figures, shelf: Shelf
) -> Iterator[str]:
    """Yield meat, recipes and rubs for so many pieces, as far as amounts are let out."""
    masses = [mass for piece in whole.pieces if (mass := green_mass(whole, piece)) is not None]
    cuts = " or ".join(dict.fromkeys(piece.cut for piece in whole.pieces if piece.cut))
    if masses and cuts:
        each, all_of = fmean(masses), fmean(masses) * pieces
        yield (
            f"{pieces} × {cuts}, about {figures.show(all_of, Dimension.MASS)} in all, at "
            f"{figures.show(each, Dimension.MASS)} a piece as in this cook"
        )
    elif cuts:
        yield f"{pieces} × {cuts}"
    done = [t for t in whole.treatments if t.kind is not TreatmentKind.NONE]
    if not choice.grams:
        named = [t.recipe for t in done] + [layer.rub for layer in whole.seasonings]
        yield from (name for name in dict.fromkeys(named) if name)
        if has_amounts(whole, shelf):
            yield NOT_LET_OUT
        return
    for treatment in done:
        yield from _mixed(whole, treatment, pieces, figures, shelf)
    for layer in whole.seasonings:
        amount = "" if layer.mass is None else figures.show(layer.mass * pieces, Dimension.MASS)
        arm = next((arm.name for arm in whole.arms if arm.id == layer.arm_id), "")
        yield ", ".join(part for part in (layer.rub, amount, arm and f"for {arm}") if part)


def _mixed(
    whole: WholeCook, treatment: Treatment, pieces: int, figures: Figures, shelf: Shelf
) -> Iterator[str]:
    """Yield a recipe for so many pieces; curing salt as it is written, never scaled."""
    lines = lines_of(used(treatment, shelf)) if treatment.recipe else ()
    meant, mix = len(whole.treated_by(treatment)), mix_of(whole, treatment)
    system = mixed_system(whole, treatment, figures.system)
    name = treatment.recipe or ("" if mix is None else str(treatment.kind))
    if mix is not None and meant:
        name += f", {Figures(system).show(mix * pieces / meant, Dimension.MASS)}"
    made = _ingredients(whole, treatment, lines, pieces / meant if meant else 0.0, system)
    if name:
        yield f"{name}: {', '.join(made)}" if made else name


def _ingredients(
    whole: WholeCook,
    treatment: Treatment,
    lines: Sequence[Line],
    share: float,
    system: UnitSystem,
) -> list[str]:
    factor = factor_of(whole, treatment, lines) if share else None
    if factor is not None:
        made = scaled(lines, factor * share, system)
    else:
        made = [f"{line.written} as written" for line in lines if not line.is_cure]
    made += [f"{written} as written, {AS_WRITTEN} ({CURE_SOURCE})" for written in cures(lines)]
    return made


def _method(
    whole: WholeCook,
    values: Sequence[Mapping[str, object]],
    choice: Choice,
    figures: Figures,
    shelf: Shelf,
) -> Iterator[str]:
    """Yield the steps in their order, with times from when the first piece went on."""
    shares = Choice(choice.detail) if not choice.grams else Choice()
    for arm in whole.ordered_arms:
        own = [t for t in whole.treatments if t.arm_id == arm.id]
        told = "; ".join(treated(t, shares, figures, shelf) for t in own)
        if told:
            same = told.casefold().startswith(arm.name.casefold())
            yield f"{capital(told)}." if same else f"{arm.name}: {told}."
    if not whole.arms:
        for treatment in whole.treatments:
            yield f"{capital(treated(treatment, shares, figures, shelf))}."
    for layer in whole.seasonings:
        yield f"Rub with {seasoned(layer, Choice(), figures)}."
    on = _moments(whole, EventKind.ON)
    lit = _moments(whole, EventKind.LIT)
    if lit and on:
        yield f"Light the fire {_apart(lit, min(on), figures)} before the meat goes on."
    point = figures.known(whole.cook.set_point, Dimension.TEMPERATURE)
    yield f"On{f' at {point}' if point else ''}."
    if on:
        yield from _between(whole, min(on), figures)
    yield from _off(whole, values, min(on, default=None), figures)
    rest = _mean(values, "time_rested")
    if rest is not None:
        yield f"Rest {figures.show(rest, Dimension.DURATION)}."


def _between(whole: WholeCook, on: datetime, figures: Figures) -> Iterator[str]:
    """Yield what is done on the fire, by when it was first done."""
    found = [(min(times), kind) for kind in _STEPS if (times := _moments(whole, kind))]
    for _, kind in sorted(found):
        events = [event for event in whole.events if event.kind == kind]
        with_what = dict.fromkeys(
            words for event in events for words in event.details.values() if words
        )
        in_what = f" ({', '.join(with_what)})" if with_what else ""
        yield f"{_STEPS[kind]}{in_what} {_apart(_moments(whole, kind), on, figures)} after on."


def _off(
    whole: WholeCook,
    values: Sequence[Mapping[str, object]],
    on: datetime | None,
    figures: Figures,
) -> Iterator[str]:
    said = [f"Take off: {whole.cook.stop_rule.rstrip('.')}" if whole.cook.stop_rule else "Take off"]
    off = _moments(whole, EventKind.OFF)
    if off and on is not None:
        said.append(f"here {_apart(off, on, figures)} after on")
    inside, feel = _mean(values, "internal_off"), _mean(values, "feel_off")
    if inside is not None:
        said.append(f"{figures.show(inside, Dimension.TEMPERATURE)} inside on average")
    if feel is not None:
        said.append(f"feel {figure(feel)} of 7")
    yield f"{', '.join(said)}."


def _moments(whole: WholeCook, kind: EventKind) -> list[datetime]:
    """Return when it was done; where it never was, when it is planned."""
    happened = [e.happened_at for e in whole.events if e.kind == kind and e.happened_at]
    return happened or [e.planned_at for e in whole.events if e.kind == kind and e.planned_at]


def _apart(moments: Sequence[datetime], start: datetime, figures: Figures) -> str:
    """Return how far moments lie from a start: the least and the most, in words."""
    far = sorted(abs((moment - start).total_seconds()) for moment in moments)
    shown = [figures.show(round(one / 60) * 60.0, Dimension.DURATION) for one in (far[0], far[-1])]
    return " to ".join(dict.fromkeys(shown))


def _mean(values: Sequence[Mapping[str, object]], key: str) -> float | None:
    known = [value for said in values if isinstance(value := said.get(key), int | float)]
    return fmean(known) if known else None
