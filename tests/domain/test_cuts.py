"""Cuts are found by meaning. What means what is common practice, no source."""

import itertools
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.domain.cuts import (
    all_cuts,
    cuts_under,
    find_cut,
    groups_among,
    means,
    meat_of,
    written_as,
)
from pitjournal.domain.cuts.meat import POULTRY, Animal, Cut, Form, JudgedAs, Meat
from pitjournal.domain.cuts.words import plain, read_words, stem, stems
from pitjournal.resource_files import resource_path

WRITTEN = [(cut, way) for cut in all_cuts() for way in written_as(cut)]
BIRDS = {
    "chicken": ("Chicken", "pollo", "Hähnchen", "Huhn"),
    "turkey": ("turkey", "Pute", "pavo"),
    "duck": ("Duck", "Ente", "pato"),
    "goose": ("goose", "Gans"),
    "quail": ("quail", "Wachtel", "codorniz"),
}


def _plural(word: str) -> str:
    """Return an English plural as schools teach it."""
    if word.endswith("s") or not word[-1].isalpha():
        return word
    if word.endswith("y") and word[-2] not in "aeiou":
        return f"{word[:-1]}ies"
    return f"{word}es" if word.endswith(("ch", "sh", "x")) else f"{word}s"


@st.composite
def ways_to_write(draw: st.DrawFn, phrase: str) -> str:
    """Draw a phrase in any case, order, plural, hyphens and blanks, with its accents or not."""
    words = draw(st.permutations(phrase.split()))
    words = [_plural(word) if draw(st.booleans()) else word for word in words]
    text = draw(st.sampled_from([" ", "  ", "-", " - ", "/", ", "])).join(words)
    text = draw(st.sampled_from([text, text.upper(), text.lower(), text.title(), text.swapcase()]))
    return plain(text) if draw(st.booleans()) else text


@given(st.data())
def test_every_way_to_write_a_cut_means_it_in_any_case_order_plural_and_hyphen(
    data: st.DataObject,
) -> None:
    cut, way = data.draw(st.sampled_from(WRITTEN))
    text = data.draw(ways_to_write(way))
    meat = meat_of(text)
    assert cut.key in {found.key for found in meat.cuts}, text
    assert meat.judged_as is meat_of(way).judged_as


def _asking_most() -> list[str]:
    """Return every word of the vocabulary for a bird, and for ground, rolled or stuffed."""
    words = read_words()
    birds = {f"@{bird}" for bird in POULTRY}
    return sorted(w for w, atoms in words.atoms.items() if atoms & (birds | words.forms.keys()))


@pytest.mark.parametrize("word", _asking_most())
def test_a_word_that_asks_more_is_heard_beside_any_cut(word: str) -> None:
    for one in (word, _plural(word)):
        for text in (one, f"{one} brisket", f"spare ribs, {one}", f"salmon {one}"):
            assert meat_of(text).judged_as not in {JudgedAs.WHOLE, JudgedAs.SEAFOOD}, text


@given(st.data())
def test_no_bird_and_no_ground_or_stuffed_word_is_ever_judged_as_whole_meat(
    data: st.DataObject,
) -> None:
    word = data.draw(st.sampled_from(_asking_most()))
    _, beside = data.draw(st.sampled_from([(None, ""), *WRITTEN]))
    text = data.draw(ways_to_write(f"{word} {beside}".strip()))
    assert meat_of(text).judged_as not in {JudgedAs.WHOLE, JudgedAs.SEAFOOD}, text


