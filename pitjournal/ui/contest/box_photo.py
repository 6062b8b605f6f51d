"""The photo of a turn-in box: one of its cook's photos."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QLabel

from pitjournal.domain.contest import Category, TurnIn
from pitjournal.domain.event import Photo
from pitjournal.errors import JournalError
from pitjournal.files import apart, strangers
from pitjournal.journal.commands.records import Change
from pitjournal.ui.bench.photos.photo_panel import PICTURES, keep_photos
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import FileKind, open_files
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import px

WIDE, HIGH = 420, 260
"""The most a picture takes, px."""


class BoxPhoto(Card):
    """The picture, the cook's other photos to choose from, and how one is added."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._turn_in: TurnIn | None = None
        self._shown = ""
        super().__init__("The box")
        self.said = words("", "quiet")
        self.picture = QLabel()
        self.picture.setAccessibleName("photo of the box")
        self.choice = ChoiceBox("Photo of the box", (), self._choose)
        self.new = button("Add its photo", self._ask)
        self.body.addWidget(self.said)
        self.body.addWidget(self.picture)
        self.body.addLayout(row(self.choice, self.new))
        self.body.addStretch(1)

    def show_turn_in(self, turn_in: TurnIn) -> None:
        """Show the box of a category."""
        self._turn_in = turn_in
        cook_id = turn_in.category.cook_id
        photos = self._desk.journal.find(Photo, cook_id=cook_id) if cook_id else []
        self.said.setText("" if cook_id else "Say which cook it was first: its photos stand there.")
        self.said.setVisible(not cook_id)
        self.choice.offer(((None, "none"), *((one.id, _name(one)) for one in photos)))
        self.choice.set_value(turn_in.category.photo_id)
        for part in (self.choice, self.new):
            part.setVisible(bool(cook_id))
        chosen = next((one for one in photos if one.id == turn_in.category.photo_id), None)
        self._show_picture(chosen.thumbnail if chosen else "")

    def _show_picture(self, sha: str) -> None:
        if sha == self._shown:
            return
        self._shown = sha
        found = QPixmap()
        if sha:
            try:
                found.loadFromData(self._desk.journal.files.read(sha))
            except JournalError as error:
                self.said.setText(str(error))
                self.said.show()
        if not found.isNull():
            keep = Qt.AspectRatioMode.KeepAspectRatio
            smooth = Qt.TransformationMode.SmoothTransformation
            self.picture.setPixmap(found.scaled(px(WIDE), px(HIGH), keep, smooth))
        self.picture.setVisible(not found.isNull())

    def _choose(self, photo_id: object) -> str:
        if self._turn_in is None:
            return ""
        category = self._turn_in.category
        change = Change(Category, category.id, {"photo_id": photo_id}, "Photo of the box")
        return self._desk.bridge.attempt(change, self)

    def _ask(self) -> None:
        """Ask for a photo, add it to the cook, and take it for the box."""
        turn_in = self._turn_in
        if turn_in is None or turn_in.category.cook_id is None:
            return
        apart.prepare(*strangers.PHOTO_READERS)
        names = open_files(self.window(), FileKind.PHOTOS, "Photo of the box", PICTURES)
        cook_id, category_id = turn_in.category.cook_id, turn_in.category.id
        before = {one.id for one in self._desk.journal.find(Photo, cook_id=cook_id)}

        def take() -> None:
            new = [p for p in self._desk.journal.find(Photo, cook_id=cook_id) if p.id not in before]
            if new:
                fields = {"photo_id": new[0].id}
                self._desk.bridge.do(Change(Category, category_id, fields, "Photo of the box"))

        if names:
            keep_photos(self._desk, cook_id, [Path(name) for name in names[:1]], None, take)


def _name(photo: Photo) -> str:
    return photo.caption or photo.stage or photo.name
