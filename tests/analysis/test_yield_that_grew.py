"""A piece that weighs more off the fire than ever before is a slip, and no yield (common practice)."""

from dataclasses import replace

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.domain.piece import Stage, Weighing
from tests.analysis.makers import no_readings
from tests.analysis.test_all_through import a_piece


def _yield(**masses: float) -> object:
    whole = a_piece("pork loin")
    weighings = tuple(
        Weighing(cook_id=whole.cook.id, piece_id="piece", stage=Stage(stage), mass=mass)
        for stage, mass in masses.items()
    )
    return values_of(replace(whole, weighings=weighings), no_readings).pieces["piece"]["yield_off"]


def test_a_weight_that_grew_on_the_fire_gives_no_yield() -> None:
    assert _yield(trimmed=1000.0, off=1400.0) is None
    assert _yield(trimmed=1000.0, treated=1100.0, off=1300.0) is None


def test_what_an_injection_added_is_no_slip() -> None:
    assert _yield(trimmed=1000.0, treated=1200.0, off=1050.0) == pytest.approx(1.05)
    assert _yield(trimmed=1000.0, off=800.0) == pytest.approx(0.8)
