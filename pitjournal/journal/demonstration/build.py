"""Make the demonstration journal: an invented scenario, cook by cook, by running commands."""

from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import numpy as np

from pitjournal.analysis.plan.schedule import work_out
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.shelf import OwnValue, OwnVariable
from pitjournal.domain.tasting import Blindness, Sample, Score, Tasting
from pitjournal.errors import JournalError
from pitjournal.files.schemes import shipped
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.bench import FinishCook
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.mishaps import MarkSpilled
from pitjournal.journal.commands.plan import KeepSchedule, ServeAt
from pitjournal.journal.commands.records import Add, AddCook, Change, Together
from pitjournal.journal.commands.tasting import LockTasting, RevealTasting
from pitjournal.journal.demonstration import attached, bench, contest, scenario, season, shelf
from pitjournal.journal.demonstration.cuts import HOUR, MINUTE
from pitjournal.journal.demonstration.day import Day, draw_lot, run_day
from pitjournal.journal.demonstration.panel import TASTERS, Sheet, judge, judge_again
from pitjournal.journal.demonstration.plans import CookPlan
from pitjournal.journal.demonstration.records import ZONE, Setup, preparations, set_up
from pitjournal.journal.journal import Journal, open_journal
from pitjournal.journal.queries.planning import past

SEED = 3
CONTEST = 9
"""The contests have lots of their own, so that they change no other cook; drawn until six cooks
show what is hidden in them, and the dear grade nothing."""

NOW = datetime(2026, 11, 21, 18, 20, tzinfo=UTC)
"""The "now" of a journal that is to be the same each time."""

SERVED_AFTER = 7.5 * HOUR
"""The planned cook is tasted so long after seven in the morning."""

WARM = 55.0
"""Of the samples when they are served, °C: common practice, no source."""

RUNNING_SINCE = 3 * HOUR + 45 * MINUTE

Report = Callable[[float, str], None]


def make_demonstration(
    folder: Path, progress: Report | None = None, *, now: datetime | None = None
) -> Journal:
    """Make the demonstration journal in a folder and return it open.

    Everything in it is invented. Cooks lie in the fourteen months before `now`; one is running
    then, one is planned for a week later. The same `now` gives the same journal.

    Parameters
    ----------
    folder
        Where; made when it is not there.
    progress
        Called with a fraction from 0 to 1 and what is being made.
    now
        Aware; a fixed day if not given.

    Raises
    ------
    JournalError
        If there are cooks in the folder's journal already, or it cannot be written.
    """
    journal = open_journal(folder, new=True)
    try:
        _need_room(journal)
        _Scenario(journal, now or NOW, progress or _silent).make()
    except BaseException:
        journal.close()
        raise
    return journal


def _need_room(journal: Journal) -> None:
    if journal.cooks.count():
        message = f"There are cooks in {journal.folder} already."
        raise JournalError(message, "Name a new folder for the demonstration.")


def _silent(fraction: float, words: str) -> None:
    """Tell nobody."""


