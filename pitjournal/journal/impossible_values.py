"""Name values of a journal that cannot be, in records that can be read all the same."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Event
from pitjournal.domain.impossible import impossible_in, off_scale
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import Setting
from pitjournal.domain.targets import SETTING, targets_from
from pitjournal.domain.tasting import Sample, Score, Tasting
from pitjournal.journal.journal import Journal
from pitjournal.store.schema import RECORDS

Named = tuple[str, str, str]
"""Kind, id, and which column has what, with why it cannot be."""

Kept = dict[type[Record], list[Any]]
"""All records of some kinds."""

_AN_ID = re.compile(r"[0-9a-f]{32}")


_HELD_TOGETHER = (Cook, Piece, Event, Setting, Tasting, Sample, Score)


def named(journal: Journal) -> list[Named]:
    """Name each value that cannot be: beyond its limits or scale, or at odds with another row.

    Every record is read for it, once; so what cannot be read is noted too (`Database.missed`).
    """
    found: list[Named] = []
    kept: Kept = {}
    for kind in RECORDS:
        records = journal.find(kind)
        for record in records:
            for field, why in impossible_in(record).items():
                found.append((kind.KIND, record.id, f"{field} is {getattr(record, field)}. {why}"))
        if kind in _HELD_TOGETHER:
            kept[kind] = records
    found += [*_scores(kept), *_pointers(kept), *_targets(kept)]
    for cook_id, (now, free) in _doubled(kept[Cook]).items():
        found.append((Cook.KIND, cook_id, f"number is {now}. Another cook has it; {free} is free."))
    for sha, (noted, real) in wrong_sizes(journal).items():
        found.append(("attachment", sha, f"size is {noted}. The kept file has {real} bytes."))
    return found


def _scores(kept: Kept) -> Iterator[Named]:
    tastings = {one.id: one for one in kept[Tasting]}
    samples = Counter(sample.tasting_id for sample in kept[Sample])
    for score in kept[Score]:
        tasting = tastings.get(score.tasting_id)
        if tasting is None:
            continue
        why = off_scale(score.value, score.criterion, tasting, samples[tasting.id])
        if why:
            yield Score.KIND, score.id, f"value is {score.value}. {why}"


def _pointers(kept: Kept) -> Iterator[Named]:
    """Yield events for a piece that never was, or is another cook's.

    One that was taken away leaves its id in the log, which is no fault.
    """
    cooks = {piece.id: piece.cook_id for piece in kept[Piece]}
    for event in kept[Event]:
        for piece in event.pieces:
            if not _AN_ID.fullmatch(piece):
                yield Event.KIND, event.id, f"pieces names {piece!r:.40}, which no piece is called."
            elif cooks.get(piece, event.cook_id) != event.cook_id:
                yield Event.KIND, event.id, f"pieces names {piece}, a piece of another cook."


def _targets(kept: Kept) -> Iterator[Named]:
    for setting in kept[Setting]:
        if setting.id == SETTING:
            try:
                targets_from(setting.value)
            except (ValueError, TypeError, AttributeError):
                yield Setting.KIND, setting.id, "value is no list of targets."


def doubled_numbers(journal: Journal) -> Mapping[str, tuple[int, int]]:
    """Return each cook whose number an older one has: that number, and a free one."""
    return _doubled(journal.find(Cook))


def _doubled(cooks: Iterable[Cook]) -> Mapping[str, tuple[int, int]]:
    by_age = sorted(cooks, key=lambda cook: cook.id)
    last = max((cook.number for cook in by_age), default=0)
    seen: set[int] = set()
    found: dict[str, tuple[int, int]] = {}
    for cook in by_age:
        if cook.number in seen:
            found[cook.id] = cook.number, last + 1 + len(found)
        seen.add(cook.number)
    return found


def wrong_sizes(journal: Journal) -> Mapping[str, tuple[int, int]]:
    """Return each kept file that is as it was and noted with another size: noted, and real."""
    found = {}
    attachments = journal.database.attachments
    for sha, noted in journal.database.attachment_sizes().items():
        try:
            real = attachments.path(sha).stat().st_size
        except (OSError, ValueError):
            continue  # it is missing, and said to be
        if real != noted and not attachments.how(sha):
            found[sha] = noted, real
    return found
