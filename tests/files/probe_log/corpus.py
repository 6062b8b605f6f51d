"""Dialects by family; each entry says in its name what is odd about it."""

import datetime as dt
import functools
import io
import json

import openpyxl
from odf import opendocument, table, text

from tests.files.probe_log.dialects import (
    BEGUN,
    COUNT,
    EPOCH,
    STEP,
    Dialect,
    comma,
    elapsed,
    fahrenheit,
    meat,
    moment,
    pit,
    put,
    wide,
)


def _times() -> list[Dialect]:
    def at(pattern: str) -> str:
        return pattern

    iso = "%Y-%m-%dT%H:%M:%S"
    stamps = {
        "iso with a T": at(iso),
        "iso with slashes": at("%Y/%m/%d %H:%M:%S"),
        "iso without seconds": at("%Y-%m-%d %H:%M"),
        "iso with dots": at("%Y.%m.%d %H:%M:%S"),
        "us am pm": at("%m/%d/%Y %I:%M:%S %p"),
        "us am pm without blanks": at("%m/%d/%Y %I:%M%p"),
        "us am pm short year": at("%-m/%-d/%y %-I:%M %p"),
        "us 24 h": at("%m/%d/%Y %H:%M"),
        "day first with slashes": at("%d/%m/%Y %H:%M:%S"),
        "day first with dots": at("%d.%m.%Y %H:%M"),
        "day first with dashes": at("%d-%m-%Y %H:%M:%S"),
        "day first, dots all through": at("%d.%m.%Y %H.%M.%S"),
        "month name": at("%d-%b-%Y %H:%M:%S"),
        "month name, short year": at("%d-%b-%y %H:%M:%S"),
        "month name, us": at("%b %d %Y %I:%M:%S %p"),
        "weekday, month name": at("%a %d %b %Y %H:%M:%S"),
        "as C prints times": at("%a %b %d %H:%M:%S %Y"),
        "compact": at("%Y%m%dT%H%M%S"),
        "compact without T": at("%Y%m%d%H%M%S"),
        "clock before date": at("%H:%M:%S %d/%m/%Y"),
        "fractions": at("%Y-%m-%d %H:%M:%S.000"),
        "at": at("%d %B %Y at %H:%M"),
        "a dash between": at("%Y-%m-%d - %H:%M:%S"),
        "short year first": at("%y-%m-%d %H:%M:%S"),
    }
    found = [Dialect(name, wide(stamp).encode()) for name, stamp in stamps.items()]
    german = {3: "März"}
    found.append(
        Dialect(
            "german month",
            wide(lambda n: f"{moment(n):%d}. {german[3]} {moment(n):%Y %H:%M}").encode(),
        )
    )
    for language, name in (("french", "mars"), ("spanish", "marzo"), ("dutch", "maart")):
        found.append(
            Dialect(
                f"{language} month",
                wide(lambda n, name=name: f"{moment(n):%d} {name} {moment(n):%Y %H:%M}").encode(),  # type: ignore[misc]
            )
        )
    found.append(
        Dialect(
            "spanish month in words",
            wide(lambda n: f"{moment(n):%d} de marzo de {moment(n):%Y %H:%M}").encode(),
        )
    )
    found.append(Dialect("french clock", wide(lambda n: f"{moment(n):%d/%m/%Y %Hh%M}").encode()))
    found.append(
        Dialect(
            "us month with a comma in the date, not quoted",
            wide("%b %d, %Y %I:%M:%S %p").encode(),
        )
    )
    found.append(
        Dialect(
            "us month with a comma in the date, quoted",
            wide('"%b %d, %Y %I:%M:%S %p"').encode(),
        )
    )
    for suffix, zone, shift in (
        ("Z", "UTC", 0),
        (" UTC", "UTC", 0),
        ("+01:00", "offset", 3600),
        ("-0500", "offset", -5 * 3600),
        ("+00:00", "offset", 0),
        (" +0200", "offset", 7200),
        (" EDT", "offset", -4 * 3600),
    ):
        found.append(
            Dialect(
                f"offset {suffix.strip()}",
                wide(lambda n, s=suffix: f"{moment(n):{iso}}{s}").encode(),  # type: ignore[misc]
                zone=zone,
                first=EPOCH - shift,
            )
        )
    found.append(
        Dialect(
            "fraction and Z",
            wide(lambda n: f"{moment(n):{iso}}.250Z").encode(),
            zone="UTC",
            first=EPOCH + 0.25,
        )
    )
    found.append(
        Dialect(
            "http date",
            wide(lambda n: f'"{moment(n):%a, %d %b %Y %H:%M:%S GMT}"').encode(),
            zone="UTC",
        )
    )
    for factor, name in ((1, "s"), (1000, "ms"), (1_000_000, "us")):
        found.append(
            Dialect(
                f"epoch {name}",
                wide(
                    lambda n, f=factor: str((EPOCH + STEP * n) * f),  # type: ignore[misc]
                    head="ts,pit_c,meat_c",
                ).encode(),
                names=("pit", "meat"),
                zone="UTC",
            )
        )
    found.append(
        Dialect(
            "epoch s with fractions, no heads",
            wide(lambda n: f"{EPOCH + STEP * n}.500", head=None).encode(),
            names=("Channel 1", "Channel 2"),
            zone="UTC",
            first=EPOCH + 0.5,
            notes=("unit_guessed",),
        )
    )
    found += _apart() + _of_day() + _elapsed() + _serial()
    return found


