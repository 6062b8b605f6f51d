"""The records of one cook of before: from the rows of a table to what the journal keeps."""

import re
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from pitjournal.domain.cook import Arm, Cook, CookKind, CookStatus
from pitjournal.domain.cuts.done import done_in
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import OwnValue, OwnVariable, ShelfItem, ShelfKind
from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.treatment import (
    FuelLoad,
    FuelStage,
    Seasoning,
    Treatment,
    TreatmentKind,
    WoodAddition,
)
from pitjournal.files.old_cooks import OldCook
from pitjournal.journal.journal import Journal
from pitjournal.journal.old_cook_own import taken_from
from pitjournal.units.figures import trimmed
from pitjournal.units.first_letter import capital

LEFT_OPEN = time(12, 0)
"""The clock of a day without one: noon, so that no zone makes it another day."""

_TREATED = (
    (
        TreatmentKind.NONE,
        r"\b(?:none|nothing|left alone|control|plain|no|not|nein|nicht|ohne|n|sin|nada|natur)\b|^(?:un|non)\w",
    ),
    (TreatmentKind.DRY_BRINED, r"dry.?brin|trocken.?(?:lake|gepokelt|gesalzen)|salmuera seca"),
    (TreatmentKind.INJECTED, r"\bshot|^(?:yes|y|x|ja|j|si)$"),
    (TreatmentKind.BRINED, r"brine|lake|salmuera"),
    (TreatmentKind.MARINATED, r"marin|adobo"),
)
"""How else a treatment is written (common practice, no source); the first that fits counts."""

_DONE = (TreatmentKind.INJECTED, TreatmentKind.NEEDLED, TreatmentKind.BLADED)
"""Those that the one list of what is done to meat names; they count before all else."""

_CONTEST = re.compile(
    r"\b(?:contest|comp|competition|wettbewerb|meisterschaft|concurso|torneo)\b", re.IGNORECASE
)
_PRACTICE = re.compile(
    r"\b(?:practi[cs]e|test|probe|ubung|übung|practica|práctica)\b", re.IGNORECASE
)


class Shelf:
    """What stands on the Shelf by name, and what must be put there."""

    def __init__(self, journal: Journal) -> None:
        self.made: list[Record] = []
        self._items = {(item.kind, item.name.casefold()): item for item in journal.find(ShelfItem)}
        self.own_variables = journal.find(OwnVariable)
        self._variables = {(own.name.casefold(), own.level): own for own in self.own_variables}

    def cooker(self, name: str) -> ShelfItem:
        """Return a cooker of this name, a new one where there is none."""
        key = (ShelfKind.COOKER, name.casefold())
        if key not in self._items:
            self._items[key] = ShelfItem(kind=ShelfKind.COOKER, name=name)
            self.made.append(self._items[key])
        return self._items[key]

    def variable(self, name: str, kind: str, choices: tuple[str, ...] = ()) -> OwnVariable:
        """Return a variable of the cook's own for a piece."""
        key = (name.casefold(), "piece")
        if key not in self._variables:
            dimension = "score" if kind == "number" else "number"
            self._variables[key] = OwnVariable(
                name=name, level="piece", kind=kind, dimension=dimension, choices=choices
            )
            self.made.append(self._variables[key])
        return self._variables[key]


