"""A plan is sent to friends, cooked in three kitchens, and joined again where it came from."""

from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.analysis.findings.as_json import as_json
from pitjournal.domain.cook import Arm, Cook, CookStatus
from pitjournal.domain.event import Event
from pitjournal.domain.piece import Piece, Weighing
from pitjournal.domain.tasting import Sample, Score, Tasting
from pitjournal.domain.treatment import Treatment
from pitjournal.files import strangers
from pitjournal.files.bundle import Unpacked, write_bundle
from pitjournal.files.schemes import shipped
from pitjournal.files.summary.content import Choice, Detail
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bundles.gathering import bundle_of, protocol_of
from pitjournal.journal.bundles.incoming import Incoming, incoming
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.records import Change
from pitjournal.journal.commands.tasting import GiveScore, LockTasting, RevealTasting
from pitjournal.journal.jobs import Progress
from tests.builders import add_comparison
from tests.journal.bundles.test_back_again import bring

KITCHENS = ((5.0, 7.0, 5.2), (5.1, 6.8, 5.0), (4.8, 7.1, 5.1))
"""Tenderness of the three arms in each kitchen, invented: injected is two points more tender."""


def taste(journal: Journal, cook_id: str, means: Sequence[float]) -> None:
    """Have a panel of two judge every piece of a cook, and reveal it."""
    scheme = shipped("home-panel-1")
    journal.do(
        DrawTasting(cook_id, ("Ada", "Bruno"), seed=1, scheme=scheme, criteria=("tenderness",))
    )
    (session,) = journal.find(Tasting, cook_id=cook_id)
    arms = {arm.id: arm.position for arm in journal.find(Arm, cook_id=cook_id)}
    pieces = {piece.id: piece for piece in journal.find(Piece, cook_id=cook_id)}
    for sample in journal.find(Sample, tasting_id=session.id):
        piece = pieces[sample.piece_id]
        mean = means[arms[piece.arm_id or ""]] + 0.3 * (piece.position // 3 - 1)
        for taster in session.tasters:
            journal.do(GiveScore(session.id, sample.id, taster, "tenderness", round(mean)))
    journal.do(LockTasting(session.id))
    journal.do(RevealTasting(session.id))
    journal.do(Change(Cook, cook_id, {"status": CookStatus.DONE}, "Done"))


def write_plan(journal: Journal, cook_id: str, target: Path, choice: Choice | None = None) -> None:
    with target.open("wb") as file:
        gathered = protocol_of(journal, [cook_id], choice or Choice(), target.stem)
        write_bundle(gathered.bundle, file)


def bring_plan(journal: Journal, path: Path) -> Incoming:
    found = bring(journal, path)
    assert found.protocol
    return found


def test_three_kitchens_are_joined_each_a_row_of_its_own(tmp_path: Path) -> None:
    with closing(open_journal(tmp_path / "home", new=True)) as home:
        command = add_comparison()
        home.do(command)
        taste(home, command.cook.id, KITCHENS[0])
        plan = tmp_path / "plan.eln"
        write_plan(home, command.cook.id, plan)
        for number, means in enumerate(KITCHENS[1:]):
            with closing(open_journal(tmp_path / f"kitchen-{number}", new=True)) as kitchen:
                (own,) = bring_plan(kitchen, plan).cooks
                taste(kitchen, own.id, means)
                back = tmp_path / f"kitchen-{number}.eln"
                with back.open("wb") as file:
                    write_bundle(bundle_of(kitchen, [own.id], Choice(), back.stem).bundle, file)
            bring(home, back)
        assert len({cook.id for cook in home.find(Cook)}) == 3
        told = as_json(home.findings.of(command.cook.id), home.findings.slow(command.cook.id))
        joined = [row for row in told["differences"] if row["cooks"] == 3 and row["declared"]]
        assert {row["arm"] for row in joined} == {"Injected", "Needled"}
        injected = next(row for row in joined if row["arm"] == "Injected")
        # The mean of the three kitchens' differences, rounded scores and all.
        assert injected["estimate"] == pytest.approx(2.0, abs=0.35)
        assert {score.taster for score in home.find(Score)} >= {"Ada", "taster 1"}


def test_a_plan_holds_nothing_that_was_found(demonstration_folder: Path, tmp_path: Path) -> None:
    plan = tmp_path / "plan.eln"
    with closing(open_journal(demonstration_folder, read_only=True)) as journal:
        cook_id = journal.cooks.find("28")
        write_plan(journal, cook_id, plan)
        before = journal.whole(cook_id)
    read = strangers.bundle(plan)
    counts = {kind: len(table.rows) for kind, table in read.tables.items() if table.rows}
    assert counts["piece"] == len(before.pieces)
    assert counts["arm"] == 3
    found = {"weighing", "event", "doneness_check", "photo", "trace", "tasting", "score", "note"}
    assert not found & set(counts)
    assert read.files.keys().isdisjoint(p.attachment for p in before.photos)


def test_each_time_it_is_brought_it_is_another_planned_cook(tmp_path: Path) -> None:
    plan = tmp_path / "plan.eln"
    with closing(open_journal(tmp_path / "home", new=True)) as home:
        command = add_comparison()
        home.do(command)
        write_plan(home, command.cook.id, plan, Choice(Detail.RATIOS))
    with closing(open_journal(tmp_path / "kitchen", new=True)) as kitchen:
        (first,) = bring_plan(kitchen, plan).cooks
        (second,) = bring_plan(kitchen, plan).cooks
        assert len({first.id, second.id, command.cook.id}) == 3
        for cook in (first, second):
            assert (cook.status, cook.question) == (CookStatus.PLANNED, command.cook.question)
            assert len(kitchen.find(Piece, cook_id=cook.id)) == 9
            arms = {arm.id for arm in kitchen.find(Arm, cook_id=cook.id)}
            assert {one.arm_id for one in kitchen.find(Treatment, cook_id=cook.id)} == arms
            assert kitchen.find(Event, cook_id=cook.id) == []
        assert kitchen.find(Weighing) == []
        assert kitchen.database.integrity() == (True, True)


def test_nothing_is_kept_until_it_is_done(tmp_path: Path) -> None:
    plan = tmp_path / "plan.eln"
    with closing(open_journal(tmp_path / "home", new=True)) as home:
        command = add_comparison()
        home.do(command)
        write_plan(home, command.cook.id, plan)
        found = incoming(home, strangers.bundle(plan), plan.name)
        with Unpacked(plan) as unpacked:
            step = found.kept(home, unpacked, theirs=False, progress=Progress())
        assert step is not None
        assert len(home.find(Cook)) == 1
        home.do(step)
        home.undo()
        assert len(home.find(Cook)) == 1
