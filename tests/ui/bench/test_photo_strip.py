"""The strip of photos: only what is in sight is unpacked, and only what changed is painted."""

import io
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import Photo
from pitjournal.files import strangers
from pitjournal.journal.commands.files import KeepPhotos, KeptFile
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.journal.jobs import Job, Progress
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.bench.photos.photo_panel import PhotoPanel
from pitjournal.ui.bench.photos.photo_strip import SHOWN, Tile, unlike
from pitjournal.ui.bench.photos.small_pictures import square_of
from pitjournal.ui.window import Window
from tests.builders import NOON
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton


def picture(wide: int, high: int, left: str, right: str) -> bytes:
    """Return a PNG of two halves."""
    image = Image.new("RGB", (wide, high), left)
    image.paste(Image.new("RGB", (wide // 2, high), right), (wide - wide // 2, 0))
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue()


def bench_with(window: Window, count: int) -> BenchPage:
    """Return the bench of a cook with so many photos, seen."""
    bench = bench_on(window, Clock(NOON + timedelta(hours=3)))
    assert bench.whole is not None
    journal, cook_id = window.desk.journal, bench.whole.cook.id
    kept = [
        journal.files.keep(picture(40 + n, 30, "red", "blue"), "image/png", f"{n}.png")
        for n in range(count)
    ]
    photos = tuple(
        Photo(
            cook_id=cook_id,
            name=one.name,
            attachment=one.sha,
            thumbnail=one.sha,
            width=40,
            height=30,
            taken_at=NOON + timedelta(minutes=place),
        )
        for place, one in enumerate(kept)
    )
    journal.do(KeepPhotos(photos, tuple(kept)))
    bench.day.turn("photos")
    return bench


def tiles(bench: BenchPage) -> list[Tile]:
    model = bench.day.photos.tiles.model()
    return [model.index(row, 0).data(SHOWN) for row in range(model.rowCount())]


def test_that_two_sequences_are_told_apart_from_both_ends() -> None:
    assert unlike("abc", "abc") == (3, 0)
    assert unlike("abc", "abcd") == (3, 0)
    assert unlike("abc", "ac") == (1, 1)
    assert unlike("aa", "aaa") == (2, 0)
    assert unlike("abc", "xyz") == (0, 0)
    assert unlike("", "ab") == (0, 0)


def test_that_a_picture_is_cut_to_the_middle_at_the_size_asked_for() -> None:
    found = square_of(picture(400, 200, "red", "blue"), 60)
    assert (found.width(), found.height()) == (60, 60)
    for x, ink in ((5, "red"), (24, "red"), (36, "blue"), (55, "blue")):
        assert found.pixelColor(x, 30) == QColor(ink)
    assert square_of(b"no picture", 60).isNull()


def test_that_only_photos_in_sight_are_unpacked(
    qtbot: QtBot, open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = open_window()
    read: list[str] = []
    attachment = window.desk.journal.files.read

    def noted(sha: str) -> bytes:
        read.append(sha)
        return attachment(sha)

    monkeypatch.setattr(window.desk.journal.files, "read", noted)
    bench = bench_with(window, 300)
    strip = bench.day.photos
    shown = tiles(bench)
    qtbot.waitUntil(lambda: shown[0].photo.thumbnail in read)
    qtbot.waitUntil(lambda: not strip.pictures_wait)
    assert 3 < len(read) < 100
    assert shown[-1].photo.thumbnail not in read
    strip.tiles.scrollToBottom()
    qtbot.waitUntil(lambda: shown[-1].photo.thumbnail in read)
    assert len(read) == len(set(read)) < 200


def test_that_a_caption_changes_one_tile_and_leaves_the_marked_one(open_window: Opener) -> None:
    window = open_window()
    bench = bench_with(window, 5)
    strip = bench.day.photos
    strip.tiles.setCurrentIndex(strip.tiles.model().index(3, 0))
    changed: list[int] = []
    strip.tiles.model().dataChanged.connect(lambda first, *_: changed.append(first.row()))
    photo = tiles(bench)[1].photo
    window.desk.bridge.do(Change(Photo, photo.id, {"caption": "bark at noon"}, "Caption a photo"))
    assert changed == [1]
    assert tiles(bench)[1].text == "bark at noon"
    window.desk.bridge.do(Remove(Photo, photo.id, "Remove it"))
    assert [one.text for one in tiles(bench)] == ["0.png", "2.png", "3.png", "4.png"]
    assert strip.tiles.currentIndex().row() == 2
    window.desk.bridge.undo()
    assert [one.text for one in tiles(bench)][:2] == ["0.png", "bark at noon"]


def test_that_a_tap_or_enter_opens_a_photo_and_digits_stay_taps_of_the_bench(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench = bench_with(window, 3)
    view = bench.day.photos.tiles
    middle = view.visualRect(view.model().index(1, 0)).center()
    qtbot.mouseClick(view.viewport(), LEFT, pos=middle)
    panel = window.panel
    assert isinstance(panel, PhotoPanel)
    panel.close_panel()
    view.setFocus()
    view.setCurrentIndex(QModelIndex(view.model().index(2, 0)))
    qtbot.keyClick(view, Qt.Key.Key_Return)
    panel = window.panel
    assert isinstance(panel, PhotoPanel)
    assert panel._photo == tiles(bench)[2].photo
    panel.close_panel()
    view.setFocus()
    window._heed_letters()
    single = [key for key in window._keys if key.key().toString() == "3"]
    assert single
    assert all(key.isEnabled() for key in single)


def test_that_photos_are_read_one_by_one_with_progress_and_a_stop(
    qtbot: QtBot, open_window: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = open_window()
    bench = bench_on(window, Clock(NOON))
    paths = []
    for number in range(4):
        path = tmp_path / f"{number}.png"
        path.write_bytes(picture(300 + number, 200, "red", "blue"))
        paths.append(path)
    order: list[str] = []
    journal = window.desk.journal
    keep, read = journal.files.keep, strangers.file_bytes

    def kept(data: bytes, media_type: str, name: str) -> KeptFile:
        order.append(f"keep {name}")
        return keep(data, media_type, name)

    def bytes_of(path: Path, *others: object) -> bytes:
        order.append(f"read {path.name}")
        return read(path, *others)  # type: ignore[arg-type]

    monkeypatch.setattr(journal.files, "keep", kept)
    monkeypatch.setattr(strangers, "file_bytes", bytes_of)
    bench.opens.add_photos(paths)
    qtbot.waitUntil(lambda: len(journal.find(Photo)) == 4)
    wanted = [
        f"{what}{number}.png" for number in range(4) for what in ("read ", "keep ", "keep small ")
    ]
    assert order == wanted

    for number, path in enumerate(paths):  # others: a photo is kept once
        path.write_bytes(picture(400 + number, 200, "blue", "red"))
    said: list[str] = []
    window.desk.bridge.told.connect(said.append)
    jobs: list[Job[object]] = []
    start = journal.jobs.start

    def noted(label: str, work: Callable[[Progress], object]) -> Job[object]:
        job = start(label, work)
        if label == "Read the photos":  # the window starts others of its own meanwhile
            jobs.append(job)
        return job

    def stopping(path: Path, *others: object) -> bytes:
        if path.name == "2.png":
            jobs[-1].cancel()
        return read(path, *others)  # type: ignore[arg-type]

    monkeypatch.setattr(journal.jobs, "start", noted)
    monkeypatch.setattr(strangers, "file_bytes", stopping)
    bench.opens.add_photos(paths)
    qtbot.waitUntil(lambda: bool(said))
    assert said == ["Stopped. No photo was added."]
    assert len(journal.find(Photo)) == 4
    assert jobs[-1].progress.words == "1 of 4"
    assert jobs[-1].progress.fraction == 0.25
