"""The list of cooks, a page at a time, with what a line shows."""

from dataclasses import dataclass
from datetime import datetime
from operator import attrgetter
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    Integer,
    Row,
    func,
    literal_column,
    or_,
    select,
    text,
)
from sqlalchemy.sql import Select

from pitjournal.domain.cook import Cook, CookKind, CookStatus
from pitjournal.domain.tasting import Tasting
from pitjournal.domain.times.moments import is_zone
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.store import text_search
from pitjournal.store.database import Database
from pitjournal.store.faults import DamagedError
from pitjournal.store.rows import odd_cook, odd_own, records_of
from pitjournal.store.schema import TABLES

COOK, ARM, PIECE, SHELF, TASTING = (
    TABLES[kind] for kind in ("cook", "arm", "piece", "shelf_item", "tasting")
)


_SHOWN = (
    *(COOK.c[name] for name in ("id", "number", "title", "question", "starts_at", "zone")),
    *(COOK.c[name] for name in ("kind", "status", "outcome")),
    SHELF.c.name.label("cooker"),
)


_ROW: ColumnElement[int] = literal_column("cook.rowid", Integer).label("row")
_PLAIN_TIME = "[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9].[0-9]*Z"
_MAY_BE_ODD = (
    f"starts_at NOT GLOB '{_PLAIN_TIME}' OR datetime(starts_at) IS NULL",
    "starts_at < '0002' OR starts_at >= '9999'",
    *(
        f"typeof(cook.{name}) <> 'text'"
        for name in ("id", "title", "question", "starts_at", "zone")
    ),
    "typeof(cook.number) <> 'integer' OR cook.number NOT BETWEEN -9007199254740992 AND 9007199254740992",
    "outcome IS NOT NULL AND typeof(outcome) <> 'text'",
    *(
        f"typeof(cook.{name}) <> 'text' OR cook.{name} NOT IN ({', '.join(map(repr, map(str, words)))})"
        for name, words in (("kind", CookKind), ("status", CookStatus))
    ),
)
"""In SQL, where a cook's line may hold what cannot be shown: some are sound, all others are."""


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


def count(database: Database, words: str = "") -> int:
    """Return how many cooks there are, or have all these words."""
    match, odd = text_search.matched(words), left_out(database)
    if match and odd:
        return len(cooks_having(database, words))
    query = text_search.count(match) if match else select(func.count()).select_from(COOK)
    return int(database.values(query)[0]) - len(odd)


def left_out(database: Database) -> frozenset[int]:
    """Return the rows of the cooks that cannot be shown; each is noted."""
    odd = database.while_unchanged(_odd)
    for row_id, why in odd.values():
        database.missed.note(Cook.KIND, row_id, why)
    return frozenset(odd)


def _odd(connection: Connection) -> dict[int, tuple[object, str]]:
    """Return the id of each cook that cannot be shown, and why, by its row.

    Nearly all rows are as this program writes them, and are not fetched for it.
    """
    columns: Select[Any] = select(*_SHOWN[:-1], _ROW)
    every = list(connection.execute(columns.where(or_(*map(text, _MAY_BE_ODD)))))
    known = connection.execute(select(COOK.c.zone).distinct()).scalars()
    zones = [zone for zone in known if isinstance(zone, str) and not is_zone(zone)]
    if zones:
        every += connection.execute(columns.where(COOK.c.zone.in_(zones)))
    return {row.row: (row.id, why) for row in every if (why := _why_odd(row))}


def cooks_having(database: Database, words: str) -> frozenset[str]:
    """Return the ids of the cooks that have all these words, or of all without any word."""
    match = text_search.matched(words)
    found = frozenset(database.ids(text_search.cooks(match) if match else select(COOK.c.id)))
    odd = left_out(database)
    if not odd:
        return found
    return found - frozenset(database.ids(select(COOK.c.id).where(_ROW.in_(odd))))


def page(database: Database, *, words: str = "", start: int = 0, most: int = 100) -> list[CookLine]:
    """Return one page of the list, newest first, without the cooks that cannot be shown."""
    query = (
        select(*_SHOWN)
        .outerjoin(SHELF, SHELF.c.id == COOK.c.cooker_id)
        .order_by(COOK.c.starts_at.desc(), COOK.c.number.desc())
        .offset(start)
        .limit(most)
    )
    odd = left_out(database)  # before the page is cut off: a line is on one page alone
    if odd:
        query = query.where(_ROW.not_in(odd))
    match = text_search.matched(words)
    if match:
        query = query.where(text_search.having(match, count(database, words)))
    return _lines(database, query)


def lines(database: Database, cook_ids: list[str]) -> list[CookLine]:
    """Return the lines of these cooks, newest first."""
    query = (
        select(*_SHOWN)
        .outerjoin(SHELF, SHELF.c.id == COOK.c.cooker_id)
        .where(COOK.c.id.in_(cook_ids))
        .order_by(COOK.c.starts_at.desc(), COOK.c.number.desc())
    )
    return _lines(database, query)


