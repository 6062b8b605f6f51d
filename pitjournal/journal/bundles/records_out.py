"""The records and files of cooks as a bundle has them, read while they are written."""

import hashlib
import mimetypes
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from pathlib import PurePath
from typing import TypeVar
from zoneinfo import ZoneInfo

import numpy as np

from pitjournal.analysis.plan.again import again
from pitjournal.domain.contest import Carried, Category, Contest, JudgeCard
from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Photo
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.samples import Samples
from pitjournal.domain.scheme import Scheme
from pitjournal.domain.shelf import OwnValue, OwnVariable, ShelfItem, plain_name
from pitjournal.domain.tasting import Tasting
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.treatment import FuelLoad, Seasoning, Treatment, WoodAddition
from pitjournal.files.bundle import Entry, Part, Table
from pitjournal.files.bundle.content import COOKS
from pitjournal.files.samples import pack, unpack
from pitjournal.files.summary.content import Choice, PrivatePart
from pitjournal.journal.bundles import readings
from pitjournal.journal.bundles.cells import cells_of, columns_of
from pitjournal.journal.bundles.clockless import Clockless
from pitjournal.journal.bundles.leaving import Leaving
from pitjournal.journal.journal import Journal
from pitjournal.store.schema import RECORDS

R = TypeVar("R", bound=Record)

HELPING = 64
"""Cooks that are read at a time."""

OF_JOURNAL = (ShelfItem, Scheme, OwnVariable, Contest, Category, JudgeCard, Carried)
"""Kinds of record that belong to no cook, and come along with those that need them."""

TABLE_WORDS = {
    "shelf_item": "What the cooks used of the Shelf",
    "scheme": "How tastings were scored",
    "own_variable": "Variables of the cook's own",
    "cook": "Cooks, one a row",
    "arm": "Arms: the treatment groups of a cook",
    "piece": "Pieces of meat",
    "weighing": "Weights of pieces at each stage",
    "treatment": "What was done to the meat before",
    "seasoning": "Layers of rub",
    "fuel_load": "Fuel, weighed",
    "wood_addition": "Wood for smoke",
    "event": "What happened, and what was planned",
    "doneness_check": "Temperatures by hand and feel, 1 to 7",
    "note": "Notes",
    "photo": "Photos",
    "probe_file": "Files of thermometers",
    "trace": "Channels of those files, and where each probe sat",
    "alarm": "Alarms that were set",
    "tasting": "Tastings",
    "sample": "Samples under their codes",
    "score": "Scores",
    "tasting_note": "What happened at the tasting",
    "conclusion": "What the cook concluded, in his words",
    "own_value": "Values of the cook's own variables",
    "contest": "Contests",
    "category": "What was turned in at a contest, and when",
    "judge_card": "What each judge gave",
    "carried": "What was found in practice and carried into a contest",
}


