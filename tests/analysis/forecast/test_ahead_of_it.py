"""What else a forecast says: the fan, the stall, what if, and when it will feel right."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from pitjournal.analysis.forecast import forecast as forecasting
from pitjournal.analysis.forecast.ahead import Agreed, agreed_with
from pitjournal.analysis.forecast.asked import ForecastAsked, Trace
from pitjournal.analysis.forecast.by_feel import EARLY, Right, by_feel
from pitjournal.analysis.forecast.fan import fan, stall_ahead
from pitjournal.analysis.forecast.forecast import forecast
from pitjournal.analysis.forecast.what_if import dips, what_if
from pitjournal.analysis.traces.features import stall
from pitjournal.domain.samples import Samples
from tests.benchmarks.cook_simulator import house, simulate
from tests.benchmarks.forecast_grade import asked_at, past_of
from tests.benchmarks.simulated import Cooks

NOW = 300
"""Minutes from on."""


@pytest.fixture(scope="module")
def butt() -> Cooks:
    home = house(11, "pork butt")
    home.law, home.habit, home.set_point = "layer", 0.0, 118.0  # never wrapped
    return simulate(home, 13, 12, 18.0)


@pytest.fixture(scope="module")
def asked(butt: Cooks) -> ForecastAsked:
    return asked_at(butt, past_of(butt), NOW, 93.0)


def test_that_the_fan_opens_from_now_to_the_target(asked: ForecastAsked) -> None:
    ahead = fan(asked)
    assert [one.target for one in ahead] == sorted(one.target for one in ahead)
    assert ahead[-1].target == pytest.approx(93.0)
    likely = [one.median for one in ahead if one.median is not None]
    assert likely == sorted(likely)
    assert likely[0] > asked.now
    widths = [(one.high90 or 2e5) - (one.low90 or 0.0) for one in ahead]
    assert widths[-1] > widths[0]
    (alone,) = forecast(asked)
    assert ahead[-1].median == pytest.approx(alone.median, rel=1e-3)


def test_that_a_target_that_is_reached_has_no_fan(asked: ForecastAsked) -> None:
    assert fan(replace(asked, targets=(20.0,))) == ()


def test_that_the_stall_is_seen_ahead_by_the_rule_of_a_finished_trace(
    butt: Cooks, asked: ForecastAsked
) -> None:
    end = int(butt.marks[3, 0])
    minutes = 60.0 * np.arange(end, dtype=np.float64)
    meat = butt.meat[:end, 0].astype(np.float32)
    truth = stall(Samples(minutes, meat), 0.0, float(minutes[-1]))
    found = stall_ahead(asked, fan(asked))
    assert (truth is None) == (found is None)
    if truth is not None and found is not None:
        assert found.begins == pytest.approx(truth.start, abs=0.15 * minutes[-1])
        assert found.begins < found.ends <= minutes[-1] * 1.5


def test_that_foil_and_a_hotter_pit_bring_it_forward(asked: ForecastAsked) -> None:
    found = {one.change: one.minutes for one in what_if(asked)}
    assert found["the pit were 15 °C (27 °F) hotter"] < 0.0
    assert (
        found["it were wrapped in foil now"] < found["it were wrapped in paper now"] < 0.0
    )  # common practice


def test_that_what_is_refused_has_no_what_if(asked: ForecastAsked) -> None:
    assert what_if(replace(asked, targets=(20.0,))) == ()


def test_that_lids_cost_what_they_took_from_the_mean_of_the_pit() -> None:
    times = 60.0 * np.arange(200.0)
    pit = np.full(200, 120.0)
    pit[150:160] = 90.0  # ten minutes of the last two hours and a minute
    trace = Trace(times, np.linspace(5, 60, 200), pit)
    assert dips(trace) == pytest.approx(30.0 * 10 / 121)


def test_that_feel_widens_the_bands_by_how_far_ones_pieces_lay_apart(asked: ForecastAsked) -> None:
    sure = by_feel(asked, Right(93.0, 93.0, 93.0, 5))
    unsure = by_feel(asked, Right(90.0, 93.0, 95.0, 5))
    (bare,) = forecast(asked)
    assert sure.right.median == unsure.right.median == pytest.approx(bare.median, rel=1e-3)
    assert sure.right.low90 == pytest.approx(bare.low90, rel=1e-3)
    assert unsure.right.low90 < sure.right.low90  # type: ignore[operator]  # both are known here
    assert unsure.right.high50 > sure.right.high50  # type: ignore[operator]  # both are known here
    (early,) = forecast(replace(asked, targets=(90.0 - EARLY,)))
    assert unsure.probe_from == pytest.approx(early.median, rel=1e-3)


def test_that_fan_and_what_ifs_of_a_trace_ask_only_once_which_bodies_agree_with_it(
    asked: ForecastAsked, monkeypatch: pytest.MonkeyPatch
) -> None:
    traces = []

    def noted(trace: Trace, *rest: Any, **named: Any) -> Agreed:
        traces.append(trace)
        return agreed_with(trace, *rest, **named)

    monkeypatch.setattr(forecasting, "agreed_with", noted)
    anew = replace(asked, trace=replace(asked.trace))
    assert fan(anew) == fan(asked)
    assert what_if(anew) == what_if(asked)
    assert [trace is anew.trace for trace in traces].count(True) == 1
