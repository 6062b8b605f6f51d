"""What went out comes in again: all of it, once, and with one step to undo."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.domain.piece import Piece, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import SavedQuestion, Setting, ShelfItem
from pitjournal.files import strangers
from pitjournal.files.bundle import Unpacked
from pitjournal.files.summary.content import Choice
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bundles.alike import Changed
from pitjournal.journal.bundles.incoming import Incoming, incoming
from pitjournal.journal.bundles.leaving import EVERYTHING
from pitjournal.journal.checks import check_journal
from pitjournal.journal.commands.records import Change
from pitjournal.journal.jobs import Progress
from pitjournal.store.rows import row_of
from pitjournal.store.schema import RECORDS
from tests.builders import a_cook, add_comparison
from tests.journal.bundles.conftest import written

OF_THE_JOURNAL = {"cook": ("number", "brought_from")}


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    """Return an empty journal."""
    found = open_journal(tmp_path / "other", new=True)
    yield found
    found.close()


def bring(journal: Journal, path: Path, *, theirs: bool = False) -> Incoming:
    found = incoming(journal, strangers.bundle(path), path.name)
    with Unpacked(path) as unpacked:
        command = found.kept(journal, unpacked, theirs=theirs, progress=Progress())
    if command is not None:
        journal.do(command)
    return found


def rows(journal: Journal, kind: type[Record]) -> dict[str, dict[str, object]]:
    left = OF_THE_JOURNAL.get(kind.KIND, ())
    return {
        record.id: {name: value for name, value in row_of(record).items() if name not in left}
        for record in journal.find(kind)
    }


def test_every_record_and_file_comes_back_as_it_went(
    all_cooks: Path, demonstration_folder: Path, journal: Journal
) -> None:
    found = bring(journal, all_cooks)
    assert (found.left, found.lost, found.otherwise) == ((), 0, ())
    before = open_journal(demonstration_folder, read_only=True)
    unused = {ShelfItem, Setting, SavedQuestion}
    for kind in RECORDS:
        if kind not in unused:
            assert rows(journal, kind) == rows(before, kind), kind.KIND
    used = {item.id for item in journal.find(ShelfItem)}
    assert {k: v for k, v in rows(before, ShelfItem).items() if k in used} == rows(
        journal, ShelfItem
    )
    assert journal.database.attachment_ids()
    assert {*journal.database.attachment_ids()} <= {*before.database.attachment_ids()}
    one = before.cooks.find("28")
    assert journal.findings.of(one).words == before.findings.of(one).words
    before.close()
    assert check_journal(journal).held


def test_twice_changes_nothing(least: Path, journal: Journal) -> None:
    bring(journal, least)
    again = incoming(journal, strangers.bundle(least), least.name)
    assert (again.cooks, again.added, again.same, again.otherwise) == ((), 0, 1, ())
    with Unpacked(least) as unpacked:
        assert again.kept(journal, unpacked, theirs=True, progress=Progress()) is None


def test_one_step_takes_it_out_again(least: Path, journal: Journal) -> None:
    bring(journal, least)
    journal.undo()
    assert journal.find(Cook) == []
    assert journal.find(ShelfItem) == []
    assert check_journal(journal).held


def test_cooks_are_numbered_on_and_say_where_they_came_from(least: Path, journal: Journal) -> None:
    journal.do(add_comparison())
    bring(journal, least)
    mine, theirs = sorted(journal.find(Cook), key=lambda cook: cook.number)
    assert (mine.number, theirs.number) == (1, 2)
    assert (mine.brought_from, theirs.brought_from) == ("", "nine-racks.eln")
    values = {owner: row for owner, _, level, row in journal.values() if level == "cook"}
    assert values[theirs.id]["brought"]
    assert not values[mine.id]["brought"]


def test_what_differs_is_listed_field_by_field_and_stays(
    demonstration_folder: Path, tmp_path: Path, journal: Journal
) -> None:
    before = open_journal(demonstration_folder, read_only=True)
    path = tmp_path / "one.eln"
    written(before, path, EVERYTHING, 1)
    before.close()
    bring(journal, path)
    (cook,) = journal.find(Cook)
    piece = journal.find(Piece)[0]
    journal.do(Change(Cook, cook.id, {"title": "Mine"}, "Rename"))
    journal.do(Change(Piece, piece.id, {"label": "Z"}, "Label"))

    again = bring(journal, path)
    told = {(one.kind, one.field, one.mine, one.theirs) for one in again.otherwise}
    assert told == {
        ("cook", "title", "Mine", cook.title),
        ("piece", "label", "Z", piece.label),
    }
    assert again.same == 0
    assert journal.find(Cook)[0].title == "Mine"

    bring(journal, path, theirs=True)
    assert journal.find(Cook)[0].title == cook.title
    assert journal.find(Piece, id=piece.id)[0].label == piece.label
    journal.undo()
    assert journal.find(Cook)[0].title == "Mine"


def test_what_was_removed_here_comes_back_and_what_is_only_here_stays(
    demonstration_folder: Path, tmp_path: Path, journal: Journal
) -> None:
    before = open_journal(demonstration_folder, read_only=True)
    path = tmp_path / "one.eln"
    written(before, path, EVERYTHING, 1)
    before.close()
    bring(journal, path)
    (cook,) = journal.find(Cook)
    gone = journal.find(Weighing)[0]
    journal.database.change("gone", lambda t: t.remove(Weighing, gone.id))
    own = Piece(cook_id=cook.id, position=99, label="only here", cut="brisket")
    journal.database.change("own", lambda t: t.add(own))
    found = bring(journal, path)
    assert (found.added, found.same) == (1, 0)
    assert journal.find(Weighing, id=gone.id) == [gone]
    assert journal.find(Piece, id=own.id) == [own]


def test_a_thing_of_the_same_name_on_the_shelf_is_the_one_that_is_here(
    least: Path, journal: Journal, demonstration_folder: Path
) -> None:
    before = open_journal(demonstration_folder, read_only=True)
    theirs = before.whole(before.cooks.find("28")).cooker
    before.close()
    assert theirs is not None
    mine = ShelfItem(kind=theirs.kind, name=f" {theirs.name.upper()} ")
    journal.database.change("mine", lambda t: t.add(mine))
    bring(journal, least)
    (cook,) = journal.find(Cook)
    assert cook.cooker_id == mine.id
    assert [i.id for i in journal.find(ShelfItem) if i.kind is theirs.kind] == [mine.id]


def test_texts_of_any_kind_come_back_as_written(tmp_path: Path, journal: Journal) -> None:
    titles = ('=HYPERLINK("x")', "<script>", "'quoted'", "+1", "a\r\nb", "“ñ” 🍖", "-", "@", "\t")
    ids = []
    for title in titles:
        cook = a_cook(title, note=title)
        journal.database.change("cook", lambda t, cook=cook: t.add(cook))  # type: ignore[misc]
        ids.append(cook.id)
    path = tmp_path / "texts.eln"
    written(journal, path, EVERYTHING)
    other = open_journal(tmp_path / "third", new=True)
    bring(other, path)
    found = {cook.id: (cook.title, cook.note) for cook in other.find(Cook)}
    other.close()
    assert found == {one: (title, title) for one, title in zip(ids, titles, strict=True)}


def test_a_bundle_of_no_photos_brings_none(least: Path, journal: Journal) -> None:
    assert Choice().parts == frozenset()
    bring(journal, least)
    assert journal.findings.of(journal.find(Cook)[0].id).words


def test_that_only_what_both_changed_is_asked_once_a_cook_came_before(
    demonstration_folder: Path, tmp_path: Path, journal: Journal
) -> None:
    theirs = open_journal(tmp_path / "theirs", new=True)
    first, second = tmp_path / "first.eln", tmp_path / "second.eln"
    shipped = open_journal(demonstration_folder, read_only=True)
    written(shipped, first, EVERYTHING, 1)
    shipped.close()
    for one in (theirs, journal):
        bring(one, first)
    (cook,) = journal.find(Cook)
    there = {"title": "Theirs", "question": "Asked there?", "stop_rule": "both, there"}
    theirs.do(Change(Cook, cook.id, there, "Change"))
    here = {"title": "Theirs", "note": "Mine alone", "stop_rule": "both, here"}
    journal.do(Change(Cook, cook.id, here, "Change"))
    written(theirs, second, EVERYTHING)
    theirs.close()

    found = bring(journal, second)
    assert {(one.field, one.changed) for one in found.otherwise} == {
        ("question", Changed.THERE),
        ("note", Changed.HERE),
        ("stop_rule", Changed.BOTH),
    }
    (now,) = journal.find(Cook)
    assert (now.title, now.question) == ("Theirs", "Asked there?")
    assert (now.note, now.stop_rule) == ("Mine alone", "both, here")
    again = bring(journal, second)
    assert {(one.field, one.changed) for one in again.otherwise} == {
        ("note", Changed.HERE),
        ("stop_rule", Changed.HERE),  # mine was kept knowing theirs: it is not asked again
    }
    journal.undo()
    assert journal.find(Cook)[0].question == cook.question
    assert {one.changed for one in bring(journal, first).otherwise} == {Changed.HERE}
