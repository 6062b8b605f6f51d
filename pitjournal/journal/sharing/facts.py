"""The plain facts of a cook for a summary, less what is private unless chosen."""

from collections.abc import Iterator, Mapping
from typing import Any

from pitjournal.domain.event import EventKind
from pitjournal.domain.tasting import Blindness, TastingState
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import Choice, PrivatePart
from pitjournal.journal.sharing.figures import Figures
from pitjournal.journal.sharing.recipes import Shelf, has_amounts, seasoned
from pitjournal.units import Dimension
from pitjournal.units.figures import trimmed

Fact = tuple[str, str]


def facts_of(
    whole: WholeCook, found: Mapping[str, Any], choice: Choice, figures: Figures
) -> tuple[Fact, ...]:
    """Return label and words of each fact that is recorded and may leave."""
    facts = [
        *_pit(whole, choice, figures),
        *_fire(whole, found, figures),
        *_meat(whole, choice, figures),
        *_day(whole, choice, figures),
        *_tasting(whole, choice),
    ]
    return tuple((label, words) for label, words in facts if words)


def _pit(whole: WholeCook, choice: Choice, figures: Figures) -> Iterator[Fact]:
    cook, cooker = whole.cook, whole.cooker
    if cooker is not None:
        sort = str(cooker.details.get("class", ""))
        yield "Cooker", f"{cooker.name} ({sort})" if sort and sort != cooker.name else cooker.name
    yield "Set point", figures.known(cook.set_point, Dimension.TEMPERATURE)
    if PrivatePart.NOTES in choice:
        yield "Vents", cook.vents
    if cook.water_pan is not None:
        yield "Water pan", "yes" if cook.water_pan else "no"
    yield "Held the same", cook.held
    yield "Taken off when", cook.stop_rule


def _fire(whole: WholeCook, found: Mapping[str, Any], figures: Figures) -> Iterator[Fact]:
    yield "Fuel", ", ".join(dict.fromkeys(load.fuel for load in whole.fuel_loads))
    fuel = found["fuel"] or {}
    used, rate = fuel.get("used_kg"), fuel.get("per_hour_kg")
    if used is not None:
        yield "Fuel used", figures.show(1000.0 * used, Dimension.MASS)
    if rate is not None:
        yield "Fuel per hour", figures.show(rate / 3.6, Dimension.MASS_RATE)
    wood = dict.fromkeys(" ".join(w for w in (w.wood, w.form) if w) for w in whole.wood_additions)
    yield "Wood", ", ".join(wood)


def _meat(whole: WholeCook, choice: Choice, figures: Figures) -> Iterator[Fact]:
    yield "Cut", ", ".join(dict.fromkeys(piece.cut for piece in whole.pieces))
    arms = {arm.id: arm.name for arm in whole.arms}
    for number, layer in enumerate(whole.seasonings, start=1):
        label = "Rub" if len(whole.seasonings) == 1 else f"Layer {number}"
        if layer.arm_id in arms:
            label += f", {arms[layer.arm_id]}"
        yield label, seasoned(layer, choice, figures)
    for event in whole.happened(EventKind.WRAP)[:1]:
        yield "Wrap", ", ".join(event.details.values())
    sprays = [", ".join(event.details.values()) for event in whole.happened(EventKind.SPRITZ)]
    yield "Spritz", "; ".join(dict.fromkeys(spray for spray in sprays if spray))


def _day(whole: WholeCook, choice: Choice, figures: Figures) -> Iterator[Fact]:
    cook = whole.cook
    yield "Outside", figures.known(cook.ambient, Dimension.TEMPERATURE)
    yield "Wind", figures.known(cook.wind, Dimension.SPEED)
    yield "Humidity", figures.known(cook.humidity, Dimension.FRACTION)
    if PrivatePart.NOTES in choice:
        yield "Weather", cook.weather
    if PrivatePart.PLACE in choice:
        yield "Place", cook.place
        yield "Altitude", figures.known(cook.altitude, Dimension.ALTITUDE)
    if PrivatePart.TIMES in choice:
        yield from _times(whole)
    if PrivatePart.COSTS in choice:
        yield "Cost", figures.known(cook.cost, Dimension.MONEY)
    if PrivatePart.DEVICE in choice:
        yield "Logger files", ", ".join(probe_file.name for probe_file in whole.probe_files)