def _apart() -> list[Dialect]:
    found = []
    for name, pattern, head in (
        ("iso", "%Y-%m-%d,%H:%M:%S", "Date,Time,Pit (C),Meat (C)"),
        ("us am pm", "%m/%d/%Y,%I:%M:%S %p", "Date,Time,Pit (C),Meat (C)"),
        ("german", "%d.%m.%Y,%H:%M", "Datum,Uhrzeit,Pit (C),Meat (C)"),
        ("time first", "%H:%M:%S,%d/%m/%Y", "Time,Date,Pit (C),Meat (C)"),
        ("half of the day apart", "%m/%d/%Y,%I:%M:%S,%p", "Date,Time,AM/PM,Pit (C),Meat (C)"),
        ("compact", "%Y%m%d,%H%M%S", "Date,Time,Pit (C),Meat (C)"),
        ("numbers", "%Y,%m,%d,%H,%M,%S", "Year,Month,Day,Hour,Minute,Second,Pit (C),Meat (C)"),
    ):
        found.append(Dialect(f"date and time apart, {name}", wide(pattern, head=head).encode()))
    found.append(
        Dialect(
            "date and time and zone apart",
            wide("%Y-%m-%d,%H:%M:%S,+01:00", head="Date,Time,Zone,Pit (C),Meat (C)").encode(),
            zone="offset",
            first=EPOCH - 3600,
        )
    )
    found.append(
        Dialect(
            "row number before date and time",
            wide(
                lambda n: f"{n + 1},{moment(n):%Y-%m-%d},{moment(n):%H:%M:%S}",
                head="No.,Date,Time,Pit (C),Meat (C)",
            ).encode(),
        )
    )
    return found


def _of_day() -> list[Dialect]:
    found = []
    for name, pattern, above in (
        ("start date", "%H:%M:%S", "Start date: 14-Mar-2026\n"),
        ("date in iso", "%H:%M", "# Date: 2026-03-14\n# Operator: cook\n"),
        ("am pm", "%I:%M:%S %p", "Log started,March 14 2026\n\n"),
        ("us date", "%H:%M:%S", "Date,3/14/2026\n"),
        ("with the start's time", "%H:%M:%S", "Start: 2026-03-14 21:50:00\n"),
        (
            "among other dates",
            "%H:%M:%S",
            "Calibrated: 2025-01-02\nFirmware built 2024-05-06\nStarted: 14.03.2026\nExported: 2026-04-01\n",
        ),
    ):
        found.append(
            Dialect(
                f"time of day over midnight, {name}",
                wide(pattern, head="Time of day,Pit (C),Meat (C)", above=above).encode(),
                notes=("date_from_preamble",),
            )
        )
    found.append(
        Dialect(
            "time of day without a date",
            wide("%H:%M:%S").encode(),
            zone="elapsed",
            first=0.0,
            notes=("no_date",),
        )
    )
    return found


