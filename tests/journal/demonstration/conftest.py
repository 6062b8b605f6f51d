from collections.abc import Iterator

import pytest

from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal
from pitjournal.journal.demonstration import make_demonstration


@pytest.fixture(scope="session")
def demonstration(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Journal]:
    """The demonstration journal, made once and only read."""
    journal = make_demonstration(tmp_path_factory.mktemp("demonstration") / "journal")
    yield journal
    journal.close()


@pytest.fixture(scope="session")
def cooks(demonstration: Journal) -> list[WholeCook]:
    """Every cook of it, oldest first."""
    ids = [line.id for line in demonstration.cooks.page(most=1000)]
    return sorted(demonstration.wholes(ids).values(), key=lambda whole: whole.cook.number)