def slug(text: str) -> str:
    """Return letters, figures and hyphens of a text, as every system and every link takes them."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9.]+", "-", plain).strip("-.")[:60]


class CooksOut:
    """The cooks of a bundle, read a helping at a time."""

    def __init__(
        self,
        journal: Journal,
        cook_ids: Sequence[str],
        choice: Choice,
    ) -> None:
        self._journal, self._ids = journal, list(cook_ids)
        own = journal.find(OwnVariable)
        free = {one.id for one in own if one.kind == "text"}
        self._clockless = Clockless(self._records(Cook)) if choice.clockless else None
        self._leaving = Leaving(choice, list(self._records(Tasting)), free, self._clockless)
        self._written: set[str] = set()
        self.missing: list[str] = []
        self._folders: set[str] = set()

    @property
    def title(self) -> str:
        """The title of the first cook."""
        return next((cook.title for cook in self._records(Cook)), "")

    @property
    def clockless(self) -> bool:
        """Whether clock times stay at home."""
        return self._clockless is not None

    def _records(self, kind: type[R]) -> Iterator[R]:
        for at in range(0, len(self._ids), HELPING):
            found = self._journal.database.of_cooks([kind], self._ids[at : at + HELPING])
            for record in found[kind]:
                assert isinstance(record, kind)
                yield record

    # tables

    def tables(self) -> Iterator[Table]:
        """Give a table for each kind of record; its rows are read when they are written."""
        for kind in RECORDS:
            if kind.KIND in TABLE_WORDS:
                yield Table(
                    name=kind.KIND,
                    words=TABLE_WORDS[kind.KIND],
                    columns=columns_of(kind),
                    rows=self._rows(kind),
                    links={**kind.PARENTS, **kind.LOOSE},
                    left_out=self._leaving.left_out(kind),
                )

    def _rows(self, kind: type[Record]) -> Iterator[Sequence[str]]:
        for record in self._of_journal(kind) if kind in OF_JOURNAL else self._records(kind):
            found = self._leaving.record(record)
            if isinstance(found, ProbeFile) and not self._as_it_came:
                found = replace(found, attachment=self._readings_sha(found))
            if isinstance(found, Trace) and isinstance(record, Trace):
                found = replace(found, samples=self._moved_sha(record))
            if found is not None:
                yield cells_of(found)

    @property
    def _as_it_came(self) -> bool:
        """Whether a thermometer's file leaves with all that it says of itself."""
        return PrivatePart.DEVICE in self._leaving.choice

    def _of_journal(self, kind: type[Record]) -> Iterator[Record]:
        """Give what the cooks use of the Shelf, of schemes, own variables and contests."""
        wanted: set[str | None]
        if kind is OwnVariable:
            wanted = {one.variable_id for one in self._records(OwnValue)}
        elif kind is Scheme:
            wanted = {one.scheme_id for one in self._records(Tasting)}
        elif kind is ShelfItem:
            wanted = {one.cooker_id for one in self._records(Cook)}
        else:
            wanted = {*self._contests}
        names = set(self._names()) if kind is ShelfItem else set()
        for item in self._journal.find(kind):
            named = isinstance(item, ShelfItem) and plain_name(item.name) in names
            if item.id in wanted or named:
                yield item

    @cached_property
    def _contests(self) -> frozenset[str]:
        """The ids of what the cooks were turned in for: contests, categories, cards, what was carried."""
        cooks = set(self._ids)
        own = [one for one in self._journal.find(Category) if one.cook_id in cooks]
        contests = {one.contest_id for one in own}
        if self._leaving.whole:
            own = [one for one in self._journal.find(Category) if one.contest_id in contests]
        categories = {one.id for one in own}
        cards = {
            card.id for card in self._journal.find(JudgeCard) if card.category_id in categories
        }
        carried = {
            one.id
            for one in self._journal.find(Carried)
            if one.category_id in categories and one.cook_id in cooks
        }
        return frozenset(contests | categories | cards | carried)

    def _names(self) -> Iterator[str]:
        """Give the names of what stands on the Shelf and is used by name."""
        for treatment in self._records(Treatment):
            yield plain_name(treatment.recipe)
        for layer in self._records(Seasoning):
            yield plain_name(layer.rub)
        for load in self._records(FuelLoad):
            yield plain_name(load.fuel)
        for wood in self._records(WoodAddition):
            yield plain_name(wood.wood)
        for session in self._records(Tasting):
            yield from map(plain_name, session.tasters)

    # files

    def entries(self) -> Iterator[Entry]:
        """Give each cook as a folder with its files."""
        for at in range(0, len(self._ids), HELPING):
            some = self._ids[at : at + HELPING]
            found = self._journal.database.of_cooks([Cook, Photo, ProbeFile, Trace], some)
            own = {kind: _by_cook(records) for kind, records in found.items() if kind is not Cook}
            for cook in found[Cook]:
                assert isinstance(cook, Cook)
                folder = self._folder(cook)
                photos, files, traces = (
                    own[kind].get(cook.id, []) for kind in (Photo, ProbeFile, Trace)
                )
                day = cook.starts_at.astimezone(ZoneInfo(cook.zone)).date().isoformat()
                title = cook.title or f"Cook {cook.number}"
                words = cook.question or f"A cook of {day}."
                parts = (
                    _about(folder, title, day, words),
                    *self._photos(folder, photos),
                    *self._probes(folder, files, traces),
                )
                yield Entry(folder, title, words, day, parts)

    def _folder(self, cook: Cook) -> str:
        """Return a cook's folder by number and title; ids tell those apart that share both."""
        folder = f"{COOKS}/{cook.number:04d}-{slug(cook.title) or 'cook'}"
        if folder.casefold() in self._folders:
            folder += f"-{cook.id}"
        self._folders.add(folder.casefold())
        return folder

    def _photos(self, folder: str, photos: Sequence[Record]) -> Iterator[Part]:
        for number, photo in enumerate(photos, 1):
            assert isinstance(photo, Photo)
            left = self._leaving.record(photo)
            if not isinstance(left, Photo):
                continue
            for sha, kind in ((left.attachment, "photo"), (left.thumbnail, "small")):
                name = left.name if kind == "photo" else "small.jpg"
                yield from self._kept(f"{folder}/{kind}-{number:03d}", name, sha)

    def _probes(
        self, folder: str, files: Sequence[Record], traces: Sequence[Record]
    ) -> Iterator[Part]:
        for number, file in enumerate(files, 1):
            assert isinstance(file, ProbeFile)
            if self._as_it_came:
                yield from self._kept(f"{folder}/probe-{number:02d}", file.name, file.attachment)
            own = [one for one in traces if isinstance(one, Trace) and one.probe_file_id == file.id]
            for trace in own:
                yield from self._samples_of(f"{folder}/samples", trace)
            yield self._readings(folder, number, file, own)

    def _readings(self, folder: str, number: int, file: ProbeFile, traces: Sequence[Trace]) -> Part:
        columns = readings.columns_of(traces)

        def data() -> Iterator[bytes]:
            return self._readings_lines(traces)

        name = f"readings-{number:02d}.csv"
        words = f"Readings of {file.name}, put right" if self._as_it_came else "Readings, put right"
        return Part(f"{folder}/{name}", name, "text/csv", data, words, columns)

    def _readings_lines(self, traces: Sequence[Trace]) -> Iterator[bytes]:
        heads = [column.name for column in readings.columns_of(traces)]
        return readings.lines_of(heads, [self._samples(one) for one in traces])

    def _samples(self, trace: Trace) -> Samples:
        """Return the readings of a trace; none where its file is lost, which `check` names."""
        if not self._is_kept(trace.samples):
            return Samples(np.empty(0), np.empty(0, np.float32))
        found = self._journal.files.all_samples(trace)
        return found if self._clockless is None else self._clockless.readings(found, trace.cook_id)

    def _samples_of(self, path: str, trace: Trace) -> Iterator[Part]:
        """Give the readings of a trace as they are kept, or moved where clock times stay."""
        if self._clockless is None or not self._is_kept(trace.samples):
            yield from self._kept(path, "samples", trace.samples)
            return
        sha = self._moved_sha(trace)
        media = "application/octet-stream"

        def data() -> list[bytes]:
            return [self._moved(trace)]

        if sha not in self._written:
            self._written.add(sha)
            yield Part(f"{path}-{sha[:12]}.bin", "samples", media, data, sha256=sha)

    def _is_kept(self, sha: str) -> bool:
        return self._journal.database.attachments.path(sha).is_file()

    def _moved(self, trace: Trace) -> bytes:
        """Return the bytes of a trace's readings at their moved times."""
        assert self._clockless is not None
        raw = unpack(self._journal.files.read(trace.samples))
        return pack(self._clockless.readings(raw, trace.cook_id))

    def _moved_sha(self, trace: Trace) -> str:
        """Return the SHA-256 under which a trace's readings leave."""
        if self._clockless is None or not self._is_kept(trace.samples):
            return trace.samples
        return hashlib.sha256(self._moved(trace)).hexdigest()

    def _readings_sha(self, file: ProbeFile) -> str:
        """Return the SHA-256 of the readings that leave in the place of a file."""
        traces = self._journal.find(Trace, probe_file_id=file.id)
        digest = hashlib.sha256()
        for part in self._readings_lines(traces):
            digest.update(part)
        return digest.hexdigest()

    def _kept(self, path: str, name: str, sha: str) -> Iterator[Part]:
        """Give a kept file once, under a name that says its place; one that is lost is left."""
        if sha in self._written:
            return
        if not self._is_kept(sha):
            self.missing.append(name)
            return
        self._written.add(sha)
        plain = slug(PurePath(name).name) or "file"
        if path.endswith("/samples"):
            plain = f"{sha[:12]}.bin"
        media = mimetypes.guess_type(name)[0] or "application/octet-stream"

        def data() -> list[bytes]:
            return [self._journal.files.read(sha)]

        yield Part(f"{path}-{plain}", name, media, data, sha256=sha)


