"""JSON, lines of named values, and workbooks."""

import datetime as dt
import io
import json

import openpyxl
from odf import opendocument, table, text

from tests.files.probe_log.dialects import (
    COUNT,
    EPOCH,
    STEP,
    Dialect,
    meat,
    moment,
    pit,
)


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


def _pairs() -> list[Dialect]:
    def lines(form: str, above: str = "") -> bytes:
        rows = (
            form.format(t=moment(n), s=EPOCH + STEP * n, e=STEP * n, p=pit(n), m=meat(n), n=n)
            for n in range(COUNT)
        )
        return (above + "\n".join(rows) + "\n").encode()

    iso = "{t:%Y-%m-%dT%H:%M:%S}"
    clocked = "{t:%Y-%m-%d %H:%M:%S}"
    return [
        Dialect("named values after a time", lines(f"{clocked} Pit={{p:.1f}}C Meat={{m:.1f}}C")),
        Dialect(
            "named values, the time among them",
            lines("ts={s} pit_c={p:.1f} meat_c={m:.1f} level=info"),
            names=("pit", "meat"),
            zone="UTC",
        ),
        Dialect("named values with commas", lines(f"time={iso},Pit (C)={{p}},Meat (C)={{m:.1f}}")),
        Dialect(
            "named values with colons",
            lines(f"{clocked}, Pit: {{p:.1f}} °C, Meat: {{m:.1f}} °C, Battery: 97 %"),
        ),
        Dialect(
            "named values with colons and blanks",
            lines(f"{clocked} Pit: {{p:.1f}}C Meat: {{m:.1f}}C"),
        ),
        Dialect(
            "named values, colons without blanks",
            lines(f"{clocked} p1:{{p:.1f}}C p2:{{m:.1f}}C"),
            names=("p1", "p2"),
        ),
        Dialect(
            "named values in quotes below words",
            lines(
                'time="{t:%Y-%m-%d %H:%M:%S}" msg="still on" Pit="{p:.1f} C" Meat="{m:.1f} C"',
                "# logger 3\n# all is well\n",
            ),
        ),
        Dialect(
            "named values, seconds since the start",
            lines("elapsed_s={e};pit={p:.1f}C;meat={m:.1f}C"),
            names=("pit", "meat"),
            zone="elapsed",
            first=0.0,
        ),
    ]


DIALECTS = [*_records(), *_pairs(), *_workbooks()]
