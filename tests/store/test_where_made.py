"""A journal is made where there is nothing yet, and nowhere else."""

from contextlib import closing
from pathlib import Path

from pitjournal.journal import open_journal
from pitjournal.store.opening import may_be_made_in


def test_that_a_journal_may_be_made_where_nothing_is(tmp_path: Path) -> None:
    assert may_be_made_in(tmp_path / "not" / "there" / "yet")
    assert may_be_made_in(tmp_path)
    (tmp_path / "letters.txt").write_text("dear pit", encoding="utf-8")
    assert not may_be_made_in(tmp_path)
    assert not may_be_made_in(tmp_path / "letters.txt")


def test_that_a_folder_that_is_not_there_yet_is_made_with_those_above_it(tmp_path: Path) -> None:
    folder = tmp_path / "not" / "there" / "yet"
    with closing(open_journal(folder, new=may_be_made_in(folder))) as journal:
        assert journal.cooks.count() == 0
    assert (folder / "journal.sqlite").stat().st_size > 0
