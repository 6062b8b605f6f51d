"""What was learnt: where it stands, what it says of itself, and that it stays within it."""

import json
import math
from dataclasses import replace

import numpy as np
import pytest

from pitjournal.analysis.forecast.learned import FARTHEST, left_by, network
from pitjournal.analysis.forecast.signs import Signs
from pitjournal.resource_files import resource_path

NOW = 100.0
"""Minutes from on."""


def _signs(**changed: float) -> Signs:
    net = network()
    usual = {name: float(value) for name, value in zip(net.names, net.mean, strict=True)}
    return Signs(math.log(100.0), {**usual, **changed})


def test_that_the_file_names_what_it_was_learnt_from() -> None:
    kept = json.loads(resource_path("forecast/learned.json").read_text("utf-8"))
    assert "no measured cook" in kept["what"]
    assert kept["seeds"]
    assert kept["questions"] > 10_000


def test_that_an_average_cook_takes_about_what_is_usual() -> None:
    found = left_by(_signs(), NOW)
    assert math.exp(found.log_minutes) == pytest.approx(100.0, rel=0.3)
    assert 0.02 < found.spread < 0.5


def test_that_a_sign_out_of_its_range_counts_as_at_the_end_of_it() -> None:
    net = network()
    place = net.names.index("rise")
    end = float(net.mean[place] + FARTHEST * net.spread[place])
    assert left_by(_signs(rise=end), NOW) == left_by(_signs(rise=end + 1000.0), NOW)


def test_that_a_cook_ahead_of_the_usual_has_less_left_than_one_behind() -> None:
    # By a quarter of its time at each place where it is told.
    stretches = ("from on", "since mark", "plain", "from mark", "bodies")
    early, late = (
        left_by(_signs(**{**dict.fromkeys(stretches, by), "ahead": by, "rise": -by}), NOW)
        for by in (-0.25, 0.25)
    )
    assert early.log_minutes < late.log_minutes


def test_that_several_networks_count_alike() -> None:
    net = network()
    at = net.mean[None, :] + 0.5 * net.spread
    each = [replace(net, layers=(layers,)).out(at) for layers in net.layers]
    assert net.out(at) == pytest.approx(np.mean(each, axis=0))


def test_that_the_bands_are_those_of_simulators_that_were_left_out() -> None:
    net = network()
    for own in (False, True):
        assert net.away[own].shape == (3, 5)
        for share in (0.1, 0.4, 0.9):
            scores = net.bands_at(share, own)
            assert list(scores) == sorted(scores)
            assert scores[0] < -1.0 < 1.0 < scores[-1]
    # Between two shares a line, beyond the last the last.
    between = [(a + b) / 2.0 for a, b in zip(*net.away[True][:2], strict=True)]
    assert net.bands_at(0.375, own=True) == pytest.approx(between)
    assert net.bands_at(0.95, own=True) == tuple(net.away[True][-1])
