"""Make anew what only serves a journal: nothing of it was typed by anyone."""

from sqlalchemy import Connection, insert, select

from pitjournal.store import build, sqlite, text_search
from pitjournal.store.schema import TABLES, cook_text, metadata, stale
from pitjournal.store.schema import derived_block as block
from pitjournal.store.schema import derived_column as column
from pitjournal.store.schema import derived_place as place


def look(connection: Connection) -> build.Build:
    """Look at how an open database is built."""
    return build.look(sqlite.driver_of(connection))


def make_what_serves(connection: Connection) -> None:
    """Make the tables of what is worked out, and the index of words with what keeps it."""
    metadata.create_all(connection, [block, column, place, stale, cook_text])
    known = select(stale.c.cook_id).union(select(place.c.cook_id))
    cook = TABLES["cook"].c.id
    missing = select(cook).where(cook.not_in(known))
    connection.execute(insert(stale).from_select(["cook_id"], missing))
    text_search.prepare(connection)
    connection.exec_driver_sql("INSERT INTO cook_words (cook_words) VALUES ('rebuild')")
