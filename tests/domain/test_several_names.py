"""Names in one line, as people write them (common practice, no source)."""

import pytest

from pitjournal.domain.several_names import people_in, things_in


@pytest.mark.parametrize(
    ("typed", "names"),
    [
        ("North, South , East;West", ("North", "South", "East", "West")),
        ("North\nSouth\r\nEast", ("North", "South", "East")),
        ("North and South", ("North", "South")),
        ("North, South, and East", ("North", "South", "East")),
        ("North & South", ("North", "South")),
        ("Andrea; Alexander Sand", ("Andrea", "Alexander Sand")),
        ("Ada,Ada, ,", ("Ada",)),
        ("", ()),
    ],
)
def test_that_people_are_told_apart(typed: str, names: tuple[str, ...]) -> None:
    assert people_in(typed) == names


def test_that_things_keep_their_and() -> None:
    assert things_in("salt and pepper; sugar,  rub one") == ("salt and pepper", "sugar", "rub one")
