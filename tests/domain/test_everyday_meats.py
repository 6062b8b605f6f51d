"""Everyday words for meat, and the rule each is judged by: never one that asks less.

FDA Food Code 2017/2022 3-401.11(A)(1) to (3), of which (2) names ratites and (3) stuffed ones;
variety meats 160 °F: USDA FSIS, ground meat and meat organs in one line; corned beef as a cured,
mostly pumped cut, as hams and bacon are: from memory. What the words mean: common practice, no source.
"""

import pytest

from pitjournal.domain.cuts import meat_of
from pitjournal.domain.cuts.meat import Animal, JudgedAs


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("corned beef", JudgedAs.NON_INTACT),
        ("Pastrami", JudgedAs.NON_INTACT),
        ("ham", JudgedAs.NON_INTACT),
        ("Gammon", JudgedAs.NON_INTACT),
        ("spiral hams", JudgedAs.NON_INTACT),
        ("jamón", JudgedAs.NON_INTACT),
        ("Schinken", JudgedAs.NON_INTACT),
        ("Eisbein", JudgedAs.NON_INTACT),
        ("Canadian bacon", JudgedAs.NON_INTACT),
        ("fresh ham", JudgedAs.WHOLE),
        ("leg of pork", JudgedAs.WHOLE),
        ("pork belly", JudgedAs.WHOLE),
        ("barbacoa", JudgedAs.UNKNOWN),
        ("barbacoa de res", JudgedAs.UNKNOWN),
        ("crown roast of pork with dressing", JudgedAs.STUFFED),
        ("pork loin, cornbread dressing", JudgedAs.STUFFED),
        ("pork chops with forcemeat", JudgedAs.STUFFED),
        ("pork loin in Italian dressing", JudgedAs.WHOLE),
        ("turkey pastrami", JudgedAs.POULTRY),
        ("beef tongue", JudgedAs.VARIETY),
        ("Rinderherz", JudgedAs.VARIETY),
        ("liver", JudgedAs.VARIETY_UNSAID),
        ("chicken livers", JudgedAs.POULTRY),
        ("fish cakes", JudgedAs.GROUND),
        ("fishcakes", JudgedAs.GROUND),
        ("poulet", JudgedAs.POULTRY),
        ("Gockel", JudgedAs.POULTRY),
        ("Kapaun", JudgedAs.POULTRY),
        ("confit de canard", JudgedAs.POULTRY),
        ("ratite fillet", JudgedAs.RATITE),
        ("ostrich steak", JudgedAs.RATITE),
        ("Straußensteak", JudgedAs.RATITE),
        ("medallón de avestruz", JudgedAs.RATITE),
        ("emu roasts", JudgedAs.RATITE),
        ("ostrich", JudgedAs.UNKNOWN),
        ("ground emu", JudgedAs.GROUND),
        ("stuffed ostrich fillet", JudgedAs.STUFFED),
        ("wild emu steak", JudgedAs.GAME),
        ("chicken-fried steak", JudgedAs.NON_INTACT),
        ("Country fried steaks", JudgedAs.NON_INTACT),
        ("fried chicken", JudgedAs.POULTRY),
        ("chicken fried", JudgedAs.POULTRY),
        ("pork", JudgedAs.UNKNOWN),
        ("veal", JudgedAs.UNKNOWN),
        ("mutton", JudgedAs.UNKNOWN),
    ],
)
def test_everyday_words_are_judged_by_their_rule(text: str, rule: JudgedAs) -> None:
    assert meat_of(text).judged_as is rule


def test_a_chicken_fried_steak_is_of_beef() -> None:
    assert meat_of("chicken-fried steak").animals == {Animal.BEEF}


@pytest.mark.parametrize("text", ["pork", "veal", "mutton"])
def test_an_animal_alone_is_asked_for_its_cut(text: str) -> None:
    assert meat_of(text).question == "Which cut of it is it, or is it ground?"