def _elapsed() -> list[Dialect]:
    found = []
    for name, head, stamp in (
        ("h:mm:ss", "Elapsed", elapsed),
        (
            "hh:mm:ss called time",
            "Time",
            lambda n: f"{STEP * n // 3600:02d}:{STEP * n // 60 % 60:02d}:00",
        ),
        ("seconds", "Elapsed_s", lambda n: f"{STEP * n}"),
        ("seconds in brackets", "Time (s)", lambda n: f"{STEP * n}"),
        ("seconds with decimals", "t [s]", lambda n: f"{STEP * n}.0"),
        ("minutes", "Minutes", lambda n: f"{STEP * n // 60}"),
        ("decimal minutes", "Elapsed min", lambda n: f"{STEP * n / 60:.2f}"),
        ("decimal hours", "Run time (h)", lambda n: f"{STEP * n / 3600:.4f}"),
        ("milliseconds", "millis", lambda n: f"{STEP * n * 1000}"),
        (
            "words",
            "Duration",
            lambda n: f"{STEP * n // 3600}h {STEP * n // 60 % 60}m {STEP * n % 60}s",
        ),
        ("iso durations", "Elapsed", lambda n: f"PT{STEP * n // 3600}H{STEP * n // 60 % 60}M0S"),
        ("python durations", "Elapsed", lambda n: str(dt.timedelta(seconds=STEP * n))),
    ):
        found.append(
            Dialect(
                f"elapsed {name}",
                wide(stamp, head=f"{head},Pit (C),Meat (C)").encode(),
                zone="elapsed",
                first=0.0,
            )
        )
    found.append(
        Dialect(
            "elapsed beyond a day",
            wide(
                lambda n: (
                    f"{(80_000 + STEP * n) // 3600}:{(80_000 + STEP * n) // 60 % 60:02d}:"
                    f"{(80_000 + STEP * n) % 60:02d}"
                ),
                head="Elapsed,Pit (C),Meat (C)",
            ).encode(),
            zone="elapsed",
            first=80_000.0,
        )
    )
    found.append(
        Dialect(
            "elapsed days and hours",
            wide(
                lambda n: (
                    f"{(80_000 + STEP * n) // 86400}d {(80_000 + STEP * n) // 3600 % 24:02d}:"
                    f"{(80_000 + STEP * n) // 60 % 60:02d}:{(80_000 + STEP * n) % 60:02d}"
                ),
                head="Elapsed,Pit (C),Meat (C)",
            ).encode(),
            zone="elapsed",
            first=80_000.0,
        )
    )
    found.append(
        Dialect(
            "elapsed with the unit in a row",
            wide(
                lambda n: f"{n * 5}",
                head="Time,Pit,Meat\nmin,°C,°C",
            ).encode(),
            zone="elapsed",
            first=0.0,
        )
    )
    found.append(
        Dialect(
            "elapsed without heads",
            wide(lambda n: f"{n * STEP}", head=None, mark="\t").encode(),
            names=("Channel 1", "Channel 2"),
            zone="elapsed",
            first=0.0,
            notes=("unit_guessed", "elapsed_guessed"),
        )
    )
    found.append(
        Dialect(
            "elapsed from a start in the preamble",
            wide(
                elapsed, head="Elapsed,Pit (C),Meat (C)", above="Started: 2026-03-14 21:50:00\n"
            ).encode(),
            notes=("start_from_preamble",),
        )
    )
    return found


def _day(digits: int, row: int) -> str:
    """Return a spreadsheet's day: 46,095 is 14 March 2026 where 25,569 is 1 January 1970."""
    return f"{46_095 + (78_600 + row * STEP) / 86_400:.{digits}f}"


def _serial() -> list[Dialect]:
    return [
        Dialect(
            f"serial days, {digits} digits",
            wide(functools.partial(_day, digits), head="Date,Pit (C),Meat (C)").encode(),
        )
        for digits in (5, 6, 10)
    ] + [
        Dialect(
            "serial days with a comma",
            wide(
                lambda n: _day(6, n).replace(".", ","),
                mark=";",
                cell=comma,
                head="Zeit,Pit (C),Meat (C)",
            ).encode(),
        )
    ]


