"""All dialects; each says in its name what is odd about it."""

from tests.files.probe_log import (
    corpus_cells,
    corpus_layouts,
    corpus_records,
    corpus_text,
    corpus_times,
    corpus_units,
)
from tests.files.probe_log.dialects import BEGUN, EPOCH

CORPUS = [
    *corpus_times.DIALECTS,
    *corpus_text.DIALECTS,
    *corpus_cells.DIALECTS,
    *corpus_records.DIALECTS,
    *corpus_units.DIALECTS,
    *corpus_layouts.DIALECTS,
]
assert BEGUN.timestamp() == EPOCH
