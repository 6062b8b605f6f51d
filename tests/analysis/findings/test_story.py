"""The story of a cook without a comparison, from its records; means are by hand."""

from datetime import timedelta

from pitjournal.analysis.derived import CookValues
from pitjournal.analysis.findings.story import story_of
from pitjournal.domain.event import Note
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook


def told(notes: tuple[str, ...] = (), **pieces: dict[str, float]) -> list[str]:
    cook = a_cook()
    whole = WholeCook(
        cook=cook,
        cooker=ShelfItem(kind=ShelfKind.COOKER, name="the drum"),
        pieces=tuple(
            Piece(id=name, cook_id=cook.id, position=place, label=name, cut="ribs")
            for place, name in enumerate(pieces)
        ),
        notes=tuple(
            Note(cook_id=cook.id, text=text, at=NOON + timedelta(hours=place))
            for place, text in enumerate(notes)
        ),
    )
    return list(story_of(whole, CookValues({}, pieces), UnitSystem.US, "rack"))


def test_that_its_day_and_what_it_was_like_are_told_as_means() -> None:
    found = told(
        ("the best bark yet",),
        a={"time_on": 18000.0, "score.tenderness": 7.0, "feel_off": 4.0, "yield_off": 0.75},
        b={"time_on": 19800.0, "score.tenderness": 8.0, "feel_off": 4.0, "yield_off": 0.73},
    )
    assert found == [
        "Two racks on the drum: on for 5 h 15 min, yield 74.0 % on average.",
        "At the table: tenderness 7.5.",
        "It came off at feel 4 of 7.",
        "You noted: “the best bark yet”",
    ]


def test_that_a_mean_of_some_pieces_says_of_how_many() -> None:
    found = told(
        a={"time_on": 18000.0, "yield_off": 0.75, "score.tenderness": 7.0, "feel_off": 4.0},
        b={"time_on": 19800.0},
    )
    assert found == [
        "Two racks on the drum: on for 5 h 15 min, yield 75.0 % (1 of 2) on average.",
        "At the table: tenderness 7 (1 of 2).",
        "It came off at feel 4 of 7 (1 of 2).",
    ]


def test_that_a_bare_cook_says_no_more_than_it_knows_and_misses_nothing() -> None:
    assert told(a={}) == ["One rack on the drum."]
    assert told() == ["No meat yet on the drum."]
    for sentence in told(("x" * 900,), a={}):
        assert "compare" not in sentence
        assert len(sentence) < 260
