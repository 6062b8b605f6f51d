"""One small file for each way that loggers write; the truth is in the test, by hand."""

import gzip
import io
import json
import time
import zipfile
from collections.abc import Callable
from datetime import datetime

import numpy as np
import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH

from pitjournal.errors import JournalError
from pitjournal.files.probe_log import ProbeLog, ReadOptions, read_probe_log

MARCH_4 = 1_772_582_400.0
"""2026-03-04T00:00:00 on the clock, as seconds since 1970 (20,516 days of 86,400 s)."""


def read(text: str, **options: object) -> ProbeLog:
    return read_probe_log(text.encode(), "log.csv", ReadOptions(**options))  # type: ignore[arg-type]


def lines(head: str, row: Callable[[int], str], count: int = 6) -> str:
    return "\n".join([head, *(row(number) for number in range(count))]) + "\n"


@pytest.mark.parametrize(
    "stamp",
    [
        "2026-03-04 09:0{0}:00",
        "2026-03-04T09:0{0}:00",
        "2026/03/04 09:0{0}",
        "03/04/2026 9:0{0}:00 AM",
        "3/4/26 9:0{0} am",
        "04.03.2026 09:0{0}",
        "4-Mar-2026 09:0{0}:00",
        "Mar 4, 2026 9:0{0}:00 AM",
        "Wed, 4 March 2026 09:0{0}:00",
        "20260304T090{0}00",
    ],
)
def test_that_a_local_time_is_read_as_written(stamp: str) -> None:
    log = read(lines("Time;Pit (C);Meat (C)", lambda n: f"{stamp.format(n)};110.{n};60.{n}"))
    assert log.timezone == "local"
    assert [channel.name for channel in log.channels] == ["Pit", "Meat"]
    expected = MARCH_4 + 9 * 3600 + 60 * np.arange(6)
    assert log.channels[0].times_s == pytest.approx(expected)
    assert log.channels[0].values_c == pytest.approx([110.0, 110.1, 110.2, 110.3, 110.4, 110.5])


@pytest.mark.parametrize(
    ("stamp", "zone"),
    [
        ("2026-03-04T09:0{0}:00Z", "UTC"),
        ("2026-03-04T10:0{0}:00+01:00", "offset"),
        ("2026-03-04T03:0{0}:00.000-0600", "offset"),
    ],
)
def test_that_an_offset_is_the_same_instant(stamp: str, zone: str) -> None:
    log = read(lines("Time,Pit F", lambda n: f"{stamp.format(n)},225"))
    assert log.timezone == zone
    assert log.channels[0].start == "2026-03-04T09:00:00+00:00"


@pytest.mark.parametrize("scale", [1, 1000])
def test_that_an_epoch_is_utc(scale: int) -> None:
    base = int(MARCH_4) + 9 * 3600
    log = read(lines("ts,pit_f", lambda n: f"{(base + 30 * n) * scale},{225 + n}"))
    assert log.timezone == "UTC"
    assert log.channels[0].start == "2026-03-04T09:00:00+00:00"
    assert log.channels[0].interval_s == 30


def test_that_a_spreadsheets_day_is_read() -> None:
    # 46085 is 4 March 2026 where day 25569 is 1 January 1970.
    log = read(lines("Date,Pit (C)", lambda n: f"{46085 + (540 + n) / 1440:.6f},110"))
    assert log.channels[0].times_s == pytest.approx(MARCH_4 + 32400 + 60 * np.arange(6), abs=0.1)


@pytest.mark.parametrize(
    ("head", "row", "step"),
    [
        ("Elapsed", lambda n: f"{25 + n}:00:30", 3600.0),
        ("Elapsed s", lambda n: f"{30 * n}", 30.0),
        ("Minutes", lambda n: f"{n * 0.5}", 30.0),
    ],
)
def test_that_elapsed_times_count_from_the_start(
    head: str, row: Callable[[int], str], step: float
) -> None:
    log = read(lines(f"{head};Box (F)", lambda n: f"{row(n)};{250 + n}"))
    assert log.timezone == "elapsed"
    assert log.channels[0].start is None
    assert log.channels[0].interval_s == step


def test_that_a_time_of_day_goes_over_midnight() -> None:
    text = "Start date: 4 March 2026\nTime,Pit_C\n"
    text += "".join(
        f"{(23 * 60 + 57 + n) // 60 % 24:02d}:{(57 + n) % 60:02d},110\n" for n in range(6)
    )
    log = read(text)
    assert log.channels[0].times_s == pytest.approx(MARCH_4 + 86220 + 60 * np.arange(6))


