"""A bundle without clock times: the hours are nowhere in it, and every length is as it was."""

import zipfile
from collections.abc import Iterator
from dataclasses import fields
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.domain.trace import Trace
from pitjournal.files.bundle.reading import read_bundle
from pitjournal.files.bundle.unpacking import Unpacked
from pitjournal.files.samples import unpack
from pitjournal.files.summary.content import Choice, PrivatePart
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bundles.incoming import incoming
from pitjournal.journal.jobs import Progress
from pitjournal.store.schema import RECORDS
from tests.journal.bundles.conftest import written

PARTS = frozenset(PrivatePart) - {PrivatePart.NOTES}


@pytest.fixture(scope="module")
def mine(demonstration_folder: Path) -> Iterator[Journal]:
    journal = open_journal(demonstration_folder, read_only=True)
    yield journal
    journal.close()


@pytest.fixture(scope="module")
def clockless(mine: Journal, tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("bundle") / "no-clock.eln"
    gathered = written(mine, target, Choice(parts=PARTS, clockless=True), 28, 36)
    assert "clock times" in gathered.left_out
    assert not any("clock" in words for words in gathered.leaves)
    return target


def moments(journal: Journal, cook_id: str) -> set[datetime]:
    """Return every moment that the records of a cook have."""
    values = (
        getattr(record, field.name)
        for kind in RECORDS
        if "cook_id" in kind.PARENTS
        for record in journal.find(kind, cook_id=cook_id)
        for field in fields(kind)
    )
    return {one for one in values if isinstance(one, datetime)}


def test_that_no_hour_no_zone_and_no_contest_is_in_it(mine: Journal, clockless: Path) -> None:
    with zipfile.ZipFile(clockless) as found:
        files = {name: found.read(name) for name in found.namelist()}
        assert {entry.date_time for entry in found.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    whole = b"\n".join(files.values())
    told = b"\n".join(data for name, data in files.items() if "readings-" not in name)
    for number in ("28", "36"):
        cook = mine.find(Cook, id=mine.cooks.find(number))[0]
        assert cook.zone.encode() not in whole
        hours = {f"{one:%Y-%m-%dT%H:%M}".encode() for one in moments(mine, cook.id)}
        day = cook.starts_at.date()
        noon = datetime(day.year, day.month, day.day, 12, tzinfo=cook.starts_at.tzinfo)
        far = noon - cook.starts_at
        moved = {f"{one + far:%Y-%m-%dT%H:%M}".encode() for one in moments(mine, cook.id)}
        assert len(hours - moved) > 3
        assert [hour for hour in hours - moved if hour in told] == []
    for kind in ("contest", "category", "judge_card", "carried"):
        (table,) = (data for name, data in files.items() if name.endswith(f"/{kind}.csv"))
        assert len(table.splitlines()) == 1, kind  # its heads
    samples = [unpack(data) for name, data in files.items() if name.endswith(".bin")]
    kept = {
        round(unpack(mine.files.read(one.samples)).times[0])
        for one in mine.find(Trace, cook_id=mine.cooks.find("28"))
    }
    assert samples
    firsts = {round(one.times[0]) for one in samples}
    readings = [data for name, data in files.items() if "readings-" in name]
    for data in readings:  # minute by minute: only where they begin says what hour it was
        first = datetime.fromisoformat(data.split(b"\r\n")[1].split(b",")[0].decode())
        assert round(first.timestamp()) in firsts
    assert not kept & {round(one.times[0]) for one in samples}


def test_that_every_length_is_as_it_was(mine: Journal, clockless: Path, tmp_path: Path) -> None:
    theirs = open_journal(tmp_path / "theirs", new=True)
    read = read_bundle(str(clockless))
    found = incoming(theirs, read, clockless.name)
    assert (found.left, found.lost) == ((), 0)
    with Unpacked(clockless) as unpacked:
        step = found.kept(theirs, unpacked, theirs=False, progress=Progress())
    assert step is not None
    theirs.do(step)
    cook_id = mine.cooks.find("28")
    there = theirs.find(Cook, id=cook_id)[0]
    assert (there.starts_at.hour, there.starts_at.minute, there.zone) == (12, 0, "UTC")
    far = there.starts_at - mine.find(Cook, id=cook_id)[0].starts_at
    assert abs(far) < timedelta(days=1)
    before = {owner: said for owner, _, level, said in mine.values([cook_id]) if level == "piece"}
    after = {owner: said for owner, _, level, said in theirs.values([cook_id]) if level == "piece"}
    keys = ("time_on", "time_to_wrap", "time_rested", "internal_off", "yield_off")
    for owner, said in before.items():
        for key in keys:
            assert after[owner].get(key) == pytest.approx(said.get(key)), key
    theirs.close()


def test_that_moved_times_are_no_difference_to_whoever_has_them(
    mine: Journal, clockless: Path
) -> None:
    found = incoming(mine, read_bundle(str(clockless)), clockless.name)
    assert found.otherwise == ()
    assert found.nothing_new
