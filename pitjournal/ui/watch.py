"""The alarms of cooks that are not over: looked at each second, rung until someone hears them."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from pitjournal.domain.alarm import PUT_OFF, RING_EVERY, Alarm, AlarmState
from pitjournal.domain.contest import Category
from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.day.turn_in import pieces_for
from pitjournal.domain.trace import Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Changes
from pitjournal.ui.before_off import BeforeOff
from pitjournal.ui.bridge import Bridge
from pitjournal.ui.follow import Follow
from pitjournal.ui.forecasts import Forecasts
from pitjournal.ui.silence import Silence, is_silence

if TYPE_CHECKING:
    from pitjournal.analysis.bench.alarms import AlarmNow
    from pitjournal.domain.contest import TurnIn
    from pitjournal.domain.samples import Samples

_RING = frozenset({"alarm", "setting", "category", "contest"})
"""What changes when, or whether, something rings."""


@dataclass(frozen=True)
class Called:
    """Alarms of one cook that say the same."""

    whole: WholeCook
    alarms: "tuple[AlarmNow, ...]"

    @property
    def words(self) -> str:
        """What they say, with the pieces they are for."""
        labels = {piece.id: piece.label for piece in self.whole.pieces}
        names = [labels[a.alarm.piece_id] for a in self.alarms if a.alarm.piece_id in labels]
        said = self.alarms[0].alarm.words
        return f"{', '.join(names)}: {said[:1].lower()}{said[1:]}" if names else said

    @property
    def state(self) -> AlarmState:
        """Where they are."""
        return self.alarms[0].state

    @property
    def does(self) -> str:
        """The tap or event that does what they are for, or an empty text."""
        if self.window is not None and self.whole.pieces and not self.pieces:
            return ""  # nobody can tell whose box it is
        return self.alarms[0].alarm.does

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces they are for."""
        named = tuple(a.alarm.piece_id for a in self.alarms if a.alarm.piece_id)
        turn_in = self.window
        if named or turn_in is None:
            return named
        return tuple(piece.id for piece in pieces_for(self.whole, turn_in.category.id))

    @property
    def window(self) -> "TurnIn | None":
        """The category whose turn-in window they are of, which nobody set an alarm for."""
        from pitjournal.analysis.bench.windows import category_of_alarm  # noqa: PLC0415 - seldom

        return category_of_alarm(self.whole, self.alarms[0].alarm.id)

    @property
    def made(self) -> "tuple[Alarm, ...]":
        """Those that are no records of the journal until they are answered."""
        return tuple(a.alarm for a in self.alarms) if self.window is not None else ()

    def due(self) -> dict[str, datetime]:
        """Return the moment each was due, by its id."""
        return {a.alarm.id: a.due for a in self.alarms if a.due is not None}


