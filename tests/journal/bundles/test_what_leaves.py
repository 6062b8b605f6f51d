"""What stays at home is nowhere in a bundle: not in a table, a file, a name or a description."""

import io
import re
import zipfile
from dataclasses import fields
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PIL import Image

from pitjournal.domain.event import Note, Photo
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.tasting import Sample, Tasting
from pitjournal.domain.treatment import Seasoning, Treatment, TreatmentKind
from pitjournal.files.summary.content import Choice, Detail, PrivatePart
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bundles.leaving import EVERYTHING, LEAVE, STAY
from pitjournal.journal.bundles.records_out import TABLE_WORDS
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.files import KeepPhotos
from pitjournal.journal.commands.records import AddCook
from pitjournal.store.schema import KINDS, RECORDS
from tests.builders import NOON, a_cook
from tests.journal.bundles.conftest import written

SECRET = re.compile(rb"SECRET-(\w+)")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a journal with a cook that has a secret in each private field."""
    path = tmp_path / "cooks"
    journal = open_journal(path, new=True)
    cook = a_cook(
        place="SECRET-place",
        note="SECRET-notes",
        vents="SECRET-notes",
        weather="SECRET-notes",
        cost=98765.5,
    )
    piece = Piece(
        cook_id=cook.id,
        position=0,
        label="A1",
        cut="brisket",
        supplier="SECRET-supplier",
        lot="SECRET-supplier",
        price=0.087654,
        note="SECRET-notes",
    )
    treatment = Treatment(
        cook_id=cook.id,
        kind=TreatmentKind.INJECTED,
        piece_id=piece.id,
        recipe="the good one",
        liquid=43210.5,
        salt=0.0123456,
        cure=7.5,
        typed={"liquid": "SECRET-grams"},
        made_of={"lines": ["SECRET-grams 5 g"], "allergens": ["celery"]},
        note="SECRET-notes",
    )
    layer = Seasoning(cook_id=cook.id, position=0, rub="red", mass=54321.5, note="SECRET-notes")
    note = Note(cook_id=cook.id, text="SECRET-notes", at=NOON)
    journal.do(AddCook(cook, (piece, treatment, layer, note)))
    recipe = ShelfItem(
        kind=ShelfKind.RECIPE,
        name="the good one",
        details={"lines": ["SECRET-grams 5 g"], "allergens": ["celery"]},
    )
    taster = ShelfItem(kind=ShelfKind.TASTER, name="SECRET-tasters")
    journal.database.change("shelf", lambda t: t.add(recipe, taster))
    journal.do(DrawTasting(cook.id, ("SECRET-tasters", "SECRET-tasters2"), seed=1))
    _add_photo(journal, cook.id)
    journal.close()
    return path


def _add_photo(journal: Journal, cook_id: str) -> None:
    picture = Image.new("RGB", (64, 48), "brown")
    exif = Image.Exif()
    exif[0x010F] = "SECRET-photos"  # the maker of the camera (Exif 2.3)
    out, small = io.BytesIO(), io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    picture.save(small, "JPEG")
    kept = journal.files.keep(out.getvalue(), "image/jpeg", "SECRET-photos.jpg")
    thumb = journal.files.keep(small.getvalue(), "image/jpeg", "small.jpg")
    photo = Photo(
        cook_id=cook_id,
        name="SECRET-photos.jpg",
        attachment=kept.sha,
        thumbnail=thumb.sha,
        width=64,
        height=48,
        taken_at=datetime(2026, 5, 2, 12, tzinfo=UTC),
        caption="SECRET-notes",
    )
    journal.do(KeepPhotos((photo,), (kept, thumb)))


def _all_bytes(path: Path) -> bytes:
    with zipfile.ZipFile(path) as found:
        named = "\n".join(found.namelist()).encode()
        return named + b"\n".join(found.read(name) for name in found.namelist())


def _bundle(folder: Path, choice: Choice) -> bytes:
    target = folder.parent / "out.eln"
    journal = open_journal(folder, read_only=True)
    written(journal, target, choice)
    journal.close()
    return _all_bytes(target)


def test_with_nothing_chosen_no_secret_leaves(folder: Path) -> None:
    data = _bundle(folder, Choice())
    assert set(SECRET.findall(data)) == set()
    for number in (b"98765.5", b"0.087654", b"43210.5", b"0.0123456", b"54321.5"):
        assert number not in data
    assert b"celery" in data, "allergens leave with every bundle"
    assert b"7.5" in data, "and curing salt does"


@pytest.mark.parametrize("part", [part for part in PrivatePart if part is not PrivatePart.TIMES])
def test_a_part_that_is_chosen_leaves_alone(folder: Path, part: PrivatePart) -> None:
    found = set(SECRET.findall(_bundle(folder, Choice(parts=frozenset({part})))))
    allowed = {str(part).encode()}
    if part is PrivatePart.TASTERS:
        allowed |= {b"tasters2"}
    if part in {PrivatePart.PHOTOS, PrivatePart.COSTS, PrivatePart.DEVICE, PrivatePart.TASTERS}:
        # Numbers, the small picture, no probe file; and the tasting is not revealed.
        assert found <= set()
    else:
        assert found == allowed


def test_amounts_leave_with_grams_alone(folder: Path) -> None:
    assert b"0.0123456" in _bundle(folder, Choice(Detail.RATIOS))
    assert b"43210.5" not in _bundle(folder, Choice(Detail.RATIOS))
    grams = _bundle(folder, Choice(Detail.GRAMS))
    assert b"43210.5" in grams
    assert set(SECRET.findall(grams)) == {b"grams"}


def test_everything_is_everything(folder: Path) -> None:
    found = set(SECRET.findall(_bundle(folder, EVERYTHING)))
    parts = {b"place", b"notes", b"supplier", b"grams", b"tasters", b"tasters2", b"photos"}
    assert found == parts


def test_what_is_not_revealed_stays_at_home(folder: Path) -> None:
    journal = open_journal(folder, read_only=True)
    (session,) = journal.find(Tasting)
    samples = journal.find(Sample)
    journal.close()
    data = _bundle(folder, Choice(parts=frozenset(PrivatePart)))
    assert session.id.encode() not in data
    assert not any(sample.id.encode() in data for sample in samples)


def test_each_kind_of_record_leaves_or_is_the_journals_own() -> None:
    assert {kind.KIND for kind in RECORDS} == {*TABLE_WORDS, "saved_question", "setting"}


@pytest.mark.parametrize("kind", sorted(TABLE_WORDS))
def test_each_field_is_said_to_leave_or_to_stay(kind: str) -> None:
    """A new field stays at home until somebody has thought about it, and says so here."""
    if kind == "alarm":  # leaves with everything alone
        return
    names = {field.name for field in fields(KINDS[kind])}
    stay = {name for part in STAY.get(kind, {}).values() for name in part}
    assert names == set(LEAVE[kind]) | stay
    assert not set(LEAVE[kind]) & stay


def test_a_field_nobody_thought_of_stays(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    left = {kind: tuple(n for n in names if n != "cut") for kind, names in LEAVE.items()}
    monkeypatch.setattr("pitjournal.journal.bundles.leaving.LEAVE", left)
    assert b"brisket" not in _bundle(folder, Choice())


def test_the_demonstration_names_no_taster(least: Path) -> None:
    data = _all_bytes(least)
    for name in (b"Ada", b"Bruno", b"Clio", b"Dov"):
        assert re.search(rb"\b" + name + rb"\b", data) is None
    assert b"taster 1" in data
