"""A cook with everything that belongs to it, as the analysis and the pages read it."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from pitjournal.domain.alarm import Alarm
from pitjournal.domain.conclusion import Conclusion
from pitjournal.domain.contest import TurnIn
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.event import UNDER_THE_LID, DonenessCheck, Event, EventKind, Note, Photo
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.shelf import OwnValue, ShelfItem
from pitjournal.domain.tasting import Sample, Score, Session, Tasting, TastingNote
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.domain.treatment import (
    FuelLoad,
    Seasoning,
    Treatment,
    TreatmentKind,
    WoodAddition,
)

T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class WholeCook:
    """One cook's records, each tuple in the order of a cook (position or time)."""

    cook: Cook
    cooker: ShelfItem | None = None
    arms: tuple[Arm, ...] = ()
    pieces: tuple[Piece, ...] = ()
    weighings: tuple[Weighing, ...] = ()
    treatments: tuple[Treatment, ...] = ()
    seasonings: tuple[Seasoning, ...] = ()
    fuel_loads: tuple[FuelLoad, ...] = ()
    wood_additions: tuple[WoodAddition, ...] = ()
    events: tuple[Event, ...] = ()
    checks: tuple[DonenessCheck, ...] = ()
    notes: tuple[Note, ...] = ()
    photos: tuple[Photo, ...] = ()
    probe_files: tuple[ProbeFile, ...] = ()
    traces: tuple[Trace, ...] = ()
    tastings: tuple[Tasting, ...] = ()
    samples: tuple[Sample, ...] = ()
    scores: tuple[Score, ...] = ()
    tasting_notes: tuple[TastingNote, ...] = ()
    conclusions: tuple[Conclusion, ...] = ()
    own_values: tuple[OwnValue, ...] = ()
    alarms: tuple[Alarm, ...] = ()
    turn_ins: tuple[TurnIn, ...] = ()

    @cached_property
    def _once(self) -> dict[object, object]:
        return {}

    def once(self, work: "Callable[[WholeCook], T]") -> T:
        """Return what some work makes of this cook; it is asked once, for a cook does not change."""
        if work not in self._once:
            self._once[work] = work(self)
        found: T = self._once[work]  # type: ignore[assignment]
        return found

    @property
    def brought(self) -> bool:
        """Whether it was brought along from a table: what that does not say is not known.

        A cook from a bundle says where it came from too, and is known as well as any other.
        """
        return bool(self.cook.brought_as)

    @property
    def conclusion(self) -> Conclusion | None:
        """What the cook concluded, in their own words."""
        return max(self.conclusions, key=lambda one: (one.at, one.id), default=None)

    @cached_property
    def control(self) -> Arm | None:
        """The arm the others are compared with."""
        return next((arm for arm in self.arms if arm.control), None)

    @cached_property
    def ordered_arms(self) -> tuple[Arm, ...]:
        """The arms as every page shows them: the control first, then by position."""
        return tuple(sorted(self.arms, key=lambda arm: (not arm.control, arm.position)))

    @cached_property
    def _masses(self) -> dict[tuple[str, Stage], float]:
        return {(w.piece_id, w.stage): w.mass for w in self.weighings}

    def arm_of(self, piece: Piece) -> Arm | None:
        """Return the arm a piece belongs to."""
        return next((arm for arm in self.arms if arm.id == piece.arm_id), None)

    def arm_index(self, arm_id: str | None) -> int | None:
        """Return the number of an arm's colour and shape: 0 for the control, then by position."""
        places = {arm.id: place for place, arm in enumerate(self.ordered_arms)}
        place = places.get(arm_id) if arm_id else None
        return place if place is None or self.control else place + 1

    def pieces_of(self, arm: Arm) -> tuple[Piece, ...]:
        """Return the pieces of an arm."""
        return tuple(piece for piece in self.pieces if piece.arm_id == arm.id)

    @cached_property
    def meats(self) -> dict[str, tuple[Piece, ...]]:
        """The pieces of each meat, as it is written, where there are several; else none."""
        found: dict[str, tuple[Piece, ...]] = {}
        for piece in self.pieces:
            found[piece.cut] = (*found.get(piece.cut, ()), piece)
        return found if len(found) > 1 else {}

    def mass(self, piece: Piece, stage: Stage) -> float | None:
        """Return a piece's mass at a stage, g."""
        return self._masses.get((piece.id, stage))

    def treatments_of(self, piece: Piece) -> tuple[Treatment, ...]:
        """Return all that was done to a piece: to it alone, to its arm, to all of the cook."""
        own = [t for t in self.treatments if t.piece_id == piece.id]
        arms = [t for t in self.treatments if t.arm_id is not None and t.arm_id == piece.arm_id]
        every = [t for t in self.treatments if t.piece_id is None and t.arm_id is None]
        return (*own, *arms, *every)

    def treatment_of(self, piece: Piece) -> Treatment | None:
        """Return the piece's own treatment, else that of its arm."""
        return next(iter(self.treatments_of(piece)), None)

    def treated_by(self, treatment: Treatment) -> tuple[Piece, ...]:
        """Return the pieces a treatment is for: the one it names, those of its arm, or all."""
        if treatment.piece_id is None and treatment.arm_id is None:
            return self.pieces
        return tuple(
            piece
            for piece in self.pieces
            if treatment.piece_id == piece.id
            or (treatment.arm_id is not None and treatment.arm_id == piece.arm_id)
        )

    def treatment_kind(self, piece: Piece) -> TreatmentKind | None:
        """Return how a piece was treated; None is not recorded."""
        treatment = self.treatment_of(piece)
        return None if treatment is None else treatment.kind

    @cached_property
    def _happened(self) -> dict[str, tuple[Event, ...]]:
        """Return what happened by kind: a bench asks dozens of times, and a log may be long."""
        found: dict[str, list[Event]] = {}
        for event in self.events:
            if event.happened_at is not None:
                found.setdefault(event.kind, []).append(event)
        return {kind: tuple(events) for kind, events in found.items()}

    @cached_property
    def _of_piece(self) -> dict[tuple[str, str], tuple[Event, ...]]:
        return {}

    def happened(self, kind: str, piece: Piece | None = None) -> tuple[Event, ...]:
        """Return the events of a kind that happened, in time order."""
        found = self._happened.get(kind, ())
        if piece is None or not found:
            return found
        own = self._of_piece.get((kind, piece.id))
        if own is None:
            own = tuple(event for event in found if event.concerns(piece.id))
            self._of_piece[kind, piece.id] = own
        return own

    def first(self, kind: EventKind, piece: Piece | None = None) -> Event | None:
        """Return the first event of a kind."""
        return next(iter(self.happened(kind, piece)), None)

    def last(self, kind: EventKind, piece: Piece | None = None) -> Event | None:
        """Return the last event of a kind."""
        return next(reversed(self.happened(kind, piece)), None)

    def moment_of(
        self, kind: EventKind, piece: Piece | None = None, *, last: bool = False
    ) -> float | None:
        """Return when the first (or last) event of a kind happened, s since 1970."""
        event = self.last(kind, piece) if last else self.first(kind, piece)
        return None if event is None or event.happened_at is None else event.happened_at.timestamp()

    @cached_property
    def lid_moments(self) -> tuple[float, ...]:
        """When the lid was up by what was logged, s since 1970: openings, and work under it."""
        return tuple(
            event.happened_at.timestamp()
            for event in self.events
            if event.kind in UNDER_THE_LID and event.happened_at is not None
        )

    @cached_property
    def pit_trace(self) -> Trace | None:
        """The first trace of the pit."""
        return next((trace for trace in self.traces if trace.sits is Sits.PIT), None)

    def meat_trace(self, piece: Piece) -> Trace | None:
        """Return the first trace of a probe in a piece."""
        inside = (t for t in self.traces if t.piece_id == piece.id and t.sits is Sits.MEAT)
        return next(inside, None)

    def checks_of(self, piece: Piece) -> tuple[DonenessCheck, ...]:
        """Return a piece's doneness checks, in time order."""
        return tuple(check for check in self.checks if check.piece_id == piece.id)

    def session(self, tasting: Tasting) -> Session:
        """Return a tasting with its samples, scores and notes."""
        return Session(
            tasting,
            tuple(sample for sample in self.samples if sample.tasting_id == tasting.id),
            tuple(score for score in self.scores if score.tasting_id == tasting.id),
            tuple(note for note in self.tasting_notes if note.tasting_id == tasting.id),
        )