@given(st.data())
def test_every_cut_of_a_bird_is_judged_as_poultry_however_written(data: st.DataObject) -> None:
    birds = [(cut, way) for cut, way in WRITTEN if cut.is_poultry]
    _, way = data.draw(st.sampled_from(birds))
    assert meat_of(data.draw(ways_to_write(way))).judged_as is JudgedAs.POULTRY


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Chicken wings", "chicken wings"),
        ("turkey breast", "turkey breast"),
        ("St Louis ribs", "St. Louis ribs"),
        ("pork shoulder", "pork butt"),
        ("shoulder of pork, bone-in", "pork butt"),
        ("Beef Short-Ribs", "beef short ribs"),
        ("tri-tip", "tri-tip"),
        ("TRITIP", "tri-tip"),
        ("ham", "ham"),
        ("SPARERIBS", "spare ribs"),
        ("babybacks", "back ribs"),
        ("full packer brisket", "brisket"),
        ("Rinderbrust", "brisket"),
        ("pecho de res", "brisket"),
        ("Schweinenacken", "pork butt"),
        ("Haehnchenfluegel", "chicken wings"),
        ("alitas de pollo", "chicken wings"),
        ("1/2 chicken", "half chicken"),
        ("½ Hähnchen", "half chicken"),
        ("wagyu brisket, 12 lb", "brisket"),
        ("Grandma's brisket", "brisket"),
        ("rib-eye", "steak"),
        ("tender loin of pork", "pork tenderloin"),
        ("turkey burger", "turkey burger"),
        ("pork sausage", "pork sausage"),
        ("Schweinehack", "ground pork"),
        ("stuffed chicken breast", "stuffed chicken breast"),
        ("Lachs", "salmon side"),
        ("Schweinelachs", "pork loin"),
        ("wild hog", "wild boar"),
        ("whole hog", "whole hog"),
    ],
)
def test_a_cut_is_found_by_what_the_trade_calls_it(text: str, name: str) -> None:
    cut = find_cut(text)
    assert cut is not None
    assert cut.name == name


@pytest.mark.parametrize("slip", ["briskit", "bisket", "brikset", "chiken thigs", "tukey breast"])
def test_one_slip_of_the_fingers_is_put_right(slip: str) -> None:
    assert find_cut(slip) is not None


@pytest.mark.parametrize("text", ["broast", "xyz", "", "  ", "17", "jackfruit ribs", "tofu steak"])
def test_what_could_be_two_things_or_nothing_is_not_guessed_at(text: str) -> None:
    meat = meat_of(text)
    assert meat.cut is None
    assert meat.judged_as is JudgedAs.UNKNOWN
    assert meat.question == "What meat is it?"


@pytest.mark.parametrize(
    ("text", "judged"),
    [
        ("ribs", JudgedAs.WHOLE),
        ("chicken", JudgedAs.POULTRY),
        ("wings", JudgedAs.POULTRY),
        ("leg", JudgedAs.POULTRY),
        ("breast", JudgedAs.POULTRY),
        ("leg of lamb", JudgedAs.WHOLE),
        ("breast of veal", JudgedAs.WHOLE),
        ("chicken sausage", JudgedAs.POULTRY),
        ("Putenwurst", JudgedAs.POULTRY),
        ("turkey bacon", JudgedAs.POULTRY),
        ("bacon-wrapped chicken", JudgedAs.POULTRY),
        ("emu brisket", JudgedAs.UNKNOWN),
        ("sausage", JudgedAs.GROUND_UNSAID),
        ("burgers", JudgedAs.GROUND_UNSAID),
        ("beef burgers", JudgedAs.GROUND),
        ("brisket burger", JudgedAs.GROUND),
        ("ground chuck", JudgedAs.GROUND),
        ("cubed steak", JudgedAs.GROUND),
        ("stuffed pork chops", JudgedAs.STUFFED),
        ("boned and rolled lamb shoulder", JudgedAs.NON_INTACT),
        ("tenderized beef steak", JudgedAs.NON_INTACT),
        ("tenderized steak", JudgedAs.UNKNOWN),  # of turkey it would ask more
        ("venison roast", JudgedAs.GAME),
        ("Wildschweinkeule", JudgedAs.GAME),
        ("salmon", JudgedAs.SEAFOOD),
        ("pork", JudgedAs.UNKNOWN),
        ("pork frikadoodle", JudgedAs.UNKNOWN),
    ],
)
def test_a_text_that_could_be_several_is_judged_by_what_asks_most(
    text: str, judged: JudgedAs
) -> None:
    assert meat_of(text).judged_as is judged


@pytest.mark.parametrize(
    ("bird", "form"), list(itertools.product(BIRDS, ["ground", "burger", "sausage", "stuffed"]))
)
def test_a_bird_stays_a_bird_in_every_form_and_language(bird: str, form: str) -> None:
    for word in BIRDS[bird]:
        meat = meat_of(f"{form} {word}")
        assert Animal(bird) in meat.animals
        assert meat.judged_as is JudgedAs.POULTRY


