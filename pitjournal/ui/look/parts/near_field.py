"""A time of a planned day: "15:00" is that of the cook's day, not of today."""

from collections.abc import Callable
from datetime import UTC, datetime

from pitjournal.domain.times.typed_times import parse_planned
from pitjournal.ui.look.parts.fields import Save
from pitjournal.ui.look.parts.time_fields import TimeField


class NearField(TimeField):
    """A moment that lies near another one, which `near` holds."""

    def __init__(
        self,
        label: str,
        now: Callable[[], datetime],
        save: Save,
        *,
        hint: str = "15:00",
        bare: bool = False,
    ) -> None:
        super().__init__(label, "UTC", now, save, hint=hint, bare=bare)
        self.near: datetime | None = None

    def read(self, text: str) -> object:
        """Return the moment, UTC."""
        if not text.strip():
            return None
        now = self._now()
        return parse_planned(text, self.near or now, now, self.zone).astimezone(UTC)
