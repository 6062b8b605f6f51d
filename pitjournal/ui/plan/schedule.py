"""The card of the day: worked out backward from serving, moved by typing a time."""

from collections.abc import Callable
from datetime import datetime, timedelta

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.plan.past import Past
from pitjournal.analysis.plan.rework import Joining, changes_of, to_join
from pitjournal.analysis.plan.schedule import heaviest, work_out
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import Event
from pitjournal.domain.moments import show_moment
from pitjournal.domain.schedule import is_open
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Changes
from pitjournal.journal.commands.plan import JoinDay, KeepSchedule, MoveStep, ServeAt
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.journal.queries.planning import past
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.plan.lanes import LanesChart
from pitjournal.ui.plan.near_field import NearField
from pitjournal.ui.plan.schedule_asks import Ask, change_lines, join_lines
from pitjournal.ui.plan.schedule_model import step_lines, sureness, trouble_words
from pitjournal.ui.plan.step_list import StepList
from pitjournal.ui.plan.step_panel import StepPanel

Whole = Callable[[], WholeCook | None]

HOW = (
    "Click a time, or choose a line and type one: 7:15, tomorrow 20:30, in 20 min. "
    "Alt and the arrows move it by five minutes, L locks it, Delete takes it away."
)
EMPTY = (
    "Say when you serve or turn in. Each step is then worked out backward, by how long your own "
    "cooks took, else by the trade."
)
USUAL_DAY = timedelta(hours=9)
"""A serving time without a day lies about so long after the meat goes on."""


