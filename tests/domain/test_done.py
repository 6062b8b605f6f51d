"""What was done to meat is heard wherever it is said, in any case and place.

FDA Food Code 2017/2022 1-201.10: beef that is injected, mechanically tenderised, reconstructed, or
scored and marinated is not whole-muscle, intact; 3-401.11(A)(2) asks more of it. That Kasseler and
city ham are pumped with brine, and which words the trade uses, is common practice, no source.
"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.domain.cuts import all_cuts, form_in, meat_of
from pitjournal.domain.cuts.done import done_in
from pitjournal.domain.cuts.meat import Form, JudgedAs
from pitjournal.domain.judged import judged
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.old_cook_treatment import treatment_in
from tests.analysis.test_all_through import a_piece, arms, own

LAX = {JudgedAs.WHOLE, JudgedAs.SEAFOOD}

NON_INTACT = (
    *("injected", "inject", "injecting", "injection", "Injektion", "Injizieren", "injiziert"),
    *("injizierter", "Einspritzen", "eingespritzt", "gespritzt", "Spritzpökel", "inyectado"),
    *("inyección", "inyectar", "con jeringa", "by syringe", "Spritze", "pumped", "pump 10 %"),
    *("gepumpt", "needle", "needles", "needled", "Nadeln", "genadelt", "jaccard", "jaccarded"),
    *("jaccardeado", "tenderised", "tenderized", "tenderizer", "pierced", "poked with a fork"),
    *("mit Gabel eingestochen", "gespickt", "gespickter", "larded", "mechado", "pricked"),
    *("glued", "meat glue", "Transglutaminase", "tumbled", "scored and marinated", "pounded"),
    *("eingeritzt, mariniert", "adobado y marcado", "perforated", "punctured", "city ham"),
    *("Kasseler", "Kassler", "vacuum marinade"),
)
GROUND = (
    *("ground", "grind", "minced", "mince", "gewolft", "Faschiertes", "durchgedreht", "picada"),
    *("molida", "re-formed", "restructured", "reconstructed", "grinding", "picadillo"),
)
CUTS = sorted({cut.name for cut in all_cuts()})
CASES = (str.lower, str.upper, str.title, str.swapcase, lambda text: text)


@st.composite
def said(draw: st.DrawFn, about: str = "") -> tuple[str, str]:
    """Return one of the words, and a text that holds it beside something else."""
    word = draw(st.sampled_from((*NON_INTACT, *GROUND)))
    form = draw(st.sampled_from(["{0} {1}", "{1} {0}", "{0}, {1}", "{1} ({0})", "{0}-{1}"]))
    change = draw(st.sampled_from(CASES))
    return word, change(form.format(word, about))


@given(st.data())
def test_no_such_word_beside_any_cut_ever_leaves_it_whole_meat(data: st.DataObject) -> None:
    cut = data.draw(st.sampled_from(CUTS))
    word, text = data.draw(said(cut))
    assert meat_of(text).judged_as not in LAX, (word, text)


def _place(where: str, text: str) -> WholeCook:
    whole = a_piece("pork loin")
    if where == "arm":
        return replace(whole, arms=(replace(whole.arms[0], name=text),))
    if where == "note":
        return replace(whole, pieces=(replace(whole.pieces[0], note=text),))
    if where == "title":
        return replace(whole, cook=replace(whole.cook, title=text))
    if where == "question":
        return replace(whole, cook=replace(whole.cook, question=text))
    kind, field = where.rsplit(" ", 1)
    return a_piece("pork loin", treatments=(own(TreatmentKind(kind), **{field: text}),))


PLACES = (
    *("arm", "note", "title", "question", "other note", "other tool", "other recipe"),
    *("brined recipe", "dry-brined note", "marinated tool", "left alone note"),
)


@given(st.sampled_from(PLACES), said("loin, 10 % brine"))
def test_what_was_done_is_heard_in_arms_treatments_notes_and_titles(
    where: str, said: tuple[str, str]
) -> None:
    whole = _place(where, said[1])
    found = judged(whole, whole.pieces[0])
    assert found.rule not in LAX, (where, said)
    assert found.why, "the word that made it so is said"


@given(said("twice"))
def test_a_table_that_is_brought_along_is_read_by_the_same_words(said: tuple[str, str]) -> None:
    if done_in(said[1]):
        assert treatment_in(said[1]) in {
            TreatmentKind.INJECTED,
            TreatmentKind.NEEDLED,
            TreatmentKind.BLADED,
            TreatmentKind.OTHER,
        }


@pytest.mark.parametrize(
    ("cell", "kind"),
    [
        ("con jeringa, sin sal", TreatmentKind.INJECTED),
        ("plain injection", TreatmentKind.INJECTED),
        ("dry brined, then injected", TreatmentKind.INJECTED),
        ("Injizieren", TreatmentKind.INJECTED),
        ("agujas", TreatmentKind.NEEDLED),
        ("blade tenderized", TreatmentKind.BLADED),
        ("meat glue", TreatmentKind.OTHER),
        ("not injected", TreatmentKind.NONE),
        ("ohne Injektion", TreatmentKind.NONE),
        ("control", TreatmentKind.NONE),
        ("dry brine", TreatmentKind.DRY_BRINED),
        ("yes", TreatmentKind.INJECTED),
    ],
)
def test_a_cell_of_a_table_says_how_meat_was_treated(cell: str, kind: TreatmentKind) -> None:
    assert treatment_in(cell) is kind


@pytest.mark.parametrize(
    "name",
    [
        *("not injected", "No injection", "ohne Injektion", "sin inyectar", "uninjected"),
        *(
            "un-needled",
            "left alone",
            "Control",
            "never been pumped",
            "ungespritzt",
            "nicht gespritzt",
        ),
        *("spritzed hourly", "pumpkin rub", "scored fat", "marinated", "fork-tender"),
    ],
)
def test_what_was_not_done_or_is_something_else_leaves_meat_whole(name: str) -> None:
    whole = _place("arm", name)
    assert judged(whole, whole.pieces[0]).rule is JudgedAs.WHOLE
    whole = _place("note", name)
    assert judged(whole, whole.pieces[0]).rule is JudgedAs.WHOLE


@pytest.mark.parametrize(
    "note",
    ["freshly ground black pepper", "mit gemahlenem Pfeffer", "pimienta molida", "minced garlic"],
)
def test_a_ground_spice_is_no_ground_meat(note: str) -> None:
    assert done_in(note) == ()
    for where in ("arm", "note", "other note"):
        whole = _place(where, note)
        assert judged(whole, whole.pieces[0]).rule is JudgedAs.WHOLE, where


@pytest.mark.parametrize(
    "note", ["garlic ground pork", "ground pork sage", "minced pork, garlic", "ground, then pepper"]
)
def test_meat_that_is_ground_beside_a_spice_is_ground(note: str) -> None:
    whole = _place("note", note)
    assert judged(whole, whole.pieces[0]).rule is JudgedAs.GROUND


@pytest.mark.parametrize(
    "name", ["not only injected but rested", "no marinade, injected", "No. 3 injected"]
)
def test_in_doubt_the_word_counts(name: str) -> None:
    assert form_in(name) is not Form.WHOLE


def test_a_title_speaks_of_every_arm_only_where_no_arm_says_it_itself() -> None:
    whole = a_piece("pork loin")
    cook = replace(whole.cook, title="Inject or leave alone")
    control = replace(whole.arms[0], name="Left alone", control=True)
    other = replace(control, id="other", name="Injected", control=False, position=1)
    told = replace(whole, cook=cook, arms=(control, other))
    assert judged(told, told.pieces[0]).rule is JudgedAs.WHOLE
    coded = replace(told, arms=(control, replace(other, name="B")))
    assert judged(coded, coded.pieces[0]).rule is JudgedAs.NON_INTACT


def test_scoring_and_marinating_said_in_two_places_count_together() -> None:
    # Food Code 1-201.10: "scored and marinated".
    scored: tuple[Treatment, ...] = (
        own(TreatmentKind.OTHER, note="scored"),
        arms(TreatmentKind.MARINATED),
    )
    whole = a_piece("ribeye", treatments=scored)
    assert judged(whole, whole.pieces[0]).rule is JudgedAs.NON_INTACT
    whole = a_piece("ribeye", treatments=scored[1:])
    assert judged(whole, whole.pieces[0]).rule is JudgedAs.WHOLE


@pytest.mark.parametrize(
    "text",
    [
        "caballo",
        "lomo de caballo",
        "horse steak",
        "Pferdebraten",
        "camel ribs",
        "cobra",
        "Echsenkeule",
    ],
)
def test_an_animal_that_no_rule_here_names_is_not_known(text: str) -> None:
    # FSIS-GD-2021-14 and Food Code 3-401.11 as kept here name neither horse nor camel.
    assert meat_of(text).judged_as is JudgedAs.UNKNOWN


@pytest.mark.parametrize("text", ["wild ribs", "wild hog loin", "costillas salvajes"])
def test_what_is_called_wild_is_game(text: str) -> None:
    # Food Code 3-401.11(A)(3): wild game animals.
    assert meat_of(text).judged_as is JudgedAs.GAME


def test_wild_salmon_is_fish() -> None:
    assert meat_of("wild salmon").judged_as is JudgedAs.SEAFOOD
