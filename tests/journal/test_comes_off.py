"""When a running cook's meat comes off, through the journal's own door."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from pitjournal.analysis.forecast.asked import ForecastAsked
from pitjournal.analysis.forecast.asked import Trace as Seen
from pitjournal.analysis.forecast.forecast import forecast
from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.cuts import find_cut
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.journal.queries.ahead import ComesOff
from tests.benchmarks.cook_simulator import house, simulate
from tests.benchmarks.simulated import Cooks
from tests.builders import NOON, a_cook
from tests.under_way import under_way

NOW = 100
"""Minutes from on."""


@pytest.fixture(scope="module")
def ribs() -> Cooks:
    return simulate(house(4, "St. Louis ribs"), 1, 4, 7.0)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    opened = open_journal(tmp_path / "cooks", new=True)
    yield opened
    opened.close()


def _asked(journal: Journal, cook: Cook) -> tuple[ComesOff, ...]:
    return journal.comes_off(journal.whole(cook.id))


def test_that_a_piece_with_a_probe_is_told_when_it_comes_off(journal: Journal, ribs: Cooks) -> None:
    (one,) = _asked(journal, under_way(journal, ribs, NOW))
    assert not one.refused
    assert one.early is not None
    assert one.likely is not None
    assert NOON + timedelta(minutes=NOW - 1) < one.early <= one.likely
    assert one.in_time is not None
    assert 0.0 <= one.in_time <= 0.95
    # The trade's ribs come off at 190 to 205 °F (common practice, no source).
    assert (190 - 32) / 1.8 <= one.target <= (205 - 32) / 1.8
    assert "no past cooks of this cut: the trade's ranges" in one.rests_on


def test_that_too_few_readings_are_refused(journal: Journal, ribs: Cooks) -> None:
    (one,) = _asked(journal, under_way(journal, ribs, 8))
    assert one.likely is None
    assert "ten minutes" in one.refused


def test_that_a_piece_that_came_off_or_that_nobody_knows_is_left_out(
    journal: Journal, ribs: Cooks
) -> None:
    assert _asked(journal, under_way(journal, ribs, NOW, cut="grandma's surprise")) == ()
    cook = under_way(journal, ribs, NOW)
    piece = journal.whole(cook.id).pieces[0]
    at = NOON + timedelta(minutes=NOW)
    off = Event(
        cook_id=cook.id, kind=EventKind.OFF, happened_at=at, entered_at=at, pieces=(piece.id,)
    )

    journal.do(Add((off,), "off"))
    assert _asked(journal, cook) == ()


def test_that_the_outlook_of_a_piece_opens_from_its_last_reading(
    journal: Journal, ribs: Cooks
) -> None:
    cook = under_way(journal, ribs, NOW)
    whole = journal.whole(cook.id)
    piece = whole.pieces[0]
    found = journal.outlook(whole, piece.id)
    assert found is not None
    assert found.piece_id == piece.id
    now = NOON + timedelta(minutes=NOW - 1)
    levels = [one.celsius for one in found.fan]
    assert levels == sorted(levels)
    assert levels[0] > float(ribs.meat[NOW - 10, 0])
    for one in found.fan:
        spans = (one.surely_early, one.early, one.likely, one.late, one.surely_late)
        known = [at for at in spans if at is not None]
        assert known == sorted(known)
        assert known[0] >= now
    # The fan ends where the forecast of the piece does, and a change is told in minutes.
    (off,) = _asked(journal, cook)
    assert found.fan[-1].celsius == pytest.approx(off.target)
    assert found.fan[-1].likely is not None
    assert off.likely is not None
    assert abs(found.fan[-1].likely - off.likely) < timedelta(minutes=2)
    hotter = next(one for one in found.what_ifs if "hotter" in one.change)
    assert hotter.minutes < 0.0
    if found.stall_begins is not None:
        assert found.stall_ends is not None
        assert NOON < found.stall_begins < found.stall_ends


def test_that_there_is_no_outlook_of_a_piece_that_is_not_there_or_has_no_probe(
    journal: Journal, ribs: Cooks
) -> None:
    cook = under_way(journal, ribs, NOW)
    whole = journal.whole(cook.id)
    assert journal.outlook(whole, "no such piece") is None
    bare = a_cook(status=CookStatus.RUNNING)
    rack = Piece(cook_id=bare.id, position=0, label="1", cut="SL ribs")
    journal.do(AddCook(bare, (rack,)))
    assert journal.outlook(journal.whole(bare.id), rack.id) is None


def test_that_an_outlook_that_is_refused_has_no_fan_and_no_what_if(
    journal: Journal, ribs: Cooks
) -> None:
    cook = under_way(journal, ribs, 8)
    whole = journal.whole(cook.id)
    found = journal.outlook(whole, whole.pieces[0].id)
    assert found is not None
    assert found.fan == ()
    assert found.what_ifs == ()
    assert found.stall_begins is None


def test_that_a_forecast_is_asked_again_at_half_time_and_told_how_far_it_was_off(
    journal: Journal, ribs: Cooks
) -> None:
    count = 230
    cook = under_way(journal, ribs, count)
    piece = journal.whole(cook.id).pieces[0]
    at = NOON + timedelta(minutes=count - 1)
    off = Event(
        cook_id=cook.id, kind=EventKind.OFF, happened_at=at, entered_at=at, pieces=(piece.id,)
    )
    journal.do(Add((off,), "off"))
    (one,), _lately = journal.graded(journal.whole(cook.id))
    # By hand from the simulator's own arrays: nothing after half time is looked at.
    meat, pit = (
        values[:count, 0].astype(np.float32).astype(np.float64) for values in (ribs.meat, ribs.pit)
    )
    level = float(np.median(meat[-5:]))
    reached = int(np.argmax(meat >= level))
    half = int(reached / 2) + 1
    cut = find_cut("SL ribs")
    assert cut is not None
    trace = Seen(60.0 * np.arange(half, dtype=np.float64), meat[:half], pit[:half])
    asked = ForecastAsked(
        trace,
        cut.shape,
        float(ribs.thickness[0]) / 1000.0,
        float(ribs.mass[0]),
        float(ribs.set_point[0]),
        None,
        (),
        (level,),
    )
    (said,) = forecast(asked)
    assert said.median is not None
    assert said.low90 is not None
    assert said.high90 is not None
    assert one.minutes == pytest.approx(said.median / 60.0 - reached, abs=0.5)
    assert one.inside == (said.low90 <= 60.0 * reached <= said.high90)


def test_that_a_cook_whose_meat_is_still_on_has_no_grade(journal: Journal, ribs: Cooks) -> None:
    cook = under_way(journal, ribs, NOW)
    assert journal.graded(journal.whole(cook.id)) == ((), ())
