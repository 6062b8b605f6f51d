"""The card of one who helps, from the same model in words, as a page and in print."""

from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from pitjournal.analysis.plan.hands import dealt, steps_for
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.formats import Format
from pitjournal.files.summary.report_text import report_to_text
from pitjournal.ui.plan.hand_card import hand_cards
from pitjournal.ui.printing.pages import load_fonts
from pitjournal.ui.summary_formats import HAND_FORMATS, ReportToWrite
from pitjournal.units import UnitSystem
from tests.analysis.plan.test_contest_day import contest_day, worked_out

CREW = ("Ana", "Ben", "Cy")


@pytest.fixture(scope="module")
def crew() -> WholeCook:
    whole = worked_out(contest_day())
    must = replace(whole.turn_ins[0].category, must="Six portions", must_not="Foil")
    first = replace(whole.turn_ins[0], category=must)
    named = replace(
        whole,
        cook=replace(whole.cook, hands=CREW),
        turn_ins=(first, *whole.turn_ins[1:]),
    )
    given = dealt(named)
    return replace(named, events=tuple(replace(e, by=given[e.id]) for e in named.events))


def said(whole: WholeCook, *hands: str) -> str:
    return report_to_text(hand_cards(whole, hands, UnitSystem.US))


def test_that_a_card_has_the_steps_of_its_hand_and_of_no_other(crew: WholeCook) -> None:
    boxes = {hand: said(crew, hand).count("Build the box") for hand in CREW}
    assert sum(boxes.values()) == 4
    for hand in CREW:
        text = said(crew, hand)
        assert text.startswith(f"{hand}: ")
        assert "Chicken: 12:00, window 11:55 to 12:05" in text  # everyone knows every window
        own = [step for step in steps_for(crew, hand) if step.kind == "trim and weigh"]
        assert text.count("Trim and weigh") == len(own)
        assert "165 °F" in text  # poultry: who helps has to know


def test_that_who_boxes_reads_what_the_box_has_to_hold_and_who_carves_how(crew: WholeCook) -> None:
    holds = [
        hand for hand in CREW if "Chicken. The box has to hold: Six portions" in said(crew, hand)
    ]
    thighs = {s.by for s in crew.events if s.kind == "boxed" and len(s.pieces) == 6}
    assert set(holds) == thighs
    pulls = {s.by for s in crew.events if s.kind == "pulled"}
    assert {hand for hand in CREW if "Pork: pull it" in said(crew, hand)} >= pulls


def test_that_all_cards_are_one_file_with_the_cautions_once(crew: WholeCook) -> None:
    text = said(crew, *CREW)
    assert all(f"\n{hand}, " in text for hand in CREW)
    assert text.count("Before you cook") == 1


def test_that_a_hand_without_steps_says_so(crew: WholeCook) -> None:
    assert "deal the steps out" in said(crew, "Di")


@pytest.mark.parametrize("form", HAND_FORMATS, ids=lambda form: form.suffix)
@pytest.mark.usefixtures("qapp")
def test_that_each_format_of_the_registry_says_the_same(crew: WholeCook, form: object) -> None:
    assert isinstance(form, Format)
    load_fonts()
    data = form.make(ReportToWrite(hand_cards(crew, ("Ana",), UnitSystem.US), "letter"))
    if form.suffix == ".pdf":
        text = " ".join(" ".join(p.extract_text() for p in PdfReader(BytesIO(data)).pages).split())
    else:
        text = " ".join(data.decode().split())
    for words in ("Ana: Ribs on a Saturday", "window 11:55 to 12:05", "Trim and weigh"):
        assert words in text