class OneCook:
    """The records of one cook from its rows."""

    def __init__(
        self, rows: Sequence[OldCook], file: str, mark: str, zone: str, shelf: Shelf
    ) -> None:
        rows, self._own = taken_from(rows, shelf.own_variables)
        self.rows, self.shelf = rows, shelf
        first = rows[0]
        assert first.date is not None
        clock = next((row.on_clock for row in rows if row.on_clock is not None), None)
        self.at = _moment(first.date, clock, zone)
        self.sure = 0.0 if clock is not None else None
        values = _merged(rows)
        cooker = self._text(values, "cooker")
        self.cook = Cook(
            number=0,
            title=first.title or _title(rows),
            starts_at=self.at,
            zone=zone,
            kind=_kind(
                first.title + " " + self._text(values, "kind") + " " + self._text(values, "notes")
            ),
            status=CookStatus.DONE,
            cooker_id=shelf.cooker(cooker).id if cooker else None,
            set_point=_number(values, "set_point"),
            ambient=_number(values, "ambient"),
            wind=_number(values, "wind"),
            humidity=_number(values, "humidity"),
            weather=self._text(values, "weather"),
            place=self._text(values, "place"),
            cost=_number(values, "cost"),
            note=_note(rows),
            typed={key: text for row in rows for key, text in row.written.items() if key in _TYPED},
            brought_from=file,
            brought_as=mark,
        )
        self.values = values

    @staticmethod
    def _text(values: Mapping[str, Any], key: str) -> str:
        value = values.get(key)
        return value if isinstance(value, str) else ""

    def records(self) -> list[Record]:
        """Return the cook, its arms, its pieces and all that is known of them."""
        found: list[Record] = [self.cook]
        arms: dict[tuple[str, str, str], Arm] = {}
        for place, row in enumerate(self.rows):
            arm = self._arm(row, arms, found)
            piece = Piece(
                cook_id=self.cook.id,
                position=place,
                label=str(place + 1),
                cut=row.written.get("cut", row.cut),
                arm_id=arm.id if arm else None,
                supplier=self._text(row.values, "supplier"),
                grade=self._text(row.values, "grade"),
                thickness_1=_scaled(row.values, "thickness", 1e-3),
                typed={key: text for key, text in row.written.items() if key == "thickness"},
            )
            found += [
                piece,
                *self._weighings(row, piece),
                *self._log(row, piece),
                *self._scores(row, piece),
                *self._own_values(place, arm, piece),
            ]
        return [*found, *self._fire()]

    def _arm(
        self, row: OldCook, arms: dict[tuple[str, str, str], Arm], found: list[Record]
    ) -> Arm | None:
        said = tuple(self._text(row.values, key) for key in ("arm", "treatment", "wrap"))
        if not any(said):
            return None
        key = (said[0], said[1], said[2])
        if key not in arms:
            name = (
                said[0]
                or said[1]
                or ("not wrapped" if said[2] == "none" else f"wrapped: {said[2]}")
            )
            arms[key] = Arm(
                cook_id=self.cook.id,
                position=len(arms),
                name=name,
                wrap="wrapped" if said[2] == "yes" else said[2],
            )
            found.append(arms[key])
            if said[1]:
                kind = _treatment(said[1])
                found.append(
                    Treatment(cook_id=self.cook.id, kind=kind, arm_id=arms[key].id, note=said[1])
                )
        return arms[key]

    def _weighings(self, row: OldCook, piece: Piece) -> list[Record]:
        return [
            Weighing(
                cook_id=self.cook.id,
                piece_id=piece.id,
                stage=stage,
                mass=mass,
                typed={"mass": row.written[f"mass_{stage}"]}
                if f"mass_{stage}" in row.written
                else {},
            )
            for stage in Stage
            if (mass := _number(row.values, f"mass_{stage}"))
        ]

    def _log(self, row: OldCook, piece: Piece) -> list[Record]:
        """Return what is known of its times: on, wrapped, off, sliced, each only where it was said."""
        lasted, rested = _number(row.values, "time_on"), _number(row.values, "time_rested")
        wrapped, internal = _number(row.values, "time_to_wrap"), _number(row.values, "internal_off")
        wrap = self._text(row.values, "wrap")
        times: list[tuple[EventKind, float]] = []
        if lasted is not None:
            times = [(EventKind.ON, 0.0), (EventKind.OFF, lasted)]
            if wrapped is not None and wrap != "none" and wrapped <= lasted:
                times.append((EventKind.WRAP, wrapped))
            if rested is not None:
                times.append((EventKind.SLICED, lasted + rested))
        found: list[Record] = [
            Event(
                cook_id=self.cook.id,
                kind=kind,
                happened_at=self.at + timedelta(minutes=after),
                entered_at=self.at,
                pieces=(piece.id,),
                uncertainty=self.sure,
                details={"wrap": wrap}
                if kind is EventKind.WRAP and wrap not in {"", "yes"}
                else {},
            )
            for kind, after in times
        ]
        if internal is not None:
            at = self.at + timedelta(minutes=lasted or 0.0)
            found.append(
                DonenessCheck(cook_id=self.cook.id, piece_id=piece.id, at=at, internal=internal)
            )
        return found

    def _scores(self, row: OldCook, piece: Piece) -> list[Record]:
        found: list[Record] = []
        for key, value in row.values.items():
            if isinstance(value, Mapping):
                found.append(self._score(key, value, piece))
        return found

    def _score(self, key: str, value: Mapping[str, Any], piece: Piece) -> OwnValue:
        name = key.removeprefix("score.")
        number = value["value"] if isinstance(value["value"], int | float) else None
        if number is not None and value["low"] is not None and value["high"] is not None:
            own = self.shelf.variable(
                f"{name} ({trimmed(value['low'])} to {trimmed(value['high'])})", "number"
            )
            return OwnValue(
                cook_id=self.cook.id, variable_id=own.id, owner_id=piece.id, number=float(number)
            )
        ends = f" ({value['low']} to {value['high']})" if value.get("letters") else " in words"
        own = self.shelf.variable(f"{name}{ends}", "choice", tuple(value.get("letters", "")))
        return OwnValue(
            cook_id=self.cook.id, variable_id=own.id, owner_id=piece.id, text=str(value["value"])
        )

    def _own_values(self, place: int, arm: Arm | None, piece: Piece) -> list[Record]:
        """Return what the cook's own variables take of a row."""
        owners = {"cook": self.cook.id, "arm": arm.id if arm else piece.id, "piece": piece.id}
        return [
            OwnValue(
                cook_id=self.cook.id,
                variable_id=taken.own.id,
                owner_id=owners[taken.own.level],
                typed=taken.typed,
                **taken.fields,
            )
            for taken in self._own[place]
        ]

    def _fire(self) -> list[Record]:
        found: list[Record] = []
        if wood := self._text(self.values, "wood"):
            found.append(WoodAddition(cook_id=self.cook.id, wood=wood))
        if rub := self._text(self.values, "rub"):
            found.append(Seasoning(cook_id=self.cook.id, position=0, rub=rub))
        used = _number(self.values, "fuel_used")
        if used is not None:
            fuel = self._text(self.values, "fuel")
            found.append(FuelLoad(cook_id=self.cook.id, stage=FuelStage.IN, fuel=fuel, mass=used))
        return found


