"""Damaged files give the right values for the rows they keep, or are refused."""

import pytest

from tests.files.probe_log.mutations import Good, good_files, run

ROUNDS = 5
EACH = 80


@pytest.fixture(scope="module")
def files() -> list[Good]:
    return good_files()


@pytest.mark.parametrize("seed", range(ROUNDS))
def test_that_damage_gives_no_temperature_at_a_wrong_time(seed: int, files: list[Good]) -> None:
    outcomes, wrong = run(EACH, 1000 + seed, files)
    assert not wrong
    assert outcomes["right"] > EACH / 2