def _lines(database: Database, query: Select[tuple[object, ...]]) -> list[CookLine]:
    found = [row for row in database.rows(query) if _is_sound(database, row)]
    ids = [row.id for row in found]
    arms = (
        select(ARM.c.cook_id, ARM.c.name, ARM.c.control)
        .where(ARM.c.cook_id.in_(ids))
        .order_by(ARM.c.control.desc(), ARM.c.position)
    )
    named: dict[str, list[str]] = {cook_id: [] for cook_id in ids}
    controlled: set[str] = set()
    for cook_id, name, control in database.rows(arms):
        if cook_id not in named or not isinstance(name, str):  # the index or the arm is damaged
            continue
        named[cook_id].append(name)
        if control:
            controlled.add(cook_id)
    pieces = (
        select(PIECE.c.cook_id, PIECE.c.cut, func.count().label("pieces"))
        .where(PIECE.c.cook_id.in_(ids))
        .group_by(PIECE.c.cook_id, PIECE.c.cut)
        .order_by(func.count().desc(), PIECE.c.cut)
    )
    cuts: dict[str, list[str]] = {cook_id: [] for cook_id in ids}
    counts = dict.fromkeys(ids, 0)
    for cook_id, cut, number in database.rows(pieces):
        if cook_id not in cuts or not isinstance(cut, str):
            continue
        cuts[cook_id].append(cut)
        counts[cook_id] += number
    return [
        CookLine(
            id=row.id,
            number=row.number,
            title=row.title,
            question=row.question,
            starts_at=row.starts_at,
            zone=row.zone,
            kind=CookKind(row.kind),
            status=CookStatus(row.status),
            cooker=row.cooker if isinstance(row.cooker, str) else None,
            outcome=row.outcome,
            cuts=tuple(cuts[row.id]),
            arms=tuple(named[row.id]),
            has_control=row.id in controlled,
            pieces=counts[row.id],
        )
        for row in found
    ]


def _is_sound(database: Database, row: Row[Any]) -> bool:
    """Whether a line can be shown; one that cannot is noted."""
    why = _why_odd(row)
    if why:
        database.missed.note(Cook.KIND, row.id, why)
    return not why


def _why_odd(row: Row[Any]) -> str:
    """Return why a line cannot be shown, or an empty text."""
    return odd_cook(row.starts_at, row.zone, row.kind, row.status) or odd_own(
        id=row.id, number=row.number, title=row.title, question=row.question, outcome=row.outcome
    )


def find(database: Database, words: str) -> list[CookLine]:
    """Return the cooks that these words name: an id, a number, or a part of the title.

    Raises
    ------
    DamagedError
        If they name only cooks that cannot be read.
    """
    wanted = words.strip()
    test = or_(COOK.c.id == wanted, COOK.c.title.ilike(f"%{wanted}%"))
    if wanted.isdecimal():
        test = or_(COOK.c.id == wanted, COOK.c.number == int(wanted))
    ids = database.values(select(COOK.c.id).where(test))
    found = lines(database, [one for one in ids if isinstance(one, str)])
    if ids and not found:
        why = database.missed.get((Cook.KIND, str(ids[0])), "record is damaged")
        message = f"That cook cannot be read: its {why}."
        raise DamagedError(message, "Mend it with: pitjournal check JOURNAL --repair")
    return found


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
    return [row[0] for row in database.rows(query) if isinstance(row[0], str)]


def commonest(database: Database, most: int = 3) -> tuple[list[str], list[str]]:
    """Return the cuts and the treatments that most cooks have, the commonest first."""
    treatment = TABLES["treatment"]
    found = []
    for kind, column in ((PIECE, PIECE.c.cut), (treatment, treatment.c.kind)):
        cooks = func.count(kind.c.cook_id.distinct())
        query = (
            select(column)
            .where(column.is_not(None), column != "")
            .group_by(column)
            .order_by(cooks.desc(), column)
            .limit(most + 1)
        )
        found.append([row[0] for row in database.rows(query) if isinstance(row[0], str)])
    treated = [one for one in found[1] if one != TreatmentKind.NONE]
    return found[0][:most], treated[:most]


def unlike_tastings(database: Database) -> list[Tasting]:
    """Return a session of each way in which pieces were ever scored, the oldest first."""
    ways = (TASTING.c.scheme, TASTING.c.criteria, TASTING.c.low, TASTING.c.high, TASTING.c.rules)
    firsts = select(func.min(TASTING.c.id)).group_by(*ways)
    query = select(TASTING).where(TASTING.c.id.in_(firsts)).order_by(TASTING.c.id)
    rows = database.rows(query)
    found = records_of(Tasting, rows, database.missed)
    if len(found) == len(rows):
        return found
    # A session that is damaged stands for none: each way is looked for among all of them.
    way = attrgetter("scheme", "criteria", "low", "high", "rules")
    unlike: list[Tasting] = []
    for session in database.find(Tasting):
        if way(session) not in map(way, unlike):
            unlike.append(session)
    return unlike


def arm_looks(database: Database) -> dict[str, int]:
    """Return the look that arms of each name have most often: 0 the control, then by position.

    It is the number that `WholeCook.arm_index` gives an arm in its own cook.
    """
    own = ARM.c.cook_id
    place = func.row_number().over(
        partition_by=own, order_by=(ARM.c.control.desc(), ARM.c.position, ARM.c.id)
    )
    control = func.max(ARM.c.control).over(partition_by=own)
    arms = select(ARM.c.name, (place - control).label("look")).subquery()
    query = (
        select(arms.c.name, arms.c.look)
        .group_by(arms.c.name, arms.c.look)
        .order_by(func.count(), arms.c.look.desc())
    )
    found = (row for row in database.rows(query) if isinstance(row.name, str))
    return {row.name: int(row.look) for row in found}  # the last is the commonest
