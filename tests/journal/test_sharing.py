import io
from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.cook import Arm
from pitjournal.domain.event import EventKind, Note, Photo
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.samples import Samples
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.tasting import Tasting, TastingState
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.domain.treatment import (
    FuelLoad,
    FuelStage,
    Seasoning,
    Treatment,
    TreatmentKind,
    WoodAddition,
)
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary import Choice, Detail, PrivatePart, Summary, to_csv, to_html
from pitjournal.journal.sharing.compose import Material, compose
from pitjournal.journal.sharing.curves import thinned
from pitjournal.journal.sharing.figures import Figures
from pitjournal.journal.sharing.photos import bare
from pitjournal.journal.sharing.tables import differences_table
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook, an_event

PRIVATE = {
    PrivatePart.PLACE: ("Lower Meadow", "1234"),
    PrivatePart.TIMES: ("07:03",),
    PrivatePart.SUPPLIER: ("Butcher on the corner", "lot 77"),
    PrivatePart.TASTERS: ("Taster Quill",),
    PrivatePart.NOTES: (
        "the secret of the wind",
        "spoke of the slab",
        "heavy hand",
        "half open",
        "mild, behind the shed",
    ),
    PrivatePart.COSTS: ("87.65", "19.84"),
    PrivatePart.DEVICE: ("logger-serial-5.csv",),
}
"""A cook in Chicago; 12:03 UTC on 2 May is 07:03 there (daylight time, UTC−5)."""


def a_whole_cook() -> WholeCook:
    cook = a_cook(
        "Does injecting change the bite?",
        outcome="score.tenderness",
        place="Lower Meadow",
        altitude=1234 * 0.3048,
        set_point=135.0,
        cost=87.65,
        note="the secret of the wind",
        vents="half open",
        weather="mild, behind the shed",
        water_pan=False,
    )
    arms = (
        Arm(cook_id=cook.id, position=1, name="Left alone", control=True),
        Arm(cook_id=cook.id, position=0, name="Injected"),
    )
    pieces = tuple(
        Piece(
            cook_id=cook.id,
            position=place,
            label=f"{'AB'[place % 2]}{place // 2 + 1}",
            cut="St. Louis ribs",
            arm_id=arms[place % 2].id,
            pack=f"pack {place // 2 + 1}",
            supplier="Butcher on the corner",
            lot="lot 77",
            price=19.84 / 453.59237,
            declared_solution=0.08,
            note="spoke of the slab",
        )
        for place in range(4)
    )
    treatments = (
        Treatment(cook_id=cook.id, kind=TreatmentKind.NONE, arm_id=arms[0].id),
        Treatment(
            cook_id=cook.id,
            kind=TreatmentKind.INJECTED,
            arm_id=arms[1].id,
            recipe="Saturday butter",
            liquid=301.0,
            salt=0.0173,
            phosphate=0.0041,
            target_pickup=0.117,
            passes=2,
            note="heavy hand",
        ),
    )
    return WholeCook(
        cook=cook,
        cooker=ShelfItem(kind=ShelfKind.COOKER, name="The black one", details={"class": "drum"}),
        arms=arms,
        pieces=pieces,
        weighings=tuple(
            Weighing(cook_id=cook.id, piece_id=piece.id, stage=Stage.ON, mass=1100.0)
            for piece in pieces
        ),
        treatments=treatments,
        seasonings=(
            Seasoning(
                cook_id=cook.id, position=0, rub="Red rub", mass=23.0, set_time=1800.0, side="front"
            ),
        ),
        fuel_loads=(FuelLoad(cook_id=cook.id, stage=FuelStage.IN, fuel="oak lump", mass=3000.0),),
        wood_additions=(WoodAddition(cook_id=cook.id, wood="cherry", form="chunk"),),
        events=(
            an_event(cook.id, EventKind.ON, minutes=3),
            an_event(cook.id, EventKind.WRAP, minutes=123, wrap="foil"),
        ),
        notes=(Note(cook_id=cook.id, text="the secret of the wind", at=NOON),),
        photos=(
            Photo(
                cook_id=cook.id,
                name="a.jpg",
                attachment="a",
                thumbnail="t",
                width=4,
                height=3,
                caption="Two racks",
            ),
        ),
        probe_files=(
            ProbeFile(cook_id=cook.id, name="logger-serial-5.csv", attachment="p", added_at=NOON),
        ),
        traces=(
            Trace(
                cook_id=cook.id,
                probe_file_id="p",
                channel="1",
                unit_in_file="°C",
                sits=Sits.PIT,
                samples="s",
                count=3,
                starts_at=NOON,
                ends_at=NOON + timedelta(hours=4),
                interval=60.0,
                place="grate",
            ),
        ),
        tastings=(
            Tasting(
                cook_id=cook.id,
                scheme="home panel",
                criteria=("tenderness",),
                low=1,
                high=9,
                state=TastingState.REVEALED,
                tasters=("Taster Quill",),
            ),
        ),
    )


