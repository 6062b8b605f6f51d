"""Alarms before a piece comes off: due by the forecast, as long as they have not rung."""

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta

from pitjournal.domain.alarm import Alarm, AlarmKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.forecasts import Forecasts


class BeforeOff:
    """When such alarms are due. One that has begun to ring goes on, whatever the forecast does."""

    def __init__(self, forecasts: Forecasts, now: Callable[[], datetime]) -> None:
        self._forecasts, self._now = forecasts, now
        self._rang: dict[str, datetime] = {}

    def of(self, whole: WholeCook) -> Mapping[str, datetime]:
        """Return when each alarm of a cook is due, by its id; the forecast is kept up to date."""
        wanted = [alarm for alarm in whole.alarms if alarm.kind is AlarmKind.BEFORE_OFF]
        if any(alarm.heard is None for alarm in wanted):
            self._forecasts.want(whole)
        found = {alarm.id: self._due(alarm) for alarm in wanted}
        return {key: due for key, due in found.items() if due is not None}

    def _due(self, alarm: Alarm) -> datetime | None:
        if alarm.id in self._rang:
            return self._rang[alarm.id]
        one = self._forecasts.of(alarm.cook_id, alarm.piece_id)
        if one is None or one.likely is None or alarm.after is None:
            return None
        due = max(one.likely - timedelta(seconds=alarm.after), alarm.set_at)
        if due <= self._now():
            self._rang[alarm.id] = due
        return due
