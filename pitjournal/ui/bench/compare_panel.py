"""Two photos side by side, of one stage where there are such."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QLabel, QWidget

from pitjournal.domain.event import Photo
from pitjournal.domain.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.ui.bench.model import event_words
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import Tap
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.words import column, row, words

SIDE, HEIGHT = 410, 308


def stage_of(whole: WholeCook, photo: Photo) -> str:
    """Return the stage a photo shows: the last thing that happened before it to its piece."""
    if photo.taken_at is None:
        return ""
    before = [
        event
        for event in whole.events
        if event.happened_at is not None
        and event.happened_at <= photo.taken_at
        and (photo.piece_id is None or event.concerns(photo.piece_id))
    ]
    return f"after {event_words(before[-1]).lower()}" if before else "before the fire"


def partner_of(whole: WholeCook, photo: Photo) -> Photo | None:
    """Return the photo to lay beside one: of its stage and another piece, else the next best."""
    stage = stage_of(whole, photo)
    others = [other for other in whole.photos if other.id != photo.id]

    def fits(other: Photo) -> tuple[bool, bool]:
        return stage_of(whole, other) == stage, other.piece_id != photo.piece_id

    return max(others, key=fits, default=None)


class PhotoSide(QWidget):
    """One of the two: the photo, which it is, and taps to the one before and after."""

    def __init__(self, desk: Desk, whole: WholeCook, name: str, photo: Photo) -> None:
        super().__init__()
        self._desk, self._whole = desk, whole
        self.photos: Sequence[Photo] = sorted(
            whole.photos, key=lambda p: (p.taken_at is None, p.taken_at, p.id)
        )
        self.photo = photo
        self.shown = QLabel()
        self.shown.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.shown.setFixedSize(SIDE, HEIGHT)
        options = [(photo.id, self._words(photo)) for photo in self.photos]
        self.box = ChoiceBox(f"photo at the {name}", options, self._take, bare=True)
        self.about = words("", "quiet")
        self.before, self.after = Tap("Back"), Tap("Next")
        for tap, step in ((self.before, -1), (self.after, 1)):
            tap.tell_about(f"at the {name}")
            tap.clicked.connect(lambda *_, by=step: self._step(by))
            tap.setFixedWidth(tokens.TAP_WIDTH)
        line = row(self.before, self.box, self.after)
        line.setStretch(1, 1)
        self.setLayout(column(self.shown, line, self.about))
        self.show_photo(photo)

    def _words(self, photo: Photo) -> str:
        label = next((p.label for p in self._whole.pieces if p.id == photo.piece_id), "")
        parts = (label, stage_of(self._whole, photo), photo.caption or photo.name)
        return ", ".join(part for part in parts if part)

    def show_photo(self, photo: Photo) -> None:
        """Show a photo."""
        self.photo = photo
        self.box.set_value(photo.id)
        taken = show_moment(photo.taken_at, self._whole.cook.zone, self._desk.now())
        self.about.setText(f"Taken {taken}")
        self.shown.setAccessibleName(f"photo, {self._words(photo)}")
        picture = QPixmap()
        try:
            picture.loadFromData(self._desk.journal.attachment(photo.thumbnail))
        except JournalError as error:
            self.shown.setText(str(error))
            return
        fit = Qt.AspectRatioMode.KeepAspectRatio
        smooth = Qt.TransformationMode.SmoothTransformation
        self.shown.setPixmap(picture.scaled(SIDE, HEIGHT, fit, smooth))

    def _take(self, photo_id: object) -> str:
        self.show_photo(next(photo for photo in self.photos if photo.id == photo_id))
        return ""

    def _step(self, by: int) -> None:
        place = [photo.id for photo in self.photos].index(self.photo.id)
        self.show_photo(self.photos[(place + by) % len(self.photos)])


class ComparePanel(GlovePanel):
    """Two photos side by side."""

    def __init__(
        self, over: QWidget, desk: Desk, whole: WholeCook, photo: Photo, other: Photo
    ) -> None:
        super().__init__(over, "Two photos side by side", 2 * SIDE + 90)
        self.left = PhotoSide(desk, whole, "left", photo)
        self.right = PhotoSide(desk, whole, "right", other)
        self.body.addLayout(row(self.left, self.right, space=tokens.M))

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the right one's choice ready."""
        super().open_panel(first or self.right.box)