@pytest.mark.parametrize("bulk", [False, True])
@pytest.mark.parametrize(
    ("head", "before", "midnight", "after"),
    [
        ("Time", "2026-03-04 23:{:02d}", "2026-03-04 24:00", "2026-03-05 00:{:02d}"),
        ("Date,Time", "2026-03-04,23:{:02d}:00", "2026-03-04,24:00:00", "2026-03-05,00:{:02d}:00"),
        ("Time", "23:{:02d}", "24:00", "00:{:02d}"),
    ],
)
def test_that_twenty_four_is_the_end_of_its_day(
    head: str, before: str, midnight: str, after: str, *, bulk: bool
) -> None:
    # ISO 8601:2004, 4.2.3: midnight is written 00:00 at the beginning of a day, 24:00 at its end.
    times = [before.format(n) for n in range(57, 60)] + [midnight]
    times += [after.format(n) for n in range(1, 4)]
    text = f"Start date: 4 March 2026\n{head},Pit (C)\n"
    text += "".join(f"{time},{110 + n}\n" for n, time in enumerate(times))
    log = read_probe_log(text.encode(), "log.csv", bulk=bulk)
    assert not log.rejected
    assert log.channels[0].times_s == pytest.approx(MARCH_4 + 86220 + 60 * np.arange(7))


def test_that_no_more_than_the_end_of_a_day_is_written_as_24() -> None:
    times = ["2026-03-04 23:58", "2026-03-04 23:59", "2026-03-04 24:01", "2026-03-05 00:02"]
    log = read("Time,Pit (C)\n" + "".join(f"{time},{110 + n}\n" for n, time in enumerate(times)))
    assert [row.line for row in log.rejected] == [4]


def test_that_hours_since_the_start_are_no_times_of_day_where_they_come_to_a_day() -> None:
    log = read(lines("Time,Pit (C)", lambda n: f"{17 + n}:00:00,{110 + n}"))  # 17 to 25 hours
    assert log.timezone == "elapsed"


@pytest.mark.parametrize("pair", ["{} -> 250", "{} → 250", "{} / 250", "{} of 250", "{} (250)"])
def test_that_a_target_with_blanks_about_it_is_no_reading_of_a_short_file(pair: str) -> None:
    # Split at blanks, "250,140" was one number and the target a steady reading.
    meat = pair.replace("250", "203")
    rows = "".join(
        f"2026-03-04 12:0{n}:00,{pair.format(240 + n)},{meat.format(140 + n)}\n" for n in range(8)
    )
    log = read(f"Time,Pit F,Meat F\n{rows}")
    assert [channel.name for channel in log.channels] == ["Pit", "Meat"]
    assert log.channels[0].values_c == pytest.approx([(208 + n) / 1.8 for n in range(8)])
    assert log.channels[1].values_c == pytest.approx([(108 + n) / 1.8 for n in range(8)])


def test_that_dates_above_a_short_file_do_not_hide_readings_with_their_targets() -> None:
    pits = ["140/120", "--", "140/120", "--", "140/120", "140/120", "--"]
    rows = "".join(f"2026-03-04 12:0{n}\t{pit}\t{40 + n}/120\n" for n, pit in enumerate(pits))
    log = read("Checked\t2025-12-01\n" * 3 + "Time\tPit (F)\tMeat (F)\n" + rows)
    assert [channel.name for channel in log.channels] == ["Pit", "Meat"]
    assert [channel.count for channel in log.channels] == [4, 7]


def test_that_a_date_and_a_time_apart_are_one_time() -> None:
    log = read(lines("Date,Time,Pit (F)", lambda n: f"03/14/2026,1:0{n} PM,225"))
    assert log.channels[0].start == "2026-03-14T13:00:00"


def test_that_day_and_month_are_asked_for_when_they_cannot_be_told_apart() -> None:
    text = lines("Time,Pit (C)", lambda n: f"04/03/2026 09:0{n},110")
    month_first = read(text)
    assert [note.kind for note in month_first.notes] == ["ambiguous_date"]
    assert month_first.channels[0].start == "2026-04-03T09:00:00"
    day_first = read(text, day_first=True)
    assert day_first.channels[0].start == "2026-03-04T09:00:00"
    assert not day_first.notes


def test_that_a_step_over_midnight_tells_day_and_month_apart() -> None:
    log = read(lines("Time,Pit (C)", lambda n: f"0{4 + n // 3}/03/2026 0{n}:00,110"))
    assert log.channels[0].start == "2026-03-04T00:00:00"


