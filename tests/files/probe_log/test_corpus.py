"""Every dialect gives back the trace that was written."""

import numpy as np
import pytest

from pitjournal.files.probe_log import ReadOptions, read_probe_log
from tests.files.probe_log.corpus import CORPUS
from tests.files.probe_log.dialects import STEP, Dialect


@pytest.mark.parametrize("dialect", CORPUS, ids=[dialect.name for dialect in CORPUS])
def test_that_the_trace_is_read_back(dialect: Dialect) -> None:
    options = ReadOptions(dialect.day_first, dialect.timezone)
    log = read_probe_log(dialect.data, "log.txt", options)
    assert [channel.name for channel in log.channels] == list(dialect.names)
    assert [row.line for row in log.rejected] == list(dialect.rejected), log.rejected
    assert log.timezone == dialect.zone
    assert tuple(channel.unit_in_file for channel in log.channels) == dialect.units
    for channel, series, missing in zip(log.channels, dialect.series, dialect.missing, strict=True):
        rows = [n for n in range(dialect.count) if n not in missing and n not in dialect.lost]
        assert channel.missing == len(set(missing) - set(dialect.lost))
        times = dialect.first + STEP * np.array(rows)
        assert channel.times_s == pytest.approx(times, rel=0, abs=1e-5), channel.start
        values = np.array([series(n) for n in rows])
        assert channel.values_c == pytest.approx(values, abs=dialect.near)
    assert set(dialect.notes) <= {note.kind for note in log.notes}
