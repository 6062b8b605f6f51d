"""Take in the new pictures of a folder, as a camera's or a phone's own program fills it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path

from pitjournal.domain.event import EventKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.places import cannot_be_read, readable
from pitjournal.journal.attaching import attach_photos
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import KeepPhotos
from pitjournal.journal.following import TRIES, Stamp, stamp_of
from pitjournal.journal.journal import Journal
from pitjournal.store.faults import NotSavedError

SUFFIXES = frozenset({".jpg", ".jpeg", ".png", ".heic", ".heif", ".webp"})
SETTING = "watched_folder"

BEFORE = timedelta(hours=24)
"""Pictures of the night before belong to a cook too."""


@dataclass(frozen=True)
class Watching:
    """A folder as it was seen last.

    Attributes
    ----------
    stamps
        Each picture's entry by its name.
    done
        The entries that were looked into: taken in, known, or not of this cook.
    failed
        How often each picture could not be read.
    problems
        What is wrong, in words for the cook: of the folder ("") or of a picture.
    """

    folder: str
    stamps: Mapping[str, Stamp] = field(default_factory=dict)
    done: Mapping[str, Stamp] = field(default_factory=dict)
    failed: Mapping[str, int] = field(default_factory=dict)
    problems: Mapping[str, str] = field(default_factory=dict)
    taken: int = 0


def take_in(
    journal: Journal, whole: WholeCook, before: Watching
) -> tuple[Watching, Command | None]:
    """Look at the folder; return how it is now, and what keeps its new pictures, if any.

    A picture that has changed since the last look is still being written, and waits. One that
    cannot be read is said after a few looks, and then left alone.
    """
    try:
        stamps = dict(_pictures(Path(before.folder)))
    except OSError as error:
        name = f"The folder for pictures, {before.folder},"
        gone = isinstance(error, FileNotFoundError)
        why = f"{name} is gone." if gone else str(cannot_be_read(name, error))
        said = f"{why} It is looked into again when it is back."
        return Watching(
            before.folder, done=before.done, problems={"": said}, taken=before.taken
        ), None
    steady = [
        name
        for name, stamp in stamps.items()
        if stamp.size and before.stamps.get(name) == stamp and before.done.get(name) != stamp
    ]
    known = set(journal.database.attachment_ids()) if steady else set()
    done, failed = dict(before.done), dict(before.failed)
    problems = {name: said for name, said in before.problems.items() if name in stamps}
    problems.pop("", None)
    commands = []
    for name in sorted(steady):
        try:
            command = _photo(journal, whole, Path(before.folder) / name, known)
        except NotSavedError as error:
            problems[""] = f"The new pictures wait. {error}"
            break  # that is no fault of the pictures
        except JournalError as error:
            failed[name] = failed.get(name, 0) + 1
            if failed[name] < TRIES:
                continue
            problems[name] = f"{name} in the folder for pictures cannot be read. {error}"
        else:
            problems.pop(name, None)
            if command is not None:
                commands.append(command)
        done[name] = stamps[name]
    now = Watching(before.folder, stamps, done, failed, problems, before.taken + len(commands))
    return now, _together(commands)


def _pictures(folder: Path) -> Iterable[tuple[str, Stamp]]:
    for path in folder.iterdir():
        if path.suffix.lower() in SUFFIXES and not path.name.startswith("."):
            try:
                yield path.name, stamp_of(path)
            except FileNotFoundError:  # taken away between two looks
                continue


def _photo(journal: Journal, whole: WholeCook, path: Path, known: set[str]) -> KeepPhotos | None:
    """Return what keeps one picture; None for one that is known or not of this cook."""
    data = strangers.file_bytes(path, strangers.LARGEST_PHOTO)
    sha = sha256(data).hexdigest()
    if sha in known:
        return None
    known.add(sha)
    changed = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    command = attach_photos(journal, whole.cook.id, [(readable(path.name), data)], taken_at=changed)
    assert isinstance(command, KeepPhotos)
    taken = command.photos[0].taken_at
    return command if taken is not None and taken >= beginning(whole) else None


def beginning(whole: WholeCook) -> datetime:
    """Return the moment from which a picture belongs to a cook."""
    moments = [whole.cook.starts_at]
    for kind in (EventKind.LIT, EventKind.ON):
        first = whole.first(kind)
        if first is not None and first.happened_at is not None:
            moments.append(first.happened_at)
    return min(moments) - BEFORE


def _together(commands: list[KeepPhotos]) -> Command | None:
    if not commands:
        return None
    photos = tuple(photo for command in commands for photo in command.photos)
    files = tuple(file for command in commands for file in command.files)
    what = photos[0].name if len(photos) == 1 else f"{len(photos)} photos"
    return KeepPhotos(photos, files, f"Take in {what}")
