"""Another step of the day: what, when, and for whom."""

from datetime import datetime

from PySide6.QtWidgets import QWidget

from pitjournal.domain.day.schedule import BY_HAND, MADE, cuts_of
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.records import Add
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.near_field import NearField
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import row, words

OFTEN = (EventKind.SPRITZ, EventKind.FLIP, EventKind.ROTATE, EventKind.UNWRAP, EventKind.GLAZE)
WHOLE_COOK = "whole cook"


class StepPanel(Overlay):
    """Adds one step; a kind of the cook's own is as good as any."""

    def __init__(self, desk: Desk, over: QWidget, whole: WholeCook) -> None:
        super().__init__(over, "Another step", 620)
        self._desk, self._whole = desk, whole
        self._at: datetime | None = None
        used = dict.fromkeys((*(str(kind) for kind in OFTEN), *desk.used(Event, "kind")))
        self.what = TextField("What", lambda *_: "", used=used, hint="spritz, glaze, refuel…")
        self.when = NearField("When", desk.now, self._timed, hint="10:30")
        self.when.zone, self.when.near = whole.cook.zone, whole.cook.starts_at
        self.body.addLayout(row(self.what, self.when))
        self.body.addWidget(words("For which pieces?", "heading"))
        self.whom = Choice("for which pieces")
        self._cuts = cuts_of(whole.pieces)
        cuts = list(dict.fromkeys(self._cuts.values()))
        self.whom.offer(
            (
                (WHOLE_COOK, "the whole cook", -1),
                *((f"cut:{cut}", cut, -1) for cut in cuts),
                *((a.id, a.name, whole.arm_index(a.id)) for a in whole.ordered_arms),
            )
        )
        self.whom.choose(f"cut:{cuts[0]}" if len(cuts) == 1 else WHOLE_COOK)
        self.body.addWidget(self.whom)
        self.body.addLayout(row(button("Add it", self.add, "primary"), None))

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the first field ready."""
        super().open_panel(first or self.what)

    def _timed(self, value: object, _typed: str) -> str:
        self._at = value if isinstance(value, datetime) else None
        return ""

    def _pieces(self) -> tuple[str, ...]:
        chosen = str(next(iter(self.whom.values()), WHOLE_COOK))
        if chosen == WHOLE_COOK:
            return ()
        return tuple(
            p.id for p in self._whole.pieces if chosen in {f"cut:{self._cuts[p.id]}", p.arm_id}
        )

    def add(self) -> None:
        """Add the step, unless what or when is missing."""
        self.when.commit()
        kind = self.what.line.text().strip()
        if not kind:
            self.what.say("Say what is done, such as spritz.")
            return
        if self._at is None:
            if not self.when.problem:
                self.when.say("Say when, such as 10:30.")
            return
        made = Event(
            cook_id=self._whole.cook.id,
            kind=kind,
            happened_at=None,
            entered_at=self._desk.now(),
            planned_at=self._at,
            pieces=self._pieces(),
            details={MADE: BY_HAND},
        )
        problem = self._desk.bridge.attempt(Add((made,), f"Plan {kind}"), self)
        if problem:
            self.what.say(problem)
            return
        self.close_panel()
