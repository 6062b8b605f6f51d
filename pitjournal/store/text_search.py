"""Search in the words of cooks: titles, questions and notes, by SQLite's full-text index.

One text a cook is kept by triggers, so that it is right whoever writes: a command, undo, a
removal, or an older program that knows nothing of it.
"""

from collections.abc import Iterator

from sqlalchemy import (
    ColumnElement,
    Connection,
    Select,
    String,
    TextClause,
    delete,
    literal_column,
    select,
    text,
)

from pitjournal.store.schema import cook_text

SOURCES: dict[str, tuple[str, ...]] = {
    "cook": ("title", "question", "note", "place"),
    "piece": ("cut", "note"),
    "note": ("text",),
    "event": ("note",),
    "doneness_check": ("note",),
    "treatment": ("note",),
    "seasoning": ("note",),
    "photo": ("caption",),
    "tasting": ("note",),
    "tasting_note": ("said", "why"),
    "conclusion": ("text",),
}
"""Which fields of which records are searched."""

_INDEX = (
    "CREATE VIRTUAL TABLE IF NOT EXISTS cook_words USING fts5("
    "words, content='cook_text', content_rowid='seq', "
    "tokenize='unicode61 remove_diacritics 2', prefix='1 2 3')"
)
_OUT = "INSERT INTO cook_words (cook_words, rowid, words) VALUES ('delete', OLD.seq, OLD.words);"
_IN = "INSERT INTO cook_words (rowid, words) VALUES (NEW.seq, NEW.words);"


def prepare(connection: Connection) -> None:
    """Make the index and what keeps it, and fill it from the journal as it is."""
    connection.exec_driver_sql(_INDEX)
    for name, words in own_triggers():
        connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {name}")
        connection.exec_driver_sql(words)
    connection.execute(delete(cook_text))
    connection.exec_driver_sql(_collected("true"))


def own_triggers() -> Iterator[tuple[str, str]]:
    """Yield each trigger that keeps the index: its name, and the words that make it."""
    for name, when, body in _triggers():
        yield name, f"CREATE TRIGGER {name} AFTER {when} BEGIN {body} END"


def is_own_trigger(name: str) -> bool:
    """Whether a trigger has a name such as these have, also those of another version."""
    return name.startswith(("cook_text_", "words_of_"))


def _triggers() -> Iterator[tuple[str, str, str]]:
    yield "cook_text_in", "INSERT ON cook_text", _IN
    yield "cook_text_out", "DELETE ON cook_text", _OUT
    yield "cook_text_new", "UPDATE ON cook_text", _OUT + _IN
    for kind, fields in SOURCES.items():
        owner = "id" if kind == "cook" else "cook_id"
        new, old = (_collected(f"cook.id = {row}.{owner}") for row in ("NEW", "OLD"))
        some_new, some_old = (
            " OR ".join(f"{row}.{field} <> ''" for field in fields) for row in ("NEW", "OLD")
        )
        other = " OR ".join(f"NEW.{field} IS NOT OLD.{field}" for field in fields)
        yield f"words_of_{kind}_in", f"INSERT ON {kind} WHEN {some_new}", new
        yield f"words_of_{kind}_new", f"UPDATE OF {', '.join(fields)} ON {kind} WHEN {other}", new
        gone = "DELETE FROM cook_text WHERE cook_id = OLD.id;" if kind == "cook" else old
        yield f"words_of_{kind}_out", f"DELETE ON {kind} WHEN {some_old}", gone


def _collected(which: str) -> str:
    """Return the statement that writes the text of these cooks."""
    own = _words_of("cook")
    others = [
        f"COALESCE((SELECT group_concat(DISTINCT {_words_of(kind)}) FROM {kind} "  # noqa: S608 - names of our own
        f"WHERE {kind}.cook_id = cook.id), '')"
        for kind in SOURCES
        if kind != "cook"
    ]
    words = " || char(10) || ".join([own, *others])
    return (
        f"INSERT INTO cook_text (cook_id, words) "  # noqa: S608 - nothing typed is in it
        f"SELECT cook.id, {words} FROM cook WHERE {which} "
        "ON CONFLICT (cook_id) DO UPDATE SET words = excluded.words;"
    )


def _words_of(kind: str) -> str:
    return " || char(10) || ".join(f"{kind}.{field}" for field in SOURCES[kind])


MANY = 400
"""From so many cooks on, going through all by day is quicker than sorting those that have it."""


def matched(words: str) -> str:
    """Return what the index is asked for: all these words, or their beginnings; "" for any."""
    known = [word for word in words.split() if any(letter.isalnum() for letter in word)]
    return " ".join('"' + word.replace('"', '""') + '"*' for word in known)


def count(match: str) -> TextClause:
    """Return the query for how many cooks have it: the index knows, with no cook looked at."""
    query = "SELECT count(*) FROM cook_words WHERE cook_words MATCH :words"
    return text(query).bindparams(words=match)


def cooks(match: str) -> Select[tuple[str]]:
    """Return the query for the ids of the cooks that have it."""
    found = text("SELECT rowid FROM cook_words WHERE cook_words MATCH :words")
    return select(cook_text.c.cook_id).where(
        cook_text.c.seq.in_(found.bindparams(words=match).columns(rowid=cook_text.c.seq.type))
    )


def having(match: str, expected: int) -> ColumnElement[bool]:
    """Return the test that a cook has it, for a query by day, where so many cooks do."""
    # The plus keeps SQLite from looking up and sorting all that are found where the newest
    # hundred of many are asked for: it goes through the cooks by day, and stops.
    column = literal_column("+cook.id" if expected >= MANY else "cook.id", String)
    return column.in_(cooks(match))
