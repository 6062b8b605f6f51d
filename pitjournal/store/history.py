"""The way back and forth: each operation with the rows it touched."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, TypeVar

from sqlalchemy import Connection, delete, insert, select, update
from sqlalchemy.sql import Select

from pitjournal.domain.past import RowStep
from pitjournal.domain.record import Record
from pitjournal.domain.tasting import Tasting, TastingState
from pitjournal.errors import JournalError
from pitjournal.store.columns import moment_text
from pitjournal.store.rows import image_of, record_of_image
from pitjournal.store.schema import KINDS, operation, row_image
from pitjournal.store.sqlite import Plain
from pitjournal.store.transaction import Touched, Transaction

KEPT = 2
"""Where others say that they stand (0) or are undone (1): kept to be known, never walked.

What is undone goes with the next change; that codes were seen must not go with it.
"""


R = TypeVar("R", bound=Record)


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
    if row is None:
        return None
    at = row.at if isinstance(row.at, datetime) else _LONG_AGO
    return Step(row.seq, row.label, at, row.merge_key)


def newest(connection: Connection) -> tuple[int, str] | None:
    """Return the number of the newest step, also one that was undone, and when it was taken."""
    query = "SELECT seq, at FROM operation ORDER BY seq DESC LIMIT 1"
    row = connection.exec_driver_sql(query).first()
    return None if row is None else (row[0], row[1])


def standing(connection: Connection) -> tuple[int, str] | None:
    """Return the number of the newest step that is not undone, and when it was taken."""
    query = "SELECT seq, at FROM operation WHERE undone = 0 ORDER BY seq DESC LIMIT 1"
    row = connection.exec_driver_sql(query).first()
    return None if row is None else (row[0], row[1])


_LONG_AGO = datetime(1970, 1, 1, tzinfo=UTC)
"""For a step whose time cannot be read: nothing joins it."""


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
) -> tuple[int, str]:
    """Keep an operation; what had been undone can no longer be redone.

    Returns its number, and when it was taken as it is kept.

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
    _keep_images(connection, seq, touched)
    return seq, moment_text(now)


def _keep_images(connection: Connection, seq: int, touched: Iterable[Touched]) -> None:
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
    """Put every row of the step back as it was; return what that touched.

    A lock or a reveal that is undone is kept as such, with the cook it belongs to.
    """
    touched = _walk(connection, step, back=True)
    opened = [touch for touch in touched if _opens(touch.before, touch.after)]
    if opened:
        cooks = {touch.before.cook_id for touch in opened if isinstance(touch.before, Tasting)}
        here = [
            Touched("cook", found.id, found, found)
            for cook_id in sorted(cooks)
            for found in Transaction(connection).find(KINDS["cook"], id=cook_id)
        ]
        values = {"label": step.label, "at": datetime.now(UTC), "merge_key": "", "undone": KEPT}
        _keep_images(connection, _INSERT_STEP.run(connection, [values]), [*opened, *here])
    return touched


def _opens(before: Record | None, after: Record | None) -> bool:
    """Whether a tasting is less closed, or less seen, than it was."""
    if not isinstance(before, Tasting) or before.state is TastingState.OPEN:
        return False
    return not isinstance(after, Tasting) or after.state is not before.state


def reveals(connection: Connection, step: Step) -> bool:
    """Whether a step is one in which codes were shown."""
    query = select(row_image).where(row_image.c.seq == step.seq, row_image.c.kind == Tasting.KIND)
    images = [
        [image and _read(Tasting, image) for image in (row.before, row.after)]
        for row in connection.execute(query).all()
    ]
    return any(
        after is not None and after.revealed and not (before is not None and before.revealed)
        for before, after in images
    )


def rows_of(connection: Connection, step: Step) -> list[Touched]:
    """Return the rows of a step as they were and became; an image that is damaged is left out."""
    query = select(row_image).where(row_image.c.seq == step.seq).order_by(row_image.c.id)
    found = (_row_step_of(row) for row in connection.execute(query).all())
    return [Touched(kind, row_id, before, after) for kind, row_id, before, after in found]


def _row_step_of(row: Any) -> tuple[str, str, Record | None, Record | None]:  # noqa: ANN401 - a row of a query
    return row.kind, row.row_id, _if_whole(row.kind, row.before), _if_whole(row.kind, row.after)


