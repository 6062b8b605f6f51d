"""A choice kept with the journal: made, changed, taken back to what it is by itself."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from pitjournal.domain.shelf import Setting
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.bench import Choose


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    opened = open_journal(tmp_path / "cooks", new=True)
    yield opened
    opened.close()


def test_that_a_choice_is_added_changed_and_taken_away(journal: Journal) -> None:
    assert journal.setting("targets", "as shipped") == "as shipped"
    journal.do(Choose("targets", "mine", "Choose targets"))
    journal.do(Choose("other", "its own", "Choose something else"))
    assert journal.setting("targets") == "mine"
    journal.do(Choose("targets", "another", "Choose targets"))
    assert [s.value for s in journal.find(Setting, id="targets")] == ["another"]
    journal.do(Choose("targets", "", "Forget the targets"))
    assert journal.find(Setting, id="targets") == []
    assert journal.setting("other") == "its own"
    journal.do(Choose("targets", "", "Forget them again"))  # nothing to take away
    journal.undo()
    assert journal.setting("targets") == "another"