def test_that_the_hour_repeated_in_autumn_is_kept() -> None:
    # Clocks go back at 2:00 on 1 November 2026 in the United States (Energy Policy Act 2005).
    minutes = [30, 45, 60, 75, 90, 105, 60, 75, 90, 105, 120, 135]
    text = "Time,Pit (C)\n" + "".join(
        f"2026-11-01 {m // 60:02d}:{m % 60:02d},110\n" for m in minutes
    )
    local = read(text)
    assert local.channels[0].count == 12
    assert "clock_back" in {note.kind for note in local.notes}
    zoned = read(text, timezone="America/New_York")
    assert np.diff(zoned.channels[0].times_s) == pytest.approx([900.0] * 11)


@pytest.mark.parametrize(
    "mark",
    [
        "",
        "-",
        "--",
        "---",
        "NaN",
        "NA",
        "n/a",
        "Err",
        "Open",
        "OL",
        "HI",
        "LO",
        "999",
        "999.9",
        "-999",
        "9999",
        "32767",
        "-127",
    ],
)
def test_that_a_mark_or_sentinel_is_a_missing_reading(mark: str) -> None:
    rows = [f"2026-03-04 09:0{n}:00,{mark if n == 2 else 225},150" for n in range(6)]
    log = read("Time,Pit (F),Meat (F)\n" + "\n".join(rows) + "\n")
    assert (log.channels[0].count, log.channels[0].missing) == (5, 1)
    assert log.channels[1].count == 6
    assert not log.rejected


def test_that_a_real_ice_bath_is_kept() -> None:
    # Ice water is 0 °C, 32 °F by definition of the scales.
    log = read(lines("Time,Ice (F)", lambda n: f"2026-03-04 09:0{n}:00,32"))
    assert log.channels[0].values_c == pytest.approx([0.0] * 6)


def test_that_an_unreadable_row_is_listed_and_counted_nowhere() -> None:
    rows = [f"2026-03-04 09:0{n}:00,225,150" for n in range(6)]
    rows[2] = "2026-03-04 09:0x:00,225,150"
    rows[4] = "2026-03-04 09:04:00,2?5,150"
    log = read("Time,Pit (F),Meat (F)\n" + "\n".join(rows) + "\n")
    assert [row.line for row in log.rejected] == [4, 6]
    assert log.rows_read == 4
    assert all((channel.count, channel.missing) == (4, 0) for channel in log.channels)


def test_that_what_is_no_temperature_is_no_channel() -> None:
    head = "Time,Pit (C),Battery (%),Fan,Signal,Humidity,Alarm"
    log = read(lines(head, lambda n: f"2026-03-04 09:0{n},110,{90 - n},30,-60,40,0"))
    assert [channel.name for channel in log.channels] == ["Pit"]


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|", "   "])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1"])
def test_that_delimiters_line_ends_and_encodings_mix(
    delimiter: str, end: str, encoding: str
) -> None:
    rows = [delimiter.join(("Time", "Grün (C)", "Meat (C)"))]
    rows += [delimiter.join((f"2026-03-04T09:0{n}:00", f"11{n}.5", "60.1")) for n in range(6)]
    log = read_probe_log((end.join(rows) + end).encode(encoding), "x.txt")
    assert [channel.name for channel in log.channels] == ["Grün", "Meat"]
    assert log.channels[0].values_c == pytest.approx([110.5, 111.5, 112.5, 113.5, 114.5, 115.5])


def test_that_a_unit_switched_half_way_is_followed() -> None:
    rows = ["Time,Pit (F)", "2026-03-04 09:00,212", "2026-03-04 09:01,212"]
    rows += ["Time,Pit (C)", "2026-03-04 09:02,100", "2026-03-04 09:03,100"]
    log = read("\n".join(rows) + "\n")
    assert log.channels[0].values_c == pytest.approx([100.0] * 4)
    assert "unit_switched" in {note.kind for note in log.notes}


def test_that_a_cut_off_last_row_is_rejected() -> None:
    text = lines("Time,Pit (F),Meat (F)", lambda n: f"2026-03-04 09:0{n}:00,225.4,150.2")
    for cut in range(2, 20):
        log = read(text[:-cut])
        assert log.rows_read == 5
        assert [row.line for row in log.rejected] in ([7], [])
        assert set(np.round(log.channels[0].values_c, 2)) == {107.44}


def test_that_records_are_read_whole_or_a_line_each() -> None:
    records = [{"t": f"2026-03-04T09:0{n}:00Z", "probes": {"pit_c": 110 + n}} for n in range(6)]
    for text in (
        json.dumps(records),
        json.dumps({"log": records}),
        "\n".join(map(json.dumps, records)),
    ):
        log = read_probe_log(text.encode(), "log.json")
        assert log.channels[0].values_c == pytest.approx([110, 111, 112, 113, 114, 115])


