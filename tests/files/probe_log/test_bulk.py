"""Rows read together give what rows read one by one give."""

from pathlib import Path

import numpy as np
import pytest

from pitjournal.files.probe_log import ProbeLog, read_probe_log
from tests.files.probe_log.corpus import CORPUS
from tests.files.probe_log.dialects import Dialect

SAMPLES = sorted((Path(__file__).parent / "samples").glob("sample_*"))


def assert_same(some: ProbeLog, other: ProbeLog) -> None:
    assert some.as_json() == other.as_json()
    for one, two in zip(some.channels, other.channels, strict=True):
        assert np.array_equal(one.times_s, two.times_s)
        assert np.array_equal(one.values_c, two.values_c)


@pytest.mark.parametrize("dialect", CORPUS, ids=[dialect.name for dialect in CORPUS])
def test_that_a_dialect_is_read_alike(dialect: Dialect) -> None:
    together = read_probe_log(dialect.data, "log.txt", bulk=True)
    assert_same(together, read_probe_log(dialect.data, "log.txt", bulk=False))


@pytest.mark.parametrize("path", SAMPLES, ids=[path.name for path in SAMPLES])
def test_that_a_sample_is_read_alike(path: Path) -> None:
    together = read_probe_log(path.read_bytes(), path.name, bulk=True)
    assert_same(together, read_probe_log(path.read_bytes(), path.name, bulk=False))
