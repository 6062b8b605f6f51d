"""Tables as cooks keep them, each with one thing that is hard, against hand arithmetic.

Factors: the international pound is 453.59237 g and the ounce a sixteenth of it (exact, 1959); a
German Pfund in trade is 500 g (common practice, no source); °C = (°F - 32) / 1.8 (exact).
"""

import io
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from typing import Any

import openpyxl
import pytest
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P
from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH

from pitjournal.files.old_cooks import read_old_cooks

LB = 453.59237

Case = tuple[str, Mapping[str, object]]

FIRST_ROWS: Mapping[str, Case] = {
    "heads with slips of the pen": (
        "Dt,Meat,Wieght (lbs),Tempreture F,Coments\n3/27/21,butt,8,250,dry",
        {"mass_on": 8 * LB, "set_point": 121.111, "notes": "dry"},
    ),
    "short forms": (
        "Date,Cut,Raw wt (lb),Int. temp (F),Avg. pit (F)\n3/27/21,butt,8,203,250",
        {"mass_bought": 8 * LB, "internal_off": 95.0, "set_point": 121.111},
    ),
    "heads over heads": (
        ",,Weight (lb),,Temp (F),,\nDate,Cut,raw,done,pit,meat,Notes\n3/27/21,butt,8,5,250,203,dry",
        {
            "mass_bought": 8 * LB,
            "mass_off": 5 * LB,
            "set_point": 121.111,
            "internal_off": 95.0,
            "notes": "dry",
        },
    ),
    "heads that are questions": (
        "When,What did I cook?,How big? (lb),How hot? (F),How long?\n3/27/21,butt,8,250,12 h 30 min",
        {"mass_on": 8 * LB, "set_point": 121.111, "time_on": 750},
    ),
    "a head that is a unit": (
        "Date,Meat,lbs,°F,hrs\n3/27/21,butt,8,250,12.5",
        {"mass_on": 8 * LB, "set_point": 121.111, "time_on": 750},
    ),
    "money beside weights": (
        "Datum;Fleisch;Gewicht fertig (g);Kosten (€)\n27.03.2021;Schweinenacken;6.364;49,80 €",
        {"mass_off": 6364, "cost": 49.8},
    ),
    "pounds and ounces": (
        "Date,Meat,Wt,Pit\n3/27/21,butt,8lb12oz,225→275°F",
        {"mass_on": 8.75 * LB, "set_point": 121.111},
    ),
    "Pfund": (
        "Datum;Fleisch;Gewicht;Dauer (Std.)\n27.03.2021;Schweinenacken;7,5 Pfund;12,5",
        {"mass_on": 3750, "time_on": 750},
    ),
    "clock times over midnight": (
        "Date,Meat,Lb,Time on,Time off\n3/27/21,butt,8,21:30,11:45",
        {"mass_on": 8 * LB, "time_on": 855},
    ),
    "a rating between two": (
        "Date,Meat,Lb,Rating\n3/27/21,butt,8,7-8/10",
        {"rating": {"value": 7.5, "low": 1, "high": 10}},
    ),
    "a school mark": (
        'Datum;Fleisch;kg;"Note (1 = sehr gut, 6 = ungenügend)"\n27.03.2021;Schweinenacken;3,5;2',
        {"rating": {"value": 2, "low": 6, "high": 1}},
    ),
    "a scale behind underscores": (
        "date,cut,weight_kg,rating_1_10\n2021-03-27,butt,3.5,8",
        {"mass_on": 3500, "rating": {"value": 8, "low": 1, "high": 10}},
    ),
    "a fraction": (
        "Date,Meat,Lb,Hours\n3/27/21,butt,8 1/2,3/4",
        {"mass_on": 8.5 * LB, "time_on": 45},
    ),
    "hours given as two": (
        "Date,Meat,Lb,Hours\n3/27/21,butt,8,12-13",
        {"time_on": 750},
    ),
    "a quote left open": (
        'Date,Meat,Lb,Notes\n3/27/21,butt,8,"never closed\n4/29/21,brisket,12,fine',
        {"mass_on": 8 * LB, "notes": "never closed"},
    ),
}


def alike(wanted: Mapping[str, object], got: Mapping[str, Any]) -> None:
    for key, value in wanted.items():
        if key == "set_point" and isinstance(got.get(key), float):
            assert 121 <= got[key] <= 122, key  # a range may be any value within
        else:
            exact = isinstance(value, str | dict)
            assert got.get(key) == (value if exact else pytest.approx(value, rel=1e-4)), key


@pytest.mark.parametrize("what", FIRST_ROWS)
def test_that_a_row_is_read_as_it_was_meant(what: str) -> None:
    text, wanted = FIRST_ROWS[what]
    got = read_old_cooks(text.encode(), "old.csv")
    assert got.cooks[0].date == date(2021, 3, 27)
    assert got.cooks[0].cut == "pork butt"
    alike(wanted, got.cooks[0].values)


