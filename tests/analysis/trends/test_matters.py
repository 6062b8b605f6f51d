"""What matters most: hidden effects are ranked, and noise scores nothing."""

import numpy as np
import pytest

from pitjournal.analysis.trends.inference.variable_ranking import rank_variables
from pitjournal.analysis.trends.question import Question, Sign, Where
from pitjournal.domain.blocks import Value
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.shelf import OwnVariable
from pitjournal.journal.queries.values import Row
from pitjournal.units import UnitSystem
from tests.analysis.trends.frames import frame_of
from tests.analysis.trends.invented import a_journal

CATALOGUE = Catalogue()
METRIC = UnitSystem.METRIC
TENDER = "score.tenderness"


def test_that_hidden_effects_are_ranked_and_decoys_are_not() -> None:
    got = rank_variables(a_journal(60, hot=0.6), Question(TENDER), CATALOGUE, METRIC)
    told = [matter.variable.key for matter in got if matter.tells]
    assert set(told) == {"treatment", "non_intact", "pit_mean", "cooker"} & set(told)
    assert {"treatment", "pit_mean"} <= set(told)
    by_key = {matter.variable.key: matter for matter in got}
    # Treatments differ by 1 point inside cooks: spread 0.25; the noise there has 0.16.
    assert by_key["treatment"].inside == pytest.approx(0.25 / (0.25 + 0.16), abs=0.12)
    assert by_key["treatment"].between == 0
    assert by_key["pit_mean"].inside == 0
    for decoy in ("wind", "wood", "thickness"):
        assert by_key[decoy].share == 0
        assert not by_key[decoy].tells


@pytest.mark.parametrize("seed", range(6))
def test_that_noise_scores_nothing(seed: int) -> None:
    """Thirty numbers and ten choices of chance: counted by Holm, none of them tells."""
    lot = np.random.default_rng(seed)
    own = tuple(
        OwnVariable(
            id=f"{n:032x}", name=f"noise {n}", level="piece", kind="number" if n < 30 else "choice"
        )
        for n in range(40)
    )
    rows: list[Row] = []
    for number in range(25):
        cook = f"c{number}"
        rows.append((cook, cook, "cook", {}))
        for piece in range(3):
            values: dict[str, Value] = {TENDER: float(lot.normal())}
            for place, variable in enumerate(own):
                chosen = "abcd"[int(lot.integers(4))]
                values[f"own.{variable.id}"] = float(lot.normal()) if place < 30 else chosen
            rows.append((f"{cook}-{piece}", cook, "piece", values))
    got = rank_variables(frame_of(rows), Question(TENDER), Catalogue((), own), METRIC)
    assert len(got) == 40
    assert not any(matter.tells for matter in got)
    assert all(matter.share == 0 for matter in got)


def test_that_a_filter_holds_and_progress_is_told() -> None:
    told: list[float] = []
    where = Where("cooker", Sign.IS, ("drum",))
    question = Question(TENDER, (), (where,))
    got = rank_variables(a_journal(60), question, CATALOGUE, METRIC, progress=told.append)
    assert "cooker" not in {matter.variable.key for matter in got}  # all the same
    assert max(matter.cooks for matter in got) == 20
    assert told == sorted(told)
    assert 0 <= told[0] <= told[-1] < 1


def test_that_too_few_cooks_rank_nothing() -> None:
    assert rank_variables(a_journal(2), Question(TENDER), CATALOGUE, METRIC) == ()
    assert rank_variables(frame_of([]), Question(TENDER), CATALOGUE, METRIC) == ()
