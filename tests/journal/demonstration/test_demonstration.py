"""The demonstration journal as a whole: what is in it, and that it holds together."""

import json
import re
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from pitjournal.domain.cook import CookKind, CookStatus
from pitjournal.domain.event import EventKind, Feel, feel_of
from pitjournal.domain.piece import Stage
from pitjournal.domain.rules import impossible_mass, unlikely_mass
from pitjournal.domain.shelf import ShelfKind
from pitjournal.domain.tasting import HOME_PANEL, TastingState
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.treatment import FuelStage, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.probe_log import ReadOptions, read_probe_log
from pitjournal.files.samples import unpack
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.checks import check_journal
from pitjournal.journal.demonstration import make_demonstration
from pitjournal.journal.demonstration.build import NOW
from pitjournal.journal.demonstration.scenario import THE_COMPARISON
from pitjournal.store.rows import image_of
from pitjournal.store.schema import RECORDS
from tests.builders import add_comparison


def done(cooks: list[WholeCook]) -> list[WholeCook]:
    return [whole for whole in cooks if whole.cook.status is CookStatus.DONE]


def comparison(cooks: list[WholeCook]) -> WholeCook:
    return next(whole for whole in cooks if whole.cook.title == THE_COMPARISON.title)


def judged(whole: WholeCook) -> bool:
    """Whether judges of a contest scored it; these were entered last."""
    return any(session.scheme == "contest" for session in whole.tastings)


def running(cooks: list[WholeCook]) -> WholeCook:
    (whole,) = [whole for whole in cooks if whole.cook.status is CookStatus.RUNNING]
    return whole


def test_that_there_are_two_dozen_cooks_over_fourteen_months(cooks: list[WholeCook]) -> None:
    assert len(done(cooks)) >= 24
    starts = [whole.cook.starts_at for whole in done(cooks) if not judged(whole)]
    assert NOW - timedelta(days=14 * 31) <= min(starts) <= NOW - timedelta(days=13 * 30)
    assert starts == sorted(starts)
    assert [whole.cook.number for whole in cooks] == list(range(1, len(cooks) + 1))


def test_that_cuts_cookers_and_kinds_of_cook_vary(cooks: list[WholeCook]) -> None:
    cuts = {piece.cut for whole in cooks for piece in whole.pieces}
    assert cuts >= {"St. Louis ribs", "pork butt", "brisket", "chicken thighs"}
    sorts = {whole.cooker.details["class"] for whole in cooks if whole.cooker}
    assert sorts == {"gravity-fed charcoal", "drum", "offset"}
    assert {whole.cook.kind for whole in cooks} == set(CookKind)
    assert len({whole.cook.title for whole in cooks}) == len(cooks)


