"""Files are named after their cook, in a way that every system takes."""

from pathlib import Path

import pytest

from pitjournal.errors import JournalError
from pitjournal.files.writing import named_after, write_bytes


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


def test_that_a_file_is_there_whole_or_as_it_was(tmp_path: Path) -> None:
    target = tmp_path / "cook.csv"
    write_bytes(target, b"a\r\nb")
    assert target.read_bytes() == b"a\r\nb"
    beside = tmp_path / "cook.csv.part"  # a cook's own file
    beside.write_text("mine", encoding="utf-8")
    with pytest.MonkeyPatch.context() as full:

        def refuse(*_: object) -> None:
            raise OSError(28, "No space left on device")

        full.setattr("os.fsync", refuse)
        with pytest.raises(JournalError, match="cannot be written"):
            write_bytes(target, b"c")
    assert target.read_bytes() == b"a\r\nb"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["cook.csv", "cook.csv.part"]
    write_bytes(target, b"c")
    assert target.read_bytes() == b"c"
    assert beside.read_text(encoding="utf-8") == "mine"
