"""Choose by a key what Settings has too: the look, the text size, the units."""

from dataclasses import replace

from pitjournal.ui.desk import Desk
from pitjournal.ui.look.theme import look


def next_look(desk: Desk) -> None:
    """Take the next look, and keep it."""
    desk.prefer(replace(desk.preferences, theme=look().next()))


def text_size(desk: Desk, by: int) -> None:
    """Take the next larger text size, or with −1 the next smaller; keep it and say it."""
    text = look().larger(by)
    desk.prefer(replace(desk.preferences, text=text))
    desk.bridge.told.emit(f"Text size {text} %")


def other_units(desk: Desk) -> None:
    """Take the other units, and keep them."""
    other = "us" if desk.preferences.units == "metric" else "metric"
    desk.prefer(replace(desk.preferences, units=other))
