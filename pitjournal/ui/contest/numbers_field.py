"""A field of several numbers: the totals of all others, as they are read out."""

import re

from pitjournal.errors import JournalError
from pitjournal.ui.look.parts.fields import Field
from pitjournal.units.figures import trimmed

_APART = re.compile(r"[;\n]+|,\s+|\s+")
MOST = 1e4


class NumbersField(Field):
    """Numbers with blanks, semicolons or a comma and a blank between them."""

    def read(self, text: str) -> object:
        """Return them, the highest first."""
        found = []
        for part in (part for part in _APART.split(text.strip()) if part):
            try:
                number = float(part.replace(",", "."))
            except ValueError:
                number = -1.0
            if not 0 <= number <= MOST:
                raise JournalError(f"“{part}” is no total.", "Such as: 171.25 168.9 165")
            found.append(number)
        return tuple(sorted(found, reverse=True))

    def shown(self, value: object) -> str:
        """Return them as they are typed."""
        return "  ".join(trimmed(one, 8) for one in value) if isinstance(value, tuple) else ""
