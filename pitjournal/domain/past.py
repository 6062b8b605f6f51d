"""What became of a record, step by step, as the history keeps it."""

from dataclasses import dataclass

from pitjournal.domain.record import Record


@dataclass(frozen=True)
class RowStep:
    """One step of one record; None is "no such record".

    `seq` orders the steps of a journal. `stands` is false where the step is kept only so that it
    is known: a lock or a reveal that was undone.
    """

    seq: int
    kind: str
    row_id: str
    before: Record | None
    after: Record | None
    stands: bool = True