def test_a_group_holds_what_the_trade_puts_under_it() -> None:
    ribs = {cut.name for cut in cuts_under("ribs")}
    assert {"spare ribs", "St. Louis ribs", "back ribs", "beef short ribs", "lamb ribs"} <= ribs
    assert "brisket" not in ribs
    assert {cut.animal for cut in cuts_under("pork ribs")} == {Animal.PORK}
    assert {cut.name for cut in cuts_under("baby backs")} == {"back ribs"}
    assert "chicken wings" in {cut.name for cut in cuts_under("chicken")}
    assert {cut.animal for cut in cuts_under("poultry")} == POULTRY
    assert {"pork butt", "goat shoulder"} <= {cut.name for cut in cuts_under("shoulder")}
    assert {"tri-tip", "rib roast"} <= {cut.name for cut in cuts_under("roasts")}
    assert [cut.name for cut in cuts_under("steak")] == ["steak"]
    assert cuts_under("no such cut") == ()


def test_group_words_are_offered_where_they_tell_some_cuts_from_others() -> None:
    written = ["back ribs", "Spareribs", "brisket", "pork butt", "wings", "turkey legs", "xyz"]
    assert groups_among(written) == ["ribs", "pork", "poultry"]
    assert groups_among(["back ribs", "spare ribs"]) == []  # all of them: nothing to tell


@pytest.mark.parametrize(
    ("written", "asked", "same"),
    [
        ("Chicken Wings", "wings", True),
        ("baby backs", "ribs", True),
        ("ribs", "ribs", True),
        ("back ribs", "beef ribs", False),
        ("brisket", "ribs", False),
        ("brisket flat", "brisket", False),
        ("stuffed pork chops", "pork chops", False),
        ("chicken thighs", "chicken", True),
        ("turkey legs", "poultry", True),
        ("my own thing", "MY OWN THING", True),
        ("my own thing", "your own thing", False),
        ("", "ribs", False),
        ("pork sausage", "sausage", True),
    ],
)
def test_what_is_asked_for_is_found_however_it_was_written(
    written: str, asked: str, same: bool
) -> None:
    assert means(written, asked) is same


@pytest.mark.parametrize("cut", all_cuts(), ids=lambda cut: cut.key)
def test_every_cut_of_the_catalogue_hangs_together(cut: Cut) -> None:
    assert any(meat_of(way).cut == cut for way in written_as(cut)), "found by its own name"
    for span in (cut.thickness, cut.pit, cut.off, cut.time_on()):
        assert 0 < span.low < span.high
    assert 0 <= cut.rest.low < cut.rest.high
    wrap = cut.time_to_wrap(cut.time_on().low)
    assert wrap is None or 0 < wrap.low < wrap.high
    assert cut.word.strip() == cut.word != ""


# USDA FSIS safe minimum internal temperature chart: 145 °F whole meat and fish, 160 °F ground
# meat, 165 °F poultry; FDA Food Code 2017/2022 3-401.11(A)(3): 165 °F stuffed meat and wild game.
LEAST_F = {
    JudgedAs.WHOLE: 145,
    JudgedAs.SEAFOOD: 145,
    JudgedAs.NON_INTACT: 145,  # held for three minutes: Food Code 3-401.11(A)(2)
    JudgedAs.RATITE: 155,  # ditto, for 17 s
    JudgedAs.VARIETY: 160,  # USDA FSIS, with ground meat
    JudgedAs.VARIETY_UNSAID: 165,
    JudgedAs.GROUND: 160,
    JudgedAs.GROUND_UNSAID: 165,
    JudgedAs.STUFFED: 165,
    JudgedAs.GAME: 165,
    JudgedAs.POULTRY: 165,
}


def _off_f(meat: Meat) -> float:
    assert meat.cut is not None
    return meat.cut.off.low * 1.8 + 32


@pytest.mark.parametrize("before", ["", "stuffed", "ground", "sausage of"])
def test_no_cut_is_said_to_come_off_below_the_published_end_point_of_its_meat(before: str) -> None:
    for _, way in WRITTEN:
        meat = meat_of(f"{before} {way}".strip())
        if meat.cut is not None and meat.judged_as in LEAST_F:
            assert _off_f(meat) >= LEAST_F[meat.judged_as] - 1e-9, (before, way)


