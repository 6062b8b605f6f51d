"""Backups by themselves, restored, a journal repaired, and one salvaged."""

import errno
import json
import sqlite3
import zipfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook, CookKind
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.backups import backup
from pitjournal.journal.backups.restoring import difference_words, look_at, newest_backup, restore
from pitjournal.journal.backups.salvage import salvage
from pitjournal.journal.checks import check_folder
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.records import Add, AddCook, Change
from pitjournal.journal.repair import repair_folder
from tests.builders import a_cook, add_comparison, an_event
from tests.journal.test_checks import a_journal


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with closing(open_journal(tmp_path / "j", new=True)) as made:
        made.do(AddCook(a_cook("First")))
        yield made


def run(folder: Path, words: str, *values: object) -> None:
    """Change a database as no program should."""
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute(words, values)


def titles(folder: Path) -> list[str]:
    with closing(open_journal(folder, read_only=True)) as journal:
        return [cook.title for cook in journal.find(Cook)]


# by themselves


def test_that_a_backup_is_due_once_an_hour_and_only_after_a_change(journal: Journal) -> None:
    now = datetime.now(UTC)
    assert journal.backups.is_due(now)
    journal.backups.make("hour")
    assert not journal.backups.is_due(now + timedelta(hours=2))
    journal.do(AddCook(a_cook("Second")))
    assert not journal.backups.is_due(now + timedelta(minutes=30))
    assert journal.backups.is_due(now + timedelta(hours=2))


def test_that_what_was_undone_is_a_change_and_done_again_is_none(journal: Journal) -> None:
    journal.do(AddCook(a_cook("Second")))
    journal.backups.make("hour")
    assert not journal.backups.changed_since()
    journal.undo()
    assert journal.backups.changed_since()
    journal.redo()
    assert not journal.backups.changed_since()


def test_that_a_clock_that_was_set_back_delays_no_backup(journal: Journal) -> None:
    journal.backups.make("hour")
    journal.do(AddCook(a_cook("Second")))
    assert journal.backups.is_due(datetime.now(UTC) - timedelta(days=3))


def test_that_each_kept_file_is_copied_once_and_a_damaged_one_never(tmp_path: Path) -> None:
    sha = a_journal(tmp_path / "j")
    with closing(open_journal(tmp_path / "j")) as journal:
        journal.backups.make("hour")
        copy = journal.backups.folder / "files" / sha[:2] / sha
        first = copy.stat()
        journal.backups.make("hour")
        assert (copy.stat().st_ino, copy.stat().st_mtime_ns) == (first.st_ino, first.st_mtime_ns)
        copy.unlink()
        journal.database.attachments.path(sha).write_bytes(b"damaged")
        journal.backups.make("hour")
        assert not copy.exists()


def test_that_a_command_called_large_begins_with_a_backup(journal: Journal) -> None:
    @dataclass(frozen=True)
    class Bring(Add):
        large: str = "import"

    journal.do(Bring((a_cook("Second"),), "Bring cooks"))
    (made,) = journal.backups.kept()
    assert made.why == "before-import"
    journal.close()
    restore(journal.folder, made.path)
    assert titles(journal.folder) == ["First"]


# restored


def test_that_a_restore_says_what_differs_and_keeps_todays(journal: Journal) -> None:
    command = add_comparison("Does it matter?")
    journal.do(command)
    made = journal.backups.make("close")
    journal.do(Change(Cook, command.cook.id, {"title": "It does"}))
    journal.do(AddCook(a_cook("Third")))
    gone = next(cook for cook in journal.find(Cook) if cook.title == "First")
    journal.do(Change(Cook, gone.id, {"note": "wet wood"}))
    journal.close()
    offer = look_at(journal.folder, made.path)
    assert offer.cooks == 2
    assert difference_words(offer.differences) == [
        "1 cook of today is not in it: cook 3 “Third”.",
        "2 cooks are otherwise in it: cook 1 “First”; cook 2 “It does”.",
    ]
    done = restore(journal.folder, made.path)
    assert titles(journal.folder) == ["First", "Does it matter?"]
    assert done.kept.backup is not None
    assert done.kept.backup.why == "before-restore"
    restore(journal.folder, done.kept.backup.path)  # and back again
    assert titles(journal.folder) == ["First", "It does", "Third"]
    assert check_folder(journal.folder).held


def test_that_a_restore_is_refused_while_a_window_has_the_journal(journal: Journal) -> None:
    made = journal.backups.make("close")
    with pytest.raises(JournalError, match="open in a window"):
        restore(journal.folder, made.path)