FOUND: dict[str, Any] = {
    "outcome": "score.tenderness",
    "arms": [
        {"name": "Left alone", "control": True, "pieces": 2, "mean": 6.0, "sd": 0.5},
        {"name": "Injected", "control": False, "pieces": 2, "mean": 7.25, "sd": None},
    ],
    "differences": [
        {
            "arm": "Injected",
            "outcome": "score.tenderness",
            "declared": True,
            "estimate": 1.25,
            "low": -0.5,
            "high": 3.0,
            "unit": "points",
            "pieces": 4,
            "cooks": 1,
            "method": "pairs within packs",
            "could_show": 2.0,
        }
    ],
    "ledger": [
        {"arm": "Injected", "variable": "mass_on", "difference": 310.0, "unit": "g"},
        {"arm": "Injected", "variable": "internal_off", "difference": -1.5, "unit": "K"},
    ],
    "leeway": [
        {
            "arm": "Injected",
            "axis": "time",
            "unit": "s",
            "at_least": 2280.0,
            "at_most": None,
            "estimate": None,
            "low": None,
            "high": None,
            "known": False,
            "reason": "taken off while right",
        }
    ],
    "fuel": {"used_kg": 2.5, "per_hour_kg": 0.9, "per_kg_meat": 0.6},
    "safety": [{"fact": "Pork reached 145 °F", "state": "reached", "source": "FSIS chart"}],
    "words": ["Not enough to tell.", "You noted: “the secret of the wind”"],
}


def picture(exif: bool = False) -> bytes:
    image = Image.new("RGB", (1200, 900), (90, 40, 20))
    tags = Image.Exif()
    if exif:
        tags[0x010F] = "Secret Maker"
        tags[0x8825] = {1: "N", 2: (41.0, 30.0, 0.0)}
    out = io.BytesIO()
    image.save(out, "JPEG", exif=tags)
    return out.getvalue()


def made(choice: Choice | None = None, system: UnitSystem = UnitSystem.METRIC) -> Summary:
    whole = a_whole_cook()
    values = {
        piece.id: {
            "score.tenderness": 5.5 + place / 2,
            "mass_on": 1100.0,
            "price": piece.price,
            "pickup": 0.1 if place % 2 else None,
        }
        for place, piece in enumerate(whole.pieces)
    }
    start = NOON.timestamp()
    material = Material(
        whole=whole,
        catalogue=Catalogue(),
        values=values,
        found=FOUND,
        shelf={
            "saturday  Butter": {"allergens": ["milk"], "lines": BUTTER},
            "Red rub": {"cured": True},
        },
        samples=lambda _trace: Samples(
            np.array([start, start + 7200, start + 14400]), np.array([20, 120, 135], np.float32)
        ),
        attachment=lambda _sha: picture(exif=True),
    )
    return compose(material, choice or Choice(), system)


def everything(summary: Summary) -> str:
    return to_html(summary) + to_csv(summary)


def test_that_private_things_stay_at_home_by_default() -> None:
    text = everything(made(system=UnitSystem.US))
    for words in (words for many in PRIVATE.values() for words in many):
        assert words not in text
    assert "<img" not in text
    assert "Butcher" not in text


