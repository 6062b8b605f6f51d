"""Delimiters, encodings, layouts, preambles and footers."""

from tests.files.probe_log.dialects import (
    COUNT,
    STEP,
    Dialect,
    comma,
    meat,
    moment,
    pit,
    wide,
)


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


DIALECTS = [*_marks(), *_layouts()]