def _times(whole: WholeCook) -> Iterator[Fact]:
    zone = whole.cook.zone
    labels = {piece.id: piece.label for piece in whole.pieces}
    for event in whole.events:
        if event.happened_at is None:
            continue
        words = show_time(event.happened_at, zone)
        named = [labels[piece] for piece in event.pieces if piece in labels]
        if named and len(named) < len(labels):
            words += f" ({', '.join(named)})"
        yield str(event.kind).capitalize(), words
    if whole.cook.serve_at is not None:
        yield "Served", show_time(whole.cook.serve_at, zone)


def _tasting(whole: WholeCook, choice: Choice) -> Iterator[Fact]:
    for session in whole.tastings:
        if session.state is TastingState.OPEN:
            continue
        count = len(session.tasters)
        who = f"{count} {'taster' if count == 1 else 'tasters'}, under three-digit codes"
        if PrivatePart.TASTERS in choice and session.tasters:
            who += f": {', '.join(session.tasters)}"
        who += {
            None: "",
            Blindness.BLIND: ", blind",
            Blindness.CODED: "",
            Blindness.OPEN: ", eyes open",
        }[session.seen]
        scale = (
            f", {trimmed(session.low)} to {trimmed(session.high)}" if session.asked.scored else ""
        )
        yield "Tasting", f"{session.scheme}{scale}; {who}"


def notes_of(whole: WholeCook) -> tuple[str, ...]:
    """Return everything that was noted, in order: the cook, its pieces, then note by note."""
    about = [whole.cook.note]
    about += [f"{piece.label}: {piece.note}" for piece in whole.pieces if piece.note]
    about += [treatment.note for treatment in whole.treatments]
    about += [layer.note for layer in whole.seasonings]
    about += [event.note for event in whole.events]
    about += [session.note for session in whole.tastings]
    about += [note.text for note in whole.notes]
    return tuple(words for words in about if words.strip())


def recorded_parts(whole: WholeCook) -> dict[PrivatePart, bool]:
    """Return for each private part whether the cook has anything of it."""
    cook = whole.cook
    prices = any(piece.price is not None for piece in whole.pieces)
    return {
        PrivatePart.PLACE: bool(cook.place) or cook.altitude is not None,
        PrivatePart.TIMES: any(event.happened_at is not None for event in whole.events),
        PrivatePart.SUPPLIER: any(piece.supplier or piece.lot for piece in whole.pieces),
        PrivatePart.TASTERS: any(session.tasters for session in whole.tastings),
        PrivatePart.NOTES: bool(notes_of(whole)),
        PrivatePart.COSTS: cook.cost is not None or prices,
        PrivatePart.DEVICE: bool(whole.probe_files),
        PrivatePart.PHOTOS: bool(whole.photos),
    }


SHARES = "shares of recipes"
PART_WORDS = {
    PrivatePart.PLACE: "place and altitude",
    PrivatePart.TIMES: "clock times",
    PrivatePart.SUPPLIER: "suppliers and lots",
    PrivatePart.TASTERS: "names of tasters",
    PrivatePart.NOTES: "notes",
    PrivatePart.COSTS: "costs",
    PrivatePart.DEVICE: "names of logger files",
    PrivatePart.PHOTOS: "photos",
}


_FREE = ("weather", "vents")
"""Fields of free words, which may say whatever a note does: they leave with the notes."""


def what_leaves(
    whole: WholeCook, choice: Choice, shelf: Shelf
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what leaves with the summary, and what was recorded and stays at home."""
    leaves = ["title, question and date", "arms, pieces, weights and results", "the findings"]
    left_out: list[str] = []
    if whole.conclusion is not None:
        leaves.append("your conclusion, as you wrote it")
    if whole.traces:
        leaves.append("temperature curves")
    if whole.seasonings or whole.treatments:
        leaves.append("names of rubs and recipes")
    if has_amounts(whole, shelf):
        (leaves if choice.ratios else left_out).append(SHARES)
        (leaves if choice.grams else left_out).append("amounts of recipes")
    for part, recorded in recorded_parts(whole).items():
        if recorded:
            (leaves if part in choice else left_out).append(PART_WORDS[part])
    said = [name for name in _FREE if getattr(whole.cook, name).strip()]
    if said:
        words = f"{' and '.join(said)} in your own words"
        (leaves if PrivatePart.NOTES in choice else left_out).append(words)
    return tuple(leaves), tuple(left_out)
