"""The cook that the page of a new cook means; what is missing is said beside its field."""

from dataclasses import replace

from pitjournal.analysis.plan.layout import TWO_HALVES, Blocks, cook_of
from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.journal import Journal
from pitjournal.journal.commands.records import Add
from pitjournal.ui.plan.new_cook_form import NewCookForm

COMPARE, JUST_COOK, AGAIN, RECIPE = "compare", "cook", "again", "recipe"
"""What a cook is for."""

Started = tuple[Cook, tuple[Record, ...]]


WHAT_MEAT = "Say what meat it is, such as back ribs."


def cook_meant(page: NewCookForm) -> Started | None:
    """Return the cook to start; None, with a line beside what is missing."""
    cut = page.cut.line.text().strip()
    if page.mode == AGAIN and page.older.cook is None:
        page.older.like.say("Say which cook, by its number or title.")
        page.older.like.setFocus()
        page.desk.bridge.refused.emit("Not started: say which cook it is like.")
        return None
    if not any(letter.isalpha() for letter in cut):
        page.cut.say(f"{f'“{cut}” is no meat. ' if cut else ''}{WHAT_MEAT}")
        page.cut.setFocus()
        page.desk.bridge.refused.emit(f"Not started: {WHAT_MEAT[0].lower()}{WHAT_MEAT[1:]}")
        return None
    if page.mode == AGAIN:
        return _cook_again(page, cut)
    draft = page.draft()
    if page.mode == COMPARE and len(draft.arms) < 2:
        page.warning.setText("A comparison needs the control and at least one other arm.")
        page.desk.bridge.refused.emit(page.warning.text())
        return None
    if draft.within is Blocks.HALVES and len(draft.arms) > 2:
        page.desk.bridge.refused.emit(TWO_HALVES)
        return None
    return cook_of(draft)


def _cook_again(page: NewCookForm, cut: str) -> Started | None:
    found = page.older.again(page.seed, page.starts_at, cut)
    if found is None:
        return None
    cook, parts = found
    title = str(page.question.line.text()).strip() or cook.title
    return replace(cook, title=title, set_point=page.set_at), parts


def cooker_named(journal: Journal, typed: str) -> tuple[str | None, tuple[Add, ...]]:
    """Return the id of a cooker by its name, and what puts a new one on the Shelf."""
    name = typed.strip()
    if not name:
        return None, ()
    for item in journal.shelf.items(ShelfKind.COOKER):
        if item.name.casefold() == name.casefold():
            return item.id, ()
    made = ShelfItem(kind=ShelfKind.COOKER, name=name)
    return made.id, (Add((made,), f"Add {name}"),)
