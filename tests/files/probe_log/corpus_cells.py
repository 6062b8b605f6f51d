"""Units, marks for none, and damage to single cells."""

from tests.files.probe_log.dialects import (
    Dialect,
    fahrenheit,
    meat,
    pit,
    put,
    wide,
)


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
            missing=((7,), ()),
            notes=("word_left",),
        ),
        Dialect(
            "one word behind a reading",
            wide(change=lambda n, c: [c[0], f"{c[1]} lid", c[2]] if n == 7 else c).encode(),
            notes=("word_left",),
        ),
        Dialect(
            "a note behind the row, with numbers",
            wide(change=lambda n, c: [*c, "lid opened", "2 splits"] if n == 7 else c).encode(),
        ),
        Dialect(
            "a word that moved the readings behind it",
            wide(
                head="Time,Pit (C),Meat (C),Spare (C)",
                change=lambda n, c: [c[0], "lid", *c[1:]] if n == 7 else [*c, ""],
            ).encode(),
            names=("Pit", "Meat"),
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


DIALECTS = [*_units(), *_missing()]
