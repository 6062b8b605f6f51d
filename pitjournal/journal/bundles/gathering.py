"""Put cooks together for a bundle: their records, what they use of the Shelf, their files."""

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from pitjournal.domain.cook import Cook
from pitjournal.domain.shelf import ShelfItem, plain_name
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.bundle import Bundle, write_bundle
from pitjournal.files.summary.content import Choice
from pitjournal.journal.bundles.clockless import day_alone
from pitjournal.journal.bundles.recipes_out import RecipesOut
from pitjournal.journal.bundles.recipes_out import what_leaves as recipe_leaves
from pitjournal.journal.bundles.records_out import HELPING, CooksOut, PlansOut, slug
from pitjournal.journal.bundles.what_leaves import PLAN_LEAVES, WHAT_WAS_FOUND, what_leaves
from pitjournal.journal.journal import Journal
from pitjournal.journal.sharing import recipes_of
from pitjournal.store.schema import SCHEMA_VERSION
from pitjournal.units.figures import counted


@dataclass(frozen=True)
class Gathered:
    """A bundle ready to be written, of how many cooks; what leaves with it and what stays."""

    bundle: Bundle
    cooks: int
    leaves: tuple[str, ...]
    left_out: tuple[str, ...]
    missing: list[str]
    """Names of kept files that are gone; known once the bundle is written."""


def bundle_of(journal: Journal, cook_ids: Sequence[str], choice: Choice, name: str) -> Gathered:
    """Return a bundle of these cooks, read from the journal while it is written.

    Parameters
    ----------
    journal
        The open journal.
    cook_ids
        Which cooks, in the order they are to stand in.
    choice
        The detail of recipes and the private parts that leave; `EVERYTHING` for oneself.
    name
        What the file is called, without its ending.
    """
    cooks = CooksOut(journal, cook_ids, choice)
    many = counted(len(cook_ids), "cook")
    words = (
        f"{many} of a barbecue journal, with all that was recorded and may leave. Times are UTC, "
        "numbers are in the units that each column names."
    )
    title = cooks.title if len(cook_ids) == 1 else many
    if choice.clockless:
        words += " Clock times stayed at home: each cook begins at noon of its day, UTC."
    bundle = _bundle(cooks, slug(name) or "cooks", title or many, words)
    leaves, left_out = what_leaves(_wholes(journal, cook_ids), recipes_of(journal), choice)
    return Gathered(bundle, len(cook_ids), leaves, left_out, cooks.missing)


def protocol_of(journal: Journal, cook_ids: Sequence[str], choice: Choice, name: str) -> Gathered:
    """Return cooks as plans that others cook in their own kitchens: nothing that was found.

    Parameters
    ----------
    journal, cook_ids, choice, name
        As `bundle_of` takes them.
    """
    plans = PlansOut(journal, cook_ids, choice)
    many = counted(len(cook_ids), "cook")
    words = (
        f"The plan of {many}: the question, the arms and what is held the same, to be cooked with "
        "meat of one's own, drawn anew, and sent back as a bundle."
    )
    title = plans.title or f"The plan of {many}"
    bundle = _bundle(plans, slug(name) or "plan", title, words, protocol=True)
    _, left_out = what_leaves(_wholes(journal, cook_ids), recipes_of(journal), choice)
    stays = (*WHAT_WAS_FOUND, *left_out)
    return Gathered(bundle, len(cook_ids), PLAN_LEAVES, stays, plans.missing)


def recipes_bundle(
    journal: Journal, items: Sequence[ShelfItem], choice: Choice, name: str
) -> Gathered:
    """Return recipes of the Shelf as a bundle of no cook.

    Parameters
    ----------
    journal
        The open journal.
    items
        Recipes or rubs.
    choice
        With the detail that leaves of them.
    name
        What the file is called, without its ending.
    """
    out = RecipesOut(journal, items, choice)
    title = ", ".join(item.name for item in items)
    words = "Of a barbecue journal: what is mixed, and what goes into it."
    bundle = _bundle(out, slug(name) or "recipe", title, words)
    leaves, left_out = recipe_leaves(items, choice)
    return Gathered(bundle, 0, leaves, left_out, out.missing)


def asking(journal: Journal, words: str) -> list[str]:
    """Return the ids of the cooks that ask a question, by its words or some of them.

    Raises
    ------
    JournalError
        If no cook asks it.
    """
    wanted = plain_name(words)
    cooks = sorted(journal.find(Cook), key=lambda cook: cook.number)
    found = [cook.id for cook in cooks if plain_name(cook.question) == wanted]
    found = found or [cook.id for cook in cooks if wanted and wanted in plain_name(cook.question)]
    if not found:
        raise JournalError(f"No cook asks “{words}”.", "Say it as the cook does, or a part of it.")
    return found


def _bundle(
    cooks: CooksOut, folder: str, title: str, words: str, *, protocol: bool = False
) -> Bundle:
    return Bundle(
        folder=folder,
        title=title,
        words=words,
        made_at=day_alone(datetime.now(UTC)) if cooks.clockless else datetime.now(UTC),
        tables=tuple(cooks.tables()),
        entries=cooks.entries(),
        schema=SCHEMA_VERSION,
        protocol=protocol,
    )


def _wholes(journal: Journal, cook_ids: Sequence[str]) -> Iterator[WholeCook]:
    for at in range(0, len(cook_ids), HELPING):
        yield from journal.wholes(list(cook_ids[at : at + HELPING])).values()


def bundle_bytes(journal: Journal, cook_ids: Sequence[str], choice: Choice, name: str) -> bytes:
    """Return a bundle of a few cooks as bytes; many are better written to a file."""
    out = io.BytesIO()
    write_bundle(bundle_of(journal, cook_ids, choice, name).bundle, out)
    return out.getvalue()