def test_that_a_damaged_journal_is_put_aside_as_it_is(journal: Journal) -> None:
    made = journal.backups.make("close")
    journal.close()
    path = journal.folder / "journal.sqlite"
    damaged = b"\0" * 5000
    path.write_bytes(damaged)
    assert not look_at(journal.folder, made.path).differences.today_read
    assert newest_backup(journal.folder) == made.path
    done = restore(journal.folder, made.path)
    assert done.kept.aside is not None
    assert (done.kept.aside / "journal.sqlite").read_bytes() == damaged
    assert titles(journal.folder) == ["First"]


def test_that_a_damaged_backup_is_refused_and_the_next_one_offered(journal: Journal) -> None:
    first = journal.backups.make("hour")
    journal.do(AddCook(a_cook("Second")))
    second = journal.backups.make("hour")
    journal.close()
    second.path.write_bytes(b"x" * 9000)
    assert newest_backup(journal.folder) == first.path
    before = (journal.folder / "journal.sqlite").read_bytes()
    with pytest.raises(JournalError):
        restore(journal.folder, second.path)
    assert (journal.folder / "journal.sqlite").read_bytes() == before


def test_that_lost_files_come_back_from_backup_zip_and_folder(tmp_path: Path) -> None:
    sha = a_journal(tmp_path / "j")
    with closing(open_journal(tmp_path / "j")) as journal:
        made = journal.backups.make("close").path
        archive = backup(journal.database, tmp_path / "saturday.zip")
    path = tmp_path / "j" / "attachments" / sha[:2] / sha
    data = path.read_bytes()
    for source in (made, archive):
        path.unlink()
        assert restore(tmp_path / "j", source).files_back == 1
        assert path.read_bytes() == data
    assert restore(tmp_path / "new", archive).files_back == 2
    assert restore(tmp_path / "newer", tmp_path / "new").files_back == 2
    assert check_folder(tmp_path / "newer").held


def test_that_a_file_with_other_bytes_in_a_zip_counts_as_missing(tmp_path: Path) -> None:
    sha = a_journal(tmp_path / "j")
    with closing(open_journal(tmp_path / "j")) as journal:
        whole = backup(journal.database, tmp_path / "whole.zip")
    changed = tmp_path / "changed.zip"
    with zipfile.ZipFile(whole) as old, zipfile.ZipFile(changed, "w") as new:
        for name in old.namelist():
            new.writestr(name, b"else" if name.endswith(sha) else old.read(name))
    done = restore(tmp_path / "new", changed)
    assert (done.files_back, len(done.missing)) == (1, 1)
    assert sha[:12] in done.words()
    found = check_folder(tmp_path / "new")
    assert (found.missing, found.changed) == (1, 0)


def test_that_a_backup_that_failed_leaves_nothing_beside_it(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: object, target: Path) -> None:
        target.write_bytes(b"half")
        target.with_name(f"{target.name}-journal").write_bytes(b"its log")
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("pitjournal.store.sqlite.copy_live", full)
    with pytest.raises(JournalError, match="disk is full"):
        backup(journal.database)
    assert list((journal.folder / "backups").iterdir()) == []


# repaired


@pytest.mark.parametrize(
    ("words", "becomes"),
    [
        ("UPDATE cook SET status = 'smouldering'", {"status": "planned"}),
        ("UPDATE cook SET kind = x'ff'", {"kind": "practice"}),
        ("UPDATE cook SET zone = 'Mars/Olympus'", {"zone": "UTC"}),
        ("UPDATE cook SET starts_at = 'Saturday'", {}),
        ("UPDATE cook SET starts_at = '2026-05-02T12:00:00'", {}),  # without an offset
        ("UPDATE cook SET serve_at = '2026-13-45T99:00:00Z'", {"serve_at": None}),
        ("UPDATE cook SET typed = '{\"set_point\": '", {"typed": {}}),
        ("UPDATE cook SET typed = '[[[['", {"typed": {}}),
        ("UPDATE cook SET set_point = 'hot'", {"set_point": None}),
    ],
)
def test_that_one_bad_value_costs_its_row_and_is_mended(
    journal: Journal, words: str, becomes: dict[str, object]
) -> None:
    cook = journal.find(Cook)[0]
    other = a_cook("Whole")
    journal.do(AddCook(other))
    journal.close()
    run(journal.folder, f"{words} WHERE id = ?", cook.id)
    with closing(open_journal(journal.folder)) as again:
        assert "Whole" in [line.title for line in again.cooks.page()]
        with pytest.raises(JournalError, match="cannot be read"):
            again.whole(cook.id)
        assert [found.title for found in again.find(Cook)] == ["Whole"]
        assert list(again.wholes([cook.id, other.id])) == [other.id]
        again.do(AddCook(a_cook("Third")))
        assert again.values() is not None
    run(journal.folder, "DELETE FROM row_image")  # nor do the steps for undo know it
    found = check_folder(journal.folder)
    assert [(row.kind, row.id) for row in found.rows] == [("cook", cook.id)]
    repaired = repair_folder(journal.folder)
    assert repaired.check.held
    assert not any("<" in line for line in repaired.done)  # no word of the program's
    assert repaired.aside is not None
    kept = [json.loads(line) for line in (repaired.aside / "rows.jsonl").read_text().splitlines()]
    assert [row["row"]["id"] for row in kept] == [cook.id]
    with closing(open_journal(journal.folder, read_only=True)) as again:
        mended = again.find(Cook, id=cook.id)[0]
    for name, value in becomes.items():
        assert getattr(mended, name) == value
    if not becomes:  # the time is when the record was made, as its id says
        assert abs(mended.starts_at - datetime.now(UTC)) < timedelta(minutes=10)
        assert "Its date could not be read" in mended.note
        cook = replace(cook, starts_at=mended.starts_at)
    assert "could not be read" in mended.note
    cook = replace(cook, note=mended.note)
    assert mended == replace(cook, **becomes)  # type: ignore[arg-type]


