"""Names and units in rows apart, channels that are numbers, targets beside readings, last lines."""

from collections.abc import Callable

from tests.files.probe_log.dialects import COUNT, Dialect, comma, meat, moment, pit, wide

STAMP = "%Y-%m-%d %H:%M:%S"
BOTH = (("1", pit), ("2", meat))


def _text(lines: list[str], end: str = "\n") -> bytes:
    return ("\n".join(lines) + end).encode()


def _rows_of_names() -> list[Dialect]:
    """Return heads in several rows, in either order."""
    heads = {
        "units, then names": ",°F,°F\nTime,Pit,Meat",
        "units with a head for the time, then names": "Time,°F,°F\n,Pit,Meat",
        "names, then units with a head for the time": ",Pit,Meat\nTime,°F,°F",
        "labelled": "Name,Pit,Meat\nUnit,°F,°F",
        "labelled, units first": "Unit,°F,°F\nName,Pit,Meat",
        "channels, names, units, the time": "Channel,1,2\nName,Pit,Meat\nUnit,°F,°F\nTime,,",
        "probes, names, units": "Time,Probe 1,Probe 2\n,Pit,Meat\n,°F,°F",
        "names, a rule, units": "Time,Pit,Meat\n----,----,----\n,°F,°F",
        "units, a blank line, names": ",°F,°F\n\nTime,Pit,Meat",
    }
    return [
        Dialect(
            f"heads: {name}",
            wide(STAMP, head=head, celsius=False).encode(),
            units=("degF", "degF"),
            near=0.03,
        )
        for name, head in heads.items()
    ]


def _numbered_channels() -> list[Dialect]:
    found = []
    for head in ("Channel", "Probe #", "Kanal", "Sonde", "Entrada", "Voie", "Nr", "ID", "Port"):
        for first, second in (("1", "2"), ("0", "3"), ("101", "102")):
            names = (first, second)
            lines = [f"Time,{head},Temp (C)"]
            lines += [
                f"{moment(n):{STAMP}},{name},{value(n):.1f}"
                for n in range(COUNT)
                for name, value in zip(names, (pit, meat), strict=True)
            ]
            found.append(Dialect(f"{head} {first} and {second}", _text(lines), names=names))
    blocks = [
        f"{name};{moment(n):%d.%m.%Y %H:%M:%S};{comma(value(n))};°C"
        for name, value in BOTH
        for n in range(COUNT)
    ]
    found.append(
        Dialect("blocks of numbers", _text(["Kanal;Zeit;Wert;Einheit", *blocks]), names=("1", "2"))
    )
    bare = [
        f"{moment(n):{STAMP}},{name},{value(n):.1f},C" for n in range(COUNT) for name, value in BOTH
    ]
    found.append(Dialect("numbers without heads", _text(bare), names=("1", "2")))
    return found


def _targets() -> list[Dialect]:
    found = []
    for form in (
        "{}/{}",
        "{} / {}",
        "{} ({})",
        "{} [{}]",
        "{}->{}",
        "{} → {}",
        "{}°C/{}°C",
        "{} °C (set {} °C)",
        "{} von {}",
        "{} (target: {})",
        "{} ⇒ {}",
        "{} @{}",
        "{} SP{}",
        "{}/{} °C",
    ):
        for name, change in {
            "": lambda _, cells: cells,
            ", some readings missing": _missing,
            ", some targets missing": _untold,
        }.items():
            write = _with_targets(form, change)
            missing = ((), (5, 6)) if "readings" in name else ((), ())
            head = "Time;Pit (C);Meat (C)"
            data = wide(STAMP, mark=";", head=head, change=write).encode()
            found.append(Dialect(f"target {form}{name}", data, missing=missing))
    return found


def _missing(row: int, cells: list[str]) -> list[str]:
    return [cells[0], "--" if row in {5, 6} else cells[1], *cells[2:]]


def _untold(row: int, cells: list[str]) -> list[str]:
    return [cells[0], cells[1], cells[2], "--" if row < 9 else cells[3]]


