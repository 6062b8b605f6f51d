"""What the card of the day asks before it changes anything."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.plan.rework import Joining, StepChange
from pitjournal.domain.times.moments import date_words, show_time, time_zone, weekday_words
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.plan.schedule_model import step_words, who
from pitjournal.units import UnitSystem

NEVER = datetime.max.replace(tzinfo=UTC)

MOST_LINES = 12
"""More changes than these are counted, not listed."""


class Ask(QWidget):
    """A few lines, and two buttons: do it, or leave it."""

    def __init__(
        self, yes: str, no: str, do: Callable[[], None], left: Callable[[], None] | None = None
    ) -> None:
        super().__init__()
        inside = QVBoxLayout(self)
        inside.setContentsMargins(0, tokens.XS, 0, tokens.XS)
        inside.setSpacing(tokens.XS)
        self.heading = words("", "strong")
        self.lines = words("")
        inside.addWidget(self.heading)
        inside.addWidget(self.lines)
        self.yes = button(yes, self._do, "primary")
        self.no = button(no, self._leave)
        inside.addLayout(row(self.yes, self.no, None))
        self._then, self._left = do, left
        self.hide()

    def ask(self, heading: str, lines: Sequence[str]) -> None:
        """Show what is asked."""
        shown = [*lines[:MOST_LINES]]
        if len(lines) > MOST_LINES:
            shown.append(f"and {len(lines) - MOST_LINES} more")
        self.heading.setText(heading)
        self.lines.setText("\n".join(shown))
        for widget in (self.yes, self.no):
            widget.show()
        self.lines.setVisible(bool(shown))
        self.setAccessibleName(" ".join((heading, *shown)))
        self.show()

    def tell(self, text: str) -> None:
        """Say something that asks for nothing."""
        self.ask(text, ())
        self.yes.hide()
        self.no.hide()

    def leave(self) -> None:
        """Ask no more."""
        self.hide()

    def _leave(self) -> None:
        self.leave()
        if self._left is not None:
            self._left()

    def _do(self) -> None:
        self.hide()
        self._then()


def change_lines(whole: WholeCook, changes: Sequence[StepChange], system: UnitSystem) -> list[str]:
    """Return each change of a day in a cook's words."""
    return [_change(whole, change, system) for change in changes]


def _change(whole: WholeCook, change: StepChange, system: UnitSystem) -> str:
    what = _what(whole, change, system)
    before, after = (_clock(whole, at) for at in (change.before, change.after))
    if change.before is None:
        return f"{what}: new, at {after}"
    if change.after is None:
        return f"{what}: taken away, was at {before}"
    return f"{what}: {before} → {after}"


def _what(whole: WholeCook, change: StepChange, system: UnitSystem) -> str:
    whom = who(whole, change.step.pieces)
    return step_words(whole, change.step, system) + (f" ({whom})" if whom else "")


def _clock(whole: WholeCook, at: datetime | None) -> str:
    """Return a time, with its day where that is not the day the meat goes on."""
    if at is None:
        return ""
    zone = whole.cook.zone
    local, start = (moment.astimezone(time_zone(zone)) for moment in (at, whole.cook.starts_at))
    day = (
        ""
        if local.date() == start.date()
        else f"{weekday_words(local)} {date_words(local, with_year=False)} "
    )
    return f"{day}{show_time(at, zone)}"


def join_lines(whole: WholeCook, joining: Joining, system: UnitSystem) -> list[str]:
    """Return what asks to join a day, in a cook's words."""
    steps = {event.id: event for event in whole.events}
    found = [StepChange(step, None, step.planned_at) for step in joining.adds]
    found += [
        StepChange(steps[step_id], steps[step_id].planned_at, at)
        for step_id, at in joining.moves.items()
    ]
    return change_lines(whole, sorted(found, key=lambda one: one.after or NEVER), system)
