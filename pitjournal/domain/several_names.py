"""Several names in one line, as people write them."""

import re

_BETWEEN = re.compile(r"[,;\n\r\t\u2028\u2029]")
_AND = re.compile(r"\s+(?:and|&)\s+", re.IGNORECASE)


def things_in(text: str) -> tuple[str, ...]:
    """Return the names of things between commas, semicolons or line breaks, each once.

    Parameters
    ----------
    text
        As typed: "thin; right, thick".
    """
    names = (" ".join(part.split()) for part in _BETWEEN.split(text))
    return tuple(dict.fromkeys(name for name in names if name))


def people_in(text: str) -> tuple[str, ...]:
    """Return the names of people, between which "and" may stand too, each once.

    Parameters
    ----------
    text
        As typed: "North, South; West and East".
    """
    parts = _BETWEEN.split(_AND.sub(",", f" {text} "))
    names = (re.sub(r"^and\s+", "", part.strip(), flags=re.IGNORECASE) for part in parts)
    named = (" ".join(name.split()) for name in names)
    return tuple(dict.fromkeys(name for name in named if name))
