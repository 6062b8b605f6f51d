"""The way back and forth: each operation with the rows it touched."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update
from sqlalchemy.sql import Select

from pitjournal.domain.record import Record
from pitjournal.store.rows import image_of, record_of_image
from pitjournal.store.schema import KINDS, operation, row_image
from pitjournal.store.sqlite import Plain
from pitjournal.store.transaction import Touched, Transaction


@dataclass(frozen=True)
class Step:
    """An operation that can be undone or redone."""

    seq: int
    label: str
    at: datetime
    merge_key: str


def next_undo(connection: Connection) -> Step | None:
    """Return the newest operation that stands."""
    query = select(operation).where(operation.c.undone == 0)
    return _step(connection, query.order_by(operation.c.seq.desc()))


def next_redo(connection: Connection) -> Step | None:
    """Return the oldest operation that was undone."""
    query = select(operation).where(operation.c.undone == 1)
    return _step(connection, query.order_by(operation.c.seq))


def _step(connection: Connection, query: Select[Any]) -> Step | None:
    row = connection.execute(query.limit(1)).first()
    return None if row is None else Step(row.seq, row.label, row.at, row.merge_key)


_INSERT_STEP = Plain(insert(operation), "label", "at", "merge_key", "undone")
_INSERT_IMAGE = Plain(insert(row_image), "seq", "kind", "row_id", "before", "after")


def write(
    connection: Connection,
    label: str,
    touched: list[Touched],
    *,
    merge_key: str,
    within: float,
    undone: bool = True,
) -> None:
    """Keep an operation; what had been undone can no longer be redone.

    `undone` False says that nothing is, which saves a look.

    An operation with the same, non-empty `merge_key` as the last one joins it when that is
    at most `within` seconds old: typing is one step.
    """
    now = datetime.now(UTC)
    if undone:
        connection.execute(delete(row_image).where(row_image.c.seq.in_(_undone())))
        connection.execute(delete(operation).where(operation.c.undone == 1))
    last = next_undo(connection) if merge_key else None
    joins = (
        last is not None
        and last.merge_key == merge_key
        and (now - last.at).total_seconds() <= within
    )
    if joins and last is not None:
        seq = last.seq
        connection.execute(
            update(operation).where(operation.c.seq == seq).values(at=now, label=label)
        )
    else:
        values = {"label": label, "at": now, "merge_key": merge_key, "undone": 0}
        seq = _INSERT_STEP.run(connection, [values])
    images = [
        {
            "seq": seq,
            "kind": touch.kind,
            "row_id": touch.row_id,
            "before": None if touch.before is None else image_of(touch.before),
            "after": None if touch.after is None else image_of(touch.after),
        }
        for touch in touched
    ]
    _INSERT_IMAGE.run(connection, images)


def _undone() -> Select[Any]:
    return select(operation.c.seq).where(operation.c.undone == 1)


def undo(connection: Connection, step: Step) -> list[Touched]:
    """Put every row of the step back as it was; return what that touched."""
    return _walk(connection, step, back=True)


def redo(connection: Connection, step: Step) -> list[Touched]:
    """Make every row of the step again what it became; return what that touched."""
    return _walk(connection, step, back=False)


def _walk(connection: Connection, step: Step, *, back: bool) -> list[Touched]:
    order = row_image.c.id.desc() if back else row_image.c.id
    query = select(row_image).where(row_image.c.seq == step.seq).order_by(order)
    transaction = Transaction(connection)
    for row in connection.execute(query).all():
        kind = KINDS[row.kind]
        image = row.before if back else row.after
        wanted: Record | None = None if image is None else record_of_image(kind, image)
        transaction.restore(kind, row.row_id, wanted)
    mark = update(operation).where(operation.c.seq == step.seq).values(undone=int(back))
    connection.execute(mark)
    top = next_undo(connection)
    if top is not None:  # typing after a walk is a step of its own
        connection.execute(update(operation).where(operation.c.seq == top.seq).values(merge_key=""))
    return transaction.touched
