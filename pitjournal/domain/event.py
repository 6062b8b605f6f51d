"""What happens at the bench: events, doneness checks, notes and photos."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import ClassVar

from pitjournal.domain.record import Measured, Record


class EventKind(StrEnum):
    """Events of the trade; a cook's own kinds are any other text."""

    LIT = "lit"
    ON = "on"
    LID = "lid"
    FLIP = "flip"
    ROTATE = "rotate"
    SPRITZ = "spritz"
    WRAP = "wrap"
    UNWRAP = "unwrap"
    GLAZE = "glaze"
    OFF = "off"
    HELD = "held"
    SLICED = "sliced"
    PULLED = "pulled"
    BOXED = "boxed"


UNDER_THE_LID = frozenset(
    {
        EventKind.LID,
        EventKind.FLIP,
        EventKind.ROTATE,
        EventKind.SPRITZ,
        EventKind.WRAP,
        EventKind.UNWRAP,
        EventKind.GLAZE,
    }
)
"""Events for which the lid is opened."""

CUT_UP = (EventKind.SLICED, EventKind.PULLED, EventKind.BOXED)
"""What ends the rest of meat: it is sliced, pulled, or goes into the box as it is."""

OF_THE_WHOLE_COOK = frozenset({EventKind.LIT, EventKind.LID})
"""What concerns every piece in the cooker, whichever are chosen: the fire and the lid."""

WRAPS = ("foil", "paper", "boat")

FEEL_WORDS = {
    1: "hard",
    2: "under",
    3: "just right, firm",
    4: "right",
    5: "just right, soft",
    6: "over",
    7: "falling apart",
}
"""The scale of feel: 1–2 under, 3–5 right, 6–7 over. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class Event(Record):
    """Something that happened, or is planned, to some pieces (none named: the whole cook).

    `uncertainty` is seconds either way: 0 exact, 300, 1800; None is "about, unknown".
    `details` says what was sprayed or wrapped in what, such as ``{"wrap": "foil"}``.
    Of what is planned, `takes` is the time it wants before the next step, s, and a `locked`
    one stays when others are moved.
    """

    KIND: ClassVar[str] = "event"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}

    cook_id: str
    kind: str
    happened_at: datetime | None
    entered_at: datetime
    planned_at: datetime | None = None
    pieces: tuple[str, ...] = ()
    uncertainty: float | None = 0.0
    by: str = ""
    details: Mapping[str, str] = field(default_factory=dict)
    note: str = ""
    takes: float | None = None
    locked: bool = False

    def concerns(self, piece_id: str) -> bool:
        """Whether the event was for this piece."""
        return not self.pieces or piece_id in self.pieces


class Feel(StrEnum):
    """What a feel of 1 to 7 says."""

    UNDER = "under"
    RIGHT = "right"
    OVER = "over"


def feel_of(score: int) -> Feel:
    """Return what a feel score says: 1–2 under, 3–5 right, 6–7 over."""
    if score <= 2:
        return Feel.UNDER
    return Feel.RIGHT if score <= 5 else Feel.OVER


@dataclass(frozen=True, kw_only=True)
class DonenessCheck(Measured):
    """A probe of one piece: internal temperature °C and feel 1–7, at a named point."""

    KIND: ClassVar[str] = "doneness_check"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "piece_id": "piece"}

    cook_id: str
    piece_id: str
    at: datetime
    internal: float | None = None
    feel: int | None = None
    point: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Note(Record):
    """Free words, kept as typed."""

    KIND: ClassVar[str] = "note"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "piece_id": "piece"}

    cook_id: str
    text: str
    at: datetime
    piece_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class Photo(Record):
    """A picture: the file as it came, and a small one turned upright, both attachments.

    `stage` is what the cook says it shows; while it is empty the log says so by the time.
    """

    KIND: ClassVar[str] = "photo"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}
    LOOSE: ClassVar[Mapping[str, str]] = {"piece_id": "piece"}

    cook_id: str
    name: str
    attachment: str
    thumbnail: str
    width: int
    height: int
    taken_at: datetime | None = None
    piece_id: str | None = None
    caption: str = ""
    stage: str = ""
