"""Do, undo and redo at random on a real file: every row must be what it was."""

import tempfile
from datetime import timedelta
from pathlib import Path

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from pitjournal.analysis.plan.schedule import spans_of, work_out
from pitjournal.analysis.trends.question import Question
from pitjournal.analysis.trends.stored import kept
from pitjournal.domain.alarm import Alarm, AlarmKind, Watched
from pitjournal.domain.contest import Category, Contest
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.record import Record
from pitjournal.domain.scheme import Scheme
from pitjournal.domain.shelf import OWN_KINDS, OWN_LEVELS, OwnVariable, SavedQuestion
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.errors import JournalError
from pitjournal.files.probe_log import read_probe_log
from pitjournal.files.schemes import shipped
from pitjournal.journal import open_journal
from pitjournal.journal.attaching import Placement, attach_probe_log
from pitjournal.journal.commands.bench import (
    CheckDoneness,
    Choose,
    CorrectEvent,
    FinishAlarms,
    HearAlarms,
    LogEvent,
    PutOffAlarms,
    SetAlarms,
    Weigh,
)
from pitjournal.journal.commands.clock import MoveTimes
from pitjournal.journal.commands.contests import CarryInto, EnterScore, JudgeBy, SetWindow
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.files import FollowFile, RenewFile, SetClock, SwapTraces
from pitjournal.journal.commands.mishaps import CorrectScore, MarkAbsent, MarkSpilled, SwapScores
from pitjournal.journal.commands.own import AddOwn, ChangeOwn, FillOwn, RemoveOwn
from pitjournal.journal.commands.plan import (
    GiveSteps,
    KeepChoice,
    KeepSchedule,
    MoveStep,
    NameHands,
    ServeAt,
    StartAt,
)
from pitjournal.journal.commands.questions import MoveQuestion, SaveQuestion
from pitjournal.journal.commands.records import Add, Change, Remove, Together
from pitjournal.journal.commands.schemes import (
    ChangeScheme,
    RemoveScheme,
    RetireScheme,
    new_version,
)
from pitjournal.journal.commands.tasting import GiveAnswer, GiveScore, LockTasting, RevealTasting
from pitjournal.store.schema import RECORDS
from tests.analysis.trends.frames import frame_of
from tests.builders import NOON, add_comparison, an_event

Rows = dict[str, frozenset[object]]


