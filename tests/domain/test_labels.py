"""What a label says was added to meat makes it non-intact; a bath, a pan and chilling do not.

9 CFR 317.2(e)(2): raw meat with added solution says so with its share, by "contains" or
"containing" ("contains 15% added solution of water and salt"). 9 CFR 441.10: retained water is
what was taken up in washing and chilling. Other wordings and languages: common practice, no source.
"""

from dataclasses import replace

import pytest

from pitjournal.domain.cuts.done import named_by_blade
from pitjournal.domain.cuts.labels import solution_in
from pitjournal.domain.cuts.meat import JudgedAs
from pitjournal.domain.judged import judged
from tests.analysis.test_all_through import a_piece

LABELS = (
    *("contains up to 12 % solution", "Contains up to 12% of a solution of water, salt"),
    *("containing 15% added solution of water and salt", "enhanced with up to 8 percent solution"),
    *(
        "12% solution",
        "solution: 12 %",
        "solution added",
        "added solution",
        "contains a solution of salt",
    ),
    *("contains up to 10 % water, salt", "contains not more than 12 % solution"),
    *("with up to 8% chicken broth", "contains 1.5% solution", "LABEL: 12% SOLUTION"),
    *("enthält bis zu 12 % Lösung", "mit 12 % Würzlake", "mit 10 % zugesetztem Wasser"),
    *("mit 12 % Flüssigwürzung", "con solución al 12 %"),
    *("contiene hasta 12 % de solución", "con hasta 10 % de agua añadida"),
)
NO_LABELS = (
    *("may contain up to 6 % retained water", "contains up to 4% absorbed water"),
    *("no solution added", "contains no added solution", "0 % solution", "no added water"),
    *("ohne Zusatz von Wasser", "sin agua añadida", "soaked in a 6 % salt solution overnight"),
    *("brined in a 5 % solution", "in 6 % Salzlösung eingelegt", "en salmuera al 6 %"),
    *("sprayed with 50 % vinegar solution", "added water to the pan", "5 % brine in the cooler"),
    *("the solution: added foil", "dry-brined with 1.5 % salt", "10 % brine"),
)


@pytest.mark.parametrize("words", LABELS)
def test_a_label_that_says_a_solution_was_added_makes_meat_non_intact(words: str) -> None:
    whole = a_piece("pork chops")
    piece = whole.pieces[0]
    named = (
        replace(whole, pieces=(replace(piece, note=words),)),
        replace(whole, pieces=(replace(piece, supplier=f"corner shop, {words}"),)),
        replace(whole, cook=replace(whole.cook, title=words)),
        replace(whole, cook=replace(whole.cook, note=f"Bought Friday. {words}")),
    )
    for one in named:
        found = judged(one, one.pieces[0])
        assert found.rule is JudgedAs.NON_INTACT
        assert found.why, "what made it so is said"


def test_water_added_is_a_label_on_a_piece_and_the_pans_water_in_a_log() -> None:
    # 9 CFR 319.104: "ham, water added".
    whole = a_piece("pork chops")
    bought = replace(whole, pieces=(replace(whole.pieces[0], note="water added"),))
    assert judged(bought, bought.pieces[0]).rule is JudgedAs.NON_INTACT
    for words in ("water added", "water added to the pan", "more water added at noon"):
        logged = replace(whole, cook=replace(whole.cook, note=words))
        assert judged(logged, logged.pieces[0]).rule is JudgedAs.WHOLE, words


@pytest.mark.parametrize("words", NO_LABELS)
def test_a_bath_a_pan_and_chilling_are_no_added_solution(words: str) -> None:
    assert solution_in(words) == ""
    whole = a_piece("pork chops")
    noted = replace(whole, pieces=(replace(whole.pieces[0], note=words),))
    assert judged(noted, noted.pieces[0]).rule is JudgedAs.WHOLE


@pytest.mark.parametrize(
    "name", ["blade", "Blade", "MT", "M.T.", "mech tend", "Mech. tend.", "Blade x2", "MT 48"]
)
def test_an_arm_whose_whole_name_is_a_blade_is_mechanically_tenderised(name: str) -> None:
    # FDA Food Code 2017/2022 1-201.10(B): "mechanically tenderized".
    whole = a_piece("brisket")
    arm = replace(whole, arms=(replace(whole.arms[0], name=name),))
    assert judged(arm, arm.pieces[0]).rule is JudgedAs.NON_INTACT


@pytest.mark.parametrize(
    "name", ["blade roast", "Blade steak", "tender", "no blade", "fork tender"]
)
def test_a_cut_and_a_feel_are_no_blade(name: str) -> None:
    assert not named_by_blade(name)


def test_an_arm_called_by_the_cut_of_its_pieces_is_not_tenderised() -> None:
    whole = a_piece("beef blade roast")
    arm = replace(whole, arms=(replace(whole.arms[0], name="Blade"),))
    assert judged(arm, arm.pieces[0]).rule is JudgedAs.WHOLE