def _with_targets(
    form: str, change: Callable[[int, list[str]], list[str]]
) -> Callable[[int, list[str]], list[str]]:
    def write(row: int, cells: list[str]) -> list[str]:
        pits, meats, first, second = change(row, [cells[1], cells[2], "120", "93"])
        return [cells[0], form.format(pits, first), form.format(meats, second)]

    return write


def _commas() -> list[Dialect]:
    """Return rows in which the comma stands between cells and in numbers."""
    found = []
    for every, time, clock in (
        (0, "Time", STAMP),
        (7, "Zeit", "%d.%m.%Y %H:%M:%S"),
        (20, "Datum,Zeit", "%d.%m.%Y,%H:%M:%S"),
    ):
        for extra, cell in (("", ""), (",Batterie (%)", ",97")):
            head = f"{time},Pit [°C],Meat [°C]{extra}"
            lines = [head]
            for n in range(COUNT):
                if every and n and n % every == 0:
                    lines.append(head)
                lines.append(f"{moment(n):{clock}},{comma(pit(n))},{comma(meat(n))}{cell}")
            found.append(Dialect(f"commas, heads every {every} rows{extra}", _text(lines)))
    lines = ["Time,Pit [°C]", *(f"{moment(n):{STAMP}},{comma(pit(n))}" for n in range(COUNT))]
    found.append(
        Dialect(
            "commas and one channel",
            _text(lines),
            names=("Pit",),
            units=("degC",),
            missing=((),),
            series=(pit,),
        )
    )
    return found


def _last_lines() -> list[Dialect]:
    head = "Time,Pit (C),Meat (C),Battery (%),State"
    rows = [f"{moment(n):{STAMP}},{pit(n):.1f},{meat(n):.1f},87,ok" for n in range(COUNT)]
    whole = _text([head, *rows])
    found = [
        Dialect(f"cut {count} bytes off behind the readings", whole[:-count])
        for count in (1, 2, 4, 5, 7)
    ]
    begun = f"{moment(COUNT):{STAMP}},118.0,71.3"
    found += [
        Dialect(f"cut at {begun[:size]}", whole + begun[:size].encode(), rejected=(COUNT + 2,))
        for size in (4, 13, 19, 20, 25, 26)
    ]
    for words in ("End of log", "Stopped 2026-03-15 02:00:00", "Max,148.0,69.8", "48 rows"):
        found.append(Dialect(f"{words} without a line end", whole + words.encode()))
    remarks = [f"{row},spritzed" if n == 9 else row for n, row in enumerate(rows)]
    found.append(Dialect("a remark behind a row", _text([head, *remarks])))
    last = wide(STAMP, change=lambda n, c: [c[0], c[1], "--"] if n == COUNT - 1 else c)
    found.append(
        Dialect("a mark for none at the very end", last.encode()[:-1], missing=((), (COUNT - 1,)))
    )
    records = [
        f'{{"time": "{moment(n):{STAMP}}", "pit_c": {pit(n):.1f}, "meat_c": {meat(n):.1f}}}'
        for n in range(COUNT)
    ]
    names = ("pit", "meat")
    found += [
        Dialect("words above records", _text(["Session 2", *records]), names=names),
        Dialect("words below records", _text([*records, "end of session"]), names=names),
        Dialect(
            "a comment among records", _text([*records[:9], "# lid", *records[9:]]), names=names
        ),
    ]
    pairs = [f"time={moment(n):%Y-%m-%dT%H:%M:%S} pit={pit(n):.1f}C" for n in range(COUNT)]
    cut = _text([*pairs, f"time={moment(COUNT):%Y-%m-%dT%H:%M}"], end="")
    found.append(
        Dialect(
            "named values, cut off",
            cut,
            names=("pit",),
            units=("degC",),
            missing=((),),
            series=(pit,),
            rejected=(COUNT + 1,),
        )
    )
    return found


DIALECTS = [
    *_rows_of_names(),
    *_numbered_channels(),
    *_targets(),
    *_commas(),
    *_last_lines(),
]
