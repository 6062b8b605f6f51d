"""What this computer's cook prefers: theme, units, the last journal. Not part of a journal."""

import json
import os
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path
from typing import Any

_FOLDERS = "folders"
_DRAWERS = "drawers"
MOST_COOKS = 300
"""Of so many cooks it is remembered which drawers are open."""


@dataclass(frozen=True)
class Preferences:
    """Preferences; an unknown value (of a newer version, say) is kept but not used.

    Attributes
    ----------
    theme
        "light", "night", "sun" or "system".
    units
        "us" or "metric".
    last_journal
        The folder that opens by itself.
    recent
        Folders of journals opened before, newest first.
    sound
        How long an alarm sounds each time it rings: "short" or "long".
    letters
        Whether single letters and digits are keys of a page: "on" or "off".
    text
        The text size, per cent: "100", "110", "125" or "150".
    from_afar
        The id of the cook whose bench is shown to be read from afar; "" for none.
    """

    theme: str = "system"
    units: str = "us"
    last_journal: str = ""
    recent: tuple[str, ...] = ()
    sound: str = "short"
    letters: str = "on"
    text: str = "100"
    from_afar: str = ""


def preferences_path() -> Path:
    """Return where preferences are kept; ``PITJOURNAL_SETTINGS`` names another file."""
    named = os.environ.get("PITJOURNAL_SETTINGS")
    if named:
        return Path(named)
    import platformdirs

    return Path(platformdirs.user_config_dir("pitjournal")) / "settings.json"


def demonstration_folder() -> Path:
    """Return where this computer's demonstration journal goes when no folder is named."""
    import platformdirs

    return Path(platformdirs.user_data_dir("pitjournal")) / "demonstration"


def load_preferences() -> Preferences:
    """Return the preferences; a missing or broken file gives the defaults."""
    found = _read()
    values: dict[str, Any] = {}
    for field in fields(Preferences):
        value = found.get(field.name)
        if field.name == "recent":
            known = value if isinstance(value, list) else []
            values["recent"] = tuple(item for item in known if isinstance(item, str))
        elif isinstance(value, str):
            values[field.name] = value
    return Preferences(**values)


def _read() -> dict[str, Any]:
    try:
        found = json.loads(preferences_path().read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def save_preferences(preferences: Preferences) -> None:
    """Write the preferences; what a newer version wrote beside them stays. Failure is no harm."""
    _write({**_read(), **asdict(preferences)})


def _write(kept: Mapping[str, Any]) -> None:
    path = preferences_path()
    part = path.with_suffix(".part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps(kept, indent=1), encoding="utf-8")
        part.replace(path)
    except OSError:
        return


def last_folder(kind: str) -> str:
    """Return the folder that was last used for a kind of file; empty where none is known."""
    found = _read().get(_FOLDERS)
    folder = found.get(kind) if isinstance(found, dict) else None
    return folder if isinstance(folder, str) else ""


def note_folder(kind: str, folder: str) -> None:
    """Remember the folder that was used for a kind of file. Failure is no harm."""
    kept = _read()
    folders = kept.get(_FOLDERS)
    folders = dict(folders) if isinstance(folders, dict) else {}
    if folders.get(kind) != folder:
        _write({**kept, _FOLDERS: {**folders, kind: folder}})


def open_drawers(cook_id: str) -> tuple[str, ...]:
    """Return which drawers of a cook's findings were left open; none where that is not known."""
    found = _read().get(_DRAWERS)
    named = found.get(cook_id) if isinstance(found, dict) else None
    return tuple(one for one in named if isinstance(one, str)) if isinstance(named, list) else ()


def note_drawers(cook_id: str, opened: Sequence[str]) -> None:
    """Remember which drawers of a cook's findings are open. Failure is no harm."""
    kept = _read()
    found = kept.get(_DRAWERS)
    before = dict(found) if isinstance(found, dict) else {}
    before.pop(cook_id, None)
    if opened:
        before[cook_id] = list(opened)
    newest = list(before.items())[-MOST_COOKS:]
    _write({**kept, _DRAWERS: dict(newest)})


def with_journal(preferences: Preferences, folder: Path) -> Preferences:
    """Return the preferences after opening the journal in a folder."""
    name = str(folder.absolute())
    recent = (name, *(other for other in preferences.recent if other != name))[:8]
    return replace(preferences, last_journal=name, recent=recent)
