"""What the words of a log say was done to a piece: notes, taps and checks of the bench.

Words are read by the one list of `domain/cuts/done`, for the pieces that an entry means.
"""

import re
from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import datetime

from pitjournal.domain.cuts.done import Done, done_in, vocabulary
from pitjournal.domain.cuts.labels import WATER_ADDED
from pitjournal.domain.cuts.meat import Form
from pitjournal.domain.cuts.words import plain
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook

_IN_A_PAN = " ".join(WATER_ADDED)
"""On a label it is water in the meat; in a log it is the pan's."""

RAW_FOR = 3600.0
"""What is pricked within an hour of going on is raw inside, s; later it is tried for tenderness."""

_TAPS = frozenset(EventKind)
"""Kinds that are no words of the cook's own."""

_NEXT_TIME = re.compile(
    r"\b(?:next time|naechstes mal|nachstes mal|beim nachsten mal|la proxima)\b[^.!?\n]*"
)
_INTO = re.compile(r"\b(?:stuffed|gefullt|gefuellt|rellen\w*)\s+(?:in|into|en)\b")


@dataclass(frozen=True)
class Entry:
    """Words of a log.

    Attributes
    ----------
    text
        As typed.
    pieces
        What it is about, by id; empty for the whole cook.
    at
        When, s since 1970; None where that is not said.
    sprayed
        Whether it is about a spray.
    """

    text: str
    pieces: frozenset[str] = frozenset()
    at: float | None = None
    sprayed: bool = False


def said_in_log(whole: WholeCook, piece: Piece, told: AbstractSet[Form]) -> list[Done]:
    """Return what the words of a log say was done to a piece, in the order of the log.

    Parameters
    ----------
    whole
        The cook, with all its records.
    piece
        One of its pieces.
    told
        The forms that tell the cook's arms apart: what is said of no piece is of them then,
        unless it is said of all or of the rest.

    Returns
    -------
    list of Done
        What is ground after it came off is cooked meat that was chopped; what is pricked an hour
        after going on is tried for tenderness. In doubt a word counts.
    """
    on = whole.moment_of(EventKind.ON, piece)
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    return [
        done
        for entry in whole.once(_entries)
        for done in done_in(entry.text)
        if done.words != _IN_A_PAN
        if _means(whole, entry, piece, done, told) and not _later(entry, done, on, off)
    ]


def texts_about(whole: WholeCook, piece: Piece) -> list[str]:
    """Return what a log says of a piece by itself, until it came off: some things take two words.

    Parameters
    ----------
    whole, piece
        The cook, and one of its pieces.
    """
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    return [
        entry.text
        for entry in whole.once(_entries)
        if piece.id in entry.pieces and (off is None or entry.at is None or entry.at <= off)
    ]


def _entries(whole: WholeCook) -> tuple[Entry, ...]:
    """Return all free words about a cook that are no title, arm or treatment."""
    return tuple(_each_entry(whole))


def _each_entry(whole: WholeCook) -> Iterator[Entry]:
    if whole.cook.note:
        yield Entry(_NEXT_TIME.sub("", plain(whole.cook.note)))
    for note in whole.notes:
        yield Entry(note.text, _one(note.piece_id), note.at.timestamp())
    for check in whole.checks:
        if check.note or check.point:
            yield Entry(f"{check.point}\n{check.note}", _one(check.piece_id), check.at.timestamp())
    for event in whole.events:
        own = "" if event.kind in _TAPS else event.kind
        text = "\n".join(filter(None, (own, event.note, *event.details.values())))
        if text:
            at = _seconds(event.happened_at or event.planned_at)
            yield Entry(text, frozenset(event.pieces), at, event.kind == EventKind.SPRITZ)
    for photo in whole.photos:
        if photo.caption:
            yield Entry(photo.caption, _one(photo.piece_id), _seconds(photo.taken_at))


def _one(piece_id: str | None) -> frozenset[str]:
    return frozenset() if piece_id is None else frozenset({piece_id})


def _seconds(at: datetime | None) -> float | None:
    return None if at is None else at.timestamp()


def _means(
    whole: WholeCook, entry: Entry, piece: Piece, done: Done, told: AbstractSet[Form]
) -> bool:
    """Whether an entry says something of a piece."""
    if entry.pieces and entry.pieces != {one.id for one in whole.pieces}:
        return piece.id in entry.pieces
    if not vocabulary().of_all.isdisjoint(re.findall(r"[a-z]+", plain(entry.text))):
        return True
    named = {one.id for one in whole.pieces if _names(entry.text, one.label)}
    return piece.id in named if named else done.form not in told


def _names(text: str, label: str) -> bool:
    """Whether a text names a piece by its label; a bare number or word could be anything."""
    known = any(c.isdigit() for c in label) and any(c.isalpha() for c in label)
    return known and re.search(rf"(?<!\w){re.escape(label)}(?!\w)", text) is not None


def _later(entry: Entry, done: Done, on: float | None, off: float | None) -> bool:
    """Whether something was done to meat that was cooked by then, or is no more than a spray."""
    if done.what == "injected" and entry.sprayed and "spritz" in done.words:
        return True
    if entry.at is None:
        return False
    if done.what == "needled":
        return on is not None and entry.at > on + RAW_FOR
    if off is None or entry.at <= off:
        return False
    into = done.form is Form.STUFFED and _INTO.search(plain(entry.text)) is not None
    return done.form is Form.GROUND or into
