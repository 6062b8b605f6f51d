"""Invented files with known truth (samples/README.md)."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from pitjournal.files.probe_log import ProbeLog, ReadOptions, read_probe_log

SAMPLES = Path(__file__).parent / "samples"
TRUTH: list[dict[str, Any]] = json.loads((SAMPLES / "samples.json").read_text(encoding="utf-8"))
FAMILIES = {"utf-8-sig": "utf-8", "ascii": "utf-8", "cp1252": "latin-1"}


def read(truth: dict[str, Any]) -> ProbeLog:
    args = truth["args"]
    zone = args[args.index("--timezone") + 1] if "--timezone" in args else None
    day_first = True if "--day-first" in args else False if "--month-first" in args else None
    data = (SAMPLES / truth["file"]).read_bytes()
    return read_probe_log(data, truth["file"], ReadOptions(day_first, zone))


def same_time(found: str | None, wanted: str | None) -> bool:
    if found is None or wanted is None:
        return found == wanted
    return datetime.fromisoformat(found) == datetime.fromisoformat(wanted)


@pytest.mark.parametrize("truth", TRUTH, ids=[truth["file"] for truth in TRUTH])
def test_that_a_file_is_read_as_it_was_written(truth: dict[str, Any]) -> None:
    found = read(truth).as_json()
    assert FAMILIES.get(found["encoding"], found["encoding"]) == truth["encoding"]
    assert truth["timezone"] in {None, found["timezone"]}
    assert found["rows_read"] == truth["rows_read"]
    kinds = {note["kind"] for note in found["notes"]}
    assert set(truth["notes"]) <= kinds
    assert ("unit_guessed" in kinds) == ("unit_guessed" in truth["notes"])
    assert [row["line"] for row in found["rejected"]] == truth["rejected_lines"]
    assert [channel["name"] for channel in found["channels"]] == [
        channel["name"] for channel in truth["channels"]
    ]
    for channel, wanted in zip(found["channels"], truth["channels"], strict=True):
        for key in ("unit_in_file", "count", "missing", "start_s", "end_s"):
            assert channel[key] == wanted[key], (channel["name"], key)
        assert same_time(channel["start"], wanted["start"])
        assert same_time(channel["end"], wanted["end"])
        assert channel["interval_s"] == pytest.approx(wanted["interval_s"])
        assert channel["min_degC"] == pytest.approx(wanted["min_degC"], abs=0.06)
        assert channel["max_degC"] == pytest.approx(wanted["max_degC"], abs=0.06)
