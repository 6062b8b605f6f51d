"""Read whole cooks."""

from collections.abc import Collection, Sequence
from datetime import datetime
from typing import TypeVar

from pitjournal.domain.alarm import Alarm
from pitjournal.domain.conclusion import Conclusion
from pitjournal.domain.contest import Category
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.event import DonenessCheck, Event, Note, Photo
from pitjournal.domain.piece import Piece, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import OwnValue, ShelfItem
from pitjournal.domain.tasting import Sample, Score, Tasting, TastingNote
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.treatment import FuelLoad, Seasoning, Treatment, WoodAddition
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.contests import turn_ins_of
from pitjournal.store.database import Database
from pitjournal.store.schema import RECORDS

R = TypeVar("R", bound=Record)
Only = Collection[type[Record]] | None

PARTS = tuple(record for record in RECORDS if record.PARENTS.get("cook_id") == Cook.KIND)
"""Every kind of record that belongs to a cook."""


class _Shares:
    """Records of several cooks, dealt out by cook."""

    def __init__(self, database: Database, cook_ids: Sequence[str], only: Only) -> None:
        kinds = [kind for kind in PARTS if only is None or kind in only]
        if only is None:
            kinds.append(Category)
        self._records = database.of_cooks((Cook, *kinds), cook_ids)
        self._cook_ids, self._missed = cook_ids, database.missed

    def cooks(self) -> dict[str, Cook]:
        return {cook.id: cook for cook in self._records[Cook] if isinstance(cook, Cook)}

    def all(self, kind: type[R]) -> list[R]:
        return [record for record in self._records.get(kind, ()) if isinstance(record, kind)]

    def deal(self, kind: type[R]) -> dict[str, list[R]]:
        found: dict[str, list[R]] = {cook_id: [] for cook_id in self._cook_ids}
        for record in self._records.get(kind, ()):
            assert isinstance(record, kind)
            own = found.get(record.cook_id)  # type: ignore[attr-defined]
            if own is None:  # a damaged row that an index still has under another cook
                self._missed.note(kind.KIND, record.id, "cook is not the one it is kept under")
            else:
                own.append(record)
        return found


def whole_cooks(
    database: Database, cook_ids: Sequence[str], only: Only = None
) -> dict[str, WholeCook]:
    """Return whole cooks by id; an id that is gone is left out.

    With `only`, nothing but the cooks, their cookers and these kinds of records is read, which
    is what many cooks at a time can afford.
    """
    shares = _Shares(database, cook_ids, only)
    cooks = shares.cooks()
    shelf = {item.id: item for item in database.find(ShelfItem)}
    arms, pieces = shares.deal(Arm), shares.deal(Piece)
    weighings, treatments = shares.deal(Weighing), shares.deal(Treatment)
    seasonings, fuel = shares.deal(Seasoning), shares.deal(FuelLoad)
    wood, events = shares.deal(WoodAddition), shares.deal(Event)
    checks, notes, photos = shares.deal(DonenessCheck), shares.deal(Note), shares.deal(Photo)
    probe_files, traces = shares.deal(ProbeFile), shares.deal(Trace)
    tastings, samples = shares.deal(Tasting), shares.deal(Sample)
    scores, own = shares.deal(Score), shares.deal(OwnValue)
    alarms = shares.deal(Alarm)
    remarks = shares.deal(TastingNote)
    concluded = shares.deal(Conclusion)
    turned_in = turn_ins_of(database, shares.all(Category))
    return {
        cook_id: WholeCook(
            cook=cooks[cook_id],
            cooker=shelf.get(cooks[cook_id].cooker_id or ""),
            arms=tuple(sorted(arms[cook_id], key=lambda arm: arm.position)),
            pieces=tuple(sorted(pieces[cook_id], key=lambda piece: piece.position)),
            weighings=tuple(weighings[cook_id]),
            treatments=tuple(treatments[cook_id]),
            seasonings=tuple(sorted(seasonings[cook_id], key=lambda layer: layer.position)),
            fuel_loads=tuple(fuel[cook_id]),
            wood_additions=tuple(wood[cook_id]),
            events=tuple(sorted(events[cook_id], key=_event_time)),
            checks=tuple(sorted(checks[cook_id], key=lambda check: check.at)),
            notes=tuple(sorted(notes[cook_id], key=lambda note: note.at)),
            photos=tuple(photos[cook_id]),
            probe_files=tuple(probe_files[cook_id]),
            traces=tuple(traces[cook_id]),
            tastings=tuple(tastings[cook_id]),
            samples=tuple(sorted(samples[cook_id], key=lambda sample: sample.code)),
            scores=tuple(scores[cook_id]),
            tasting_notes=tuple(sorted(remarks[cook_id], key=lambda note: note.at)),
            conclusions=tuple(concluded[cook_id]),
            own_values=tuple(own[cook_id]),
            alarms=tuple(alarms[cook_id]),
            turn_ins=turned_in.get(cook_id, ()),
        )
        for cook_id in cook_ids
        if cook_id in cooks
    }


def _event_time(event: Event) -> tuple[datetime, str]:
    return event.happened_at or event.planned_at or event.entered_at, event.id
