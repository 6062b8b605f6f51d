"""Name values of a journal that cannot be, in records that can be read all the same."""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Event
from pitjournal.domain.impossible import impossible_in, off_scale
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import Setting
from pitjournal.domain.targets import SETTING, targets_from
from pitjournal.domain.tasting import Sample, Score, Tasting
from pitjournal.journal.journal import Journal
from pitjournal.store.schema import RECORDS

Named = tuple[str, str, str]
"""Kind, id, and which column has what, with why it cannot be."""

_AN_ID = re.compile(r"[0-9a-f]{32}")


def named(journal: Journal) -> Iterator[Named]:
    """Yield each value that cannot be: beyond its limits or scale, or at odds with another row."""
    for kind in RECORDS:
        for record in journal.find(kind):
            for field, why in impossible_in(record).items():
                yield kind.KIND, record.id, f"{field} is {getattr(record, field)}. {why}"
    yield from _scores(journal)
    yield from _pointers(journal)
    for setting in journal.find(Setting, id=SETTING):
        try:
            targets_from(setting.value)
        except (ValueError, TypeError, AttributeError):
            yield Setting.KIND, setting.id, "value is no list of targets."
    for cook_id, (now, free) in doubled_numbers(journal).items():
        yield Cook.KIND, cook_id, f"number is {now}. Another cook has it; {free} is free."
    for sha, (noted, real) in wrong_sizes(journal).items():
        yield "attachment", sha, f"size is {noted}. The kept file has {real} bytes."


def _scores(journal: Journal) -> Iterator[Named]:
    tastings = {one.id: one for one in journal.find(Tasting)}
    samples: dict[str, int] = defaultdict(int)
    for sample in journal.find(Sample):
        samples[sample.tasting_id] += 1
    for score in journal.find(Score):
        tasting = tastings.get(score.tasting_id)
        if tasting is None:
            continue
        why = off_scale(score.value, score.criterion, tasting, samples[tasting.id])
        if why:
            yield Score.KIND, score.id, f"value is {score.value}. {why}"


def _pointers(journal: Journal) -> Iterator[Named]:
    """Yield events for a piece that never was, or is another cook's.

    One that was taken away leaves its id in the log, which is no fault.
    """
    cooks = {piece.id: piece.cook_id for piece in journal.find(Piece)}
    for event in journal.find(Event):
        for piece in event.pieces:
            if not _AN_ID.fullmatch(piece):
                yield Event.KIND, event.id, f"pieces names {piece!r:.40}, which no piece is called."
            elif cooks.get(piece, event.cook_id) != event.cook_id:
                yield Event.KIND, event.id, f"pieces names {piece}, a piece of another cook."


def doubled_numbers(journal: Journal) -> Mapping[str, tuple[int, int]]:
    """Return each cook whose number an older one has: that number, and a free one."""
    cooks = sorted(journal.find(Cook), key=lambda cook: cook.id)
    last = max((cook.number for cook in cooks), default=0)
    seen: set[int] = set()
    found: dict[str, tuple[int, int]] = {}
    for cook in cooks:
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