class PlansOut(CooksOut):
    """Cooks as plans: what they would be if they were cooked again, elsewhere."""

    def __init__(self, journal: Journal, cook_ids: Sequence[str], choice: Choice) -> None:
        self._planned: dict[type[Record], list[Record]] = {}
        for cook_id in cook_ids:
            whole = journal.whole(cook_id)
            cook, parts = again(whole, whole.cook.starts_at)
            cook = replace(
                cook,
                number=whole.cook.number,
                note="",
                place="",
                altitude=None,
                cooker_id=None,  # everyone has another
            )
            for record in (cook, *map(_of_any_meat, parts)):
                self._planned.setdefault(type(record), []).append(record)
        super().__init__(journal, cook_ids, choice)
        self._ids = [record.id for record in self._planned.get(Cook, ())]

    def _records(self, kind: type[R]) -> Iterator[R]:
        for record in self._planned.get(kind, ()):
            assert isinstance(record, kind)
            yield record

    def entries(self) -> Iterator[Entry]:
        """Give each plan as a folder with a few lines."""
        for cook in self._records(Cook):
            folder, words = self._folder(cook), cook.question or "A cook to be repeated."
            title = cook.title or f"Cook {cook.number}"
            day = cook.starts_at.astimezone(ZoneInfo(cook.zone)).date().isoformat()
            yield Entry(folder, title, words, day, (_about(folder, title, day, words),))


def _of_any_meat(record: Record) -> Record:
    """Return a planned piece without the animal, the place and the maker of one's own."""
    if not isinstance(record, Piece):
        return record
    return replace(record, animal="", slot="", supplier="", lot="")


def _about(folder: str, title: str, day: str, words: str) -> Part:
    """Return a few lines for whoever opens the folder of a cook."""
    lines = (
        title,
        day,
        words,
        "Its records are the rows of the tables with its id; readings are put right.",
    )
    text = "".join(f"{line}\r\n" for line in lines).encode()
    return Part(f"{folder}/about.txt", "about.txt", "text/plain", lambda: [text])


def _by_cook(records: Sequence[Record]) -> dict[str, list[Record]]:
    found: dict[str, list[Record]] = {}
    for record in records:
        found.setdefault(record.cook_id, []).append(record)  # type: ignore[attr-defined]
    return found
