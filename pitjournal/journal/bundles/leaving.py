"""Which fields of the records leave with a bundle, and which stay at home unless chosen."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import fields, replace
from typing import Any

from pitjournal.domain.conclusion import Conclusion
from pitjournal.domain.contest import Carried, Category, Contest, JudgeCard
from pitjournal.domain.event import Note, Photo
from pitjournal.domain.recipe import cures, lines_of
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import OwnValue, ShelfItem, ShelfKind
from pitjournal.domain.tasting import Sample, Score, Tasting, TastingNote, TastingState
from pitjournal.domain.trace import ProbeFile
from pitjournal.domain.treatment import Treatment
from pitjournal.files.summary.content import Choice, Detail, PrivatePart
from pitjournal.journal.bundles.clockless import Clockless, clock_fields

EVERYTHING = Choice(Detail.GRAMS, frozenset(PrivatePart))
"""For oneself: nothing is left out."""

STAY: Mapping[str, Mapping[PrivatePart | Detail, tuple[str, ...]]] = {
    "cook": {
        PrivatePart.PLACE: ("place", "altitude"),
        PrivatePart.COSTS: ("cost",),
        PrivatePart.TASTERS: ("hands",),
        PrivatePart.NOTES: ("note", "vents", "weather", "brought_from", "brought_as"),
    },
    "piece": {
        PrivatePart.SUPPLIER: ("supplier", "lot"),
        PrivatePart.COSTS: ("price",),
        PrivatePart.NOTES: ("note", "gives"),
    },
    "treatment": {
        Detail.RATIOS: ("salt", "phosphate", "target_pickup"),
        Detail.GRAMS: ("liquid",),
        PrivatePart.NOTES: ("note",),
    },
    "seasoning": {Detail.GRAMS: ("mass",), PrivatePart.NOTES: ("note",)},
    "event": {PrivatePart.TASTERS: ("by",), PrivatePart.NOTES: ("note",)},
    "doneness_check": {PrivatePart.NOTES: ("note",)},
    "photo": {PrivatePart.NOTES: ("caption",)},
    "probe_file": {PrivatePart.DEVICE: ("name", "report", "follows")},
    "tasting": {PrivatePart.NOTES: ("note", "warm_up", "portion")},
    "tasting_note": {PrivatePart.NOTES: ("said", "why")},
    "contest": {
        PrivatePart.PLACE: ("place",),
        PrivatePart.COSTS: ("paid", "cost"),
        PrivatePart.NOTES: ("weather", "note"),
        PrivatePart.TASTERS: ("overall_others",),
    },
    "carried": {PrivatePart.NOTES: ("what",)},
    "category": {PrivatePart.NOTES: ("note",), PrivatePart.TASTERS: ("others",)},
}
"""By kind of record and what it takes to let them out: the fields that are emptied else."""

LEAVE: Mapping[str, tuple[str, ...]] = {
    "shelf_item": ("id", "kind", "name", "details", "retired"),
    "cook": (
        *("id", "typed", "number", "title", "starts_at", "zone", "kind", "status", "question"),
        *("outcome", "stop_rule", "held", "serve_at", "cooker_id", "set_point", "water_pan"),
        *("ambient", "wind", "humidity", "worth_knowing", "spread_guess", "seed", "evened"),
    ),
    "arm": ("id", "cook_id", "position", "name", "control", "wrap"),
    "piece": (
        *("id", "typed", "cook_id", "position", "label", "cut", "arm_id", "animal", "pack"),
        *("pair", "side", "end", "grade", "frozen", "declared_solution", "thickness_1"),
        *("thickness_2", "thickness_3", "slot", "box"),
    ),
    "weighing": ("id", "typed", "cook_id", "piece_id", "stage", "mass", "at"),
    "treatment": (
        *("id", "typed", "cook_id", "kind", "arm_id", "piece_id", "recipe", "time", "passes"),
        *("sides", "tool", "cure", "cure_strength", "made_of"),
    ),
    "seasoning": ("id", "typed", "cook_id", "position", "rub", "arm_id", "set_time", "side"),
    "fuel_load": ("id", "typed", "cook_id", "stage", "fuel", "mass", "at"),
    "wood_addition": ("id", "typed", "cook_id", "wood", "form", "mass", "where", "at"),
    "event": (
        *("id", "cook_id", "kind", "happened_at", "entered_at", "planned_at", "pieces"),
        *("uncertainty", "details", "takes", "locked"),
    ),
    "doneness_check": ("id", "typed", "cook_id", "piece_id", "at", "internal", "feel", "point"),
    "note": ("id", "cook_id", "text", "at", "piece_id"),
    "photo": (
        *("id", "cook_id", "name", "attachment", "thumbnail", "width", "height", "taken_at"),
        *("piece_id", "stage"),
    ),
    "probe_file": ("id", "cook_id", "attachment", "added_at"),
    "trace": (
        *("id", "cook_id", "probe_file_id", "channel", "unit_in_file", "sits", "samples", "count"),
        *("starts_at", "ends_at", "interval", "piece_id", "place", "shift", "drift"),
        *("correction", "correction_slope", "left_out"),
    ),
    "tasting": (
        *("id", "typed", "cook_id", "scheme", "criteria", "low", "high", "state", "served_at"),
        *("seed", "tasters", "orders", "scheme_id", "version", "rules", "served_temperature"),
        *("seen",),
    ),
    "sample": ("id", "cook_id", "tasting_id", "piece_id", "code", "reference"),
    "score": ("id", "cook_id", "tasting_id", "sample_id", "taster", "criterion", "value"),
    "tasting_note": (
        *("id", "cook_id", "tasting_id", "at", "mishap", "taster", "sample_id", "other_id"),
    ),
    "own_variable": ("id", "name", "level", "kind", "dimension", "choices", "retired"),
    "own_value": (
        *("id", "typed", "cook_id", "variable_id", "owner_id", "number", "text", "answer"),
    ),
    "conclusion": ("id", "cook_id", "text", "at", "over", "said"),
    "contest": ("id", "typed", "name", "starts_at", "zone", "field", "overall_place"),
    "category": (
        *("id", "typed", "contest_id", "position", "name", "meat", "opens", "ideal", "closes"),
        *("scheme", "scheme_id", "version", "rules", "must", "must_not", "entries"),
        *("given_total", "given_place", "cook_id", "photo_id"),
    ),
    "carried": ("id", "category_id", "cook_id"),
    "judge_card": ("id", "contest_id", "category_id", "seat", "scores"),
    "scheme": ("id", "name", "version", "note", "rules", "retired"),
}
"""By kind of record: the fields that leave with every bundle, if need be under other names.