def test_that_a_workbook_is_read() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["Time", "Pit (C)"])
    for n in range(6):
        sheet.append([f"2026-03-04 09:0{n}:00", 110.5 + n])
    out = io.BytesIO()
    book.save(out)
    log = read_probe_log(out.getvalue(), "log.xlsx")
    assert log.channels[0].values_c == pytest.approx([110.5, 111.5, 112.5, 113.5, 114.5, 115.5])


@pytest.mark.parametrize("epoch", [WINDOWS_EPOCH, MAC_EPOCH], ids=["from 1900", "from 1904"])
@pytest.mark.parametrize("shown", ["yyyy-mm-dd hh:mm:ss", "General"])
def test_that_days_are_counted_from_where_the_workbook_says(epoch: datetime, shown: str) -> None:
    # 4 March 2026 is day 46,085 of the one count and, 1,462 days later begun, 44,623 of the other.
    first = 46_085 if epoch == WINDOWS_EPOCH else 44_623
    log = read_probe_log(timed_book(epoch, shown, [first + n / 1440 for n in range(6)]), "a.xlsx")
    assert log.channels[0].times_s == pytest.approx(MARCH_4 + 60 * np.arange(6), abs=0.5)


@pytest.mark.parametrize("epoch", [WINDOWS_EPOCH, MAC_EPOCH], ids=["from 1900", "from 1904"])
def test_that_a_time_of_day_in_a_cell_is_one_wherever_days_are_counted_from(
    epoch: datetime,
) -> None:
    times = [(1438 + n) / 1440 % 1 for n in range(5)]  # over midnight
    log = read_probe_log(timed_book(epoch, "hh:mm:ss", times), "a.xlsx")
    assert log.channels[0].times_s == pytest.approx(60 * np.arange(5), abs=0.5)


def timed_book(epoch: datetime, shown: str, days: list[float]) -> bytes:
    book = openpyxl.Workbook()
    book.epoch = epoch
    sheet = book.active
    sheet.append(["Time", "Pit (C)"])
    for row, day in enumerate(days, 2):
        sheet.append([day, 110.5 + row])
        sheet.cell(row, 1).number_format = shown
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def zipped() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("a.txt", "hello")
    return out.getvalue()


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\0" * 100,
        b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20,
        zipped(),
        gzip.compress(b"Time,Pit\n" * 100),
        b"Dear diary, today we cooked ribs, and they were good, very good.\n" * 30,
        b"name,age\nAda,36\nBo,41\n",
        b"2026-03-04 09:00:00," + b"225," * 20_000_000,
        b"[" * 100_000,
        b'{"a": 1}',
    ],
    ids=[
        "empty",
        "zeros",
        "picture",
        "archive",
        "gzip",
        "prose",
        "people",
        "one-line",
        "brackets",
        "record",
    ],
)
def test_that_what_is_no_log_is_refused_in_one_line_and_soon(data: bytes) -> None:
    begun = time.monotonic()
    with pytest.raises(JournalError) as caught:
        read_probe_log(data, "thing.bin")
    assert "\n" not in str(caught.value)
    assert time.monotonic() - begun < 5.0


GOOD = lines(
    "Time,Pit (F),Meat (F)",
    lambda n: f"2026-03-04 {9 + n // 60:02d}:{n % 60:02d}:00,{225 + n % 7}.5,{150 + n % 3}.0",
    120,
)
TRUTH = {
    MARCH_4 + 32400 + 60 * n: ((225.5 + n % 7 - 32) / 1.8, (150 + n % 3 - 32) / 1.8)
    for n in range(120)
}


@settings(max_examples=300, deadline=None)
@given(
    kind=st.sampled_from(["cut", "splice", "drop"]),
    first=st.integers(0, len(GOOD)),
    second=st.integers(0, len(GOOD)),
)
def test_that_a_cut_or_spliced_file_gives_no_temperature_at_a_wrong_time(
    kind: str, first: int, second: int
) -> None:
    low, high = sorted((first, second))
    text = {"cut": GOOD[:high], "splice": GOOD[:low] + GOOD[high:], "drop": GOOD[low:]}[kind]
    try:
        log = read(text)
    except JournalError:
        return
    whole = text.splitlines()
    for place, channel in enumerate(log.channels[:2]):
        for moment, value in zip(channel.times_s, channel.values_c, strict=True):
            kept = TRUTH.get(float(moment))
            if kept is not None and abs(value - kept[place]) < 0.01:
                continue
            # A splice inside a line makes a new line that looks whole: then the file says so.
            assert any(line not in GOOD.splitlines() for line in whole)
