"""The card of the day: worked out backward from serving, moved by typing a time."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime, timedelta

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.plan.off_chance import fan_of
from pitjournal.analysis.plan.past import Past
from pitjournal.analysis.plan.rework import Joining, changes_of, to_join
from pitjournal.analysis.plan.schedule import heaviest, work_out
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.day.ribbon import Ribbon, ribbon_of
from pitjournal.domain.day.schedule import cuts_of, is_open, moved
from pitjournal.domain.event import Event
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Changes
from pitjournal.journal.commands.plan import JoinDay, KeepSchedule, MoveStep, ServeAt
from pitjournal.journal.commands.records import Change, Remove, Together
from pitjournal.journal.queries.left_out import left_out_words
from pitjournal.journal.queries.planning import past
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.near_field import NearField
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.plan.day_head import DayHead
from pitjournal.ui.plan.movable_ribbon import MovableRibbon
from pitjournal.ui.plan.schedule_asks import Ask, change_lines, join_lines
from pitjournal.ui.plan.schedule_model import step_lines, sureness, trouble_words
from pitjournal.ui.plan.step_list import StepList
from pitjournal.ui.plan.step_panel import StepPanel
from pitjournal.units.first_letter import capital

Whole = Callable[[], WholeCook | None]

HOW = (
    "Click a time, or choose a line and type one: 7:15, tomorrow 20:30, in 20 min. "
    "Alt and the arrows move it by five minutes, L locks it, Delete takes it away."
)
EMPTY = (
    "Say when you serve or turn in. Each step is then worked out backward, by how long your own "
    "cooks took, else by the trade."
)
SERVED = (
    "When it is served is known. Each step is worked out backward from then, by how long your own "
    "cooks took, else by the trade."
)
SERVES = 128
"""What a serving time takes, px."""

USUAL_DAY = timedelta(hours=9)
"""A serving time without a day lies about so long after the meat goes on."""


class ScheduleCard(Card):
    """The steps of a cook's day, how sure they are, and what does not fit."""

    def __init__(
        self, desk: Desk, whole: Whole, learnt: Callable[[Past], object] | None = None
    ) -> None:
        self._desk, self._whole, self._tell = desk, whole, learnt
        self.more = button("Add a step", self.add_step, "link")
        super().__init__("The day, step by step", side=self.more)
        self._past: Past | None = None
        self._known_for: object = None
        self._offered: tuple[tuple[Event, ...], tuple[Event, ...]] = ((), ())
        self._joining = Joining()
        self._left: object = None
        desk.bridge.changed.connect(self._hear)
        self.over, self.about = self._over_card(), self._about_card()
        self.change = Ask("Change the day", "Leave it as it is", self._change)
        self.join = Ask("Put it in", "Not now", self._join, self._not_now)
        for ask in (self.change, self.join):
            self.body.addWidget(ask)
        self.problem = Problem()
        self.steps = StepList(desk.now, self.move_step, self._lock, self._remove, self.problem.say)
        self.steps.chose.connect(self.ribbon.choose_step)
        self.ribbon.chose.connect(self.steps.choose)
        self.body.addWidget(self.problem)
        self.body.addWidget(self.steps)
        self.empty = QWidget()
        empty = QVBoxLayout(self.empty)
        empty.setContentsMargins(0, 0, 0, 0)
        self.goes_here = words(EMPTY)
        empty.addWidget(self.goes_here)
        self.begin = button("Work the day out", self.work_out, "primary")
        empty.addLayout(row(self.begin, None))
        self.body.addWidget(self.empty)
        self.body.addStretch(1)

    def _over_card(self) -> Card:
        """Return the card of the ribbon: when it is served, how sure that is, and the day."""
        card = Card()
        self.work = button("Work it out again", self.work_out, "link", tip="Ctrl+Shift+T")
        self.serves = NearField("Serve or turn in", self._desk.now, self._serve, bare=True)
        sized(self.serves, width=SERVES)
        head = words("The day, backward from serving at", "heading", wrap=False)
        self.chance = words("", "big", wrap=False)
        self.chance_words = words("", "quiet")
        top = DayHead(
            row(head, self.serves, space=tokens.M), self.chance, self.chance_words, self.work
        )
        card.body.addWidget(top)
        self.ribbon = MovableRibbon(self.move_steps, self._preview, self._do)
        card.body.addWidget(self.ribbon)
        self.troubles = words("", "error")
        card.body.addWidget(self.troubles)
        card.body.setSpacing(0)
        card.body.setContentsMargins(tokens.L, tokens.S, tokens.L, tokens.S)
        return card

    def _about_card(self) -> Card:
        """Return the card that says what the times rest on, and how they are moved."""
        card = Card("Where the times come from")
        self.sources = words("", "quiet")
        self.how = words(HOW, "quiet")
        card.body.addWidget(self.sources)
        card.body.addWidget(self.how)
        return card

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
        self.steps.show_lines(lines, cook.zone)
        self.ribbon.show_ribbon(self._ribbon(whole), cook.zone)
        self.ribbon.setVisible(bool(self.ribbon.ribbon))
        self.empty.setVisible(not lines)
        self.goes_here.setText(EMPTY if cook.serve_at is None else SERVED)
        open_ = cook.status is not CookStatus.DONE
        self.begin.setEnabled(bool(whole.pieces))
        self.work.setVisible(bool(lines) and open_)
        for widget in (self.steps, self.more):
            widget.setVisible(bool(lines))
        self._say_troubles(whole)
        self._say_sure(whole)
        if whole.events != self._offered[0]:
            self.change.leave()
        self._ask_to_join(whole)
        self._learn(whole)

    def _ribbon(self, whole: WholeCook, moves: Mapping[str, datetime] | None = None) -> Ribbon:
        """Return the day as a ribbon, with when the meat comes off where past cooks say."""
        found = ribbon_of(whole, self._desk.now(), moves)
        past = self.past(whole)
        return found.with_fan(fan_of(whole, past.spans, moves or {}) if past is not None else None)

    def _preview(self, steps: Sequence[str], to: datetime) -> Ribbon:
        """Return the ribbon as it would be with steps moved."""
        whole = self._whole()
        assert whole is not None
        cuts = cuts_of(whole.pieces)
        moves: dict[str, datetime] = {}
        for step in steps:
            moves |= moved(whole.events, cuts, step, to)
        return self._ribbon(whole, moves)

    def _do(self, what: str, step_id: str, typed: str) -> None:
        """Do in the list what a key asked for on the ribbon."""
        if what == "type":
            self.steps.setFocus()
            self.steps.type_into(step_id, typed)
        elif what == "lock":
            self._lock(step_id)
        else:
            self._remove(step_id)

    def _say_troubles(self, whole: WholeCook) -> None:
        said = trouble_words(whole, self._desk.now(), self._desk.system)
        self.troubles.setText("\n".join(said))
        self.troubles.setVisible(bool(said))

    def _say_sure(self, whole: WholeCook) -> None:
        past = self.past(whole)
        now, system = self._desk.now(), self._desk.system
        found = sureness(whole, past.spans, system, now) if past is not None else None
        self.chance.setText(found.number if found else "")
        slack = f" · {found.slack}" if found and found.slack else ""
        self.chance_words.setText(f"{found.words}{slack}" if found and found.number else "")
        rests = (*(found.sources if found else ()), left_out_words(self._desk.journal))
        self.sources.setText("\n".join(filter(None, rests)))
        for label in (self.chance, self.sources):
            label.setVisible(bool(label.text()))
        self.ribbon.show_ribbon(self._ribbon(whole), whole.cook.zone)

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
        if whole is None or self.serves.problem:
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
        label = f"{capital(step.kind)} at {show_moment(to, whole.cook.zone, self._desk.now())}"
        return self._desk.bridge.attempt(MoveStep(step_id, to, label), self)

    def move_steps(self, steps: Sequence[str], to: datetime) -> str:
        """Move steps that stand at one moment, as one step to undo; return why not."""
        whole = self._whole()
        if len(steps) == 1 or whole is None:
            problem = self.move_step(next(iter(steps), ""), to)
        else:
            kinds = " and ".join(dict.fromkeys(e.kind for e in whole.events if e.id in steps))
            at = show_moment(to, whole.cook.zone, self._desk.now())
            label = f"{capital(kinds)} at {at}"
            moves = tuple(MoveStep(one, to, label) for one in steps)
            problem = self._desk.bridge.attempt(Together(moves, label, moves[0].merge_key), self)
        self.problem.say(problem)
        return problem

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