class Watch(QObject):
    """Looks at the alarms.

    Signals
    -------
    changed()
        What is `called`, or a reading an alarm looks at, changed.
    rang()
        Something rings: now, and again every few seconds until it is heard.
    """

    changed = Signal()
    rang = Signal()

    def __init__(  # noqa: PLR0917 - all that alarms are due by
        self,
        bridge: Bridge,
        now: Callable[[], datetime],
        follow: Follow,
        forecasts: Forecasts,
        see: Callable[[WholeCook], WholeCook],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._see = see
        self._bridge, self._journal, self._now = bridge, bridge.journal, now
        self._wholes: tuple[WholeCook, ...] | None = None
        self._follow = follow
        self._before_off = BeforeOff(forecasts, now)
        forecasts.changed.connect(lambda _cook: self.look())
        self._known: dict[str, tuple[Trace, Samples]] = {}
        self._silence = Silence()
        self._rang_at: datetime | None = None
        self.found: tuple[Called, ...] = ()
        bridge.changed.connect(self._hear)
        follow.changed.connect(self._grown)
        self._second = QTimer(self, interval=1000)
        self._second.timeout.connect(self.look)

    def start(self) -> None:
        """Look from now on; what is overdue rings at once."""
        self._second.start()
        self.look()

    def stop(self) -> None:
        """Look no more."""
        self._second.stop()

    @property
    def called(self) -> tuple[Called, ...]:
        """What is due and not done: what rings first, then what was heard."""
        order = (AlarmState.RINGING, AlarmState.HEARD)
        return tuple(c for state in order for c in self.found if c.state is state)

    @property
    def ringing(self) -> tuple[Called, ...]:
        """What rings."""
        return tuple(c for c in self.found if c.state is AlarmState.RINGING)

    def of_cook(self, cook_id: str) -> "tuple[AlarmNow, ...]":
        """Return a cook's alarms as they were last seen."""
        return tuple(a for c in self.found if c.whole.cook.id == cook_id for a in c.alarms)

    # looking

    def _grown(self) -> None:
        self._wholes = None
        self.look()

    def _hear(self, changes: Changes) -> None:
        watched = {whole.cook.id for whole in self._wholes or ()}
        if not (changes.kinds & {"cook", *_RING} or changes.cooks & watched):
            return
        self._wholes = None
        if changes.kinds & _RING or self.ringing:
            self.look()

    def look(self) -> None:
        """Look at every alarm now, and ring if one must."""
        now = self._now()
        found = self._ringing(now)
        if found != self.found:
            self.found = found
            self.changed.emit()
        if not self.ringing:
            self._rang_at = None
            return
        # A clock that was set back must not silence what rings.
        since = None if self._rang_at is None else abs((now - self._rang_at).total_seconds())
        if since is None or since >= RING_EVERY:
            self._rang_at = now
            self.rang.emit()

    def _ringing(self, now: datetime) -> tuple[Called, ...]:
        if self._wholes is None:
            self._wholes = self._with_alarms()
        silent = self._silent(now)
        if not self._wholes:
            return silent
        from pitjournal.analysis.bench.alarms import alarms_now, grouped  # noqa: PLC0415 - seldom needed

        return silent + tuple(
            Called(whole, tuple(group))
            for whole in self._wholes
            for group in grouped(alarms_now(whole, self.readings, now, self._before_off.of(whole)))
        )

    def _silent(self, now: datetime) -> tuple[Called, ...]:
        """Return the probes that fell silent while their cook runs."""
        reads = self._follow.reads
        if not reads:
            return ()
        return tuple(
            Called(whole, (one,))
            for whole in self._follow.cooks()
            for one in self._silence.of_cook(whole, reads, now)
        )

    def _with_alarms(self) -> tuple[WholeCook, ...]:
        going = (CookStatus.RUNNING, CookStatus.PLANNED)
        cooks = [cook for status in going for cook in self._journal.find(Cook, status=status)]
        called = {alarm.cook_id for alarm in self._journal.find(Alarm)} if cooks else set()
        called |= {c.cook_id for c in self._journal.find(Category) if c.cook_id} if cooks else set()
        wanted = [cook.id for cook in cooks if cook.id in called]
        wholes = self._journal.wholes(wanted).values() if wanted else ()
        return tuple(self._see(self._follow.whole(whole)) for whole in wholes)

    def readings(self, trace: Trace) -> "Samples":
        """Return a trace's readings as they are kept; read once.

        Raises
        ------
        JournalError
            If its file is damaged.
        """
        known = self._known.get(trace.id)
        if known is None or known[0] != trace:
            known = self._known[trace.id] = trace, self._journal.files.samples(trace)
        return known[1]

    # answering

    def hear(self, called: Called) -> None:
        """Silence alarms; what they are for is still to do."""
        if self._answers(called, self._silence.hear):
            return
        from pitjournal.journal.commands.bench import HearAlarms  # noqa: PLC0415 - seldom needed

        self._bridge.do(HearAlarms(called.due(), called.made, f"Heard: {called.words}"), self)

    def finish(self, called: Called) -> None:
        """Say that what they are for is done."""
        if self._answers(called, self._silence.finish):
            return
        from pitjournal.journal.commands.bench import FinishAlarms  # noqa: PLC0415 - seldom needed

        self._bridge.do(FinishAlarms(called.due(), called.made, f"Done: {called.words}"), self)

    def put_off(self, called: Called) -> None:
        """Silence them for ten minutes."""
        ids = tuple(a.alarm.id for a in called.alarms)
        until = self._now() + PUT_OFF
        if self._answers(called, lambda alarms: self._silence.put_off(alarms, until)):
            return
        from pitjournal.journal.commands.bench import PutOffAlarms  # noqa: PLC0415 - seldom needed

        command = PutOffAlarms(ids, until, called.made, f"In ten minutes: {called.words}")
        self._bridge.do(command, self)

    def _answers(self, called: Called, answer: "Callable[[tuple[AlarmNow, ...]], None]") -> bool:
        """Answer a silent probe, which no record of the journal stands for."""
        if not is_silence(called.alarms[0].alarm):
            return False
        answer(called.alarms)
        self.look()
        return True
