"""Hostile files, and damaged ones: ``python -m tests.torture.hostile 300``.

Each is read or refused in one line; the program neither grows nor ends, no reading process
stays behind, and the next honest file is read as ever.
"""

import random
import resource
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.files import apart, strangers
from tests.torture.hostile_files import LOGS, PHOTOS, a_log, damaged, far_corner, jpeg, xlsx
from tests.torture.script import run_by_name

ROUNDS = 200
LONGEST = 90.0
"""Seconds that one file may take on a busy machine."""

GROWTH = 250e6
"""Bytes that the program may grow by: the largest file of the list, and what holds it."""

TRUE_ROWS = 60


def resident() -> int:
    """Return the memory of this process, bytes."""
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * 4096


def children() -> list[int]:
    """Return the processes that this one started and that are still there, zombies too."""
    found = Path("/proc/self/task").glob("*/children")
    return [int(pid) for one in found for pid in one.read_text(encoding="ascii").split()]


def a_book() -> bytes:
    """Return an honest workbook."""
    rows = "".join(
        f'<row r="{n}">'
        + "".join(
            f'<c r="{"ABC"[place]}{n}" t="inlineStr"><is><t>{cell}</t></is></c>'
            for place, cell in enumerate(line.split(","))
        )
        + "</row>"
        for n, line in enumerate(a_log().splitlines(), start=1)
    )
    return xlsx(rows)


class Reading:
    """Reads files and keeps what went wrong."""

    def __init__(self) -> None:
        self.read = self.refused = 0
        self.slowest = 0.0
        self.wrong: list[str] = []
        self._before = resident()

    def take(self, name: str, data: bytes, read: Callable[[bytes, str], object]) -> object:
        """Read one file."""
        begun, found = time.monotonic(), None
        try:
            found = read(data, name)
            self.read += 1
        except JournalError as error:
            self.refused += 1
            if not error.hint or "\n" in error.message:
                self.wrong.append(f"{name} is refused in unclear words: {error}")
        except Exception as error:  # noqa: BLE001 - told with the file's name
            self.wrong.append(f"{name} ends in {type(error).__name__}: {str(error)[-300:]}")
        took = time.monotonic() - begun
        self.slowest = max(self.slowest, took)
        if took > LONGEST:
            self.wrong.append(f"{name} took {took:.0f} s")
        if resident() - self._before > GROWTH + len(data):
            self.wrong.append(f"{name} left the program {resident() - self._before:,} B larger")
        return found


def _honest(reading: Reading) -> None:
    """See that honest files are read still."""
    for name, data in (("honest.csv", a_log().encode()), ("honest.xlsx", a_book())):
        log = reading.take(name, data, strangers.probe_log)
        if getattr(log, "rows_read", None) != TRUE_ROWS:
            reading.wrong.append(f"{name} is not read any more")


def hostile(
    rounds: int, seed: int, *, bombs: bool = True
) -> tuple[Mapping[str, object], list[str]]:
    """Read the whole list, then so many damaged files."""
    rng, reading = random.Random(seed), Reading()
    for name, make in LOGS.items() if bombs else ():
        reading.take(name, make(), strangers.probe_log)
    for name, make in PHOTOS.items() if bombs else ():
        reading.take(name, make(), strangers.photo)
    _honest(reading)
    whole = [("book.xlsx", a_book()), ("corner.xlsx", far_corner())]
    pictures = [("photo.jpg", jpeg()), ("photo.heic", PHOTOS["plain.heic"]())]
    for number in range(rounds):
        name, data = rng.choice(whole + pictures)
        read = strangers.photo if (name, data) in pictures else strangers.probe_log
        reading.take(f"{number} {name}", damaged(data, rng), read)
    _honest(reading)
    apart.close()
    if children():
        reading.wrong.append(f"left behind: {children()}")
    figures = {
        "read": reading.read,
        "refused": reading.refused,
        "slowest": f"{reading.slowest:.1f} s",
        "grown": f"{(resident() - reading._before) / 1e6:.0f} MB",
        "largest reader": f"{resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1e3:.0f} MB",
    }
    return figures, reading.wrong


if __name__ == "__main__":
    raise SystemExit(run_by_name("hostile", ROUNDS, hostile))
