"""What the page of a new cook is to those who read it, fill it and make its cook."""

from datetime import datetime
from typing import Protocol

from PySide6.QtWidgets import QLabel

from pitjournal.analysis.plan.layout import Draft
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import Field, TextField
from pitjournal.ui.plan.older import OlderPanel
from pitjournal.ui.plan.ways import RecipePanel, WaysPanel


class NewCookForm(Protocol):
    """The fields of a new cook, and what else was said of it there.

    `set_at` is the set point as it was understood, °C; `starts_at` the moment, aware.
    """

    desk: Desk
    zone: str
    seed: int
    starts_at: datetime
    set_at: float | None
    sort: Choice
    question: TextField
    older: OlderPanel
    recipe: RecipePanel
    what: WaysPanel
    outcome: Choice
    stop_rule: TextField
    held: TextField
    count: Choice
    within: Choice

    @property
    def cut(self) -> TextField:
        """What meat it is."""

    @property
    def cooker(self) -> TextField:
        """In what it is cooked."""

    @property
    def set_point(self) -> Field:
        """How hot the pit is to be."""

    @property
    def when(self) -> Field:
        """When it begins."""

    @property
    def warning(self) -> QLabel:
        """What is wrong with it."""

    @property
    def mode(self) -> str:
        """What the cook is for."""

    def draft(self) -> Draft:
        """Return the layout that stands here."""

    def clear_fields(self) -> None:
        """Empty it."""

    def show_again(self) -> None:
        """Show what stands here now."""
