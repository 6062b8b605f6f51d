"""What stands on the page of a new cook, as plain words that can be kept, and back again."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.times.typed_times import parse_moment
from pitjournal.errors import JournalError
from pitjournal.store.drafts import Draft
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import Field
from pitjournal.ui.plan.begun import TITLE
from pitjournal.ui.plan.new_cook_form import NewCookForm

_LINES, _CHOICES, _LIKE, _STARTS, _SEED = "lines", "choices", "like", "starts", "seed"


def _fields(page: NewCookForm) -> Mapping[str, Field]:
    return {
        "question": page.question,
        "stop_rule": page.stop_rule,
        "held": page.held,
        "names": page.what.names,
        "cut": page.cut,
        "cooker": page.cooker,
        "set_point": page.set_point,
    }


def _choices(page: NewCookForm) -> Mapping[str, Choice]:
    return {
        "things": page.what.things,
        "treatments": page.what.treatments,
        "wraps": page.what.wraps,
        "every": page.what.every,
        "recipe": page.recipe.recipes,
        "how": page.recipe.how,
        "beside": page.recipe.beside,
        "outcome": page.outcome,
        "count": page.count,
        "within": page.within,
    }


def as_typed(page: NewCookForm) -> dict[str, Any]:
    """Return what stands there: words as they were typed, choices by their names."""
    lines = {name: field.line.text() for name, field in _fields(page).items()}
    if page.when.is_wrong or page.when.line.isModified():
        lines["when"] = page.when.line.text()
    return {
        TITLE: lines["question"].strip() or lines["cut"].strip(),
        "sort": page.mode,
        _LIKE: page.older.cook.cook.id if page.older.cook is not None else "",
        _LINES: lines,
        _CHOICES: {name: _named(choice) for name, choice in _choices(page).items()},
        _STARTS: page.starts_at.isoformat(),
        _SEED: page.seed,
    }


def is_begun(typed: Mapping[str, Any]) -> bool:
    """Whether any word was typed; chips alone are chosen again in a moment."""
    return bool(typed[_LIKE] or any(text.strip() for text in typed[_LINES].values()))


def take_typed(page: NewCookForm, draft: Draft) -> None:
    """Put on the page what was typed there once; what is not understood of it is left out."""
    page.clear_fields()
    _choose(page.sort, [draft.get("sort")])
    like = draft.get(_LIKE)
    if isinstance(like, str) and like:
        try:
            page.older.take(like)
        except JournalError as error:  # the older cook was deleted since
            page.older.like.say(str(error))
    chosen = draft.get(_CHOICES)
    for name, choice in _choices(page).items():
        if isinstance(chosen, dict) and isinstance(chosen.get(name), list):
            _choose(choice, chosen[name])
    if isinstance(draft.get(_SEED), int):
        page.seed = int(draft[_SEED])
    page.starts_at = _starts(page, draft.get(_STARTS))
    page.when.set_value(page.starts_at)
    typed = draft.get(_LINES)
    fields = {**_fields(page), "when": page.when}
    for name, text in typed.items() if isinstance(typed, dict) else ():
        if name in fields and isinstance(text, str):
            _type(fields[name], text)
    page.show_again()


def _starts(page: NewCookForm, kept: object) -> datetime:
    """Return when the meat was to go on; a time that has passed is tomorrow's."""
    now = page.desk.now()
    try:
        at = datetime.fromisoformat(str(kept)).astimezone(UTC)
    except ValueError:
        return page.starts_at
    if at > now:
        return at
    clock = at.astimezone(time_zone(page.zone))
    return parse_moment(f"tomorrow {clock.hour:02}:{clock.minute:02}", now, page.zone)


def _type(field: Field, text: str) -> None:
    if text != field.line.text():
        field.line.setText(text)
        field.line.setModified(True)
        field.commit()


def _named(choice: Choice) -> list[str]:
    return [str(value) for value in choice.values()]


def _choose(choice: Choice, names: list[Any]) -> None:
    choice.choose(*(value for value in choice.offered if str(value) in map(str, names)))
