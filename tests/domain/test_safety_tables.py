"""Source: USDA FSIS-GD-2021-14 Tables 2, 3, 4 and 6; FDA Food Code 2017/2022; 9 CFR 424."""

import re

import numpy as np
import pytest

from pitjournal.domain.safety_tables import meat_lethality, poultry_lethality, safety_rules
from tests.science.reference import column, rows


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(
    ("log", "name"), [(5, "t_5log_s_table6"), (6.5, "t_6p5log_s"), (7, "t_7log_s")]
)
def test_that_the_meat_table_is_the_printed_one(log: float, name: str) -> None:
    table = meat_lethality(log)
    assert list(table.seconds) == column("fsis_appendix_a_meat_lethality", name)
    assert table.temperatures == pytest.approx(
        np.array(column("fsis_appendix_a_meat_lethality", "temp_C_exact")), abs=1e-9
    )
    assert np.all(np.diff(table.temperatures) > 0)
    assert "FSIS-GD-2021-14" in table.source


@pytest.mark.parametrize("species", ["chicken", "turkey"])
@pytest.mark.parametrize("fat", range(1, 13))
def test_that_the_poultry_table_is_the_printed_one(species: str, fat: int) -> None:
    table = poultry_lethality(species, fat / 100)
    printed = [
        float(r[f"t_7log_s_fat{fat}pct"])
        for r in rows("fsis_appendix_a_poultry_lethality")
        if r["species"] == species
    ]
    assert list(table.seconds) == printed


def test_that_unknown_fat_and_unknown_bird_take_the_longer_time() -> None:
    unknown = poultry_lethality()
    for species in ("chicken", "turkey"):
        assert np.all(unknown.seconds >= poultry_lethality(species, 0.12).seconds)
    assert list(poultry_lethality("turkey", 0.4).seconds) == list(
        poultry_lethality("turkey", None).seconds
    )
    assert list(poultry_lethality("turkey", 0.051).seconds) == list(
        poultry_lethality("turkey", 0.06).seconds
    )
    assert list(poultry_lethality("turkey", 0.0).seconds) == list(
        poultry_lethality("turkey", 0.01).seconds
    )


def test_that_there_is_no_table_for_what_was_not_published() -> None:
    with pytest.raises(ValueError, match="3-log"):
        meat_lethality(3)
    with pytest.raises(ValueError, match="duck"):
        poultry_lethality("duck")


def test_that_the_usual_rules_carry_their_numbers_and_citations() -> None:
    rules = safety_rules()
    assert (rules["fc-hold-hot"].value, rules["fc-hold-hot"].unit) == (135, "F")
    assert rules["fc-hold-hot"].citation == "FDA Food Code 2017/2022 3-501.16(A)(1)"
    nonintact = rules["fc-cook-nonintact"]
    assert (nonintact.value, nonintact.second_value, nonintact.second_unit) == (155, 17, "s")
    assert (rules["fc-cool-1"].value, rules["fc-cool-2"].value) == (2, 6)
    assert (rules["fc-reheat"].value, rules["fc-reheat"].second_value) == (165, 15)
    assert rules["cfr-phosphate"].value == 0.5
    assert rules["fsis-mtb-label"].value is None
    assert all(rule.citation and rule.grade for rule in rules.values())


DOCUMENTS = (
    r"FDA Food Code 2017/2022 3-[345]\d\d\.\d\d",
    r"9 CFR (317\.2|424\.2[12])",
    r"21 CFR 172\.170",
    r"80 FR 28153 \(18 May 2015\)",
    r"FSIS-GD-2021-14|FSIS Cooking Guideline 2021 Table 1",
    r"USDA FSIS Directive 7620\.3",
    r"USDA FSIS Safe Minimum Internal Temperature Chart",
    r"USDA FSIS press release of 30 May 2016",
)
"""A document, with its edition or its day: more than who is said to have said so."""


def test_that_every_rule_says_who_says_so_where_and_where_it_was_read() -> None:
    for rule in safety_rules().values():
        assert rule.read, rule.key
        assert rule.grade in {"published", "common practice"}, rule.key
        if rule.grade == "published":
            assert any(re.search(one, rule.citation) for one in DOCUMENTS), rule.citation


def test_that_what_is_only_the_trades_is_not_called_published() -> None:
    common = {key for key, rule in safety_rules().items() if rule.grade == "common practice"}
    assert common == {"cure1", "cure2"}
