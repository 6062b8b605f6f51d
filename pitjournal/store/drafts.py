"""What was begun and is not yet a record: kept beside the database, and no step to undo."""

import contextlib
import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from pitjournal.store.disk import DISK, Disk
from pitjournal.store.faults import NotSavedError, disk_words

FILE_NAME = "drafts.json"
MOST = 20
"""So many are kept; the oldest goes first."""

BENCH_WORDS = "bench "
"""So begins the id of what was typed at the bench of a cook and not logged; the cook's follows."""

_LARGEST = 1_000_000
"""Bytes; a file above that is none of ours, and is not read."""

Draft = Mapping[str, Any]
"""What was typed, by names of its own, with an `id`."""


def _nothing() -> None:
    return


class Drafts:
    """A file of drafts, newest last; one that cannot be read holds none.

    Parameters
    ----------
    path
        The file.
    stands
        Raises where the journal's folder is no longer the one that was opened.
    disk
        What writes.
    """

    def __init__(
        self, path: Path, stands: Callable[[], None] = _nothing, disk: Disk = DISK
    ) -> None:
        self._path, self._stands, self._disk = path, stands, disk

    def all(self) -> list[Draft]:
        """Return the drafts, newest last."""
        try:
            if self._path.stat().st_size > _LARGEST:
                return []
            found = json.loads(self._path.read_text(encoding="utf-8"))
        except (OSError, ValueError, RecursionError):
            return []
        drafts = found.get("drafts") if isinstance(found, dict) else None
        if not isinstance(drafts, list):
            return []
        return [one for one in drafts if isinstance(one, dict) and isinstance(one.get("id"), str)]

    def keep(self, draft: Draft) -> None:
        """Keep a draft in the place of the one with its id; it is on the disk then.

        Raises
        ------
        NotSavedError
            If the disk refuses, or the journal's folder is gone; the older one stays.
        """
        others = [one for one in self.all() if one["id"] != draft["id"]]
        self._write([*others, draft][-MOST:])

    def drop(self, draft_id: str) -> None:
        """Forget a draft, where there is one.

        Raises
        ------
        NotSavedError
            As `keep` does.
        """
        found = self.all()
        others = [one for one in found if one["id"] != draft_id]
        if len(others) < len(found):
            self._write(others)

    def _write(self, drafts: list[Draft]) -> None:
        self._stands()
        try:
            if drafts:
                data = json.dumps({"version": 1, "drafts": drafts}, indent=1).encode()
                self._disk.write(self._path, data)
            else:
                with contextlib.suppress(FileNotFoundError):
                    self._path.unlink()
        except OSError as error:
            why, hint = disk_words(error)
            raise NotSavedError(f"Not saved yet. {why}", hint) from error