def steps_after_reveal(
    connection: Connection, cook_id: str, tastings: Iterable[str], others: Iterable[str]
) -> list[RowStep]:
    """Return the steps of a cook's tastings, and those of its records after a reveal.

    With a tasting come the samples that were drawn with it, also of pieces that are gone. Where
    no codes were seen there is nothing. An image that is damaged is left out.

    Parameters
    ----------
    cook_id, tastings
        The cook, and its tastings.
    others
        Records of the cook that a reveal should have settled.
    """
    own = row_image.c.row_id.in_(sorted(tastings))
    kept = (row_image.c.row_id == cook_id) & (operation.c.undone == KEPT)
    rows = {row.id: row for row in connection.execute(_images().where(own | kept)).all()}
    whole = {row.seq for row in rows.values() if row.undone == KEPT}
    whole |= {r.seq for r in rows.values() if r.kind == Tasting.KIND and r.before is None}
    drawn = _images().where(
        row_image.c.seq.in_(sorted(whole)), row_image.c.kind.in_((Tasting.KIND, "sample"))
    )
    rows |= {row.id: row for row in connection.execute(drawn).all()}
    found = {row.id: _row_step(row) for row in rows.values()}
    first = min((step.seq for step in found.values() if _shows(step)), default=None)
    if first is None:
        return []
    ids = [cook_id, *others]
    later = _images().where(row_image.c.row_id.in_(ids), row_image.c.seq > first)
    found |= {row.id: _row_step(row) for row in connection.execute(later).all()}
    return [found[key] for key in sorted(found, key=lambda key: (found[key].seq, key))]


def past_of(connection: Connection, row_id: str) -> list[tuple[datetime, Record]]:
    """Return what a record became, and when, oldest first; what was undone is left out."""
    joined = row_image.join(operation, operation.c.seq == row_image.c.seq)
    query = (
        select(row_image.c.kind, row_image.c.after, operation.c.at)
        .select_from(joined)
        .where(row_image.c.row_id == row_id, operation.c.undone == 0)
        .order_by(row_image.c.id)
    )
    found = (
        (row.at or _LONG_AGO, _if_whole(row.kind, row.after)) for row in connection.execute(query)
    )
    return [(at, record) for at, record in found if record is not None]


def _shows(step: RowStep) -> bool:
    records = step.before, step.after
    return any(isinstance(record, Tasting) and record.revealed for record in records)


def _row_step(row: Any) -> RowStep:  # noqa: ANN401 - a row of a query
    before, after = (_if_whole(row.kind, image) for image in (row.before, row.after))
    return RowStep(row.seq, row.kind, row.row_id, before, after, row.undone != KEPT)


def _if_whole(kind: str, image: str | None) -> Record | None:
    try:
        return None if image is None else _read(_kind_of(kind), image)
    except JournalError:
        return None


def _images() -> Select[Any]:
    """Return the query for images of what stands, and of what is kept."""
    joined = row_image.join(operation, operation.c.seq == row_image.c.seq)
    return select(row_image, operation.c.undone).select_from(joined).where(operation.c.undone != 1)


def redo(connection: Connection, step: Step) -> list[Touched]:
    """Make every row of the step again what it became; return what that touched."""
    return _walk(connection, step, back=False)


def _read(kind: type[R], image: str) -> R:
    try:
        return record_of_image(kind, image)
    except (ValueError, TypeError, KeyError) as error:
        message = "That step cannot be taken: what it is to bring back is damaged."
        raise JournalError(message, "A backup may have it.") from error


def _kind_of(name: object) -> type[Record]:
    try:
        return KINDS[str(name)]
    except KeyError as error:
        message = "That step cannot be taken: it is damaged."
        raise JournalError(message, "Mend it with: pitjournal check JOURNAL --repair") from error


def _walk(connection: Connection, step: Step, *, back: bool) -> list[Touched]:
    order = row_image.c.id.desc() if back else row_image.c.id
    query = select(row_image).where(row_image.c.seq == step.seq).order_by(order)
    transaction = Transaction(connection)
    for row in connection.execute(query).all():
        kind = _kind_of(row.kind)
        image = row.before if back else row.after
        wanted = None if image is None else _read(kind, image)
        transaction.restore(kind, row.row_id, wanted)
    mark = update(operation).where(operation.c.seq == step.seq).values(undone=int(back))
    connection.execute(mark)
    top = next_undo(connection)
    if top is not None:  # typing after a walk is a step of its own
        connection.execute(update(operation).where(operation.c.seq == top.seq).values(merge_key=""))
    return transaction.touched
