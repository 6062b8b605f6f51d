"""What a command had to leave out because it cannot be read."""

from pitjournal.domain.record import one_of
from pitjournal.errors import JournalError
from pitjournal.journal import Journal


def left_out_of(journal: Journal) -> list[JournalError]:
    """Return a line for each record that could not be read so far, with what mends it."""
    return [
        JournalError(
            f"{one_of(kind).capitalize()} ({row_id}) is left out: its {why}.",
            "Mend it with: pitjournal check JOURNAL --repair",
        )
        for (kind, row_id), why in sorted(journal.database.missed.items())
    ]
