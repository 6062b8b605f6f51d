"""The invented panel and the drawn pictures."""

import io
from datetime import datetime

import numpy as np
import pytest
from PIL import Image

from pitjournal.domain.tasting import HOME_PANEL
from pitjournal.files.photos import read_photo
from pitjournal.journal.demonstration.day import draw_lot
from pitjournal.journal.demonstration.panel import TASTERS, judge
from pitjournal.journal.demonstration.pictures import STAGES, draw_meat
from pitjournal.journal.demonstration.scenario import THE_COMPARISON


def test_that_each_taster_scores_each_piece_on_each_criterion_in_whole_numbers() -> None:
    lot = np.random.default_rng(1)
    sheet = judge(THE_COMPARISON, draw_lot(THE_COMPARISON, lot), tuple(TASTERS), lot)
    assert len(sheet) == 9 * len(TASTERS) * len(HOME_PANEL)
    assert all(score == int(score) and 1 <= score <= 9 for score in sheet.values())


def test_that_tasters_differ_more_than_chance_and_in_one_direction() -> None:
    lot = np.random.default_rng(2)
    means: dict[str, list[float]] = {taster: [] for taster in TASTERS}
    for _ in range(20):
        sheet = judge(THE_COMPARISON, draw_lot(THE_COMPARISON, lot), tuple(TASTERS), lot)
        for taster in TASTERS:
            scores = [score for (_, who, _), score in sheet.items() if who == taster]
            means[taster].append(float(np.mean(scores)))
    hardest, kindest = min(TASTERS, key=TASTERS.__getitem__), max(TASTERS, key=TASTERS.__getitem__)
    assert np.mean(means[kindest]) - np.mean(means[hardest]) == pytest.approx(0.7, abs=0.1)


@pytest.mark.parametrize("stage", STAGES)
def test_that_a_drawing_reads_as_a_photo_taken_then(stage: str) -> None:
    taken = datetime(2026, 5, 2, 12, 30)  # noqa: DTZ001 - a camera knows no zone
    photo = read_photo(draw_meat(stage, 3, taken, np.random.default_rng(1)), "drawn.jpg")
    assert photo.taken_at == taken
    assert photo.width > photo.height


def test_that_meat_darkens_as_it_cooks() -> None:
    taken = datetime(2026, 5, 2)  # noqa: DTZ001 - a camera knows no zone
    shades = []
    for stage in STAGES:
        data = draw_meat(stage, 1, taken, np.random.default_rng(1))
        with Image.open(io.BytesIO(data)) as image:
            shades.append(float(np.asarray(image.convert("L")).mean()))
    assert shades == sorted(shades, reverse=True)
