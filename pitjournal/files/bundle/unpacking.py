"""Take the files of a bundle out of it, one by one, each as it was said to be."""

import hashlib
import zipfile
from pathlib import Path
from types import TracebackType
from typing import Self

from pitjournal.errors import JournalError
from pitjournal.files.bundle.reading import FileRead
from pitjournal.files.places import cannot_be_read, name_of

LARGEST = 400_000_000
"""Bytes of one file."""


class Unpacked:
    """The files of a bundle that was read; to be used with `with`."""

    def __init__(self, path: Path) -> None:
        self._name = name_of(path)
        try:
            self._zip = zipfile.ZipFile(path)
        except OSError as error:
            raise cannot_be_read(self._name, error) from error
        except zipfile.BadZipFile as error:
            raise self._changed() from error

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        where: TracebackType | None,
    ) -> None:
        self._zip.close()

    def bytes_of(self, file: FileRead) -> bytes:
        """Return a file's bytes.

        Raises
        ------
        JournalError
            If they are not those that the bundle's description names, or too many.
        """
        if file.size > LARGEST:
            raise JournalError(
                f"{file.name[:60]} in {self._name} is too large to keep.", "Ask for it without it."
            )
        try:
            with self._zip.open(file.entry) as found:
                data = found.read(file.size + 1)
        except (OSError, zipfile.BadZipFile, KeyError, RuntimeError, EOFError, ValueError) as error:
            raise self._changed() from error
        if len(data) != file.size or hashlib.sha256(data).hexdigest() != file.sha256:
            raise self._changed()
        return data

    def _changed(self) -> JournalError:
        return JournalError(
            f"A file in {self._name} is not what it was when it was written.",
            "Ask for it again. Nothing was taken over.",
        )