class _Scenario:
    def __init__(self, journal: Journal, now: datetime, progress: Report) -> None:
        self._journal, self._now, self._progress = journal, now, progress
        self._ring = shelf.smoke_ring()
        self._cookers: dict[str, str] = {}

    def make(self) -> None:
        items = shelf.shelf_items()
        self._cookers = {item.name: item.id for item in items}
        records = (*items, self._ring, shelf.invented())
        self._journal.do(Add(records, "Fill the Shelf"))
        every = (*scenario.DONE, scenario.RUNNING, scenario.PLANNED, *scenario.CONTESTS)
        for number, plan in enumerate(every):
            self._progress(number / len(every), plan.title)
            lot = np.random.default_rng([SEED, number, CONTEST] if plan.judged else [SEED, number])
            if plan is scenario.PLANNED:
                self._planned(plan, lot)
            else:
                self._cooked(plan, lot, running=plan is scenario.RUNNING, number=number)
        season.hold(self._journal)
        self._progress(1.0, "Done")

    def _lit(self, plan: CookPlan) -> datetime:
        day: date = self._now.astimezone(ZONE).date() - timedelta(days=plan.days_ago)
        return datetime.combine(day, time.fromisoformat(plan.lit), ZONE).astimezone(UTC)

    def _set_up(self, plan: CookPlan, lit: datetime, lot: np.random.Generator) -> Setup:
        setup = set_up(plan, draw_lot(plan, lot), lit, self._cookers[plan.cooker.name], lot)
        parts = (*setup.arms, *setup.pieces, *preparations(setup))
        self._journal.do(AddCook(setup.cook, parts))
        return setup

    def _planned(self, plan: CookPlan, lot: np.random.Generator) -> None:
        setup = self._set_up(plan, self._lit(plan), lot)
        cook_id = setup.cook.id
        self._journal.do(ServeAt(cook_id, setup.at(SERVED_AFTER)))
        whole = self._journal.whole(cook_id)
        steps = work_out(whole, past(self._journal, whole).spans, self._now)
        self._journal.do(KeepSchedule(cook_id, steps))

    def _cooked(
        self, plan: CookPlan, lot: np.random.Generator, *, running: bool, number: int
    ) -> None:
        lit = self._now - timedelta(seconds=RUNNING_SINCE) if running else self._lit(plan)
        setup = self._set_up(plan, lit.replace(second=0, microsecond=0), lot)
        day = run_day(plan, setup.pieces_lot, setup.cook.ambient or 12.0, lot)
        until = RUNNING_SINCE if running else float("inf")
        self._at_the_bench(setup, day, lot, until, corrected=number % 3 == 0)
        for wiring in attached.wirings(setup):
            file = attached.probe_file(self._journal, setup, day, wiring, lot=lot, until=until)
            self._journal.do(file)
        pictures = attached.photos(self._journal, setup, day, lot=lot, until=until)
        if pictures is not None:
            self._journal.do(pictures)
        if running:
            self._to_come(setup, day, until)
            draw = DrawTasting(
                setup.cook.id, tuple(TASTERS), seed=number, warm_up=True, seen=Blindness.BLIND
            )
            self._journal.do(draw)
            return
        if plan.judged:
            self._judged(setup, day, lot, number)
        elif plan.panel:
            self._taste(setup, day, lot, number)
        self._journal.do(
            Together((*_rings(setup, self._ring, lot), _finish(setup)), "Finish the cook")
        )

    def _at_the_bench(
        self, setup: Setup, day: Day, lot: np.random.Generator, until: float, *, corrected: bool
    ) -> None:
        timed = [
            *bench.weighings(setup, day, lot),
            *bench.fire(setup, day, lot),
            *bench.taps(setup, day, corrected=corrected),
            *bench.probings(setup, day),
            *bench.remarks(setup, day, lot),
        ]
        timed.sort(key=lambda entry: entry[0])
        before = tuple(command for at, command in timed if at < 0)
        after = tuple(command for at, command in timed if 0 <= at <= until)
        self._journal.do(Together(before, "Prepare the meat"))
        self._journal.do(Together(after, "Work at the bench"))

    def _to_come(self, setup: Setup, day: Day, until: float) -> None:
        over = 5 * MINUTE * round(day.over / (5 * MINUTE))
        steps = (
            (EventKind.UNWRAP, over - 80 * MINUTE),
            (EventKind.OFF, over),
            (bench.carved(setup), over + setup.plan.cut.rest),
        )
        events = tuple(_to_come(setup, kind, at, setup.lit) for kind, at in steps if at > until)
        self._journal.do(Add(events, "Plan the rest"))

    def _taste(self, setup: Setup, day: Day, lot: np.random.Generator, number: int) -> None:
        cook_id = setup.cook.id
        tasters = tuple(TASTERS)[: 3 if number % 7 == 3 else 4]
        twice = len(setup.arms) > 2
        self._journal.do(
            DrawTasting(cook_id, tasters, seed=1000 + number, twice=twice, seen=Blindness.BLIND)
        )
        (session,) = self._journal.find(Tasting, cook_id=cook_id)
        sheet = judge(setup.plan, setup.pieces_lot, tasters, lot)
        again = judge_again(sheet, np.random.default_rng([SEED, number, 1]))
        self._enter(setup, session, _served(setup, day), (sheet, again), spilled=number % 5 == 4)

    def _judged(self, setup: Setup, day: Day, lot: np.random.Generator, number: int) -> None:
        """Let the panel taste the pieces, and six judges after them."""
        cook_id, served = setup.cook.id, _served(setup, day)
        panel, judges = contest.both_sheets(setup.plan, setup.pieces_lot, lot)
        draws = (
            DrawTasting(cook_id, tuple(TASTERS), seed=1000 + number, seen=Blindness.BLIND),
            DrawTasting(
                cook_id, contest.JUDGES, seed=2000 + number, scheme=shipped(contest.SCHEME)
            ),
        )
        for draw, sheet, later in zip(draws, (panel, judges), (0.0, 30 * MINUTE), strict=True):
            self._journal.do(draw)
            session = max(self._journal.find(Tasting, cook_id=cook_id), key=lambda one: one.id)
            self._enter(setup, session, served + timedelta(seconds=later), (sheet, sheet))

    def _enter(
        self,
        setup: Setup,
        session: Tasting,
        served: datetime,
        sheets: tuple[Sheet, Sheet],
        *,
        spilled: bool = False,
    ) -> None:
        """Enter the scores of a session: of each piece, and of what was served again."""
        samples = self._journal.find(Sample, tasting_id=session.id)
        places = {piece.id: place for place, piece in enumerate(setup.pieces)}
        scores = [
            Score(
                cook_id=setup.cook.id,
                tasting_id=session.id,
                sample_id=sample.id,
                taster=taster,
                criterion=criterion,
                value=value,
            )
            for number_served, sample in enumerate(samples)
            for (piece, taster, criterion), value in sheets[number_served >= len(places)].items()
            if piece == places[sample.piece_id]
        ]
        steps: tuple[Command, ...] = (
            Change(Tasting, session.id, {"served_at": served, "served_temperature": WARM}),
            Add(tuple(scores), "Enter the scores"),
        )
        if spilled:
            steps += (MarkSpilled(session.id, session.tasters[-1], samples[-1].id, served),)
        self._journal.do(Together(steps, "Enter the scores"))
        self._journal.do(LockTasting(session.id))
        self._journal.do(RevealTasting(session.id))


def _served(setup: Setup, day: Day) -> datetime:
    return setup.at(day.over + setup.plan.cut.rest + 20 * MINUTE)


def _to_come(setup: Setup, kind: EventKind, at: float, entered: datetime) -> Event:
    return Event(
        cook_id=setup.cook.id,
        kind=str(kind),
        happened_at=None,
        entered_at=entered,
        planned_at=setup.at(at),
        pieces=tuple(piece.id for piece in setup.pieces),
    )


def _finish(setup: Setup) -> Command:
    return FinishCook(setup.cook.id)


def _rings(setup: Setup, ring: OwnVariable, lot: np.random.Generator) -> Iterator[Command]:
    """Measure the smoke ring of large cuts, mostly."""
    for piece in setup.pieces:
        if setup.plan.cut.mass > 2000 and lot.random() < 0.8:
            depth = 0.001 * round(float(lot.normal(9.0, 1.5)))
            value = OwnValue(
                cook_id=setup.cook.id, variable_id=ring.id, owner_id=piece.id, number=depth
            )
            yield Add((value,), "Measure the smoke ring")
