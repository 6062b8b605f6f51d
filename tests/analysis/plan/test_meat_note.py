"""What is said of a cut while it is typed; what means what is common practice, no source."""

from dataclasses import replace

import pytest

from pitjournal.analysis.plan.meat_note import asks_of, meat_note
from pitjournal.domain.piece import Piece
from pitjournal.units import UnitSystem

US = UnitSystem.US


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", ""),
        ("brisket", "Usually off at 195 to 212 °F inside"),
        ("Boston butt", "Read as pork butt, whole meat. Usually off at 190 to 205 °F inside"),
        ("WINGS", "Read as chicken wings, poultry."),
        ("ribs", "Could be spare ribs, St. Louis ribs, back ribs or 4 more: name one"),
        ("woodcock brisket", "No times are known for this cut. Judged as poultry."),
        ("mystery", "What meat is it? Until then: meat not known, 165 °F (74 °C) all through"),
        ("sausage", "Of what animal is it? Until then: ground meat of an animal not said, 165 °F"),
    ],
)
def test_a_cut_is_answered_as_it_is_typed(text: str, said: str) -> None:
    note = meat_note(text, US)
    assert note.startswith(said)
    assert bool(note) is bool(text)


def test_what_is_asked_names_the_pieces_and_the_source() -> None:
    rack = Piece(cook_id="c", position=0, label="A1", cut="back ribs")
    odd = [replace(rack, id=label, label=label, cut="oddity") for label in ("B1", "B2")]
    (asked,) = asks_of([rack, *odd])
    assert asked.startswith("B1, B2, “oddity”: What meat is it?")
    assert "(FDA Food Code 2017/2022 3-401.11(A)(3))" in asked
    assert asks_of([rack]) == ()
