"""Name a file after its cook; write a file whole or not at all."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from secrets import token_hex
from typing import IO

from pitjournal.files.places import cannot_be_written


@contextmanager
def whole_file(target: Path) -> Iterator[IO[bytes]]:
    """Give a file to write; it has the target's name once all of it is there, or never.

    Raises
    ------
    JournalError
        If the place cannot be written to; an older file is still there then.
    """
    part = target.with_name(f"{target.name}.{token_hex(4)}.part")
    try:
        with part.open("xb") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        part.replace(target)
    except OSError as error:
        raise cannot_be_written(target, error) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def write_bytes(target: Path, data: bytes) -> None:
    """Write a whole file, or nothing.

    Raises
    ------
    JournalError
        If the place cannot be written to; an older file is still there then.
    """
    with whole_file(target) as file:
        file.write(data)


LONGEST = 80
"""A title is cut for a file name to so many characters."""


def named_after(title: str, ending: str) -> str:
    """Return a file name that every system takes: "Ribs again - chart.png", or "Ribs again.csv".

    Parameters
    ----------
    title
        Of a cook, or a question: letters, figures, spaces and hyphens of it are kept.
    ending
        What the file holds, with its suffix; or the suffix alone.
    """
    kept = "".join(c if c.isalnum() or c in "-'" else " " for c in title)
    name = " ".join(kept.split())[:LONGEST].strip(" -") or "cook"
    return f"{name}{ending}" if ending.startswith(".") else f"{name} - {ending}"
