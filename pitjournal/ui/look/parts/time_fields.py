"""Fields of a moment: what is typed in a cook's words, on the cook's own clock."""

from collections.abc import Callable
from datetime import UTC, datetime

from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.times.typed_times import Looking, Span, parse_logged, parse_moment
from pitjournal.ui.look.parts.fields import Field, Save
from pitjournal.ui.look.parts.whole_line import hold_whole


class TimeField(Field):
    """A moment: "20 min ago", "7:15", "yesterday 22:00"; what is left open looks one way."""

    def __init__(
        self,
        label: str,
        zone: str,
        now: Callable[[], datetime],
        save: Save,
        *,
        bare: bool = False,
        hint: str = "7:15 or 20 min ago",
        looking: Looking = Looking.AROUND,
    ) -> None:
        super().__init__(label, save, bare=bare, hint=hint)
        self.zone, self._now, self._looking = zone, now, looking
        hold_whole(self.line)

    def read(self, text: str) -> object:
        """Return the moment, UTC."""
        if not text.strip():
            return None
        return parse_moment(text, self._now(), self.zone, self._looking).astimezone(UTC)

    def shown(self, value: object) -> str:
        """Return it on the cook's own clock."""
        return show_moment(value, self.zone, self._now()) if isinstance(value, datetime) else ""


class LoggedField(TimeField):
    """A moment of what has happened; `span` is that of a cook of another day."""

    def __init__(
        self, label: str, zone: str, now: Callable[[], datetime], save: Save, span: Span | None
    ) -> None:
        super().__init__(label, zone, now, save)
        self._span = span

    def read(self, text: str) -> object:
        """Return the moment, UTC."""
        return parse_logged(text, self._span, self._now(), self.zone) if text.strip() else None