@pytest.mark.parametrize("source", ["history", "backup"])
def test_that_a_bad_value_comes_back_from_the_steps_or_a_backup_and_is_not_made_up(
    journal: Journal, source: str
) -> None:
    day = datetime(2019, 7, 4, 9, 30, tzinfo=UTC)
    cook = a_cook("Long ago", starts_at=day, kind=CookKind.CONTEST)
    journal.do(AddCook(cook))
    journal.backups.make("close")
    journal.close()
    run(
        journal.folder,
        "UPDATE cook SET starts_at = 'Saturday', kind = 'feast', zone = 'Mars' WHERE id = ?",
        cook.id,
    )
    if source == "backup":
        run(journal.folder, "DELETE FROM row_image")
    (bad,) = check_folder(journal.folder).rows
    assert bad.why == "starts_at is 'Saturday'; kind is 'feast'; zone is 'Mars'"
    (line,) = repair_folder(journal.folder).done
    assert f"from the {'backup of' if source == 'backup' else 'steps for undo'}" in line
    with closing(open_journal(journal.folder, read_only=True)) as again:
        assert again.find(Cook, id=cook.id) == [replace(cook, number=2)]


def test_that_an_event_of_no_known_time_costs_the_event_only(journal: Journal) -> None:
    cook = journal.find(Cook)[0]
    for kind in (EventKind.LIT, EventKind.ON):
        journal.do(LogEvent(an_event(cook.id, kind), "Log"))
    bad = journal.find(Event)[0]
    journal.close()
    run(journal.folder, "UPDATE event SET happened_at = 'noon' WHERE id = ?", bad.id)
    with closing(open_journal(journal.folder)) as again:
        assert len(again.whole(cook.id).events) == 1
        assert [found.id for found in again.find(Cook)] == [cook.id]


def test_that_a_text_that_is_no_utf_8_is_read_with_signs(journal: Journal) -> None:
    journal.close()
    run(journal.folder, "UPDATE cook SET title = CAST(x'526962ff73' AS TEXT)")
    with closing(open_journal(journal.folder)) as again:
        assert [cook.title for cook in again.find(Cook)] == ["Rib\N{REPLACEMENT CHARACTER}s"]
        cook = again.find(Cook)[0]
        again.do(Change(Cook, cook.id, {"title": "Ribs"}))
        assert [line.title for line in again.cooks.page()] == ["Ribs"]


def test_that_what_points_at_nothing_is_mended(journal: Journal) -> None:
    command = add_comparison()
    journal.do(command)
    pieces = len(journal.find(Piece))
    journal.close()
    run(journal.folder, "UPDATE arm SET cook_id = 'gone' WHERE position = 0")
    run(journal.folder, "UPDATE cook SET cooker_id = 'gone'")
    repaired = repair_folder(journal.folder)
    assert repaired.check.held
    with closing(open_journal(journal.folder, read_only=True)) as again:
        assert len(again.find(Piece)) == pieces
        assert all(cook.cooker_id is None for cook in again.find(Cook))


def test_that_damaged_worked_out_values_are_made_anew(journal: Journal) -> None:
    assert journal.values()
    journal.close()
    run(journal.folder, "UPDATE derived_block SET cooks = '{'")
    assert not check_folder(journal.folder).derived
    assert repair_folder(journal.folder).check.held


