"""Arms are told apart by their words, not by case, blanks and hyphens (common practice, no source)."""

from dataclasses import replace

import pytest

from pitjournal.domain.arm_names import arm_key, called_alike, called_alike_sentence
from tests.analysis.makers import compared


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Needled", "Needled "),
        ("Needled", "needled"),
        ("Dry-brined", "dry brined"),
        ("Dry-brined", "Drybrined"),
        ("Arm 1", "arm-1"),
        ("2 % salt", "2  % salt"),
    ],
)
def test_case_blanks_and_hyphens_tell_no_arms_apart(one: str, other: str) -> None:
    assert arm_key(one) == arm_key(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [("Rest 1-2 h", "Rest 12 h"), ("Arm 1", "Arm 2"), ("1.5 % salt", "15 % salt"), ("A", "B")],
)
def test_figures_and_other_words_do(one: str, other: str) -> None:
    assert arm_key(one) != arm_key(other)


def test_arms_of_nearly_one_name_are_asked_about() -> None:
    whole = compared(("Left alone", "Needled", "needled "), ((5.0,), (6.0,), (7.0,)))
    assert called_alike(whole.arms) == (("Needled", "needled "),)
    assert called_alike_sentence(whole.arms).startswith(
        "Two arms are called nearly the same: “Needled” and “needled ”. Are they one?"
    )
    apart = replace(whole, arms=whole.arms[:2])
    assert called_alike_sentence(apart.arms) == ""
