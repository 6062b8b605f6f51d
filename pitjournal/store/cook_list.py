"""The list of cooks, a page at a time, with what a line shows."""

from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import ColumnElement, and_, exists, func, or_, select
from sqlalchemy.sql import Select

from pitjournal.domain.cook import CookKind, CookStatus
from pitjournal.store.database import Database
from pitjournal.store.schema import TABLES

COOK, ARM, PIECE, SHELF = (TABLES[kind] for kind in ("cook", "arm", "piece", "shelf_item"))
NOTE = TABLES["note"]


@dataclass(frozen=True)
class CookLine:
    """A cook as one line of the list. `arms` has the names, control first."""

    id: str
    number: int
    title: str
    question: str
    starts_at: datetime
    zone: str
    kind: CookKind
    status: CookStatus
    cooker: str | None
    outcome: str | None
    cuts: tuple[str, ...] = ()
    arms: tuple[str, ...] = ()
    has_control: bool = False
    pieces: int = 0


def _wanted(words: str) -> ColumnElement[bool]:
    """Every word is somewhere: in the title, the question, the note, a cut or a note."""
    tests = []
    for word in words.split():
        like = f"%{word}%"
        piece = exists().where(and_(PIECE.c.cook_id == COOK.c.id, PIECE.c.cut.ilike(like)))
        note = exists().where(and_(NOTE.c.cook_id == COOK.c.id, NOTE.c.text.ilike(like)))
        fields = (COOK.c.title, COOK.c.question, COOK.c.note)
        tests.append(or_(*(field.ilike(like) for field in fields), piece, note))
    return and_(True, *tests)


def count(database: Database, words: str = "") -> int:
    """Return how many cooks there are, or have all these words."""
    query = select(func.count()).select_from(COOK)
    if words.strip():
        query = query.where(_wanted(words))
    return int(database.rows(query)[0][0])


def page(database: Database, *, words: str = "", start: int = 0, most: int = 100) -> list[CookLine]:
    """Return one page of the list, newest first."""
    query = (
        select(COOK, SHELF.c.name.label("cooker"))
        .outerjoin(SHELF, SHELF.c.id == COOK.c.cooker_id)
        .order_by(COOK.c.starts_at.desc(), COOK.c.number.desc())
        .offset(start)
        .limit(most)
    )
    if words.strip():
        query = query.where(_wanted(words))
    return _lines(database, query)


def lines(database: Database, cook_ids: list[str]) -> list[CookLine]:
    """Return the lines of these cooks, newest first."""
    query = (
        select(COOK, SHELF.c.name.label("cooker"))
        .outerjoin(SHELF, SHELF.c.id == COOK.c.cooker_id)
        .where(COOK.c.id.in_(cook_ids))
        .order_by(COOK.c.starts_at.desc(), COOK.c.number.desc())
    )
    return _lines(database, query)


def _lines(database: Database, query: Select[tuple[object, ...]]) -> list[CookLine]:
    found = {
        row.id: CookLine(
            id=row.id,
            number=row.number,
            title=row.title,
            question=row.question,
            starts_at=row.starts_at,
            zone=row.zone,
            kind=CookKind(row.kind),
            status=CookStatus(row.status),
            cooker=row.cooker,
            outcome=row.outcome,
        )
        for row in database.rows(query)
    }
    ids = list(found)
    arms = (
        select(ARM.c.cook_id, ARM.c.name, ARM.c.control)
        .where(ARM.c.cook_id.in_(ids))
        .order_by(ARM.c.control.desc(), ARM.c.position)
    )
    for row in database.rows(arms):
        line = found[row.cook_id]
        found[row.cook_id] = replace(
            line, arms=(*line.arms, row.name), has_control=line.has_control or row.control
        )
    pieces = (
        select(PIECE.c.cook_id, PIECE.c.cut, func.count().label("pieces"))
        .where(PIECE.c.cook_id.in_(ids))
        .group_by(PIECE.c.cook_id, PIECE.c.cut)
        .order_by(func.count().desc(), PIECE.c.cut)
    )
    for row in database.rows(pieces):
        line = found[row.cook_id]
        found[row.cook_id] = replace(
            line, cuts=(*line.cuts, row.cut), pieces=line.pieces + row.pieces
        )
    return list(found.values())


def find(database: Database, words: str) -> list[CookLine]:
    """Return the cooks that these words name: an id, a number, or a part of the title."""
    wanted = words.strip()
    test = or_(COOK.c.id == wanted, COOK.c.title.ilike(f"%{wanted}%"))
    if wanted.isdecimal():
        test = or_(COOK.c.id == wanted, COOK.c.number == int(wanted))
    ids = [row.id for row in database.rows(select(COOK.c.id).where(test))]
    return lines(database, ids)


def distinct(database: Database, kind: str, field: str) -> list[str]:
    """Return the different texts of a field, most used first, for type-ahead."""
    column = TABLES[kind].c[field]
    query = (
        select(column)
        .where(column.is_not(None), column != "")
        .group_by(column)
        .order_by(func.count().desc(), column)
        .limit(200)
    )
    return [row[0] for row in database.rows(query)]