class UndoWalk(RuleBasedStateMachine):
    """A journal on disk, with the states it went through."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.journal = open_journal(Path(self.folder.name), new=True)
        self.past: list[Rows] = [self.rows()]
        self.future: list[Rows] = []

    def rows(self) -> Rows:
        return {
            kind.KIND: frozenset(repr(record) for record in self.journal.find(kind))
            for kind in RECORDS
        }

    def done(self, command: object) -> None:
        try:
            changes = self.journal.do(command)  # type: ignore[arg-type]
        except JournalError:
            assert self.rows() == self.past[-1]
            return
        if changes:
            key = getattr(command, "merge_key", "")
            merged = key and key == getattr(self, "last_key", None) and not self.future
            self.last_key = key
            if merged and len(self.past) > 1:
                self.past.pop()
            self.past.append(self.rows())
            self.future.clear()

    def pick(self, kind: type[Record], place: int) -> Record | None:
        found = self.journal.find(kind)
        return found[place % len(found)] if found else None

    @rule()
    def add_cook(self) -> None:
        self.done(add_comparison())

    @rule(place=st.integers(0, 9), words=st.text(max_size=5))
    def type_title(self, place: int, words: str) -> None:
        cook = self.pick(Cook, place)
        if isinstance(cook, Cook):
            self.done(Change(Cook, cook.id, {"title": words}))

    @rule(judged=st.booleans())
    def begin_contest(self, judged: bool) -> None:
        contest = Contest(name="Spring", starts_at=NOON, zone="UTC")
        category = Category(contest_id=contest.id, position=0, name="ribs")
        steps = (Add((contest, category), "Add"), JudgeBy(category.id, shipped("contest-2")))
        self.done(Together(steps[: 1 + judged], "Begin a contest"))

    @rule(
        place=st.integers(0, 9),
        seat=st.integers(0, 7),
        value=st.sampled_from([None, 1.0, 5.0, 9.0, 10.0]),
    )
    def read_out(self, place: int, seat: int, value: float | None) -> None:
        category = self.pick(Category, place)
        if isinstance(category, Category):
            self.done(EnterScore(category.id, seat, "taste", value))

    @rule(place=st.integers(0, 9), version=st.sampled_from(["contest-1", "home-panel-1"]))
    def judge_by(self, place: int, version: str) -> None:
        category = self.pick(Category, place)
        if isinstance(category, Category):
            self.done(JudgeBy(category.id, shipped(version)))

    @rule(place=st.integers(0, 9), cook=st.integers(0, 9))
    def turn_in(self, place: int, cook: int) -> None:
        category, cooked = self.pick(Category, place), self.pick(Cook, cook)
        if isinstance(category, Category) and isinstance(cooked, Cook):
            self.done(Change(Category, category.id, {"cook_id": cooked.id}))

    @rule(place=st.integers(0, 9))
    def remove_contest(self, place: int) -> None:
        contest = self.pick(Contest, place)
        if isinstance(contest, Contest):
            self.done(Remove(Contest, contest.id))

    @rule(
        name=st.sampled_from(["bark", "Bark", "yield", "helpers"]),
        level=st.sampled_from(OWN_LEVELS),
        kind=st.sampled_from(OWN_KINDS),
    )
    def make_own(self, name: str, level: str, kind: str) -> None:
        self.done(AddOwn(OwnVariable(name=name, level=level, kind=kind)))

    @rule(
        place=st.integers(0, 20),
        owner=st.integers(0, 20),
        value=st.sampled_from([None, 2.0, True, "thick", ""]),
    )
    def fill_own(self, place: int, owner: int, value: float | str | bool | None) -> None:
        own, piece = self.pick(OwnVariable, place), self.pick(Piece, owner)
        if isinstance(own, OwnVariable) and isinstance(piece, Piece):
            self.done(FillOwn(piece.cook_id, own.id, piece.id, value, "Note"))

    @rule(place=st.integers(0, 20), name=st.sampled_from(["bark", "skin"]))
    def rename_own(self, place: int, name: str) -> None:
        own = self.pick(OwnVariable, place)
        if isinstance(own, OwnVariable):
            self.done(ChangeOwn(own.id, {"name": name}))

    @rule(place=st.integers(0, 20))
    def remove_own(self, place: int) -> None:
        own = self.pick(OwnVariable, place)
        if isinstance(own, OwnVariable):
            self.done(RemoveOwn(own.id))

    @rule(place=st.integers(0, 20), mass=st.floats(-10, 5000), stage=st.sampled_from(Stage))
    def weigh(self, place: int, mass: float, stage: Stage) -> None:
        piece = self.pick(Piece, place)
        if isinstance(piece, Piece):
            self.done(Weigh(piece.cook_id, piece.id, stage, mass))

    @rule(place=st.integers(0, 20), kind=st.sampled_from(EventKind), minutes=st.integers(0, 600))
    def tap(self, place: int, kind: EventKind, minutes: int) -> None:
        piece = self.pick(Piece, place)
        if isinstance(piece, Piece):
            event = an_event(piece.cook_id, kind, minutes=minutes, pieces=(piece.id,))
            self.done(LogEvent(event, f"Log {kind}"))
            self.done(CorrectEvent(event.id, NOON - timedelta(minutes=20)))
            moved = timedelta(minutes=minutes - 300)
            self.done(MoveTimes(piece.cook_id, NOON, moved, "Move what was logged"))

    @rule(place=st.integers(0, 20), names=st.lists(st.sampled_from(["Ana", "Ben"]), unique=True))
    def share_out(self, place: int, names: list[str]) -> None:
        cook = self.pick(Cook, place)
        step = self.pick(Event, place)
        if isinstance(cook, Cook):
            self.done(NameHands(cook.id, tuple(names)))
        if isinstance(step, Event):
            self.done(GiveSteps({step.id: next(iter(names), "")}))

    @rule(place=st.integers(0, 20), minutes=st.integers(-60, 600), what=st.text(max_size=3))
    def hold_contest(self, place: int, minutes: int, what: str) -> None:
        cook = self.pick(Cook, place)
        if not isinstance(cook, Cook):
            return
        contest = Contest(name="Spring", starts_at=NOON, zone="UTC")
        category = Category(contest_id=contest.id, position=0, name="ribs", cook_id=cook.id)
        self.done(Add((contest, category), "A contest"))
        self.done(SetWindow(category.id, {"ideal": NOON + timedelta(minutes=minutes)}))
        self.done(CarryInto(category.id, cook.id, what))

    @rule(place=st.integers(0, 20), feel=st.integers(-1, 9))
    def check(self, place: int, feel: int) -> None:
        piece = self.pick(Piece, place)
        if isinstance(piece, Piece):
            check = DonenessCheck(cook_id=piece.cook_id, piece_id=piece.id, at=NOON, feel=feel)
            self.done(CheckDoneness(check))

    @rule(place=st.integers(0, 20), minutes=st.integers(-60, 600), levels=st.booleans())
    def set_alarm(self, place: int, minutes: int, levels: bool) -> None:
        piece = self.pick(Piece, place)
        if isinstance(piece, Piece):
            at = NOON + timedelta(minutes=minutes)
            timer = Alarm(
                cook_id=piece.cook_id, kind=AlarmKind.AT, words="light", set_at=NOON, at=at
            )
            hold = Alarm(
                cook_id=piece.cook_id,
                kind=AlarmKind.LEAVES,
                words="cold",
                set_at=NOON,
                watched=Watched.PIECE,
                piece_id=piece.id,
                high=4.0 if levels else None,
            )
            self.done(SetAlarms((timer, hold), "Alarm"))

    @rule(place=st.integers(0, 20), minutes=st.integers(0, 600))
    def answer_alarm(self, place: int, minutes: int) -> None:
        alarm = self.pick(Alarm, place)
        if isinstance(alarm, Alarm):
            due = NOON + timedelta(minutes=minutes)
            self.done(HearAlarms({alarm.id: due}))
            self.done(PutOffAlarms((alarm.id,), due))
            self.done(FinishAlarms({alarm.id: due}))

    @rule(name=st.sampled_from(["folder", "blind"]), value=st.sampled_from(["", "a", "b"]))
    def choose(self, name: str, value: str) -> None:
        self.done(Choose(name, value, "Choose"))

    @rule(place=st.integers(0, 9), count=st.integers(1, 99))
    def follow(self, place: int, count: int) -> None:
        cook = self.pick(Cook, place)
        if not isinstance(cook, Cook):
            return
        file = ProbeFile(cook_id=cook.id, name="live.csv", attachment="a", added_at=NOON)
        trace = Trace(
            cook_id=cook.id,
            probe_file_id=file.id,
            channel="1",
            unit_in_file="degF",
            sits=Sits.PIT,
            samples="s",
            count=count,
            starts_at=NOON,
            ends_at=NOON,
            interval=60.0,
        )
        self.done(Add((file, trace), "Keep a file"))
        self.done(FollowFile(file.id, "/card/live.csv"))
        self.done(RenewFile(file.id, "b", {}, {trace.id: {"samples": "t", "count": 100}}, ()))

    @rule(place=st.integers(0, 9), seed=st.integers(0, 99))
    def taste(self, place: int, seed: int) -> None:
        cook = self.pick(Cook, place)
        if not isinstance(cook, Cook):
            return
        self.done(DrawTasting(cook.id, ("Ada", "Bo"), seed))
        whole = self.journal.whole(cook.id)
        if whole.tastings:
            session = whole.tastings[-1]
            samples = [s for s in whole.samples if s.tasting_id == session.id]
            first, last = samples[0].id, samples[-1].id
            self.done(GiveScore(session.id, first, "Ada", "tenderness", 7.0))
            self.done(SwapScores(session.id, "Ada", first, last, NOON))
            self.done(MarkSpilled(session.id, "Ada", first, NOON))
            self.done(MarkAbsent(session.id, "Bo", NOON))
            self.done(LockTasting(session.id))
            self.done(RevealTasting(session.id))
            self.done(CorrectScore(session.id, "Ada", last, "tenderness", 6.0, NOON, "misread"))

    @rule(place=st.integers(0, 9), seed=st.integers(0, 99))
    def tell_apart(self, place: int, seed: int) -> None:
        cook = self.pick(Cook, place)
        if not isinstance(cook, Cook):
            return
        arms = tuple(arm.id for arm in self.journal.find(Arm, cook_id=cook.id))
        triangle = shipped("triangle-1")
        self.done(DrawTasting(cook.id, ("Ada", "Bo"), seed, triangle, ways=arms[:2]))
        whole = self.journal.whole(cook.id)
        for session in whole.tastings[-1:]:
            for sample_id in session.orders.get("Ada", ()):
                self.done(GiveAnswer(session.id, "Ada", sample_id))

    @rule(place=st.integers(0, 9), name=st.text(max_size=3))
    def change_schemes(self, place: int, name: str) -> None:
        self.done(new_version(shipped("home-panel-1")))
        scheme = self.pick(Scheme, place)
        assert isinstance(scheme, Scheme)
        self.done(ChangeScheme(scheme.id, scheme.reads.only(("flavour",))))
        self.done(ChangeScheme(scheme.id, fields={"name": name}, what="name"))
        self.done(RetireScheme(scheme.id, retired=not scheme.retired))
        if place == 0:
            self.done(RemoveScheme(scheme.id))

    @rule(place=st.integers(0, 9), shift=st.floats(-600, 600), drift=st.floats(-1e-3, 1e-3))
    def read_a_log(self, place: int, shift: float, drift: float) -> None:
        cook = self.pick(Cook, place)
        if not isinstance(cook, Cook):
            return
        rows = [f"2026-05-02 12:{n:02d}:00,{100 + n},{20 + n + place}" for n in range(10)]
        data = "\n".join(["Time,Pit (C),Meat (C)", *rows, ""]).encode()
        sits = {0: Placement(sits=Sits.PIT), 1: Placement(sits=Sits.AIR)}
        log = read_probe_log(data, "log.csv")
        self.done(attach_probe_log(self.journal, cook.id, data, "log.csv", log, sits))
        traces = self.journal.find(Trace, cook_id=cook.id)
        self.done(SetClock(traces[0].probe_file_id, shift, drift))
        self.done(SwapTraces(traces[0].id, traces[-1].id))
        self.done(Change(Trace, traces[0].id, {"left_out": ((1.5, 2.5), (4.0, 5.0))}))

    @rule(place=st.integers(0, 9), hours=st.integers(-5, 20), minutes=st.integers(-90, 90))
    def plan(self, place: int, hours: int, minutes: int) -> None:
        cook = self.pick(Cook, place)
        if not isinstance(cook, Cook):
            return
        self.done(ServeAt(cook.id, NOON + timedelta(hours=hours)))
        whole = self.journal.whole(cook.id)
        steps = work_out(whole, spans_of(whole, frame_of([])), NOON)
        self.done(KeepSchedule(cook.id, steps))
        if steps:
            step = steps[minutes % len(steps)]
            assert step.planned_at is not None
            self.done(MoveStep(step.id, step.planned_at + timedelta(minutes=minutes)))
        self.done(StartAt(cook.id, NOON + timedelta(minutes=minutes)))
        self.done(KeepChoice("salt", str(minutes) if minutes > 0 else "", "Weigh the salt"))

    @rule(name=st.sampled_from(["", "wrap", "Wrap", "fuel"]), measure=st.text(max_size=3))
    def save_question(self, name: str, measure: str) -> None:
        self.done(SaveQuestion(name, kept(Question(measure))))

    @rule(place=st.integers(0, 5), by=st.sampled_from([-1, 1]), pinned=st.booleans())
    def move_and_pin_question(self, place: int, by: int, pinned: bool) -> None:
        saved = self.pick(SavedQuestion, place)
        if isinstance(saved, SavedQuestion):
            self.done(MoveQuestion(saved.id, by))
            self.done(Change(SavedQuestion, saved.id, {"pinned": pinned}))

    @rule(place=st.integers(0, 30), kind=st.sampled_from([Cook, Arm, Piece]))
    def remove(self, place: int, kind: type[Cook] | type[Arm] | type[Piece]) -> None:
        record = self.pick(kind, place)
        if isinstance(record, Cook | Arm | Piece):
            self.done(Remove(kind, record.id))

    @rule(place=st.integers(0, 30))
    def several_as_one(self, place: int) -> None:
        piece = self.pick(Piece, place)
        if isinstance(piece, Piece):
            changes = (
                Change(Piece, piece.id, {"grade": "choice"}),
                Change(Piece, piece.id, {"slot": "top"}),
            )
            self.done(Together(changes, "Edit a piece"))

    @precondition(lambda self: len(self.past) > 1)
    @rule()
    def undo(self) -> None:
        assert self.journal.undo()
        self.future.append(self.past.pop())
        self.last_key = ""
        assert self.rows() == self.past[-1]

    @precondition(lambda self: self.future)
    @rule()
    def redo(self) -> None:
        assert self.journal.redo()
        self.past.append(self.future.pop())
        self.last_key = ""
        assert self.rows() == self.past[-1]

    @rule()
    def reopen(self) -> None:
        self.journal.close()
        self.journal = open_journal(Path(self.folder.name))

    @invariant()
    def rows_are_what_the_last_step_left(self) -> None:
        assert self.rows() == self.past[-1]

    def teardown(self) -> None:
        assert self.journal.database.integrity() == (True, True)
        self.journal.close()
        self.folder.cleanup()


UndoWalk.TestCase.settings = settings(
    max_examples=10,
    stateful_step_count=20,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[phase for phase in Phase if phase is not Phase.shrink and phase is not Phase.explain],
)
test_that_any_walk_of_do_undo_and_redo_restores_every_row = UndoWalk.TestCase
