"""What is no log is refused in one line, soon, and never by an error of the program."""

import io
import json
import random
import time
import zipfile
from pathlib import Path

import pytest

from pitjournal.errors import JournalError
from pitjournal.files.probe_log import read_probe_log

SOON = 5.0


def _lines(head: str, row: str, count: int = 60) -> bytes:
    return "\n".join(
        [head, *(row.format(n=n, d=n % 28 + 1, m=n % 60) for n in range(count))]
    ).encode()


def _zipped() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("xl/workbook.xml", "hello")
    return out.getvalue()


def _noise(low: int, high: int, size: int) -> bytes:
    chance = random.Random(3)
    return bytes(chance.randrange(low, high) for _ in range(size))


PAGE = (
    "<!DOCTYPE html>\n<html><body><table>\n"
    + "".join(f"<tr><td>2026-03-04 09:{n:02d}</td><td>225</td></tr>\n" for n in range(60))
    + "</table></body></html>"
)
CASES = {
    "a page": PAGE.encode(),
    "sales a day": _lines("date,store,item,qty,price", "2026-03-{d:02d},S{n},A{n},{n},{n}.50"),
    "sales with a time": _lines("date,qty,price,total", "2026-03-{d:02d} 10:00,{n},{n}.50,{m}", 28),
    "shares": _lines("Date,Open,High,Low,Close", "2026-03-{d:02d},{n}.1,{n}.9,{n}.0,{n}.5", 28),
    "weights": _lines("Date,Weight (kg)", "2026-03-{d:02d} 08:00,8{n}.5", 9),
    "a bank": _lines("Booking;Text;Amount", "04.03.2026;shop {n};-{n},50"),
    "calls": _lines("Date,Time,Number,Duration", "2026-03-04,09:{m:02d},555{n},{n}"),
    "tasks": _lines("Time,Task", "09:{m:02d},do {n}"),
    "people": _lines("name,age", "Ada {n},{m}"),
    "source code": Path(__file__).read_bytes(),
    "a log of changes": _lines(
        "", "commit a{n}\nDate: Wed Mar {d} 09:00:00 2026 +0000\n\n    Do {n}\n"
    ),
    "messages": _lines("", "Mar  4 09:{m:02d}:00 host proc[{n}]: message {n} of 5"),
    "visits": _lines("", '10.0.0.{n} - - [04/Mar/2026:09:{m:02d}:00 +0000] "GET /" 200 {n}'),
    "a calendar": _lines("BEGIN:VCALENDAR", "DTSTART:20260304T09{m:02d}00Z\nSUMMARY:x"),
    "numbers": _lines("", "{n}"),
    "a matrix": _lines("a,b,c", "{n},{m},{d}"),
    "a matrix with a counter": _lines("n,a,b", "{n},{m},{d}"),
    "two times": _lines("Start,End", "2026-03-04 09:{m:02d},2026-03-04 10:{m:02d}"),
    "a table of cooks": _lines(
        "Started,Pit (F),Done at (F)", "2026-03-{d:02d} 08:00,25{d},203", 28
    ),
    "supply and current": _lines(
        "Time,Supply (V),Current (A)", "2026-03-04 09:{m:02d},12.{m},0.{m}"
    ),
    "a power meter": _lines("Time,Power (W),Energy (kWh)", "2026-03-04 09:{m:02d},80{m},{m}.5"),
    "answers": _lines("Timestamp,Age,Rating", "2026-03-04 09:{m:02d},{d},{m}"),
    "scores with a time": _lines(
        "Time,Taster,Tenderness,Taste", "2026-03-04 09:{m:02d},T{d},{d},{m}"
    ),
    "a door counter": _lines(
        "Time,Sensor,Count",
        "2026-03-04 09:{m:02d}:00,1,{d}\n2026-03-04 09:{m:02d}:30,2,{m}",
    ),
    "a door counter whose C are counts": _lines(
        "Time,Sensor,Count,Unit",
        "2026-03-04 09:{m:02d}:00,1,1{d},C\n2026-03-04 09:{m:02d}:30,2,{m},C",
    ),
    "people by the door": _lines(
        "Time,Channel,People",
        "2026-03-04 09:{m:02d}:00,1,{d}\n2026-03-04 09:{m:02d}:00,2,{m}\n"
        "2026-03-04 09:{m:02d}:00,3,{n}",
    ),
    "pulses of a meter's inputs": _lines(
        "Time;Input;Pulses",
        "2026-03-04 09:{m:02d}:00;4;{n}\n2026-03-04 09:{m:02d}:00;5;{d}",
    ),
    "accounts": _lines("Time,Account,Amount", "2026-03-04 09:{m:02d},{d},{n}.50"),
    "prices of a minute": _lines(
        "Time,Open,High,Low,Close", "2026-03-04 09:{m:02d},{n}.1,{n}.9,{n}.0,{n}.5"
    ),
    "scales beside each other": _lines("C,F,K", "{n},{m},{n}.15"),
    "doneness": b"Food,Temp (F),Rest (min)\nPoultry,165,0\nPork,145,3\nBeef,145,3\nGround,160,0\n",
    "no time": _lines("Pit (F),Meat (F)", "22{d},15{d}"),
    "one row": b"Time,Pit (F)\n2026-03-04 09:00,225\n",
    "heads": b"Time,Pit (F)\n",
    "line ends": b"\n" * 100_000,
    "delimiters": b",,,,\n" * 1000,
    "settings": json.dumps({"a": {"b": [1, 2, 3]}, "c": "x"}).encode(),
    "scalars": b"[1,2,3,4,5,6,7,8]",
    "words in json": b'"hello"',
    "places": json.dumps([{"id": n, "at": {"x": [n, n + 1]}} for n in range(50)]).encode(),
    "braces": b"{" * 100_000,
    "both": b"[{" * 50_000,
    "noise": _noise(0, 256, 5000),
    "printable noise": _noise(32, 127, 5000),
    "lines of noise": b"\n".join(_noise(32, 127, 40) for _ in range(200)),
    "wide noise": "\ufeff".encode("utf-16-le") + _noise(0, 256, 4000),
    "a workbook that is none": _zipped(),
    "one long line": b"x" * 200_000_000,
    "one long row": b"2026-03-04 09:00:00," + b"225," * 50_000_000,
    "one long record": b"[" + b'{"t":1,"v":2},' * 14_000_000,
}


@pytest.mark.parametrize("data", CASES.values(), ids=CASES.keys())
def test_that_what_is_no_log_is_refused(data: bytes) -> None:
    begun = time.monotonic()
    with pytest.raises(JournalError) as caught:
        read_probe_log(data, "thing")
    assert "\n" not in str(caught.value)
    assert time.monotonic() - begun < SOON
