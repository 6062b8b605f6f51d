"""Probes that fall silent: a followed file that no longer grows rings like an alarm.

It is no alarm of the journal: nobody set it, and it ends by itself once there is something new.
What was answered is known until then.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from pitjournal.domain.alarm import Alarm, AlarmKind, state_at
from pitjournal.domain.event import EventKind
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.analysis.bench.alarms import AlarmNow
    from pitjournal.journal.following import Read

SILENT = "silent:"


def is_silence(alarm: Alarm) -> bool:
    """Whether an alarm is of a probe that fell silent."""
    return alarm.id.startswith(SILENT)


class Silence:
    """Which followed files are silent, and what was answered."""

    def __init__(self) -> None:
        self._answered: dict[str, Alarm] = {}

    def of_cook(
        self, whole: WholeCook, reads: "Mapping[str, Read]", now: datetime
    ) -> "list[AlarmNow]":
        """Return an alarm for each followed file of a cook that says nothing any more."""
        from pitjournal.analysis.bench.alarms import AlarmNow  # noqa: PLC0415 - seldom needed

        found = []
        for file in whole.probe_files:
            read = reads.get(file.id)
            if read is None or read.grew_at is None or not file.follows or all_off(whole):
                continue
            if not read.is_silent(now):
                self._answered.pop(SILENT + file.id, None)
                continue
            fresh = Alarm(
                id=SILENT + file.id,
                cook_id=whole.cook.id,
                kind=AlarmKind.AT,
                words=f"Nothing new from {file.name}",
                set_at=read.grew_at,
                at=read.grew_at + timedelta(seconds=read.patience),
                source=f"last read at {show_time(read.grew_at, whole.cook.zone)}",
            )
            known = self._answered.get(fresh.id, fresh)
            alarm = replace(fresh, heard=known.heard, done=known.done, later=known.later)
            self._answered[alarm.id] = alarm
            found.append(AlarmNow(alarm, state_at(alarm, alarm.at, now), alarm.at))
        return found

    def hear(self, alarms: "Sequence[AlarmNow]") -> None:
        """Silence them; they are shown until there is something new."""
        for one in alarms:
            self._answered[one.alarm.id] = replace(one.alarm, heard=one.due)

    def finish(self, alarms: "Sequence[AlarmNow]") -> None:
        """Show them no more."""
        for one in alarms:
            self._answered[one.alarm.id] = replace(one.alarm, done=one.due)

    def put_off(self, alarms: "Sequence[AlarmNow]", until: datetime) -> None:
        """Silence them till then."""
        for one in alarms:
            self._answered[one.alarm.id] = replace(one.alarm, later=until)


def all_off(whole: WholeCook) -> bool:
    """Whether every piece has come off: its probe may fall silent then."""
    return bool(whole.pieces) and all(
        whole.moment_of(EventKind.OFF, piece, last=True) is not None for piece in whole.pieces
    )
