"""Probe files and the traces read from them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from pitjournal.domain.record import Record

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Times = TypeVar("Times", float, "NDArray[np.float64]")


@dataclass(frozen=True, kw_only=True)
class ProbeFile(Record):
    """A logger's file as it came (an attachment) and the report of what was understood.

    `follows` is the path of the file while its logger still writes it, or an empty text.
    """

    KIND: ClassVar[str] = "probe_file"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}

    cook_id: str
    name: str
    attachment: str
    added_at: datetime
    report: Mapping[str, Any] = field(default_factory=dict)
    follows: str = ""


class Sits(StrEnum):
    """Where a channel's probe sat."""

    PIT = "pit"
    MEAT = "meat"
    AIR = "outside air"
    OTHER = "other"


@dataclass(frozen=True, kw_only=True)
class Trace(Record):
    """One channel, on a piece or a place in the cooker.

    `samples` is the attachment that holds times (s since 1970, UTC) and values (°C).
    `shift` s is added to the device's clock, `drift` is the fraction it runs slow by,
    measured from the trace's start. To a reading of r °C are added `correction` +
    `correction_slope` × r K. `left_out` are spans (s since 1970 by the device's clock) in which
    the probe was not where it belongs: kept, marked, and read by no analysis.
    """

    KIND: ClassVar[str] = "trace"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "probe_file_id": "probe_file"}
    LOOSE: ClassVar[Mapping[str, str]] = {"piece_id": "piece"}

    cook_id: str
    probe_file_id: str
    channel: str
    unit_in_file: str
    sits: Sits
    samples: str
    count: int
    starts_at: datetime
    ends_at: datetime
    interval: float
    piece_id: str | None = None
    place: str = ""
    shift: float = 0.0
    drift: float = 0.0
    correction: float = 0.0
    correction_slope: float = 0.0
    left_out: tuple[tuple[float, float], ...] = ()

    def true_time(self, device: Times) -> Times:
        """Return a time, or times, of the device's clock put right, s since 1970."""
        return device + self.shift + self.drift * (device - self.starts_at.timestamp())
