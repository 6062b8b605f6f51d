"""The effects hidden in the scenario can be found with plain means, and the decoys cannot."""

import json
import math
from collections import defaultdict
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy import stats

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind, Feel, feel_of
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import FuelStage
from pitjournal.domain.whole_cook import WholeCook

TRUTH = json.loads((Path(__file__).parent / "truth.json").read_text(encoding="utf-8"))

Measure = Callable[[WholeCook, Piece], float]


def score(criterion: str) -> Measure:
    """Return the mean of a piece's tasters; tasters are not replicates."""

    def of(whole: WholeCook, piece: Piece) -> float:
        samples = {sample.id for sample in whole.samples if sample.piece_id == piece.id}
        given = [s for s in whole.scores if s.sample_id in samples and s.criterion == criterion]
        return float(np.mean([s.value for s in given])) if given else math.nan

    return of


def leeway(whole: WholeCook, piece: Piece) -> float:
    """Return the middle of the bounds on how long a piece stayed right, min."""
    times: dict[Feel, list[float]] = defaultdict(list)
    for check in whole.checks_of(piece):
        assert check.feel is not None
        times[feel_of(check.feel)].append(check.at.timestamp() / 60)
    if len(times) < 3:
        return math.nan
    least = times[Feel.RIGHT][-1] - times[Feel.RIGHT][0]
    most = times[Feel.OVER][0] - times[Feel.UNDER][-1]
    return (least + most) / 2


def time_on(whole: WholeCook, piece: Piece) -> float:
    on, off = whole.first(EventKind.ON, piece), whole.first(EventKind.OFF, piece)
    assert on and off and on.happened_at and off.happened_at  # noqa: PT018 - for the types
    return (off.happened_at - on.happened_at).total_seconds() / 60


MEASURES: dict[str, Measure] = {
    "score.tenderness": score("tenderness"),
    "score.juiciness": score("juiciness"),
    "score.flavour": score("flavour"),
    "leeway": leeway,
    "time_on": time_on,
}


def differences(
    cooks: Iterable[WholeCook], control: str, arm: str, measure: Measure
) -> list[float]:
    """Return arm − control of each finished cook that has both."""
    found = []
    for whole in cooks:
        arms = {one.name: one for one in whole.arms}
        if whole.cook.status is not CookStatus.DONE or not {control, arm} <= arms.keys():
            continue
        here, there = (
            np.nanmean([measure(whole, piece) for piece in whole.pieces_of(arms[name])])
            for name in (control, arm)
        )
        found.append(float(there - here))
    return found


def fuel_rates(cooks: Iterable[WholeCook]) -> dict[tuple[str, str], list[float]]:
    """Return g an hour from lit to the last off, by cooker and fuel."""
    found: dict[tuple[str, str], list[float]] = defaultdict(list)
    for whole in cooks:
        lit, off = whole.first(EventKind.LIT), whole.last(EventKind.OFF)
        if whole.cook.status is not CookStatus.DONE or whole.cooker is None:
            continue
        assert lit and off and lit.happened_at and off.happened_at  # noqa: PT018 - for the types
        sign = {FuelStage.IN: 1, FuelStage.ADDED: 1, FuelStage.LEFT: -1}
        used = sum(sign[load.stage] * load.mass for load in whole.fuel_loads)
        hours = (off.happened_at - lit.happened_at).total_seconds() / 3600
        found[whole.cooker.name, whole.fuel_loads[0].fuel].append(used / hours)
    return found


@pytest.mark.parametrize("truth", TRUTH["found"][:-1], ids=lambda truth: truth["what"])
def test_that_an_effect_within_cooks_is_found(
    truth: dict[str, Any], cooks: list[WholeCook]
) -> None:
    found = differences(cooks, truth["control"], truth["arm"], MEASURES[truth["measure"]])
    assert len(found) >= 3
    assert np.mean(found) == pytest.approx(truth["true"], abs=truth["within"])
    assert stats.ttest_1samp(found, 0.0).pvalue < 0.06


def test_that_the_fuel_effect_is_found_within_each_cooker(cooks: list[WholeCook]) -> None:
    truth = TRUTH["found"][-1]
    rates = fuel_rates(cooks)
    cookers = sorted({cooker for cooker, fuel in rates if fuel == truth["arm"]})
    assert len(cookers) == 2
    for cooker in cookers:
        log, lump = rates[cooker, truth["arm"]], rates[cooker, truth["control"]]
        assert min(len(log), len(lump)) >= 4
        assert np.mean(log) / np.mean(lump) == pytest.approx(truth["true"], abs=truth["within"])
        assert stats.ttest_ind(log, lump).pvalue < 0.01


@pytest.mark.parametrize(
    "truth", [t for t in TRUTH["nothing"] if "arm" in t], ids=lambda truth: truth["what"]
)
def test_that_a_decoy_within_cooks_is_not_found(
    truth: dict[str, Any], cooks: list[WholeCook]
) -> None:
    found = differences(cooks, truth["control"], truth["arm"], MEASURES[truth["measure"]])
    assert len(found) >= 3
    assert stats.ttest_1samp(found, 0.0).pvalue > 0.2


def test_that_the_wood_decoy_is_not_found(cooks: list[WholeCook]) -> None:
    flavours: dict[str, list[float]] = defaultdict(list)
    for whole in cooks:
        if whole.scores:
            mean = np.nanmean([MEASURES["score.flavour"](whole, piece) for piece in whole.pieces])
            flavours[whole.wood_additions[0].wood].append(float(mean))
    assert len(flavours) == 4
    assert stats.f_oneway(*flavours.values()).pvalue > 0.2
    assert stats.ttest_ind(flavours["hickory"], flavours["cherry"]).pvalue > 0.2
