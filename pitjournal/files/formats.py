"""What a file may be: by its ending, in words, and how its bytes are made; one list for all."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

from pitjournal.errors import JournalError

T = TypeVar("T")


@dataclass(frozen=True)
class Format(Generic[T]):
    """One kind of file that something can be written as.

    `words` are what a cook chooses it by; `also` are other endings that mean the same.
    """

    suffix: str
    words: str
    make: Callable[[T], bytes]
    also: tuple[str, ...] = ()


def format_for(target: Path, formats: Sequence[Format[T]]) -> Format[T]:
    """Return the format that a file's name says.

    Raises
    ------
    JournalError
        If the name ends in nothing that can be written.
    """
    suffix = target.suffix.lower()
    for one in formats:
        if suffix in {one.suffix, *one.also}:
            return one
    *some, last = [one.suffix for one in formats]
    ends = f"{', '.join(some)} or {last}" if some else last
    raise JournalError(f"{target.name} could be anything.", f"End it in {ends}.")
