"""The zone of this computer's clock, without a window."""

import os
from pathlib import Path
from zoneinfo import ZoneInfo


def local_zone() -> str:
    """Return the IANA name of this computer's zone; "UTC" where nothing says it."""
    names = [os.environ.get("TZ", "").lstrip(":")]
    for place in ("/etc/localtime", "/etc/timezone"):
        path = Path(place)
        try:
            text = str(path.resolve()) if path.is_symlink() else path.read_text("utf-8")
        except (OSError, ValueError):
            continue
        names.append(text.rpartition("zoneinfo/")[2].strip())
    return next((name for name in names if name and _known(name)), "UTC")


def _known(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ValueError, OSError):
        return False
    return True
