"""Opening the list of cooks must not grow with the journal."""

from contextlib import closing

from pitjournal.journal import Journal, open_journal
from pitjournal.ui.cooks.model import FIRST
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, alternately, rounds

LIMIT = 1.5
ROUNDS = rounds(60)


def first_page(journal: Journal) -> None:
    """Do what the list does when it opens."""
    journal.cooks.count()
    journal.cooks.page("", 0, FIRST)


def run() -> Measurement:
    """Measure 10,000 cooks against 100."""
    with (
        closing(open_journal(large_journal(10_000), read_only=True)) as large,
        closing(open_journal(large_journal(100), read_only=True)) as small,
    ):
        first_page(large)
        first_page(small)
        ours, peer = alternately(lambda: first_page(large), lambda: first_page(small), ROUNDS)
    return Measurement("list-open", ours, peer, LIMIT)
