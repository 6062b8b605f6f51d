"""Mend all of an entry of the log: what, for whom, how much, and when."""

from collections.abc import Mapping
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.event import (
    FEEL_WORDS,
    OF_THE_WHOLE_COOK,
    DonenessCheck,
    Event,
    EventKind,
    Note,
)
from pitjournal.domain.piece import Piece
from pitjournal.domain.plausible import limits_of
from pitjournal.domain.record import Measured, Record
from pitjournal.domain.treatment import FuelLoad, FuelStage, WoodAddition
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import CorrectCheck
from pitjournal.journal.commands.records import Change
from pitjournal.ui.bench.model import span_of
from pitjournal.ui.bench.panels import When, WhenPanel
from pitjournal.ui.desk import Desk
from pitjournal.ui.event_words import event_words
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import Field, QuantityField, TextField
from pitjournal.ui.look.parts.words import row, words
from pitjournal.units import Dimension

Options = list[tuple[Any, str, int | None]]

TIMES = {Event: "happened_at", DonenessCheck: "at", Note: "at", FuelLoad: "at", WoodAddition: "at"}
"""What can be corrected, and the field that holds its time."""


class CorrectPanel(WhenPanel):
    """All that an entry says, to be mended as one step."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook, record: Record) -> None:
        wrap = None
        if isinstance(record, Event) and record.kind == EventKind.WRAP:
            wrap = record.details.get("wrap", "")
        super().__init__(
            over,
            desk,
            f"Correct: {_name(record)}",
            whole.cook.zone,
            self._mend,
            at=getattr(record, TIMES[type(record)]),
            uncertainty=record.uncertainty if isinstance(record, Event) else 0.0,
            wrap=wrap,
            span=span_of(whole, desk.now()),
        )
        self._whole, self._record = whole, record
        self._values: dict[str, Any] = {}
        self._typed_words: dict[str, str] = {}
        self.fields: dict[str, Field] = {}
        self.choices: dict[str, Choice] = {}
        inside = QWidget()
        self._inside_layout = QVBoxLayout(inside)
        self._inside_layout.setContentsMargins(0, 0, 0, 0)
        self._inside_layout.setSpacing(tokens.S)
        self.body.insertWidget(0, inside)
        if isinstance(record, Event):
            self._ask_event(record)
        elif isinstance(record, DonenessCheck):
            self._ask_check(record)
        elif isinstance(record, Note):
            self._add(self._words("text", "Words"))
            self._one_piece(record.piece_id, none="the whole cook")
        elif isinstance(record, FuelLoad):
            self._add(self._quantity("mass", "Weight", Dimension.MASS), self._words("fuel", "Fuel"))
            self._choose("stage", "When", [(stage, str(stage), -1) for stage in FuelStage])
        elif isinstance(record, WoodAddition):
            mass = self._quantity("mass", "Weight", Dimension.MASS)
            self._add(mass, self._words("wood", "Wood"), self._words("form", "Form"))

    def _enter(self) -> None:
        """Go on from the time to what keeps it all, which the next Enter does."""
        self.time.commit()
        if not self.time.error.text():
            self.keep.setFocus()

    # what is asked

    def _ask_event(self, event: Event) -> None:
        self._add(self._words("kind", "What"), self._words("note", "Words"))
        if event.kind in OF_THE_WHOLE_COOK or len(self._whole.pieces) < 2:
            return
        self._inside_layout.addWidget(words("For which pieces?", "heading"))
        pieces = self.choices["pieces"] = Choice("for which pieces", several=True)
        pieces.offer(self._pieces())
        pieces.choose(*(event.pieces or [piece.id for piece in self._whole.pieces]))
        self._inside_layout.addWidget(pieces)

    def _ask_check(self, check: DonenessCheck) -> None:
        self._one_piece(check.piece_id)
        internal = self._quantity("internal", "Internal temperature", Dimension.TEMPERATURE)
        self._add(internal, self._words("point", "Where"))
        feels: Options = [(None, "not felt", -1)]
        feels += [(score, f"{score} {text}", -1) for score, text in FEEL_WORDS.items()]
        self._choose("feel", "Feel", feels)

    def _pieces(self) -> Options:
        return [(p.id, p.label, self._mark(p)) for p in self._whole.pieces]

    def _mark(self, piece: Piece) -> int:
        found = self._whole.arm_index(piece.arm_id)
        return -1 if found is None else found

    def _one_piece(self, piece_id: str | None, none: str = "") -> None:
        options = self._pieces()
        if none:
            options.insert(0, (None, none, -1))
        self._choose("piece_id", "Piece", options, piece_id)

    def _add(self, *fields: Field) -> None:
        self._inside_layout.addLayout(row(*fields, space=tokens.M))

    def _choose(
        self,
        name: str,
        label: str,
        options: Options,
        value: object = None,
    ) -> None:
        made = self.choices[name] = Choice(label.lower())
        made.offer(options)
        made.choose(value if value is not None else getattr(self._record, name))
        self._inside_layout.addWidget(words(label, "heading"))
        self._inside_layout.addWidget(made)

    def _words(self, name: str, label: str) -> TextField:
        made = TextField(label, self._noter(name))
        made.set_value(getattr(self._record, name))
        self.fields[name] = made
        return made

    def _quantity(self, name: str, label: str, dimension: Dimension) -> QuantityField:
        made = QuantityField(
            label,
            dimension,
            self._desk.system,
            self._noter(name),
            within=limits_of(self._record.KIND, name),
        )
        made.set_value(getattr(self._record, name))
        self.fields[name] = made
        return made

    def _noter(self, name: str) -> Any:  # noqa: ANN401 - a `Save`
        def note(value: object, typed: str) -> str:
            self._values[name] = "" if value is None and name in _TEXTS else value
            if isinstance(value, float):
                self._typed_words[name] = typed
            return ""

        return note

    # what is kept

    def _keep(self) -> None:
        for field in self.fields.values():
            field.commit()
            if field.problem:
                field.setFocus()
                return
        super()._keep()

    def _mend(self, when: When) -> str:
        """Keep what was changed as one step; return why not."""
        record = self._record
        changed = {TIMES[type(record)]: when.at, **self._values, **self._chosen()}
        for name in _NEEDED & changed.keys():
            if not changed[name]:
                self.fields[name].say("This cannot be left empty: take the entry away instead.")
                return ""
        if isinstance(record, Event):
            changed["uncertainty"] = when.uncertainty
            if when.details:
                changed["details"] = {**record.details, **when.details}
        label = f"Correct {_name(record).lower()}"
        if isinstance(record, DonenessCheck):
            check = CorrectCheck(record.id, changed, self._typed_words, label)
            return self._desk.bridge.attempt(check, self)
        change = Change(type(record), record.id, changed, label, self._as_typed(record))
        return self._desk.bridge.attempt(change, self)

    def _as_typed(self, record: Record) -> Mapping[str, str]:
        return self._typed_words if isinstance(record, Measured) else {}

    def _chosen(self) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for name, choice in self.choices.items():
            values = choice.values()
            if name == "pieces":
                everyone = len(values) in {0, len(self._whole.pieces)}
                found[name] = () if everyone else tuple(str(value) for value in values)
            else:
                found[name] = next(iter(values), None)
        return found


_TEXTS = frozenset({"kind", "note", "text", "point", "fuel", "wood", "form"})
_NEEDED = frozenset({"kind", "text", "fuel", "wood"})


def _name(record: Record) -> str:
    """Return what an entry is, in words."""
    if isinstance(record, Event):
        return event_words(record)
    return {DonenessCheck: "Probe", Note: "Note", FuelLoad: "Fuel", WoodAddition: "Wood"}.get(
        type(record), "Entry"
    )
