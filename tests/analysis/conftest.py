from collections.abc import Iterator
from pathlib import Path

import pytest

from pitjournal.journal import Journal, open_journal


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    opened = open_journal(tmp_path / "journal", new=True)
    yield opened
    opened.close()
