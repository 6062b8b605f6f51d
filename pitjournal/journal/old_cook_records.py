"""The records of one cook of before: from the rows of a table to what the journal keeps."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property
from typing import Any

from pitjournal.domain.arm_names import arm_key
from pitjournal.domain.cook import Arm, Cook, CookKind, CookStatus
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
from pitjournal.journal.old_cook_note import moments, note_of
from pitjournal.journal.old_cook_own import taken_from
from pitjournal.journal.old_cook_treatment import treatment_in
from pitjournal.units.figures import trimmed
from pitjournal.units.first_letter import capital

LEFT_OPEN = time(12, 0)
"""The clock of a day without one: noon, so that no zone makes it another day."""

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
            note=note_of(rows, _says_kind(self._text(values, "kind"))),
            typed={
                key: text
                for row in reversed(rows)  # the first that says it counts
                for key, text in row.written.items()
                if key in _TYPED
            },
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
        arms = self._arms()
        own = list(dict.fromkeys(arm for arm in arms if arm is not None))
        treated = self._treated_alike(arms)
        found: list[Record] = [self.cook, *own]
        found += [
            self._treatment("; ".join(treated[arm.id]), arm_id=arm.id)
            for arm in own
            if any(treated.get(arm.id, ()))
        ]
        for place, (row, arm) in enumerate(zip(self.rows, arms, strict=True)):
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
                *self._treated_alone(row, arm is not None and arm.id in treated, piece),
                *self._weighings(row, piece),
                *self._log(row, piece),
                *self._scores(row, piece),
                *self._own_values(place, arm, piece),
            ]
        return [*found, *self._fire()]

    def _arms(self) -> list[Arm | None]:
        """Return the arm of each row: by its name, else by what was done to the meat."""
        names = [self._arm_name(row) for row in self.rows]
        wraps: dict[str, set[str]] = {}
        for name, row in zip(names, self.rows, strict=True):
            wraps.setdefault(arm_key(name), set()).add(self._text(row.values, "wrap"))
        arms: dict[str, Arm] = {}
        for name in names:
            key = arm_key(name)
            if name and key not in arms:
                wrap = next(iter(wraps[key])) if len(wraps[key]) == 1 else ""
                arms[key] = Arm(
                    cook_id=self.cook.id,
                    position=len(arms),
                    name=name,
                    wrap="wrapped" if wrap == "yes" else wrap,
                )
        self._take_control(arms)
        return [arms[arm_key(name)] if name else None for name in names]

    def _arm_name(self, row: OldCook) -> str:
        arm, treatment, wrap = (self._text(row.values, key) for key in ("arm", "treatment", "wrap"))
        if arm:
            return arm
        wrapped = {"": "", "none": "not wrapped"}.get(wrap, f"wrapped: {wrap}")
        if treatment and wrapped and self._wraps_differ:
            return f"{treatment}, {wrapped}"
        return treatment or wrapped

    @cached_property
    def _wraps_differ(self) -> bool:
        """Whether pieces of one treatment were wrapped in several ways: these are arms then."""
        told: dict[str, set[str]] = {}
        for row in self.rows:
            key = self._text(row.values, "treatment").casefold()
            told.setdefault(key, set()).add(self._text(row.values, "wrap"))
        return any(len(wraps) > 1 for wraps in told.values())

    def _take_control(self, arms: dict[str, Arm]) -> None:
        """Take the one arm that was left alone, by its name, for the one to compare with."""
        plain = [key for key, arm in arms.items() if treatment_in(arm.name) is TreatmentKind.NONE]
        if len(plain) == 1 and len(arms) > 1:
            arms[plain[0]] = replace(arms[plain[0]], control=True)

    def _treated_alike(self, arms: Sequence[Arm | None]) -> dict[str, list[str]]:
        """Return what was done to each arm whose rows say one kind, in whatever words, by its id."""
        said: dict[str, dict[str, None]] = {}
        for row, arm in zip(self.rows, arms, strict=True):
            if arm is not None:
                words = self._text(row.values, "treatment").strip()
                said.setdefault(arm.id, {})[words] = None
        return {
            arm_id: list(words)
            for arm_id, words in said.items()
            if len({treatment_in(one) if one else None for one in words}) == 1
        }

    def _treated_alone(self, row: OldCook, alike: bool, piece: Piece) -> list[Record]:
        """Return what was done to one piece, where rows of its arm do not say it alike."""
        words = self._text(row.values, "treatment").strip()
        return [self._treatment(words, piece_id=piece.id)] if words and not alike else []

    def _treatment(
        self, words: str, *, arm_id: str | None = None, piece_id: str | None = None
    ) -> Treatment:
        return Treatment(
            cook_id=self.cook.id,
            kind=treatment_in(words),
            arm_id=arm_id,
            piece_id=piece_id,
            note=words,
        )

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
        internal, lasted = _number(row.values, "internal_off"), _number(row.values, "time_on")
        wrap = self._text(row.values, "wrap")
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
            for kind, after in moments(row)
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
    midnight = datetime.combine(day, time.min)
    local = (
        datetime.combine(day, LEFT_OPEN) if clock is None else midnight + timedelta(minutes=clock)
    )
    return local.replace(tzinfo=time_zone(zone)).astimezone(UTC)


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


def _says_kind(words: str) -> bool:
    """Whether a word for the kind of cook is one that the journal has a kind for."""
    known = words.casefold() in {str(kind) for kind in CookKind}
    return known or bool(_CONTEST.search(words) or _PRACTICE.search(words))


def _kind(words: str) -> CookKind:
    if _CONTEST.search(words):
        return CookKind.CONTEST
    return CookKind.PRACTICE if _PRACTICE.search(words) else CookKind.HOME
