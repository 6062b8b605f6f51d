"""Make the demonstration journal in its folder when it is not there yet."""

import shutil
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.journal.demonstration.build import make_demonstration
from pitjournal.store.faults import passing
from pitjournal.store.opening import journal_is_in


def ensure_demonstration(folder: Path, report: Callable[[float | None, str], None]) -> bool:
    """Make the demonstration journal, whole or not at all; False when it is there already.

    Parameters
    ----------
    folder
        Where it goes.
    report
        Is told how far it is, 0 to 1, and in words.

    Raises
    ------
    JournalError
        If something else is in the folder, or it cannot be written.
    """
    if journal_is_in(folder):
        return False
    part = folder.with_name(f".{folder.name}.part")
    try:
        with passing(f"No journal can be made in {folder}.", part.parent):
            if folder.exists() and any(folder.iterdir()):
                raise JournalError(f"{folder} has other things in it.", "Name an empty folder.")
            shutil.rmtree(part, ignore_errors=True)
            part.parent.mkdir(parents=True, exist_ok=True)
            make_demonstration(part, report, now=datetime.now(UTC)).close()
            part.replace(folder)
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return True