@pytest.mark.parametrize("part", list(PRIVATE))
def test_that_a_chosen_part_leaves_and_no_other(part: PrivatePart) -> None:
    text = everything(made(Choice(parts=frozenset({part})), UnitSystem.US))
    for other, many in PRIVATE.items():
        for words in many:
            assert (words in text) == (other is part), (other, words)


def test_that_photos_leave_only_when_chosen_and_without_what_the_camera_wrote() -> None:
    summary = made(Choice(parts=frozenset({PrivatePart.PHOTOS})))
    (photo,) = summary.photos
    assert photo.caption == "Two racks"
    assert b"Secret Maker" in picture(exif=True)
    assert b"Secret Maker" not in photo.data
    assert b"Exif" not in photo.data


def test_that_a_photo_is_small() -> None:
    with Image.open(io.BytesIO(bare(picture()))) as small:
        assert small.size == (900, 675)


@pytest.mark.parametrize(
    ("detail", "shares", "amounts"),
    [(Detail.NAMES, False, False), (Detail.RATIOS, True, False), (Detail.GRAMS, True, True)],
)
def test_that_a_recipe_leaves_as_far_as_chosen(detail: Detail, shares: bool, amounts: bool) -> None:
    text = everything(made(Choice(detail)))
    assert "Saturday butter" in text
    assert "Red rub, front" in text
    assert "left 30 min" in text  # the side and the time to set are method, no recipe
    assert ("1.7 %" in text) == shares  # salt in the liquid
    assert ("11.7 %" in text) == shares  # the pickup aimed at
    assert ("301 g" in text) == amounts
    assert ("23 g" in text) == amounts
    # 880 g of stock in 880 + 100 + 20 g are 88 %; what is in it leaves with its shares at least.
    assert ("stock 88.0 %" in text) == (shares and not amounts)
    assert ("stock 880 g, butter 100 g, sugar 20 g" in text) == amounts
    assert ("stock" in text) == shares


BUTTER = [["stock", "880 g"], ["butter", "100 g"], ["sugar", "20 g"], ["curing salt", "3 g"]]


@pytest.mark.parametrize("detail", list(Detail))
def test_that_what_protects_an_eater_is_never_hidden(detail: Detail) -> None:
    protects = " ".join(made(Choice(detail)).protects)
    assert "Injected meat counts as non-intact" in protects
    assert "8.0 % solution" in protects
    assert "milk" in protects
    assert "curing salt: Red rub, Saturday butter" in protects


def test_that_a_summary_has_the_usual_cautions_with_their_sources() -> None:
    # FDA Food Code 2017/2022 3-501.14, 3-403.11 and 3-501.16; the fire is common practice.
    said = to_html(made())
    for words in ("carbon monoxide", "Cooling:", "Reheating", "Hot holding", "Food Code"):
        assert words in said
    assert "Local codes and licensed practice come first" in said


def test_that_the_list_of_what_leaves_and_what_stays_is_whole() -> None:
    least, most = made(), made(Choice(Detail.GRAMS, frozenset(PrivatePart)))
    assert set(least.leaves) | set(least.left_out) == set(most.leaves)
    assert most.left_out == ()
    assert {"place and altitude", "amounts of recipes", "notes"} <= set(least.left_out)
    assert "weather and vents in your own words" in least.left_out


def test_that_nothing_is_said_to_stay_that_was_never_recorded() -> None:
    cook = a_cook("Only a title")
    material = Material(
        whole=WholeCook(cook=cook),
        catalogue=Catalogue(),
        values={},
        found={**FOUND, "outcome": None, "arms": [], "differences": [], "ledger": [], "leeway": []},
        shelf={},
        samples=lambda _trace: Samples(np.array([]), np.array([], np.float32)),
        attachment=lambda _sha: b"",
    )
    summary = compose(material, Choice(), UnitSystem.US)
    assert summary.left_out == ()
    assert summary.points is None
    assert summary.curves is None
    assert "Only a title" in to_html(summary)