A field that stands nowhere here stays at home. Curing salt and its strength are never left out:
who eats has to know.
"""

_BY_THE_CLOCK = (Contest, Category, JudgeCard, Carried)
"""What is nothing without its hours: it stays where clock times do."""

_SAFE_DETAILS = ("allergens", "curing_salt", "cured", "of", "class", "shelves", "slots")
"""What leaves of a thing on the Shelf at every level: what protects an eater, and its sort."""


class Leaving:
    """What becomes of each record on its way out.

    Parameters
    ----------
    choice
        The detail of recipes and the private parts that leave.
    tastings
        All tastings of the cooks: unless names leave, tasters get numbers over all of them, and
        what is not revealed stays.
    free_texts
        The ids of own variables of free words: what they say leaves with the notes.
    clockless
        What moves cooks so that no clock time is left; None where times leave.
    """

    def __init__(
        self,
        choice: Choice,
        tastings: Sequence[Tasting],
        free_texts: Collection[str] = (),
        clockless: Clockless | None = None,
    ) -> None:
        if clockless is not None:  # the file of a thermometer is full of them
            choice = replace(choice, parts=choice.parts - {PrivatePart.DEVICE})
        self.choice, self._free_texts, self._clockless = choice, free_texts, clockless
        self.whole = choice == EVERYTHING
        named = dict.fromkeys(name for one in tastings for name in one.tasters)
        self._tasters = {name: f"taster {at}" for at, name in enumerate(sorted(named), 1)}
        closed = (one for one in tastings if one.state is not TastingState.REVEALED)
        self._blind = set() if self.whole else {one.id for one in closed}

    def left_out(self, kind: type[Record]) -> tuple[str, ...]:
        """Return the fields of a kind that are emptied, or that leave as something else."""
        if self.whole:
            return ()
        known = set(LEAVE.get(kind.KIND, ()))
        let = {
            name
            for part, names in STAY.get(kind.KIND, {}).items()
            if self._leaves(part)
            for name in names
        }
        kept = tuple(field.name for field in fields(kind) if field.name not in known | let)
        return (*kept, *self._as_else(kind))

    def _as_else(self, kind: type[Record]) -> tuple[str, ...]:
        """Return the fields of a kind that leave as something else than they are."""
        moved = () if self._clockless is None else clock_fields(kind)
        return (*_AS_ELSE.get(kind.KIND, ()), *moved)

    def _leaves(self, part: PrivatePart | Detail) -> bool:
        if isinstance(part, PrivatePart):
            return part in self.choice
        return self.choice.ratios if part is Detail.RATIOS else self.choice.grams

    def record(self, record: Record) -> Record | None:
        """Return a record as it leaves; None where it stays at home."""
        if self.whole:
            return record
        if self._stays(record):
            return None
        changed: dict[str, Any] = {name: _nothing(record, name) for name in self._emptied(record)}
        typed = getattr(record, "typed", None)
        if typed:
            changed["typed"] = {name: said for name, said in typed.items() if name not in changed}
        found = replace(record, **(changed | self._instead(record)))
        return found if self._clockless is None else self._clockless.moved(found)

    def _emptied(self, record: Record) -> tuple[str, ...]:
        other = self._as_else(type(record))
        return tuple(name for name in self.left_out(type(record)) if name not in other)

    def _stays(self, record: Record) -> bool:
        if isinstance(record, Note | Conclusion) or (
            isinstance(record, OwnValue) and record.variable_id in self._free_texts
        ):
            return PrivatePart.NOTES not in self.choice
        if isinstance(record, Photo):
            return PrivatePart.PHOTOS not in self.choice
        if isinstance(record, Tasting):
            return record.id in self._blind
        if isinstance(record, Sample | Score | TastingNote):
            return record.tasting_id in self._blind
        if isinstance(record, ShelfItem):
            return record.kind in {ShelfKind.TASTER, ShelfKind.PROBE}
        by_the_clock = self._clockless is not None and isinstance(record, _BY_THE_CLOCK)
        return by_the_clock or record.KIND not in LEAVE

    def _instead(self, record: Record) -> dict[str, Any]:
        """Return the fields that leave as something else."""
        if isinstance(record, ShelfItem):
            return {"details": self._details(record)}
        if isinstance(record, Treatment):
            return {"made_of": self._recipe(record.made_of)}
        if isinstance(record, Photo):
            return _small(record)
        if isinstance(record, ProbeFile):
            return {} if PrivatePart.DEVICE in self.choice else {"name": "readings.csv"}
        return {} if PrivatePart.TASTERS in self.choice else self._unnamed(record)

    def _unnamed(self, record: Record) -> dict[str, Any]:
        """Return the tasters of a record as numbers."""
        if isinstance(record, Tasting):
            orders = {self._number(name): row for name, row in record.orders.items()}
            return {"tasters": tuple(map(self._number, record.tasters)), "orders": orders}
        if isinstance(record, Score | TastingNote):
            return {"taster": self._number(record.taster)}
        return {}

    def _number(self, name: str) -> str:
        return self._tasters.get(name, "a taster") if name else ""

    def _details(self, item: ShelfItem) -> dict[str, Any]:
        recipe = item.kind in {ShelfKind.RUB, ShelfKind.RECIPE}
        return self._recipe(item.details) if recipe else _safe(item.details)

    def _recipe(self, details: Mapping[str, Any]) -> dict[str, Any]:
        if self.choice.grams:
            return dict(details)
        found = _safe(details)
        if cures(lines_of(details)):
            found["curing_salt"] = True
        return found


def _safe(details: Mapping[str, Any]) -> dict[str, Any]:
    return {name: details[name] for name in _SAFE_DETAILS if name in details}


def _small(photo: Photo) -> dict[str, Any]:
    """Return the fields of a photo whose small picture leaves: no camera wrote into that."""
    share = min(1.0, _SMALL / max(photo.width, photo.height, 1))
    width, height = (max(round(side * share), 1) for side in (photo.width, photo.height))
    return {
        "name": "photo.jpg",
        "attachment": photo.thumbnail,
        "width": width,
        "height": height,
    }


_SMALL = 480
"""The longer side of a kept small picture, pixels."""

_AS_ELSE: Mapping[str, tuple[str, ...]] = {
    "shelf_item": ("details",),
    "treatment": ("made_of",),
    "photo": ("name", "attachment", "width", "height"),
    "tasting": ("tasters", "orders"),
    "score": ("taster",),
    "tasting_note": ("taster",),
    "probe_file": ("attachment",),
}
"""Fields that may leave as something else than they are: they are not compared on coming in."""


def _nothing(record: Record, name: str) -> object:
    """Return what a field has where nothing is recorded."""
    value = getattr(record, name)
    if isinstance(value, str):
        return ""
    if isinstance(value, tuple):
        return ()
    return {} if isinstance(value, Mapping) else None