def _marks() -> list[Dialect]:
    found = []
    for name, mark in (
        ("comma", ","),
        ("semicolon", ";"),
        ("tab", "\t"),
        ("bar", "|"),
        ("padded bar", " | "),
        ("blanks", "    "),
    ):
        found.append(Dialect(f"delimiter {name}", wide(mark=mark).encode()))
        if name != "comma":
            found.append(
                Dialect(f"decimal comma with {name}", wide(mark=mark, cell=comma).encode())
            )
    found.append(
        Dialect(
            "single blanks",
            wide(mark=" ", head="Date Time Pit_C Meat_C").encode(),
        )
    )
    found.append(
        Dialect(
            "bars around",
            "\n".join(f"| {line} |" for line in wide(mark=" | ").splitlines()).encode() + b"\n",
        )
    )
    found.append(
        Dialect(
            "columns of fixed width",
            wide(
                lambda n: f"{moment(n):%Y-%m-%d %H:%M:%S}",
                mark="   ",
                head="Time                   Pit_C   Meat_C",
                cell="{:6.1f}".format,
            ).encode(),
        )
    )
    quoted = '"{:.1f}"'.format
    found += [
        Dialect(
            "all cells quoted",
            wide('"%Y-%m-%d %H:%M:%S"', head='"Time","Pit (C)","Meat (C)"', cell=quoted).encode(),
        ),
        Dialect(
            "decimal comma in quotes",
            wide(cell=lambda v: f'"{comma(v)}"').encode(),
        ),
        Dialect(
            "a delimiter in a name",
            wide(head='Time,"Pit, left (C)",Meat (C)').encode(),
            names=("Pit, left", "Meat"),
        ),
        Dialect("a delimiter at the end of rows", wide(change=lambda _, c: [*c, ""]).encode()),
        Dialect(
            "a delimiter at the end of all lines",
            wide(head="Time,Pit (C),Meat (C),", change=lambda _, c: [*c, ""]).encode(),
        ),
        Dialect(
            "blanks behind delimiters", wide(mark=", ", head="Time, Pit (C), Meat (C)").encode()
        ),
        Dialect("plus signs", wide(cell="{:+.1f}".format).encode()),
    ]
    for encoding in ("utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "latin-1"):
        words = wide(head="Time,Pökel (°C),Rücken (°C)")
        found.append(
            Dialect(f"encoding {encoding}", words.encode(encoding), names=("Pökel", "Rücken"))
        )
    for name, end in (("CRLF", "\r\n"), ("CR", "\r"), ("blank lines between", "\n\n")):
        found.append(Dialect(f"line ends {name}", wide(end=end).encode()))
    found += [
        Dialect("NULs at the end", wide().encode() + b"\0" * 500),
        Dialect("no line end at the end", wide().encode()[:-1]),
        Dialect("blank lines and form feed at the end", wide().encode() + b"\n\n\x0c\n"),
    ]
    return found


def _layouts() -> list[Dialect]:
    preamble = (
        "Logger export, version 3\nSerial,12345,Rev,2\nName: back yard; probe 2\n"
        '# Note: checked on 2025-12-01, ok\nInterval,300,s\nChannels,2\n\nOperator,"Cook, first"\n'
        "Battery,98 %\nMemory,64,kB,used,12\nLimits: 50 - 300\n"
    )
    long_rows = "".join(
        f"{moment(n):%Y-%m-%d %H:%M:%S},{name},{value(n):.1f}\n"
        for n in range(COUNT)
        for name, value in (("Pit", pit), ("Meat", meat))
    )
    blocks = "".join(
        f"{name},{moment(n):%Y-%m-%d %H:%M:%S},{value(n):.1f},C\n"
        for name, value in (("Pit", pit), ("Meat", meat))
        for n in range(COUNT)
    )
    extra = "".join(
        f"{moment(n):%Y-%m-%d %H:%M:%S},{name},{value},{unit}\n"
        for n in range(COUNT)
        for name, value, unit in (
            ("Pit", f"{pit(n):.1f}", "C"),
            ("Meat", f"{meat(n):.1f}", "C"),
            ("Battery", str(90 - n), "%"),
            ("Fan", str(n % 7 * 10), "%"),
        )
    )
    half = wide().splitlines()
    return [
        Dialect("long", f"Time,Probe,Temp (C)\n{long_rows}".encode()),
        Dialect("long, block by block", f"Channel,Time,Value,Unit\n{blocks}".encode()),
        Dialect("long with other things", f"Time,Sensor,Value,Unit\n{extra}".encode()),
        Dialect("long without heads", long_rows.encode(), notes=("unit_guessed",)),
        Dialect("a long preamble", wide(above=preamble).encode()),
        Dialect(
            "25 lines of preamble",
            wide(above="".join(f"Key {n},value {n}\n" for n in range(25))).encode(),
        ),
        Dialect(
            "25 lines of preamble of the rows' width",
            wide(above="".join(f"Key {n},{n},2026\n" for n in range(25))).encode(),
        ),
        Dialect("a units row", wide(head="Time,Pit,Meat\n,°C,°C").encode()),
        Dialect(
            "a units row with words",
            wide(head="Time,Pit,Meat\nyyyy-mm-dd hh:mm:ss,degC,degC").encode(),
        ),
        Dialect(
            "a ruler below the heads",
            wide(head="Time,Pit (C),Meat (C)\n-----,-----,-----").encode(),
        ),
        Dialect("a comment's mark before the heads", wide(head="# Time,Pit (C),Meat (C)").encode()),
        Dialect("a title row above the heads", wide(above="Cook of Saturday,,\n,,\n").encode()),
        Dialect(
            "a footer", wide(below="\nTotal records: 48\nMax,119.9,72.1\nEnd of log\n").encode()
        ),
        Dialect(
            "heads that come again", ("\n".join([*half[:20], half[0], *half[20:]]) + "\n").encode()
        ),
        Dialect(
            "preamble and heads that come again",
            (
                "\n".join([*half[:20], "", "Logger export", "Interval,300,s", half[0], *half[20:]])
                + "\n"
            ).encode(),
        ),
        Dialect(
            "columns swapped half way",
            (
                "\n".join(half[:20])
                + "\nTime,Meat (C),Pit (C)\n"
                + "".join(
                    f"{moment(n):%Y-%m-%d %H:%M:%S},{meat(n):.1f},{pit(n):.1f}\n"
                    for n in range(19, COUNT)
                )
            ).encode(),
        ),
        Dialect(
            "what is no temperature",
            wide(
                head="Time,Battery (V),Pit (C),Meat (C),Fan,Signal (dBm),RH %,Alarm,Status",
                change=lambda n, c: [
                    c[0],
                    f"{3.9 - n / 100:.2f}",
                    *c[1:],
                    str(n % 100),
                    "-61",
                    "45",
                    "0",
                    "ok",
                ],
            ).encode(),
        ),
        Dialect(
            "a counter and elapsed time beside a stamp",
            wide(
                head="Sample,Elapsed (s),Time,Pit (C),Meat (C)",
                change=lambda n, c: [str(n), str(n * STEP), *c],
            ).encode(),
        ),
        Dialect(
            "a set point is a channel",
            wide(
                head="Time,Pit (C),Meat (C),Set point (C)", change=lambda _, c: [*c, "120.0"]
            ).encode(),
            names=("Pit", "Meat", "Set point"),
            units=("degC",) * 3,
            missing=((), (), ()),
            series=(pit, meat, lambda _: 120.0),
        ),
        Dialect(
            "no heads",
            wide(head=None).encode(),
            names=("Channel 1", "Channel 2"),
            notes=("unit_guessed",),
        ),
        Dialect(
            "two columns of one name",
            wide(head="Time,Temp (C),Temp (C)").encode(),
            names=("Temp", "Temp (2)"),
        ),
        Dialect(
            "numbers for names", wide(head="Time,1,2", above="Unit: C\n").encode(), names=("1", "2")
        ),
        Dialect(
            "newest first",
            ("\n".join([half[0], *reversed(half[1:])]) + "\n").encode(),
            notes=("newest_first",),
        ),
        Dialect(
            "a column of remarks",
            wide(
                head="Time,Pit (C),Meat (C),Remarks",
                change=lambda n, c: [*c, "spritzed" if n == 20 else ""],
            ).encode(),
        ),
        Dialect(
            "a column of stages",
            wide(
                head="Time,Stage,Pit (C),Meat (C)",
                change=lambda n, c: [c[0], "cook" if n < 30 else "rest", *c[1:]],
            ).encode(),
        ),
        Dialect(
            "a device's name in each row",
            wide(
                head="Device,Time,Pit (C),Meat (C)", change=lambda _, c: ["Logger-7", *c]
            ).encode(),
        ),
    ]


def _units() -> list[Dialect]:
    found = []
    heads = {
        "brackets": "Pit (F),Meat (F)",
        "square brackets": "Pit [°F],Meat [°F]",
        "degree sign": "Pit °F,Meat °F",
        "deg": "Pit deg F,Meat deg F",
        "degF": "Pit (degF),Meat (degF)",
        "underscore": "Pit_F,Meat_F",
        "word": "Pit Fahrenheit,Meat Fahrenheit",
        "slash": "Pit / °F,Meat / °F",
        "bare letter": "Pit F,Meat F",
        "comma": '"Pit, °F","Meat, °F"',
        "no blank": "Pit(F),Meat(F)",
        "one sign": "Pit ℉,Meat ℉",
        "in": "Pit in °F,Meat in °F",
    }
    for name, head in heads.items():
        found.append(
            Dialect(
                f"°F in the head, {name}",
                wide(head=f"Time,{head}", celsius=False).encode(),
                units=("degF", "degF"),
                near=0.03,
            )
        )
    for name, above in (
        ("Units", "Units,F\n"),
        ("Unit:", "Unit: °F\n"),
        ("Temperature unit", "# Temperature unit = Fahrenheit\n"),
        ("in words", "All temperatures are in deg F\n"),
        ("Scale", "Scale; F\n"),
        ("Einheit", "Einheit: Fahrenheit\n"),
    ):
        found.append(
            Dialect(
                f"°F in the preamble, {name}",
                wide(head="Time,Pit,Meat", above=above, celsius=False).encode(),
                units=("degF", "degF"),
                near=0.03,
            )
        )
    for name, cell in (
        ("F", "{:.1f}F"),
        ("blank F", "{:.1f} F"),
        ("°F", "{:.1f}°F"),
        ("deg", "{:.1f} deg F"),
    ):
        found.append(
            Dialect(
                f"unit in the cells, {name}",
                wide(head="Time,Pit,Meat", cell=cell.format, celsius=False).encode(),
                units=("degF", "degF"),
                near=0.03,
            )
        )
    found += [
        Dialect(
            "unit in a column",
            wide(head="Time,Pit,Meat,Unit", change=lambda _, c: [*c, "F"], celsius=False).encode(),
            units=("degF", "degF"),
            near=0.03,
        ),
        Dialect(
            "kelvin",
            wide(head="Time,Pit (K),Meat (K)", cell=lambda v: f"{v + 273.15:.2f}").encode(),
            units=("K", "K"),
        ),
        Dialect(
            "thermocouples of type K",
            wide(head="Time,Pit,Meat", above="Unit: C\nProbe type: K\n").encode(),
        ),
        Dialect(
            "°F nowhere",
            wide(head="Time,Pit,Meat", celsius=False).encode(),
            units=("degF", "degF"),
            notes=("unit_guessed",),
            near=0.03,
        ),
        Dialect("°C nowhere", wide(head="Time,Pit,Meat").encode(), notes=("unit_guessed",)),
        Dialect(
            "probes with letters",
            wide(head="Time,Probe B,Probe C", above="Unit: C\n").encode(),
            names=("Probe B", "Probe C"),
        ),
    ]

    def switched(n: int, cells: list[str]) -> list[str]:
        if n >= 20:
            cells = [cells[0], f"{fahrenheit(pit(n)):.1f}F", f"{fahrenheit(meat(n)):.1f}F"]
        return cells

    found.append(
        Dialect(
            "unit switched in the cells",
            wide(head="Time,Pit,Meat", cell="{:.1f}C".format, change=switched).encode(),
            notes=("unit_switched",),
            near=0.03,
        )
    )
    first = wide().splitlines()
    second = wide(celsius=False).splitlines()
    for name, words in (
        ("heads", "Time,Pit (F),Meat (F)"),
        ("a units row", ",F,F"),
        ("a line of words", "# Unit: F"),
    ):
        text_ = "\n".join([*first[:21], words, *second[21:]]) + "\n"
        found.append(
            Dialect(f"unit switched by {name}", text_.encode(), notes=("unit_switched",), near=0.03)
        )
    return found


def _missing() -> list[Dialect]:
    found = []
    rows = (3, 4, 5, 30)
    marks = (
        *(
            "",
            "-",
            "--",
            "---",
            "NaN",
            "nan",
            "NA",
            "N/A",
            "n/a",
            "Err",
            "ERR",
            "Open",
            "OPEN",
            "OL",
            "HI",
            "LO",
        ),
        *(
            "null",
            "None",
            "***",
            "--.-",
            "#N/A",
            "no probe",
            "999",
            "999.9",
            "-999",
            "9999",
            "32767",
            "-127",
        ),
        *("999.0", "-999.0", "Unbekannt", "999.9C", "--°C", '"--"', '"999.9"'),
    )
    found += [
        Dialect(
            f"missing mark {mark!r}",
            wide(change=put(1, rows, mark)).encode(),
            missing=(rows, ()),
        )
        for mark in marks
    ]
    found += [
        Dialect(
            "blank in the last cell", wide(change=put(2, rows, "")).encode(), missing=((), rows)
        ),
        Dialect(
            "all missing in a row",
            wide(change=lambda n, c: [c[0], "--", "--"] if n in rows else c).encode(),
            missing=(rows, rows),
        ),
        Dialect(
            "a cell nobody can read",
            wide(change=put(1, (7,), "1?8.4")).encode(),
            lost=(7,),
            rejected=(9,),
        ),
        Dialect(
            "a time nobody can read",
            wide(change=put(0, (7,), "2026-03-14 2?:25:00")).encode(),
            lost=(7,),
            rejected=(9,),
        ),
        Dialect(
            "one word among readings",
            wide(change=put(1, (7,), "oops")).encode(),
            lost=(7,),
            rejected=(9,),
        ),
        Dialect(
            "too few cells",
            wide(change=lambda n, c: c[:2] if n == 7 else c).encode(),
            lost=(7,),
            rejected=(9,),
        ),
        Dialect(
            "too many cells",
            wide(change=lambda n, c: [*c, "12.0"] if n == 7 else c).encode(),
            lost=(7,),
            rejected=(9,),
        ),
        Dialect(
            "real ice",
            wide(head="Time,Pit (F),Meat (F)", cell=lambda _: "32.0").encode(),
            units=("degF", "degF"),
            series=(lambda _: 0.0, lambda _: 0.0),
        ),
        Dialect(
            "a year with a wrong digit",
            wide(change=put(0, (7,), "2036-03-14 22:25:00")).encode(),
            lost=(7,),
            rejected=(9,),
        ),
        Dialect(
            "an hour with a wrong digit",
            wide(change=put(0, (7,), "2026-03-14 12:25:00")).encode(),
            lost=(7,),
            rejected=(9,),
        ),
        Dialect(
            "a second with a wrong digit",
            wide(change=put(0, (7,), "2026-03-14 22:25:08")).encode(),
            lost=(7,),
            rejected=(9,),
        ),
        Dialect(
            "a first row with a wrong digit",
            wide(change=put(0, (0,), "2016-03-14 21:50:00")).encode(),
            lost=(0,),
            rejected=(2,),
        ),
        Dialect(
            "a last row with a wrong digit",
            wide(change=put(0, (47,), "2026-03-25 01:45:00")).encode(),
            lost=(47,),
            rejected=(49,),
        ),
        Dialect(
            "a reading no probe can have",
            wide(change=put(1, (7,), "1184.2")).encode(),
            lost=(7,),
            rejected=(9,),
        ),
    ]
    return found


def _records() -> list[Dialect]:
    def record(n: int) -> dict[str, object]:
        return {
            "time": f"{moment(n):%Y-%m-%dT%H:%M:%SZ}",
            "pit_c": pit(n),
            "meat_c": meat(n),
            "battery": 90,
        }

    rows = [record(n) for n in range(COUNT)]
    times = [f"{moment(n):%Y-%m-%dT%H:%M:%SZ}" for n in range(COUNT)]
    nested = [
        {"t": EPOCH + STEP * n, "probes": {"Pit": {"c": pit(n)}, "Meat": {"c": meat(n)}}}
        for n in range(COUNT)
    ]
    listed = [
        {
            "t": (EPOCH + STEP * n) * 1000,
            "readings": [
                {"probe": "Pit", "value": pit(n), "unit": "C"},
                {"probe": "Meat", "value": meat(n), "unit": "C"},
            ],
        }
        for n in range(COUNT)
    ]
    return [
        Dialect("json array", json.dumps(rows).encode(), names=("pit", "meat"), zone="UTC"),
        Dialect(
            "json array, indented",
            json.dumps(rows, indent=2).encode(),
            names=("pit", "meat"),
            zone="UTC",
        ),
        Dialect(
            "json lines",
            "\n".join(map(json.dumps, rows)).encode(),
            names=("pit", "meat"),
            zone="UTC",
        ),
        Dialect(
            "json in an object",
            json.dumps({"device": "x", "log": {"rows": rows}}).encode(),
            names=("pit", "meat"),
            zone="UTC",
        ),
        Dialect(
            "json columns",
            json.dumps(
                {
                    "unit": "C",
                    "time": times,
                    "Pit": [pit(n) for n in range(COUNT)],
                    "Meat": [meat(n) for n in range(COUNT)],
                }
            ).encode(),
            zone="UTC",
        ),
        Dialect(
            "json names and rows",
            json.dumps(
                {
                    "columns": ["time", "Pit (C)", "Meat (C)"],
                    "rows": [[times[n], pit(n), meat(n)] for n in range(COUNT)],
                }
            ).encode(),
            zone="UTC",
        ),
        Dialect(
            "json lists with names first",
            json.dumps(
                [
                    ["time", "Pit (C)", "Meat (C)"],
                    *([times[n], pit(n), meat(n)] for n in range(COUNT)),
                ]
            ).encode(),
            zone="UTC",
        ),
        Dialect(
            "json nested",
            json.dumps(nested).encode(),
            zone="UTC",
        ),
        Dialect("json lists of probes", json.dumps(listed).encode(), zone="UTC"),
        Dialect(
            "json channels with points",
            json.dumps(
                {
                    "channels": [
                        {
                            "name": name,
                            "unit": "C",
                            "points": [[times[n], value(n)] for n in range(COUNT)],
                        }
                        for name, value in (("Pit", pit), ("Meat", meat))
                    ]
                }
            ).encode(),
            zone="UTC",
        ),
        Dialect(
            "json channels with lists",
            json.dumps(
                [
                    {
                        "name": name,
                        "unit": "C",
                        "times": times,
                        "values": [value(n) for n in range(COUNT)],
                    }
                    for name, value in (("Pit", pit), ("Meat", meat))
                ]
            ).encode(),
            zone="UTC",
        ),
        Dialect(
            "json by time",
            json.dumps(
                {times[n]: {"pit_c": pit(n), "meat_c": meat(n)} for n in range(COUNT)}
            ).encode(),
            names=("pit", "meat"),
            zone="UTC",
        ),
        Dialect(
            "json with nulls",
            json.dumps(
                [row | ({"pit_c": None} if n in {3, 9} else {}) for n, row in enumerate(rows)]
            ).encode(),
            missing=((3, 9), ()),
            names=("pit", "meat"),
            zone="UTC",
        ),
        Dialect(
            "json lines with one damaged",
            "\n".join(
                '{"time": "2026-' if n == 7 else json.dumps(row) for n, row in enumerate(rows)
            ).encode(),
            lost=(7,),
            rejected=(8,),
            names=("pit", "meat"),
            zone="UTC",
        ),
        Dialect(
            "json array cut off",
            json.dumps(rows)[:-60].encode(),
            lost=(COUNT - 1,),
            rejected=(1,),
            names=("pit", "meat"),
            zone="UTC",
        ),
    ]


def _workbooks() -> list[Dialect]:
    found = []
    for name, convert in (
        ("real dates", lambda n: moment(n).replace(tzinfo=None)),
        ("text", lambda n: f"{moment(n):%Y-%m-%d %H:%M:%S}"),
        ("serial days", lambda n: 46_095 + (78_600 + n * STEP) / 86_400),
    ):
        book = openpyxl.Workbook()
        sheet = book.active
        assert sheet is not None
        sheet.append(["Cook of Saturday"])
        sheet.append([])
        sheet.append(["Date", "Pit (C)", "Meat (C)"])
        for n in range(COUNT):
            sheet.append([convert(n), pit(n), None if n == 5 else meat(n)])
        book.create_sheet("About").append(["made by", "nobody"])
        out = io.BytesIO()
        book.save(out)
        found.append(Dialect(f"xlsx with {name}", out.getvalue(), missing=((), (5,))))
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Elapsed", "Pit (C)", "Meat (C)"])
    for n in range(COUNT):
        sheet.append([dt.timedelta(seconds=80_100 + STEP * n), pit(n), meat(n)])
    out = io.BytesIO()
    book.save(out)
    found.append(Dialect("xlsx with durations", out.getvalue(), zone="elapsed", first=80_100.0))
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Date", "Time", "Pit (C)", "Meat (C)"])
    for n in range(COUNT):
        sheet.append([moment(n).date(), moment(n).time(), pit(n), meat(n)])
    out = io.BytesIO()
    book.save(out)
    found.append(Dialect("xlsx with dates and times apart", out.getvalue()))
    found.append(Dialect("ods with real dates", _ods()))
    return found


def _ods() -> bytes:
    document = opendocument.OpenDocumentSpreadsheet()
    sheet = table.Table(name="Log")

    def add(cells: list[table.TableCell]) -> None:
        row = table.TableRow()
        for cell in cells:
            row.addElement(cell)
        sheet.addElement(row)

    def words(value: str) -> table.TableCell:
        cell = table.TableCell(valuetype="string")
        cell.addElement(text.P(text=value))
        return cell

    add([words("Time"), words("Pit (C)"), words("Meat (C)")])
    for n in range(COUNT):
        at = table.TableCell(valuetype="date", datevalue=f"{moment(n):%Y-%m-%dT%H:%M:%S}")
        at.addElement(text.P(text=f"{moment(n):%d.%m.%Y %H:%M}"))
        values = []
        for value in (pit(n), meat(n)):
            cell = table.TableCell(valuetype="float", value=f"{value:.1f}")
            cell.addElement(text.P(text=f"{value:.1f}"))
            values.append(cell)
        add([at, *values])
    document.spreadsheet.addElement(sheet)
    out = io.BytesIO()
    document.write(out)
    return out.getvalue()


CORPUS = [
    *_times(),
    *_marks(),
    *_layouts(),
    *_units(),
    *_missing(),
    *_records(),
    *_workbooks(),
]
assert BEGUN.timestamp() == EPOCH
