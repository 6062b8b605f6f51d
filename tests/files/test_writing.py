"""Files are named after their cook, in a way that every system takes."""

import pytest

from pitjournal.files.writing import named_after


@pytest.mark.parametrize(
    ("title", "ending", "name"),
    [
        ("Three ways with nine racks", "tasting sheets.pdf", "Three ways with nine racks - tasting sheets.pdf"),
        ("Hot & fast: which?", "day.pdf", "Hot fast which - day.pdf"),
        ("", "chart.png", "cook - chart.png"),
        ("..", ".pdf", "cook.pdf"),
        ("yield by wrap", ".csv", "yield by wrap.csv"),
        ("Hähnchen, zweimal", ".pdf", "Hähnchen zweimal.pdf"),
    ],
)  # fmt: skip
def test_that_a_file_carries_the_cooks_name(title: str, ending: str, name: str) -> None:
    # Signs that a file system may refuse: / and NUL by POSIX; < > : " \ | ? * elsewhere.
    assert named_after(title, ending) == name


def test_that_a_long_title_is_cut() -> None:
    assert len(named_after("ribs " * 100, "day.pdf")) < 100