def test_that_the_journal_says_that_it_is_invented(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    assert "invented" in demonstration.setting("demonstration")
    assert all("Invented" in whole.cook.note for whole in cooks)


def test_that_everything_in_the_journal_holds(demonstration: Journal) -> None:
    assert check_journal(demonstration).held


def test_that_every_trace_was_read_through_the_importer(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    files = [file for whole in cooks for file in whole.probe_files]
    assert {Path(file.name).suffix for file in files} == {".csv", ".txt", ".tsv"}
    for whole in cooks:
        for file in whole.probe_files:
            data = demonstration.files.read(file.attachment)
            log = read_probe_log(data, file.name, ReadOptions(day_first=True))
            assert file.report == json.loads(json.dumps(log.as_kept()))
            traces = [trace for trace in whole.traces if trace.probe_file_id == file.id]
            assert len(traces) == len(log.channels)
            for trace, channel in zip(traces, log.channels, strict=True):
                kept = unpack(demonstration.files.read(trace.samples))
                assert kept.values == pytest.approx(np.asarray(channel.values_c), abs=1e-4)


def test_that_traces_lie_where_the_cook_does(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    for whole in cooks:
        for trace in whole.traces:
            lit, times = whole.first(EventKind.LIT), demonstration.files.samples(trace).times
            assert lit is not None
            assert lit.happened_at is not None
            assert 0 <= times[0] - lit.happened_at.timestamp() < 2 * 3600
            on = whole.first(EventKind.ON)
            if trace.sits is Sits.MEAT and on is not None and on.happened_at is not None:
                assert abs(times[0] - on.happened_at.timestamp()) <= 120
                assert demonstration.files.samples(trace).values[0] < 15.0


def test_that_the_second_loggers_clock_and_probe_are_put_right(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    whole = comparison(cooks)
    assert len(whole.probe_files) == 2
    first, second = (
        next(t for t in whole.traces if t.probe_file_id == file.id and t.sits is Sits.PIT)
        for file in whole.probe_files
    )
    assert second.shift == 240.0
    one, other = demonstration.files.samples(first), demonstration.files.samples(second)
    shared, here, there = np.intersect1d(one.times, other.times, return_indices=True)
    assert shared.size > 300
    assert np.abs(one.values[here] - other.values[there]).mean() < 1.0
    assert {t.correction for t in whole.traces} == {0.0, -0.8}


def test_that_stalls_show_in_the_unwrapped_part_of_large_cuts(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    # Common practice, no source: a large cut stalls between about 145 and 170 °F
    seen = 0
    for whole in done(cooks):
        for trace in whole.traces:
            piece = next((p for p in whole.pieces if p.id == trace.piece_id), None)
            if piece is None or piece.cut not in {"pork butt", "brisket"}:
                continue
            samples = demonstration.files.samples(trace)
            wrap = whole.first(EventKind.WRAP, piece)
            assert wrap is not None
            assert wrap.happened_at is not None
            before = samples.times < wrap.happened_at.timestamp()
            times, values = samples.times[before], samples.values[before]
            inside = (values > 62.8) & (values < 76.7)
            early = (values > 30.0) & (values < 55.0)
            slow, quick = (np.polyfit(times[part], values[part], 1)[0] for part in (inside, early))
            assert slow < 0.5 * quick
            assert slow * 3600 < 7.0
            seen += 1
    assert seen >= 10


def test_that_lids_dip_the_pit(demonstration: Journal, cooks: list[WholeCook]) -> None:
    for whole in done(cooks):
        for trace in whole.traces:
            wrap = whole.first(EventKind.WRAP)
            if trace.sits is not Sits.PIT or wrap is None or wrap.happened_at is None:
                continue
            samples = demonstration.files.samples(trace)
            since = samples.times - wrap.happened_at.timestamp()
            before = samples.values[(since > -600) & (since <= -60)].mean()
            assert samples.values[(since > -60) & (since < 240)].min() < before - 8.0


def test_that_the_comparison_cook_has_everything(cooks: list[WholeCook]) -> None:
    whole = comparison(cooks)
    cook = whole.cook
    assert cook.question
    assert (cook.outcome, bool(cook.stop_rule)) == ("score.tenderness", True)
    assert [arm.name for arm in whole.arms] == ["Left alone", "Injected", "Needled"]
    assert whole.control is not None
    assert whole.control.name == "Left alone"
    assert [len(whole.pieces_of(arm)) for arm in whole.arms] == [3, 3, 3]
    for pack in {piece.pack for piece in whole.pieces}:
        arms = {piece.arm_id for piece in whole.pieces if piece.pack == pack}
        assert arms == {arm.id for arm in whole.arms}
    for piece in whole.pieces:
        assert None not in (piece.thickness_1, piece.thickness_2, piece.thickness_3)
        assert all(whole.mass(piece, stage) for stage in Stage)
        assert piece.slot
    assert [layer.position for layer in whole.seasonings] == [0, 1]
    assert {load.stage for load in whole.fuel_loads} == {
        FuelStage.IN,
        FuelStage.ADDED,
        FuelStage.LEFT,
    }
    assert whole.wood_additions
    assert whole.notes or cook.note
    assert len(whole.photos) == 4
    kinds = {event.kind for event in whole.events}
    assert kinds >= {"lit", "on", "spritz", "wrap", "unwrap", "glaze", "off", "sliced"}


def test_that_the_injection_is_the_recipe_and_what_was_picked_up_is_weighed(
    cooks: list[WholeCook],
) -> None:
    whole = comparison(cooks)
    (injection,) = [t for t in whole.treatments if t.kind is TreatmentKind.INJECTED]
    assert (injection.salt, injection.phosphate) == (0.025, 0.015)
    for piece in whole.pieces:
        trimmed, treated = whole.mass(piece, Stage.TRIMMED), whole.mass(piece, Stage.TREATED)
        assert trimmed is not None
        assert treated is not None
        pickup = (treated - trimmed) / trimmed
        if whole.treatment_kind(piece) is TreatmentKind.INJECTED:
            assert 0.05 < pickup < 0.13
        else:
            assert abs(pickup) < 0.005


def test_that_one_piece_an_arm_has_both_ends_of_its_leeway(cooks: list[WholeCook]) -> None:
    whole = comparison(cooks)
    for arm in whole.arms:
        feels = [
            {feel_of(check.feel) for check in whole.checks_of(piece) if check.feel}
            for piece in whole.pieces_of(arm)
        ]
        assert [Feel.OVER in feel for feel in feels].count(True) == 1
        assert all({Feel.UNDER, Feel.RIGHT} <= feel for feel in feels)


def test_that_the_panel_tasted_blind_and_the_codes_are_revealed(cooks: list[WholeCook]) -> None:
    whole = comparison(cooks)
    (session,) = whole.tastings
    assert session.state is TastingState.REVEALED
    assert session.served_at is not None
    assert len({sample.code for sample in whole.samples}) == 10
    assert len({sample.piece_id for sample in whole.samples}) == 9  # one of them served twice
    assert len(whole.scores) == 10 * 4 * len(HOME_PANEL)
    assert len({tuple(order) for order in session.orders.values()}) == 4
    assert all(score.value == int(score.value) for score in whole.scores)


def test_that_panel_and_six_judges_scored_the_same_pieces_of_a_few_contests(
    cooks: list[WholeCook],
) -> None:
    contests = [whole for whole in cooks if judged(whole)]
    assert len(contests) == 6
    for whole in contests:
        assert whole.cook.kind is CookKind.CONTEST
        panel, judges = whole.tastings
        assert panel.served_at is not None
        assert judges.served_at is not None
        assert panel.served_at < judges.served_at
        assert (len(panel.tasters), len(judges.tasters)) == (4, 6)
        samples = {one.id: one for one in whole.samples}
        tasted = {
            session.id: {s.piece_id for s in samples.values() if s.tasting_id == session.id}
            for session in (panel, judges)
        }
        assert tasted[panel.id] == tasted[judges.id] == {piece.id for piece in whole.pieces}
        scores = [s.value for s in whole.scores if s.tasting_id == judges.id]
        assert len(scores) == 3 * 6 * 3
        # Common practice, no source: whole numbers 2 to 9 in a contest
        assert all(value == int(value) and 2 <= value <= 9 for value in scores)


def test_that_weights_are_possible_and_likely(cooks: list[WholeCook]) -> None:
    for whole in cooks:
        for piece in whole.pieces:
            known = {stage: mass for stage in Stage if (mass := whole.mass(piece, stage))}
            for stage, mass in known.items():
                assert not impossible_mass(known, stage, mass)
                assert not unlikely_mass(known, stage, mass)


def test_that_yields_are_those_of_the_trade(cooks: list[WholeCook]) -> None:
    # Common practice, no source: brisket yields about 47 to 53 % of what was bought
    yields = []
    for whole in cooks:
        for piece in whole.pieces:
            bought, edible = whole.mass(piece, Stage.BOUGHT), whole.mass(piece, Stage.EDIBLE)
            if piece.cut == "brisket" and bought and edible:
                yields.append(edible / bought)
    assert len(yields) >= 4
    assert 0.44 <= np.mean(yields) <= 0.56


def test_that_a_running_cook_shows_life(demonstration: Journal, cooks: list[WholeCook]) -> None:
    whole = running(cooks)
    assert all(e.happened_at is None or e.happened_at <= NOW for e in whole.events)
    assert whole.first(EventKind.ON) is not None
    assert whole.first(EventKind.OFF) is None
    to_come = [event for event in whole.events if event.happened_at is None]
    assert to_come
    assert all(event.planned_at is not None and event.planned_at > NOW for event in to_come)
    assert whole.checks
    assert all(check.at <= NOW for check in whole.checks)
    assert whole.traces
    for trace in whole.traces:
        assert (
            NOW.timestamp() - 300 < demonstration.files.samples(trace).times[-1] <= NOW.timestamp()
        )
    assert whole.samples
    assert not whole.scores
    assert {load.stage for load in whole.fuel_loads} >= {FuelStage.IN}
    assert FuelStage.LEFT not in {load.stage for load in whole.fuel_loads}


def test_that_one_cook_is_planned_ahead(cooks: list[WholeCook]) -> None:
    (whole,) = [whole for whole in cooks if whole.cook.status is CookStatus.PLANNED]
    assert whole.cook.starts_at > NOW
    assert len(whole.arms) == 4
    assert all(event.happened_at is None and event.planned_at for event in whole.events)


def test_that_events_of_every_kind_and_of_the_cooks_own_are_there(cooks: list[WholeCook]) -> None:
    kinds = {event.kind for whole in cooks for event in whole.events}
    assert kinds >= set(EventKind) - {EventKind.ROTATE}
    assert "split added" in kinds


def test_that_some_taps_were_corrected_and_some_things_never_recorded(
    cooks: list[WholeCook],
) -> None:
    corrected = [e for whole in cooks for e in whole.events if e.uncertainty == 300.0]
    assert len(corrected) >= 5
    assert all(e.happened_at and e.happened_at < e.entered_at for e in corrected)
    plain = done(cooks)
    assert any(whole.cook.wind is None for whole in plain)
    assert any(whole.cook.wind is not None for whole in plain)
    assert any(not whole.probe_files for whole in plain)
    assert any(piece.thickness is None for whole in plain for piece in whole.pieces)
    assert any("lb" in w.typed.get("mass", "") for whole in plain for w in whole.weighings)


def test_that_arms_are_balanced_over_slots_and_cookers(cooks: list[WholeCook]) -> None:
    fuels = Counter(
        (whole.cooker.name, load.fuel)
        for whole in done(cooks)
        for load in whole.fuel_loads
        if whole.cooker and load.stage is FuelStage.IN
    )
    assert fuels["the old drum", "compressed log"] >= 4
    assert fuels["the gravity box", "compressed log"] >= 4


def test_that_the_shelf_is_stocked(demonstration: Journal) -> None:
    for kind in ShelfKind:
        if kind is not ShelfKind.SCHEME:
            assert demonstration.shelf.items(kind)
    assert demonstration.shelf.schemes()
    assert len(demonstration.shelf.items(ShelfKind.TASTER)) == 4
    (injection,) = [i for i in demonstration.shelf.items(ShelfKind.RECIPE) if "injection" in i.name]
    # Shares by weight: stock 96 %, salt 2.5 %, phosphate 1.5 %
    assert injection.details["parts"] == {"stock": 0.96, "salt": 0.025, "phosphate": 0.015}


def test_that_no_brand_or_maker_is_named(cooks: list[WholeCook]) -> None:
    words = " ".join(f"{whole.cook.title} {whole.cook.note} {whole.cook.place}" for whole in cooks)
    assert not re.search(r"[™®©]", words)
    assert not any(piece.supplier for whole in cooks for piece in whole.pieces)


IDS = re.compile(r"\b[0-9a-f]{32}\b")


def contents(journal: Journal) -> list[tuple[str, Any]]:
    """Return every record with its ids as running numbers, less when a file was added."""
    numbers: dict[str, str] = {}
    found = []
    for kind in RECORDS:
        for record in sorted(journal.find(kind), key=lambda record: record.id):
            image = json.loads(image_of(record))
            image.pop("added_at", None)
            plain = json.dumps(image, sort_keys=True)
            words = IDS.sub(lambda m: numbers.setdefault(m.group(), f"#{len(numbers)}"), plain)
            found.append((kind.KIND, words))
    return found


def test_that_the_same_now_gives_the_same_journal(demonstration: Journal, tmp_path: Path) -> None:
    heard: list[float] = []
    again = make_demonstration(tmp_path / "again", lambda share, _: heard.append(share))
    try:
        assert contents(again) == contents(demonstration)
    finally:
        again.close()
    assert heard == sorted(heard)
    assert (heard[0], heard[-1]) == (0.0, 1.0)


def test_that_it_follows_now(tmp_path: Path) -> None:
    now = datetime(2027, 6, 5, 19, 0, tzinfo=UTC)
    journal = make_demonstration(tmp_path / "later", now=now)
    try:
        lines = journal.cooks.page(most=100)
        newest = next(line for line in lines if line.status is CookStatus.RUNNING)
        assert now - timedelta(hours=6) < newest.starts_at < now
        assert check_journal(journal).held
        assert journal.find(Trace)
    finally:
        journal.close()


def test_that_a_journal_with_cooks_is_left_alone(tmp_path: Path) -> None:
    folder = tmp_path / "journal"
    first = open_journal(folder, new=True)
    first.do(add_comparison())
    first.close()
    with pytest.raises(JournalError, match="There are cooks in"):
        make_demonstration(folder)
    again = open_journal(folder)
    assert again.cooks.count() == 1
    again.close()