class ScheduleCard(Card):
    """The steps of a cook's day, how sure they are, and what does not fit."""

    def __init__(
        self, desk: Desk, whole: Whole, learnt: Callable[[Past], object] | None = None
    ) -> None:
        self._desk, self._whole, self._tell = desk, whole, learnt
        self.work = button("Work it out again", self.work_out, "link", tip="Ctrl+Shift+T")
        super().__init__("The day, backward from serving", side=self.work)
        self._past: Past | None = None
        self._known_for: object = None
        self._offered: tuple[tuple[Event, ...], tuple[Event, ...]] = ((), ())
        self._joining = Joining()
        self._left: object = None
        desk.bridge.changed.connect(self._hear)
        self.serves = NearField("Serve or turn in", desk.now, self._serve)
        sized(self.serves, most_width=210)
        self.chance = words("", "big", wrap=False)
        self.chance_words = words("", "quiet")
        sure = QWidget()
        sure.setLayout(column(self.chance, self.chance_words, space=0))
        top = row(self.serves, sure, space=tokens.L)
        top.setStretch(1, 1)
        self.body.addLayout(top)
        self.change = Ask("Change the day", "Leave it as it is", self._change)
        self.join = Ask("Put it in", "Not now", self._join, self._not_now)
        for ask in (self.change, self.join):
            self.body.addWidget(ask)
        self.lanes = LanesChart()
        self.body.addWidget(self.lanes)
        self.problem = Problem()
        self.steps = StepList(desk.now, self.move_step, self._lock, self._remove, self.problem.say)
        self.body.addWidget(self.steps)
        self.body.addWidget(self.problem)
        self.troubles = words("", "error")
        self.sources = words("", "quiet")
        self.how = words(HOW, "quiet")
        self.more = button("Add a step", self.add_step, "link")
        for label in (self.troubles, self.sources, self.how):
            self.body.addWidget(label)
        self.body.addLayout(row(self.more, None))
        self.empty = QWidget()
        empty = QVBoxLayout(self.empty)
        empty.setContentsMargins(0, 0, 0, 0)
        empty.addWidget(words(EMPTY))
        self.begin = button("Work the day out", self.work_out, "primary")
        empty.addLayout(row(self.begin, None))
        self.body.addWidget(self.empty)
        self.body.addStretch(1)

    # showing

    def _hear(self, changes: Changes) -> None:
        """Ask the past cooks again next time where one of them has changed."""
        whole = self._whole()
        if changes.cooks - {whole.cook.id if whole is not None else ""}:
            self._known_for = None

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's day."""
        cook, system = whole.cook, self._desk.system
        self.serves.zone = cook.zone
        self.serves.near = cook.serve_at or cook.starts_at + USUAL_DAY
        self.serves.set_value(cook.serve_at)
        lines = step_lines(whole, system)
        served = (
            f"backward from {show_moment(cook.serve_at, cook.zone, self._desk.now())}"
            if cook.serve_at
            else ""
        )
        self.heading.setText(f"The day, {served or 'step by step'}")
        self.steps.show_lines(lines, cook.zone)
        self.lanes.show_cook(whole)
        self.empty.setVisible(not lines)
        open_ = cook.status is not CookStatus.DONE
        self.begin.setEnabled(bool(whole.pieces))
        self.work.setVisible(bool(lines) and open_)
        for widget in (self.steps, self.how, self.more):
            widget.setVisible(bool(lines))
        self._say_troubles(whole)
        self._say_sure(whole)
        if whole.events != self._offered[0]:
            self.change.leave()
        self._ask_to_join(whole)
        self._learn(whole)

    def _say_troubles(self, whole: WholeCook) -> None:
        said = trouble_words(whole, self._desk.now(), self._desk.system)
        self.troubles.setText("\n".join(said))
        self.troubles.setVisible(bool(said))

    def _say_sure(self, whole: WholeCook) -> None:
        past = self.past(whole)
        found = sureness(whole, past.spans, self._desk.system) if past is not None else None
        self.chance.setText(found.number if found else "")
        slack = f" · {found.slack}" if found and found.slack else ""
        self.chance_words.setText(f"{found.words}{slack}" if found and found.number else "")
        self.sources.setText("\n".join(found.sources) if found else "")
        for label in (self.chance, self.chance_words, self.sources):
            label.setVisible(bool(label.text()))

    def past(self, whole: WholeCook) -> Past | None:
        """Return what past cooks say about a cook; None while they are not asked yet."""
        return self._past if self._known_for == _likeness(whole) else None

    def _learn(self, whole: WholeCook, then: Callable[[WholeCook], None] | None = None) -> None:
        """Ask the past cooks, off this thread, unless they were asked about such a cook."""
        likeness = _likeness(whole)
        if self.past(whole) is not None:
            if then is not None:
                then(whole)
            return
        self._known_for, self._past = likeness, None

        def done(found: Past) -> None:
            now = self._whole()
            if now is None or _likeness(now) != likeness:
                return
            self._past = found
            self._say_sure(now)
            self._ask_to_join(now)
            if self._tell is not None:
                self._tell(found)
            if then is not None:
                then(now)

        journal = self._desk.journal
        self._desk.bridge.run(
            "Ask the past cooks",
            lambda _: past(journal, whole),
            done,
            asker=self,
            quiet=then is None,
        )

    # what its taps do

    def work_out(self) -> None:
        """Work the day out, once the past cooks are asked."""
        self.serves.commit()
        whole = self._whole()
        if whole is None or self.serves.error.text():
            return
        if not whole.pieces:
            self._desk.bridge.refused.emit("There is no meat yet. Add the first piece.")
            return
        self._known_for = None
        self._learn(whole, self._keep)

    def _keep(self, whole: WholeCook) -> None:
        assert self._past is not None
        steps = work_out(whole, self._past.spans, self._desk.now())
        if not any(is_open(event) for event in whole.events):
            self._desk.bridge.do(KeepSchedule(whole.cook.id, steps), self)
            self._say_moved(whole)
            return
        found = changes_of(whole, steps)
        self._offered = (whole.events, steps)
        if not found:
            self.change.tell("Worked out again: nothing would change.")
            return
        lines = change_lines(whole, found, self._desk.system)
        self.join.leave()
        self.change.ask("Worked out again, this would change:", lines)
        self.change.yes.setFocus()

    def _say_moved(self, before: WholeCook) -> None:
        """Say so where the meat goes on at another time now than was typed."""
        after = self._desk.journal.whole(before.cook.id)
        if after.cook.starts_at == before.cook.starts_at:
            return
        old, new = (
            show_moment(whole.cook.starts_at, whole.cook.zone, self._desk.now())
            for whole in (before, after)
        )
        self._offered = (after.events, ())
        self.change.tell(f"Meat on was {old}; worked out backward from serving it is {new} now.")

    def _change(self) -> None:
        """Change the day to what was offered, unless it changed meanwhile."""
        whole = self._whole()
        if whole is not None and whole.events == self._offered[0]:
            self._desk.bridge.do(KeepSchedule(whole.cook.id, self._offered[1]), self)

    def _ask_to_join(self, whole: WholeCook) -> None:
        """Ask about rub or a treatment that was planned after the day was worked out."""
        past = self.past(whole)
        found = Joining() if past is None else to_join(whole, past.spans, self._desk.now())
        self._joining = found
        if not found or _asked(whole) == self._left or self.change.yes.isVisibleTo(self):
            self.join.leave()
            return
        self.join.ask("Not in the day yet:", join_lines(whole, found, self._desk.system))

    def _not_now(self) -> None:
        """Ask no more until something else is planned."""
        whole = self._whole()
        self._left = None if whole is None else _asked(whole)

    def _join(self) -> None:
        whole = self._whole()
        if whole is not None and self._joining:
            found = self._joining
            self._desk.bridge.do(JoinDay(whole.cook.id, found.adds, found.moves, found.takes), self)

    def add_step(self) -> None:
        """Ask for another step."""
        whole = self._whole()
        if whole is not None:
            StepPanel(self._desk, self.window(), whole).open_panel()

    def _serve(self, value: object, _typed: str) -> str:
        whole = self._whole()
        if whole is None:
            return ""
        at = value if isinstance(value, datetime) else None
        label = (
            f"Serve at {show_moment(at, whole.cook.zone, self._desk.now())}"
            if at
            else "Leave serving open"
        )
        return self._desk.bridge.attempt(ServeAt(whole.cook.id, at, label), self)

    def move_step(self, step_id: str, to: datetime) -> str:
        """Move a step, and what keeps its distance from it; return why not."""
        whole = self._whole()
        step = self._step(step_id)
        if whole is None or step is None or to == step.planned_at:
            return ""
        label = f"{step.kind[:1].upper()}{step.kind[1:]} at {show_moment(to, whole.cook.zone, self._desk.now())}"
        return self._desk.bridge.attempt(MoveStep(step_id, to, label), self)

    def _step(self, step_id: str) -> Event | None:
        whole = self._whole()
        return next((e for e in whole.events if e.id == step_id), None) if whole else None

    def _lock(self, step_id: str) -> None:
        step = self._step(step_id)
        if step is None or step.happened_at is not None:
            return
        label = f"{'Unlock' if step.locked else 'Lock'} {step.kind}"
        self._desk.bridge.do(Change(Event, step_id, {"locked": not step.locked}, label), self)

    def _remove(self, step_id: str) -> None:
        step = self._step(step_id)
        if step is not None and step.happened_at is None:
            self._desk.bridge.do(Remove(Event, step_id, f"Take away {step.kind}"), self)


def _asked(whole: WholeCook) -> object:
    """Return what may ask to join the day: while it stays, it is asked once."""
    return whole.cook.id, whole.seasonings, whole.treatments


def _likeness(whole: WholeCook) -> object:
    """Return what the past cooks are asked by: while it stays their answer does."""
    cook = whole.cook
    cooker = whole.cooker.name if whole.cooker else ""
    pieces = tuple((p.id, p.cut, p.thickness, heaviest(whole, p)) for p in whole.pieces)
    return cook.id, cooker, cook.set_point, pieces