def test_that_a_changed_file_goes_aside_and_a_lost_one_comes_back(tmp_path: Path) -> None:
    sha = a_journal(tmp_path / "j")
    with closing(open_journal(tmp_path / "j")) as journal:
        journal.backups.make("close")
    path = tmp_path / "j" / "attachments" / sha[:2] / sha
    path.write_bytes(b"something else")
    repaired = repair_folder(tmp_path / "j")
    assert repaired.check.held
    assert repaired.aside is not None
    assert (repaired.aside / sha).read_bytes() == b"something else"


def test_that_a_whole_journal_needs_no_repair(journal: Journal) -> None:
    journal.close()
    repaired = repair_folder(journal.folder)
    assert (repaired.done, repaired.aside, repaired.check.held) == ((), None, True)


# salvaged


def test_that_a_salvage_of_a_whole_journal_brings_all(tmp_path: Path) -> None:
    a_journal(tmp_path / "j")
    found = salvage(tmp_path / "j", tmp_path / "new")
    assert (found.lost, found.files, found.missing) == ((), 2, ())
    with (
        closing(open_journal(tmp_path / "j", read_only=True)) as old,
        closing(open_journal(tmp_path / "new", read_only=True)) as new,
    ):
        ids = [cook.id for cook in old.find(Cook)]
        assert new.wholes(ids) == old.wholes(ids)
    assert check_folder(tmp_path / "new").held


def test_that_damaged_pages_cost_what_was_in_them_and_the_history_has_it(tmp_path: Path) -> None:
    with closing(open_journal(tmp_path / "j", new=True)) as journal:
        for number in range(120):
            journal.do(AddCook(a_cook(f"Cook {number}", note="n" * 200)))
        pages = _pages_of(journal.folder / "journal.sqlite", "cook")
    path = tmp_path / "j" / "journal.sqlite"
    data = bytearray(path.read_bytes())
    for page in pages[2:5]:
        data[(page - 1) * 4096 : page * 4096] = b"\xaa" * 4096
    path.write_bytes(data)
    with pytest.raises(JournalError), closing(open_journal(tmp_path / "j")) as journal:
        journal.find(Cook)
    found = salvage(tmp_path / "j", tmp_path / "new")
    assert found.cooks == 120
    assert found.from_history
    assert path.read_bytes() == bytes(data)
    assert check_folder(tmp_path / "new").held


def test_that_a_destroyed_beginning_is_lent_by_a_backup(journal: Journal) -> None:
    journal.backups.make("close")
    journal.do(AddCook(a_cook("After the backup")))
    journal.close()
    path = journal.folder / "journal.sqlite"
    data = bytearray(path.read_bytes())
    data[:4096] = b"\0" * 4096
    path.write_bytes(data)
    found = salvage(journal.folder, journal.folder.parent / "new")
    assert found.cooks == 2
    assert titles(journal.folder.parent / "new") == ["First", "After the backup"]


def test_that_nothing_is_salvaged_into_a_full_folder_or_from_nothing(tmp_path: Path) -> None:
    a_journal(tmp_path / "j")
    with pytest.raises(JournalError, match="other things"):
        salvage(tmp_path / "j", tmp_path / "j")
    (tmp_path / "j" / "journal.sqlite").write_bytes(b"\0" * 8192)
    with pytest.raises(JournalError, match=r"Nothing of .* can be read"):
        salvage(tmp_path / "j", tmp_path / "new")
    assert not (tmp_path / "new").exists()


def _pages_of(path: Path, table: str) -> list[int]:
    """Return the leaf pages of a table, by SQLite's own account."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        try:
            query = "SELECT pageno FROM dbstat WHERE name = ? AND pagetype = 'leaf' ORDER BY pageno"
            return [row[0] for row in connection.execute(query, (table,))]
        except sqlite3.OperationalError:
            pytest.skip("this SQLite has no dbstat")


def test_that_a_salvage_ended_half_way_leaves_no_journal_by_its_name(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal.close()
    target = journal.folder.parent / "new"

    def end(*_: object) -> None:
        assert not target.exists()  # while it is written, nothing has the name yet
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr("pitjournal.journal.backups.salvage._write", end)
        with pytest.raises(KeyboardInterrupt):
            salvage(journal.folder, target)
    assert not target.exists()
    (target.parent / ".new.part").mkdir()  # of one that was killed
    assert salvage(journal.folder, target).cooks == 1
    assert sorted(path.name for path in target.parent.iterdir()) == ["j", "new"]
