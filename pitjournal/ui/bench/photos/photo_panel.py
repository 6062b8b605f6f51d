"""The photos of a cook as a strip; one opens large."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QLabel, QWidget

from pitjournal.domain.event import Photo
from pitjournal.domain.photo_stage import PhotoStage, as_added, partner_of, stage_of
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.places import name_of
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import KeepPhotos
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.journal.jobs import Progress
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.words import row, words

SIDE, LINE = 150, 21
WIDE, HIGH = 760, 250
PICTURES = "Pictures (*.jpg *.jpeg *.png *.heic *.heif *.webp);;All files (*)"


def dropped(data: QMimeData) -> tuple[list[Path], list[Path]]:
    """Return the pictures among dropped files, and the others."""
    from pitjournal.journal.watched_folder import SUFFIXES  # noqa: PLC0415 - Pillow

    paths = [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]
    pictures = [path for path in paths if path.suffix.lower() in SUFFIXES]
    return pictures, [path for path in paths if path not in pictures]


def _with_stages(desk: Desk, cook_id: str, command: Command) -> Command:
    if not isinstance(command, KeepPhotos):
        return command
    whole, now = desk.journal.whole(cook_id), desk.now()
    return replace(command, photos=tuple(as_added(whole, one, now) for one in command.photos))


def keep_photos(
    desk: Desk,
    cook_id: str,
    paths: Sequence[Path],
    piece_id: str | None,
    done: Callable[[], object],
) -> None:
    """Read photos off the window's thread, keep them as one step, then call `done`."""
    left_out: list[JournalError] = []

    def work(progress: Progress) -> Command:
        from pitjournal.journal.attaching import attach_photos  # noqa: PLC0415 - Pillow

        gone_by = 0

        def wanted() -> None:
            progress.report(gone_by / len(paths), f"{gone_by} of {len(paths)}")

        def readable() -> Iterator[tuple[str, bytes]]:
            nonlocal gone_by
            for path in paths:
                try:
                    yield name_of(path), strangers.file_bytes(path, largest, wanted)
                except JournalError as error:
                    left_out.append(error)
                gone_by += 1

        wanted()
        largest = strangers.LARGEST_PHOTO
        found, journal = readable(), desk.journal
        return attach_photos(journal, cook_id, found, piece_id, stop=wanted, left_out=left_out)

    def keep(command: Command) -> None:
        desk.bridge.do(_with_stages(desk, cook_id, command))
        done()
        if left_out:
            desk.bridge.told.emit(_refused(left_out, len(paths) - len(left_out)))

    def ended() -> None:
        if job.stopped:
            desk.bridge.told.emit("Stopped. No photo was added.")

    job = desk.bridge.run("Read the photos", work, keep, asker=desk, ended=ended)


def _refused(why: Sequence[JournalError], kept: int) -> str:
    """Return in one line how many were kept and why the others were not."""
    good = "1 photo" if kept == 1 else f"{kept} photos"
    more = f" And {len(why) - 2} more." if len(why) > 2 else ""
    return f"{good} kept. Left out: {' '.join(one.message for one in why[:2])}{more}"


class PhotoPanel(GlovePanel):
    """One photo: its stage and piece, each changed by a tap; its caption, and when it was taken."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook, photo: Photo) -> None:
        super().__init__(over, photo.name[:40], 820)
        self._desk, self._photo, self._whole, self._over = desk, photo, whole, over
        picture = QPixmap()
        try:
            picture.loadFromData(desk.journal.files.read(photo.thumbnail))
        except JournalError as error:
            self.body.addWidget(words(str(error), "error"))
        shown = QLabel()
        shown.setAccessibleName(f"photo {photo.caption or photo.name}")
        shown.setAlignment(Qt.AlignmentFlag.AlignCenter)
        fit = Qt.AspectRatioMode.KeepAspectRatio
        smooth = Qt.TransformationMode.SmoothTransformation
        if not picture.isNull():
            shown.setPixmap(picture.scaled(WIDE, HIGH, fit, smooth))
        self.body.addWidget(shown)
        taken = show_moment(photo.taken_at, whole.cook.zone, desk.now())
        self.body.addWidget(words(f"Taken: {taken}", "quiet"))
        self.stage = Choice("stage")
        self.stage.offer((str(stage), str(stage), -1) for stage in PhotoStage)
        self.stage.choose(stage_of(whole, photo))
        self.stage.chosen.connect(lambda stage: self._set("stage", stage, "Stage of a photo"))
        self.body.addWidget(words("What it shows", "heading", wrap=False))
        self.body.addWidget(self.stage)
        self.piece = Choice("piece")
        self.piece.offer(
            (
                (None, "several", -1),
                *((p.id, p.label, whole.arm_index(p.arm_id)) for p in whole.pieces),
            )
        )
        self.piece.choose(photo.piece_id)
        self.piece.chosen.connect(lambda piece: self._set("piece_id", piece, "Piece of a photo"))
        self.body.addWidget(self.piece)
        self.piece.setVisible(len(whole.pieces) > 1)
        self.caption = TextField("Caption", self._keep)
        self.caption.set_value(photo.caption)
        self.body.addWidget(self.caption)
        self.beside = button("Lay another beside it", self._compare)
        away = button("Remove the photo", self._remove, "link")
        self.body.addLayout(row(self.beside, None, away))
        self.beside.setVisible(len(whole.photos) > 1)

    def _keep(self, value: object, _typed: str) -> str:
        return self._set("caption", str(value or ""), "Caption a photo")

    def _set(self, field: str, value: object, label: str) -> str:
        """Keep one field of the photo; another piece may be at another stage."""
        change = Change(Photo, self._photo.id, {field: value}, label)
        problem = self._desk.bridge.attempt(change, self)
        if not problem:
            self._photo = replace(self._photo, **{field: value})  # type: ignore[arg-type]
            self.stage.choose(stage_of(self._whole, self._photo))
        return problem

    def _compare(self) -> None:
        from pitjournal.ui.bench.photos.compare_panel import ComparePanel  # noqa: PLC0415 - seldom needed

        other = partner_of(self._whole, self._photo)
        if other is not None:
            self.close_panel()
            ComparePanel(self._over, self._desk, self._whole, self._photo, other).open_panel()

    def _remove(self) -> None:
        self._desk.bridge.do(Remove(Photo, self._photo.id, f"Remove {self._photo.name}"), self)
        self.close_panel()
