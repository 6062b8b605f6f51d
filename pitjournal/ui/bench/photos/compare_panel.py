"""Photos side by side: two, of one stage where there are such; or four of a stage."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from pitjournal.domain.event import Photo
from pitjournal.domain.photo_stage import by_stage, photo_words
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import Tap, button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.words import clear, column, row, words
from pitjournal.ui.look.theme import sized

SIDE, HEIGHT = 410, 308
QUARTER, QUARTER_HEIGHT, MOST = 216, 240, 4
LOST = "This photo cannot be read. Copy it from a backup."


def small_picture(desk: Desk, photo: Photo, wide: int, high: int) -> QPixmap:
    """Return a photo's small picture within a size, px; an empty one where it is lost."""
    picture = QPixmap()
    try:
        picture.loadFromData(desk.journal.files.read(photo.thumbnail))
    except JournalError:
        return picture
    if picture.isNull():
        return picture
    fit = Qt.AspectRatioMode.KeepAspectRatio
    return picture.scaled(wide, high, fit, Qt.TransformationMode.SmoothTransformation)


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
            sized(tap, width=tokens.TAP_WIDTH)
        line = row(self.before, self.box, self.after)
        line.setStretch(1, 1)
        self.setLayout(column(self.shown, line, self.about))
        self.show_photo(photo)

    def _words(self, photo: Photo) -> str:
        parts = (photo_words(self._whole, photo), photo.caption or photo.name)
        return ", ".join(part for part in parts if part)

    def show_photo(self, photo: Photo) -> None:
        """Show a photo."""
        self.photo = photo
        self.box.set_value(photo.id)
        taken = show_moment(photo.taken_at, self._whole.cook.zone, self._desk.now())
        self.about.setText(f"Taken: {taken}")
        self.shown.setAccessibleName(f"photo, {self._words(photo)}")
        picture = small_picture(self._desk, photo, SIDE, HEIGHT)
        if picture.isNull():
            self.shown.setText(LOST)
        else:
            self.shown.setPixmap(picture)

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


class FourPanel(GlovePanel):
    """The photos of a stage, four side by side, arm by arm and piece by piece."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook, stage: str = "") -> None:
        super().__init__(over, "Four photos side by side", MOST * (QUARTER + tokens.M) + 60)
        self._desk, self._whole = desk, whole
        self._found = by_stage(whole)
        self._from = 0
        self.stages = Choice("stage")
        self.stages.offer(
            (name, f"{name or 'not known'} {len(photos)}", -1)
            for name, photos in self._found.items()
        )
        self.stages.choose(stage if stage in self._found else next(iter(self._found), ""))
        self.stages.chosen.connect(lambda *_: self._turn())
        self.body.addWidget(self.stages)
        self._grid = QGridLayout()
        self._grid.setSpacing(tokens.M)
        self._grid.setColumnStretch(MOST, 1)  # fewer stand at the left
        self.body.addLayout(self._grid)
        self.said = words("", "quiet", wrap=False)
        self.more = button("Next four", self._next)
        self.body.addLayout(row(self.said, None, self.more))
        self._show()

    @property
    def photos(self) -> Sequence[Photo]:
        """The photos of the stage that is chosen."""
        return self._found.get(str(next(iter(self.stages.values()), "")), ())

    @property
    def shown(self) -> Sequence[Photo]:
        """Those that are seen."""
        return self.photos[self._from : self._from + MOST]

    def _turn(self) -> None:
        self._from = 0
        self._show()

    def _next(self) -> None:
        self._from += MOST
        if self._from >= len(self.photos):
            self._from = 0
        self._show()

    def _show(self) -> None:
        clear(self._grid)
        for place, photo in enumerate(self.shown):
            picture = QLabel()
            picture.setFixedSize(QUARTER, QUARTER_HEIGHT)
            picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
            picture.setAccessibleName(f"photo, {photo_words(self._whole, photo)}")
            small = small_picture(self._desk, photo, QUARTER, QUARTER_HEIGHT)
            if small.isNull():
                picture.setWordWrap(True)
                picture.setText(LOST)
            else:
                picture.setPixmap(small)
            self._grid.addWidget(picture, 0, place)
            self._grid.addWidget(words(self._about(photo), "strong"), 1, place)
            taken = show_moment(photo.taken_at, self._whole.cook.zone, self._desk.now())
            self._grid.addWidget(words(f"Taken: {taken}", "quiet"), 2, place)
        last = self._from + len(self.shown)
        self.said.setText(f"{self._from + 1}–{last} of {len(self.photos)}")
        several = len(self.photos) > MOST
        self.said.setVisible(several)
        self.more.setVisible(several)

    def _about(self, photo: Photo) -> str:
        piece = next((p for p in self._whole.pieces if p.id == photo.piece_id), None)
        arm = self._whole.arm_of(piece) if piece is not None else None
        parts = (piece.label if piece else "", arm.name if arm else "", photo.caption)
        return " · ".join(part for part in parts if part) or "several pieces"