def test_that_numbers_are_in_the_units_of_the_reader() -> None:
    # 1100 g is 2.4251 lb (1 lb = 453.59237 g exactly); −1.5 K is −2.7 °F.
    us, metric = made(system=UnitSystem.US), made(system=UnitSystem.METRIC)
    us_table = {column.head: column.cells for column in us.pieces.columns}
    metric_table = {column.head: column.cells for column in metric.pieces.columns}
    assert us_table["Weight on, lb"] == ("2.43",) * 4
    assert metric_table["Weight on, kg"] == ("1.10",) * 4
    assert "−2.7 °F" in to_html(us)
    assert "−1.5 °C" in to_html(metric)
    assert "+310 g" in to_html(metric)


def test_that_the_table_of_pieces_has_the_outcome_and_no_empty_column() -> None:
    columns = {column.label: column.cells for column in made().pieces.columns}
    assert columns["Tenderness"] == ("5.5", "6", "6.5", "7")
    assert columns["Pickup"] == ("not recorded", "10.0", "not recorded", "10.0")
    assert "Yield" not in columns
    assert "Supplier" not in columns


def test_that_the_control_comes_first_with_its_own_look() -> None:
    summary = made()
    assert [(arm.name, arm.look, arm.control) for arm in summary.arms] == [
        ("Left alone", 0, True),
        ("Injected", 1, False),
    ]
    assert summary.points
    assert [arm.mean for arm in summary.points.arms] == [6.0, 6.5]


def test_that_leeway_that_ended_off_the_fire_has_no_upper_bound() -> None:
    table = next(table for table in made().tables if table.title.startswith("How long"))
    ((_, cells),) = table.rows
    assert cells == ("Injected", "time", "38 min", "–", "taken off while right")


def test_that_time_in_the_chart_counts_from_the_first_piece_on() -> None:
    curves = made().curves
    assert curves
    assert curves.curves[0].name == "grate"
    assert curves.curves[0].hours[0] == pytest.approx(-0.05)
    assert curves.marks == ((0.0, "on"), (2.0, "wrap"))


def test_that_a_cook_before_the_fire_has_no_chart() -> None:
    whole = replace(a_whole_cook(), events=())
    material = Material(
        whole=whole,
        catalogue=Catalogue(),
        values={},
        found=FOUND,
        shelf={},
        samples=lambda _trace: Samples(np.array([]), np.array([], np.float32)),
        attachment=lambda _sha: b"",
    )
    assert compose(material, Choice(), UnitSystem.US).curves is None


@given(st.integers(1, 2000), st.integers(2, 300))
def test_that_thinning_keeps_the_mean_and_the_order(count: int, most: int) -> None:
    samples = Samples(
        np.arange(count, dtype=np.float64) * 10.0, np.sin(np.arange(count)).astype(np.float32)
    )
    few = thinned(samples, 0.0, most)
    assert len(few.times) == min(count, most)
    assert np.all(np.diff(few.times) > 0)
    if count % most == 0:
        assert few.values.mean() == pytest.approx(samples.values.mean(), abs=1e-5)


def test_that_many_photos_share_the_room_of_a_mail() -> None:
    lot = np.random.default_rng(6)
    out = io.BytesIO()
    noise = lot.integers(0, 255, (360, 480, 3), dtype=np.uint8)  # nothing is harder to pack
    Image.fromarray(noise).save(out, "JPEG", quality=85)
    assert len(out.getvalue()) > 100_000
    for most in (100_000, 46_000, 20_000):
        data = bare(out.getvalue(), most)
        assert len(data) <= most
        with Image.open(io.BytesIO(data)) as small:
            assert small.width / small.height == pytest.approx(4 / 3, abs=0.02)
            assert small.width >= 160


def test_that_one_of_many_looks_says_so_where_its_interval_alone_would_say_more() -> None:
    (declared,) = FOUND["differences"]
    look = {**declared, "declared": False, "verdict": "not enough to tell"}
    clear = {**look, "low": 0.5, "high": 2.0}
    rows = [{**declared, "verdict": "not enough to tell"}, clear, look]
    whole = a_whole_cook()
    table = differences_table(
        whole, Catalogue(), {**FOUND, "differences": rows}, Figures(UnitSystem.METRIC)
    )
    (says,) = [column.cells for column in table.columns if column.label == "Says"]
    plain = "not enough to tell"
    assert says == (plain, f"{plain}, as one of two looks", plain)