@pytest.mark.parametrize(
    ("text", "low", "high", "hours"),
    [
        # "How it runs": common practice, no source
        ("back ribs", 190, 205, (3, 6)),
        ("spare ribs", 190, 205, (3, 6)),
        ("brisket", 195, 212, (6, 14)),
        ("chicken thighs", 175, 190, (1, 2.5)),
        ("pork butt", 190, 205, (8, 16)),
    ],
)
def test_the_usual_ranges_are_those_of_the_trade(
    text: str, low: float, high: float, hours: tuple[float, float]
) -> None:
    cut = find_cut(text)
    assert cut is not None
    assert cut.off.low * 1.8 + 32 == pytest.approx(low)
    assert cut.off.high * 1.8 + 32 == pytest.approx(high)
    span = cut.time_on()
    assert (span.low / 3600, span.high / 3600) == pytest.approx(hours)


def test_a_butt_goes_by_its_weight() -> None:
    butt = find_cut("Boston butt")
    assert butt is not None
    span = butt.time_on(453.59237 * 6)
    assert (span.low / 3600, span.high / 3600) == pytest.approx((6, 12))


def test_keys_names_and_forms_are_told_apart() -> None:
    keys = [cut.key for cut in all_cuts()]
    names = [cut.name.casefold() for cut in all_cuts()]
    assert len(set(keys)) == len(keys)
    assert len(set(names)) == len(names)
    assert [form.rank for form in Form] == [0, 1, 2, 3]
    assert stems("3 Ribs, patties & loaves") == ["rib", "patty", "loave"]
    assert stem("grass") == "grass"


def test_that_all_files_of_the_catalogue_are_of_one_version() -> None:
    files = [
        resource_path(f"cuts/{name}.json") for name in ("cuts", "words", "done", "places", "labels")
    ]
    assert len({json.loads(file.read_text("utf-8"))["version"] for file in files}) == 1


@pytest.mark.parametrize(
    "text",
    [
        *("fillet", "cutlets", "neck", "smoked neck", "steak", "roast", "Braten", "shoulder"),
        *("cheeks", "loin", "shank", "chops", "Filet", "Kotelett", "Nacken", "lomo", "chuleta"),
    ],
)
def test_a_part_that_birds_and_game_have_too_is_asked_for_and_judged_most_strictly(
    text: str,
) -> None:
    meat = meat_of(text)
    assert meat.judged_as is JudgedAs.UNKNOWN
    assert meat.question == "Of what animal is it?"


@pytest.mark.parametrize(
    "text", ["brisket", "butt", "ribs", "pork neck", "wagyu steak", "lamb shoulder", "ribeye"]
)
def test_a_word_that_is_only_ever_of_one_animal_needs_no_asking(text: str) -> None:
    assert meat_of(text).judged_as is JudgedAs.WHOLE


@pytest.mark.parametrize(
    "text",
    [
        "pork loin, apple and bread inside",
        "pork loin filled with apple",
        "pork chops with bread stuffing",
        "Schweinefilet, innen Spinat",
        "Schweinelachs, gefüllt mit Brot",
        "lomo de cerdo con espinacas dentro",
        "lomo de cerdo relleno",
    ],
)
def test_what_is_filled_is_stuffed_in_three_languages(text: str) -> None:
    assert meat_of(text).judged_as is JudgedAs.STUFFED


@pytest.mark.parametrize(
    "text",
    [
        "tumbled pork loin",
        "vacuum-tumbled pork loin",
        "pork loin, marinated under pressure",
        "pork loin, vacuum marinated",
        "pumped ham",
        "enhanced pork loin",
        "pork loin, contains a 12 % solution",
        "Schweinelachs, unter Druck mariniert",
        "Schweinelachs, getumbelt",
        "lomo de cerdo marinado al vacío",
        "needled brisket",
        "bladed brisket",
    ],
)
def test_what_carries_the_surface_inside_is_non_intact(text: str) -> None:
    # Food Code 1-201.10: meat that is injected, pumped, vacuum-tumbled or tenderized.
    assert meat_of(text).judged_as is JudgedAs.NON_INTACT


@pytest.mark.parametrize("text", ["inside skirt", "inside round", "brisket, not injected"])
def test_a_cut_that_is_called_inside_is_not_stuffed_and_not_injected_is_not(text: str) -> None:
    assert meat_of(text).judged_as is JudgedAs.WHOLE
