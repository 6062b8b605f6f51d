"""What every record of a journal has: an id, a kind, and what was typed."""

import secrets
import threading
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

_lock = threading.Lock()
_last = 0


def new_id() -> str:
    """Return a fresh id that sorts after every earlier one of this process.

    It is a UUID of version 7 as 32 hex digits; ids of one millisecond are told apart by a
    counter in the twelve bits after the time (RFC 9562, 5.7 and 6.2, method 1).
    """
    global _last  # noqa: PLW0603 - the counter of the method
    with _lock:
        _last = max(_last + 1, (time.time_ns() // 1_000_000) << 12)
        stamp, count = divmod(_last, 1 << 12)
    high = (stamp << 16) | 0x7000 | count
    low = (0b10 << 62) | secrets.randbits(62)
    return f"{(high << 64) | low:032x}"


@dataclass(frozen=True, kw_only=True)
class Record:
    """A row of the journal.

    `KIND` names it in `Changes` and is the name of its table; `PARENTS` says which
    field points at a record that takes this one with it when it is removed.
    """

    KIND: ClassVar[str]
    PARENTS: ClassVar[Mapping[str, str]] = {}
    LOOSE: ClassVar[Mapping[str, str]] = {}
    """Fields that point at a record this one outlives: they become unknown."""
    UNIQUE: ClassVar[tuple[str, ...]] = ()

    id: str = field(default_factory=new_id)


def one_of(kind: str) -> str:
    """Return what one record of a kind is called: "an own value"."""
    words = kind.replace("_", " ")
    return f"{'an' if words[0] in 'aeo' else 'a'} {words}"


@dataclass(frozen=True, kw_only=True)
class Measured(Record):
    """A record with quantities: stored in SI, beside the words the cook typed."""

    KIND: ClassVar[str] = ""

    typed: Mapping[str, str] = field(default_factory=dict)
