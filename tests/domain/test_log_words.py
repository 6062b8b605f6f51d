"""What free words of the bench say was done to meat is heard for the pieces they are about.

FDA Food Code 2017/2022 1-201.10 (injected, mechanically tenderised: not intact) and 3-401.11(A)(3)
(stuffed). Which words the trade uses, and when they are written down, is common practice, no source.
"""

from dataclasses import replace
from datetime import timedelta

import pytest

from pitjournal.domain.cook import Arm
from pitjournal.domain.cuts.done import done_in
from pitjournal.domain.cuts.meat import JudgedAs
from pitjournal.domain.event import DonenessCheck, Event, EventKind, Note, Photo
from pitjournal.domain.judged import judged
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.test_all_through import OFF, a_piece, arms
from tests.builders import NOON, an_event

LONG_AGO, IN_THE_COOK, LATER = -60.0, 120.0, OFF + 30.0


def note(text: str, minute: float = LONG_AGO, piece: str | None = None) -> Note:
    return Note(cook_id="", text=text, at=NOON + timedelta(minutes=minute), piece_id=piece)


def tap(kind: str, text: str = "", minute: float = LONG_AGO, **fields: object) -> Event:
    event = replace(an_event("", EventKind.LID, minutes=minute), kind=kind, note=text)
    return replace(event, **fields)  # type: ignore[arg-type]


def with_words(*said: Note | Event | DonenessCheck | Photo) -> WholeCook:
    whole = a_piece("pork loin")
    return replace(
        whole,
        notes=tuple(one for one in said if isinstance(one, Note)),
        events=(*whole.events, *(one for one in said if isinstance(one, Event))),
        checks=tuple(one for one in said if isinstance(one, DonenessCheck)),
        photos=tuple(one for one in said if isinstance(one, Photo)),
    )


def rule(whole: WholeCook, piece: int = 0) -> JudgedAs:
    return judged(whole, whole.pieces[piece]).rule


@pytest.mark.parametrize(
    ("words", "asks"),
    [
        ("injected the rest at 9", JudgedAs.NON_INTACT),
        ("um 9 den Rest gespritzt", JudgedAs.NON_INTACT),
        ("inyecté el resto a las 9", JudgedAs.NON_INTACT),
        ("poked it all over with a fork", JudgedAs.NON_INTACT),
        ("stuffed with rice", JudgedAs.STUFFED),
        ("mit Reis gefüllt", JudgedAs.STUFFED),
        ("rellené con arroz", JudgedAs.STUFFED),
    ],
)
@pytest.mark.parametrize("where", ["note", "piece", "tap", "own kind", "details", "check", "photo"])
def test_what_was_done_is_heard_in_every_free_word_of_the_bench(
    words: str, asks: JudgedAs, where: str
) -> None:
    places: dict[str, Note | Event | DonenessCheck | Photo] = {
        "note": note(words),
        "piece": note(words, piece="piece"),
        "tap": tap(EventKind.FLIP, words),
        "own kind": tap(words, pieces=("piece",)),
        "details": tap(EventKind.WRAP, details={"with": words}),
        "check": DonenessCheck(cook_id="", piece_id="piece", at=NOON, note=words),
        "photo": Photo(
            cook_id="", name="", attachment="", thumbnail="", width=1, height=1, caption=words
        ),
    }
    whole = with_words(places[where])
    assert rule(whole) is asks
    assert any("the log says" in why for why in judged(whole, whole.pieces[0]).why)


def test_the_note_of_a_cook_is_heard_but_for_what_it_says_of_the_next() -> None:
    whole = a_piece("pork loin")
    said = replace(whole, cook=replace(whole.cook, note="Injected at six."))
    assert rule(said) is JudgedAs.NON_INTACT
    plan = replace(whole, cook=replace(whole.cook, note="Dry. Next time injected, or stuffed."))
    assert rule(plan) is JudgedAs.WHOLE


@pytest.mark.parametrize(
    "said",
    [
        note("not injected"),
        note("poked it, like butter", IN_THE_COOK),
        note("poked the coals"),
        note("stuffed the chimney with newspaper"),
        note("Wasserschale aufgefüllt, Kohle nachgefüllt", IN_THE_COOK),
        note("one fell on the ground", IN_THE_COOK),
        note("stuffed into buns", LATER),
        note("grob gehackt", LATER),
        note("moister than the injected ones", LATER),
        tap(EventKind.SPRITZ, "mit Apfelsaft gespritzt", IN_THE_COOK),
        note("injected at 9", piece="another"),
    ],
)
def test_words_of_the_fire_of_cooked_meat_and_of_other_pieces_leave_it_whole(
    said: Note | Event,
) -> None:
    assert rule(with_words(said)) is JudgedAs.WHOLE


@pytest.mark.parametrize(
    "said",
    [
        note("injected it before, forgot to log that", LATER),
        note("had stuffed it with rice", LATER),
        note("gespritzt", IN_THE_COOK),
        note("pricked the fat", 30.0),
    ],
)
def test_in_doubt_a_word_counts_whenever_it_was_written(said: Note) -> None:
    assert rule(with_words(said)) is not JudgedAs.WHOLE


@pytest.mark.parametrize(
    "text",
    [
        "stuffed charcoal chicken",
        "charcoal grilled stuffed chicken",
        "stuffed with fire roasted peppers",
        "stuffed, over charcoal",
        "pollo relleno al carbón",
        "mechada a la brasa",
        "Feuer und gefüllte Brust",
        "dropped on the ground beef",
    ],
)
def test_a_fire_beside_it_takes_nothing_from_meat(text: str) -> None:
    assert done_in(text)


def two_arms() -> WholeCook:
    whole = a_piece("pork loin", treatments=(arms(TreatmentKind.NONE),))
    arm = Arm(cook_id=whole.cook.id, position=1, name="B")
    piece = Piece(
        id="B1", cook_id=whole.cook.id, position=1, label="B1", cut="pork loin", arm_id=arm.id
    )
    injected = Treatment(cook_id=whole.cook.id, arm_id=arm.id, kind=TreatmentKind.INJECTED)
    return replace(
        whole,
        arms=(*whole.arms, arm),
        pieces=(*whole.pieces, piece),
        treatments=(*whole.treatments, injected),
    )


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("injected at 8", JudgedAs.WHOLE),
        ("injected B1 at 8", JudgedAs.WHOLE),
        ("injected A1 too", JudgedAs.NON_INTACT),
        ("injected the rest at 9", JudgedAs.NON_INTACT),
        ("alle gespritzt", JudgedAs.NON_INTACT),
        ("stuffed with rice", JudgedAs.STUFFED),
        ("stuffed B1 with rice", JudgedAs.WHOLE),
    ],
)
def test_words_about_no_piece_are_of_the_arm_they_tell_apart_unless_they_are_of_the_rest(
    text: str, first: JudgedAs
) -> None:
    whole = replace(two_arms(), notes=(note(text),))
    assert rule(whole) is first
    assert rule(whole, 1) is not JudgedAs.WHOLE


def test_scored_at_the_bench_and_marinated_by_its_arm_count_together() -> None:
    whole = a_piece("ribeye", treatments=(arms(TreatmentKind.MARINATED),))
    assert rule(whole) is JudgedAs.WHOLE
    said = replace(whole, notes=(note("scored the fat", piece="piece"),))
    assert rule(said) is JudgedAs.NON_INTACT