_TYPED = frozenset({"set_point", "ambient", "wind", "humidity", "cost"})


def _moment(day: date, clock: int | None, zone: str) -> datetime:
    local = LEFT_OPEN if clock is None else time(clock // 60, clock % 60)
    return datetime.combine(day, local, tzinfo=time_zone(zone)).astimezone(UTC)


def _merged(rows: Sequence[OldCook]) -> dict[str, Any]:
    """Return what all rows of a cook say together; the first that says something counts."""
    found: dict[str, Any] = {}
    for row in rows:
        for key, value in row.values.items():
            found.setdefault(key, value)
    return found


def _number(values: Mapping[str, Any], key: str) -> float | None:
    value = values.get(key)
    return float(value) if isinstance(value, int | float) else None


def _scaled(values: Mapping[str, Any], key: str, unit: float) -> float | None:
    number = _number(values, key)
    return None if number is None else number * unit


def _title(rows: Sequence[OldCook]) -> str:
    cuts = list(dict.fromkeys(row.cut for row in rows if row.cut))
    text = ", ".join(cuts) or "Old cook"
    return capital(text)


def _kind(words: str) -> CookKind:
    if _CONTEST.search(words):
        return CookKind.CONTEST
    return CookKind.PRACTICE if _PRACTICE.search(words) else CookKind.HOME


def _treatment(words: str) -> TreatmentKind:
    text = words.casefold().strip()
    done = {one.what for one in done_in(words)}
    named = next((kind for kind in _DONE if str(kind) in done), None)
    if named is not None or done:
        return named or TreatmentKind.OTHER
    return next((kind for kind, form in _TREATED if re.search(form, text)), TreatmentKind.OTHER)


_KEPT_AS_NOTE = ("fuel", "pieces", "yield_off", "price")


def _note(rows: Sequence[OldCook]) -> str:
    """Return the notes, and below them what fits no field, by head: nothing typed is lost."""
    lines: list[str] = []
    for row in rows:
        notes = row.values.get("notes")
        if isinstance(notes, str):
            lines.append(notes)
        if row.values.get("fuel_used") is None or "fuel" not in row.values:
            lines += [f"{key}: {row.values[key]}" for key in _KEPT_AS_NOTE if key in row.values]
        if "time_on" not in row.values and "time_rested" in row.values:
            lines.append(f"rested: {trimmed(_number(row.values, 'time_rested'))} min")
        lines += [f"{head}: {cell}" for head, cell in row.others.items()]
    return "\n".join(dict.fromkeys(lines))
