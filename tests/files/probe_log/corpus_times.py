"""Times as loggers write them: stamps, apart from dates, of a day, elapsed, counted."""

import datetime as dt
import functools

from tests.files.probe_log.dialects import (
    EPOCH,
    STEP,
    Dialect,
    comma,
    elapsed,
    moment,
    wide,
)

_MARCH = {
    "french": "mars",
    "spanish": "marzo",
    "dutch": "maart",
    "danish": "marts",
    "polish": "marca",
    "czech": "března",
    "finnish": "maaliskuuta",
    "turkish": "Mart",
    "russian": "марта",
    "hungarian": "március",
}
"""March as a date has it (general dictionaries, from memory)."""


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


def _yearless() -> list[Dialect]:
    found = []
    for name, pattern in (
        ("us", "%m/%d %I:%M:%S %p"),
        ("iso", "%m-%d %H:%M:%S"),
        ("dots", "%d.%m. %H:%M"),
        ("month's name", "%b %d %H:%M:%S"),
        ("weekday and month's name", "%a %d %b %H:%M"),
        ("date and time apart", "%m-%d,%H:%M:%S"),
    ):
        head = "Date,Time,Pit (C),Meat (C)" if "," in pattern else "Time,Pit (C),Meat (C)"
        found += [
            Dialect(
                f"no year, {name}",
                wide(pattern, head=head).encode(),
                zone="elapsed",
                first=0.0,
                notes=("no_year",),
            ),
            Dialect(
                f"the year above the rows, {name}",
                wide(pattern, head=head, above="Started: 2026-03-14\n").encode(),
            ),
        ]
    return found


def _once_a_day() -> list[Dialect]:
    """Dates that stand in the first row, and in the first one after midnight: row 26."""
    found = []
    for name, pattern, head in (
        ("iso", "%Y-%m-%d", "Date,Time,Pit (C),Meat (C)"),
        ("us", "%m/%d/%Y", "Date,Time,Pit (C),Meat (C)"),
        ("no heads", "%Y-%m-%d", None),
    ):
        found.append(
            Dialect(
                f"a date once a day, {name}",
                wide(
                    lambda n, p=pattern: (  # type: ignore[misc]
                        f"{moment(n).strftime(p) if n in {0, 26} else ''},{moment(n):%H:%M:%S}"
                    ),
                    head=head,
                ).encode(),
                names=("Pit", "Meat") if head else ("Channel 1", "Channel 2"),
                notes=("date_carried",),
            )
        )
    return found


def _numbered() -> list[Dialect]:
    found = []
    for name, above, base in (
        ("with a unit", "Sample interval: 300 s\n", 0),
        ("in minutes", "Logger export\nInterval = 5 min\nChannels: 2\n", 1),
        ("as a clock", "Logging rate,00:05:00\n", 1),
        ("with the unit in brackets", "Sampling period (s): 300\n\n", 0),
    ):
        found.append(
            Dialect(
                f"numbered rows, their interval above {name}",
                wide(
                    lambda n, base=base: str(n + base),  # type: ignore[misc]
                    head="Sample,Pit (C),Meat (C)",
                    above=above,
                ).encode(),
                zone="elapsed",
                first=0.0,
                notes=("interval_from_preamble",),
            )
        )
    found.append(
        Dialect(
            "numbered rows, their interval and start above",
            wide(
                lambda n: str(n + 1),
                head="No.,Pit (C),Meat (C)",
                above="Start: 2026-03-14 21:50:00\nInterval: 300 s\n",
            ).encode(),
            notes=("interval_from_preamble", "start_from_preamble"),
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
    for language, name in _MARCH.items():
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
    found += _yearless() + _once_a_day() + _numbered()
    return found


DIALECTS = _times()