def workbook(rows: Sequence[Sequence[object]], epoch: datetime = WINDOWS_EPOCH) -> bytes:
    book = openpyxl.Workbook()
    book.epoch = epoch
    sheet = book.active
    assert sheet is not None
    for row in rows:
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize("epoch", [WINDOWS_EPOCH, MAC_EPOCH], ids=["from 1900", "from 1904"])
def test_that_real_days_times_and_lengths_of_a_workbook_are_read(epoch: datetime) -> None:
    rows: list[list[object]] = [
        ["Date", "Cut", "Lb", "Time"],
        [date(2021, 3, 27), "butt", 8.5, timedelta(hours=30, minutes=15)],
        [date(2021, 4, 9), "brisket", 12, time(13, 45)],
    ]
    got = read_old_cooks(workbook(rows, epoch), "old.xlsx").cooks
    assert [cook.date for cook in got] == [date(2021, 3, 27), date(2021, 4, 9)]
    assert [cook.values["time_on"] for cook in got] == [1815, 825]


@pytest.mark.parametrize(
    ("on", "off", "minutes"),
    [
        ("18:30", "24:00", 330),
        ("24:00", "6:15", 375),
        ("2021-03-27 18:30", "2021-03-27 24:00", 330),
        ("2021-03-27 18:30", "2021-03-28 24:00", 1770),
        ("27.3.2021 18:30", "28.3.2021 20:00", 1530),
    ],
)
def test_that_twenty_four_is_the_end_of_its_day(on: str, off: str, minutes: int) -> None:
    # ISO 8601:2004, 4.2.3
    text = f"Date,Cut,Put on,Took off\n2021-03-27,butt,{on},{off}\n"
    text += "2021-04-09,brisket,20:00,7:30\n"
    first, second = read_old_cooks(text.encode(), "old.csv").cooks
    assert [first.values["time_on"], second.values["time_on"]] == [minutes, 690]


def test_that_moments_on_and_off_give_the_day_and_the_length_over_days() -> None:
    on = datetime.fromisoformat("2021-03-27T22:00")
    rows: list[list[object]] = [
        ["Put on", "Took off", "Cut", "Lb"],
        [on, on + timedelta(hours=26), "brisket", 12],
        [on + timedelta(days=12, hours=8), on + timedelta(days=12, hours=20.5), "butt", 8],
    ]
    got = read_old_cooks(workbook(rows), "old.xlsx").cooks
    assert [cook.date for cook in got] == [date(2021, 3, 27), date(2021, 4, 9)]
    assert [cook.values["time_on"] for cook in got] == [26 * 60, 750]


def test_that_lengths_of_time_in_an_open_document_sheet_are_read() -> None:
    document = OpenDocumentSpreadsheet()
    table = Table(name="cooks")
    document.spreadsheet.addElement(table)
    for cells in (("Date", "Cut", "Time"), ("2021-03-27", "butt", "PT13H10M00S")):
        row = TableRow()
        table.addElement(row)
        for text in cells:
            length = {"valuetype": "time", "timevalue": text} if text.startswith("PT") else {}
            cell = TableCell(**(length or {"valuetype": "string"}))
            cell.addElement(P(text="13:10" if length else text))
            row.addElement(cell)
    out = io.BytesIO()
    document.save(out)
    (cook,) = read_old_cooks(out.getvalue(), "old.ods").cooks
    assert cook.values["time_on"] == 790


ASKED = {
    "Weight": "Date,Meat,Weight,Hours\n3/27/21,butt,8,12",
    "Temp": "Date,Meat,Lb,Temp\n3/27/21,butt,8,250",
    "Score": "Date,Meat,Lb,Score\n3/27/21,butt,8,4",
    "Date": "Date,Meat,Lb\n3/4/21,butt,8\n5/6/21,butt,9",
}


@pytest.mark.parametrize("head", ASKED)
def test_that_what_a_table_does_not_say_is_asked_and_nothing_else(head: str) -> None:
    got = read_old_cooks(ASKED[head].encode(), "old.csv")
    assert [column.header for column in got.questions] == [head]


def test_that_a_rating_in_words_has_no_scale_to_ask_for() -> None:
    rows = "Date,Meat,Lb,Result\n3/27/21,butt,8,good\n3/28/21,butt,9,great"
    assert not read_old_cooks(rows.encode(), "old.csv").questions


def test_that_what_two_letters_look_like_is_no_wrap() -> None:
    rows = "Date,Meat,Lb,Song\n3/27/21,butt,8,x\n3/28/21,butt,9,y"
    got = read_old_cooks(rows.encode(), "old.csv")
    assert {column.header: column.variable for column in got.columns}["Song"] is None
    assert got.cooks[1].others == {"Song": "y"}
