"""A season and a class sheet: what they say, worked out by hand, and what never leaves with them."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from html5rdf import HTMLParser

from pitjournal.domain.contest import Category, Contest
from pitjournal.domain.cook import CookKind, CookStatus
from pitjournal.domain.event import EventKind, Note
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import (
    FuelLoad,
    FuelStage,
    Seasoning,
    Treatment,
    TreatmentKind,
)
from pitjournal.errors import JournalError
from pitjournal.files.summary import Choice, Detail, PrivatePart
from pitjournal.files.summary.report import Report, ReportPart, report_to_html, report_to_print
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.journal.sharing.class_sheet import MOST_PIECES, class_sheet
from pitjournal.journal.sharing.season import report_of_cooks, report_of_year, years_with_any
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook, an_event, three_arms

NEVER = (
    "Lower Meadow",
    "Butcher on the corner",
    "lot 77",
    "the secret of the wind",
    "spoke of the slab",
    "mild, behind the shed",
    "half open",
    "07:00",
)
"""12:00 UTC on 2 May is 07:00 in Chicago (daylight time, UTC−5)."""


def two_butts() -> tuple[Record, ...]:
    """Return a done cook of two brined butts of 4 and 2 kg that came off at 2.8 and 1.2 kg."""
    cook = a_cook(
        "Two butts in brine",
        kind=CookKind.HOME,
        status=CookStatus.DONE,
        place="Lower Meadow",
        weather="mild, behind the shed",
        vents="half open",
        note="the secret of the wind",
        cost=87.65,
        set_point=121.0,
        stop_rule="The bone comes out clean",
    )
    brine = Treatment(
        cook_id=cook.id,
        kind=TreatmentKind.BRINED,
        recipe="Sunday brine",
        liquid=2120.0,
        time=12 * 3600.0,
    )
    records: list[Record] = [brine]
    for place, (trimmed, off) in enumerate(((4000.0, 2800.0), (2000.0, 1200.0))):
        piece = Piece(
            cook_id=cook.id,
            position=place,
            label=f"B{place}",
            cut="pork butt",
            supplier="Butcher on the corner",
            lot="lot 77",
            note="spoke of the slab",
        )
        records.append(piece)
        for stage, mass in ((Stage.TRIMMED, trimmed), (Stage.OFF, off)):
            records.append(Weighing(cook_id=cook.id, piece_id=piece.id, stage=stage, mass=mass))
    records += [
        Seasoning(cook_id=cook.id, position=0, rub="House rub", mass=20.0),
        FuelLoad(cook_id=cook.id, stage=FuelStage.IN, fuel="lump", mass=5000.0),
        FuelLoad(cook_id=cook.id, stage=FuelStage.LEFT, fuel="lump", mass=1000.0),
        Note(cook_id=cook.id, text="the secret of the wind", at=NOON),
        an_event(cook.id, EventKind.LIT, minutes=-30),
        an_event(cook.id, EventKind.ON),
        an_event(cook.id, EventKind.WRAP, minutes=240, wrap="foil"),
        an_event(cook.id, EventKind.OFF, minutes=480),
    ]
    return (cook, *records)


def compared(title: str) -> AddCook:
    """Return a done cook of three arms of three racks, whose yields differ by 3 points or so."""
    cook = a_cook(title, question="Does it keep more?", outcome="yield_off", status=CookStatus.DONE)
    records = three_arms(cook)
    weighed = [
        Weighing(cook_id=cook.id, piece_id=piece.id, stage=stage, mass=mass)
        for number, piece in enumerate(one for one in records if isinstance(one, Piece))
        for stage, mass in (
            (Stage.TRIMMED, 1000.0),
            (Stage.OFF, 700.0 + 30 * (number % 3) + number),
        )
    ]
    return AddCook(cook, (*records, *weighed))


@pytest.fixture(scope="module")
def journal(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Journal]:
    made = open_journal(tmp_path_factory.mktemp("reports") / "journal", new=True)
    lines = [["salt", "60 g"], ["water", "1 kg"], ["pink salt", "3 g"]]
    made.do(
        Add((ShelfItem(kind=ShelfKind.RECIPE, name="Sunday brine", details={"lines": lines}),), "")
    )
    cook, *records = two_butts()
    made.do(AddCook(cook, tuple(records)))  # type: ignore[arg-type]
    for number in range(3):
        made.do(compared(f"Rack day {number}"))
    contest = Contest(
        name="Spring",
        starts_at=NOON + timedelta(days=9),
        zone="America/Chicago",
        place="Upper Field",
        field=20,
        paid=150.25,
    )
    ribs = Category(
        contest_id=contest.id, position=0, name="pork butt", given_place=3, cook_id=cook.id
    )
    last = Contest(name="Winter", starts_at=NOON - timedelta(days=366), zone="America/Chicago")
    made.do(Add((contest, ribs, last), "A contest"))
    made.worked_out.catch_up()
    yield made
    made.close()


def season(journal: Journal, *parts: PrivatePart) -> Report:
    return report_of_year(journal, 2026, Choice(parts=frozenset(parts)), UnitSystem.METRIC)


def part(report: Report, heading: str) -> ReportPart:
    (found,) = [one for one in report.parts if one.heading == heading]
    return found


def butts(journal: Journal) -> str:
    return journal.cooks.find("Two butts")


def sheet(journal: Journal, detail: Detail, pieces: int = 6) -> Report:
    return class_sheet(journal, butts(journal), pieces, Choice(detail), UnitSystem.METRIC)


def cells(report: Report, heading: str) -> list[tuple[str, ...]]:
    table = part(report, heading).table
    assert table is not None
    return [row for _, row in table.rows]


def test_that_a_season_adds_up_fuel_yields_and_places(journal: Journal) -> None:
    told = season(journal)
    # 5 kg in less 1 kg left; over the 8.5 h from lit to off 4 / 8.5 = 0.47 kg/h
    assert cells(told, "Fuel") == [("lump", "1", "4.00", "0.47")]
    # 2.8 ÷ 4 = 70 %, 1.2 ÷ 2 = 60 %
    assert cells(told, "Yields, off by trimmed") == [
        # racks 0, 3 and 6 at 700, 703 and 706 g of 1000, the next arms 31 and 62 g above them
        ("St. Louis ribs", "3", "27", "73.4", "70.0", "76.8"),
        ("pork butt", "1", "2", "65.0", "60.0", "70.0"),
    ]
    # 3rd of 20 has 17 of the 19 others behind it: 89 %
    (over_all, category) = cells(told, "Contests")
    assert over_all[:3] == ("11 May 2026", "Spring", "over all")
    assert category[2:] == ("pork butt", "", "3rd of 20", "89 %")
    assert ("cooks", "4") in part(told, "In figures").facts


def test_that_a_question_of_three_cooks_stands_once_with_its_plate(journal: Journal) -> None:
    told = season(journal)
    asked = [one for one in told.parts if one.plate is not None]
    assert len(asked) == 1
    assert asked[0].under.count("cook ") == 3
    assert asked[0].plate is not None
    rows = asked[0].plate.plate.rows
    assert [row.name for row in rows] == ["Left alone", "Injected", "Needled"]
    assert all("over three cooks" in row.verdict + row.line for row in rows if not row.control)


def test_that_a_cook_of_another_year_is_not_in_it(journal: Journal) -> None:
    assert years_with_any(journal) == [2026, 2025]
    before = report_of_year(journal, 2025, Choice(), UnitSystem.US)
    assert [row[1] for row in cells(before, "Contests")] == ["Winter"]
    with pytest.raises(JournalError, match="No cook and no contest in 1999"):
        report_of_year(journal, 1999, Choice(), UnitSystem.US)


def test_that_chosen_cooks_bring_only_what_was_turned_in_from_them(journal: Journal) -> None:
    told = report_of_cooks(journal, [butts(journal)], Choice(), UnitSystem.US)
    assert [row[2] for row in cells(told, "Contests")] == ["over all", "pork butt"]
    others = report_of_cooks(journal, [journal.cooks.find("Rack day 1")], Choice(), UnitSystem.US)
    assert "Contests" not in [one.heading for one in others.parts]
    with pytest.raises(JournalError, match="no cook to report on"):
        report_of_cooks(journal, ["gone"], Choice(), UnitSystem.US)


@pytest.mark.parametrize("make", [report_to_html, report_to_print])
def test_that_what_is_private_stays(journal: Journal, make: object) -> None:
    assert callable(make)
    for report in (season(journal), sheet(journal, Detail.GRAMS)):
        page = str(make(report))
        for words in (*NEVER, "87.65", "150.25", "Upper Field"):
            assert words not in page
    assert "2 May 2026" not in str(make(sheet(journal, Detail.GRAMS)))
    let = season(journal, PrivatePart.COSTS, PrivatePart.PLACE)
    page = str(make(let))
    assert all(words in page for words in ("87.65", "150.25", "Upper Field"))
    assert not any(words in page for words in NEVER)
    assert {"costs and prizes", "where contests were"} <= set(let.leaves)
    assert {"costs and prizes", "where contests were"} <= set(season(journal).left_out)


def test_that_a_recipe_is_worked_out_for_so_many_pieces(journal: Journal) -> None:
    # 2120 g for two butts is twice the 1060 g that the lines weigh: 1060 g a butt, for six
    # 6.36 kg, of which 60 ÷ 1060 is salt. A mean butt weighs 3 kg; 20 g of rub each are 120 g.
    told = sheet(journal, Detail.GRAMS)
    meat, brine, rub = part(told, "For 6 pieces").listed
    assert meat == "6 × pork butt, about 18.00 kg in all, at 3.00 kg a piece as in this cook"
    assert brine.startswith("Sunday brine, 6.36 kg: salt 360 g, water 6.00 kg, pink salt 3 g as ")
    assert rub == "House rub, 120 g"


def test_that_curing_salt_is_never_worked_out_for_more(journal: Journal) -> None:
    for pieces in (1, 30, MOST_PIECES):
        brine = part(
            sheet(journal, Detail.GRAMS, pieces), f"For {pieces} piece" + "s" * (pieces > 1)
        )
        (told,) = [line for line in brine.listed if line.startswith("Sunday brine")]
        assert "pink salt 3 g as written, not scaled" in told


@pytest.mark.parametrize("detail", [Detail.NAMES, Detail.RATIOS])
def test_that_amounts_leave_only_where_they_are_let_out(journal: Journal, detail: Detail) -> None:
    told = sheet(journal, detail)
    assert part(told, "For 6 pieces").listed[1:] == (
        "Sunday brine",
        "House rub",
        "Amounts stay with the cook who wrote this.",
    )
    page = report_to_html(told)
    assert not any(words in page for words in ("360 g", "60 g", "2.12 kg", "20 g", "120 g"))
    assert "amounts of recipes" in told.left_out


def test_that_the_method_tells_times_from_on(journal: Journal) -> None:
    steps = part(sheet(journal, Detail.NAMES), "Method").steps
    assert steps == (
        "Brined with Sunday brine; 12 h ahead.",
        "Rub with House rub.",
        "Light the fire 30 min before the meat goes on.",
        "On at 121.0 °C.",
        "Wrap (foil) 4 h after on.",
        "Take off: The bone comes out clean, here 8 h after on.",
    )


def test_that_curing_salt_and_end_points_are_cautioned_about(journal: Journal) -> None:
    told = sheet(journal, Detail.NAMES)
    warned = " ".join(words for one in told.parts for words in (*one.warns, *one.listed))
    assert "Contains curing salt: Sunday brine." in warned
    assert "Whole meat: 145 °F (63 °C) for 15 s all through" in warned


@pytest.mark.parametrize("pieces", [0, -3, MOST_PIECES + 1])
def test_that_no_class_is_of_nothing_or_of_thousands(journal: Journal, pieces: int) -> None:
    with pytest.raises(JournalError, match="cannot be"):
        sheet(journal, Detail.NAMES, pieces)


def test_that_both_pages_are_html_by_the_rules(journal: Journal) -> None:
    """WHATWG HTML, 13.2: a parser that stops at each parse error finds none."""
    for report in (season(journal), sheet(journal, Detail.GRAMS)):
        HTMLParser(strict=True).parse(report_to_html(report))


def test_that_hostile_words_stay_words(tmp_path: Path) -> None:
    title = "<script>alert(1)</script> \"&' <img src=x onerror=y>"
    made = open_journal(tmp_path / "hostile", new=True)
    cook = a_cook(title, question=title, status=CookStatus.DONE, held=title, stop_rule=title)
    made.do(AddCook(cook, (Piece(cook_id=cook.id, position=0, label="A", cut=title),)))
    made.worked_out.catch_up()
    for report in (
        report_of_year(made, 2026, Choice(), UnitSystem.US),
        class_sheet(made, cook.id, 3, Choice(), UnitSystem.US),
    ):
        for page in (report_to_html(report), report_to_print(report)):
            assert "<script" not in page
            assert "<img src=x" not in page
    made.close()
