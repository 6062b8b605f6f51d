"""Lines that are cut off: like the beginning of others."""

from collections.abc import Sequence

CUT = "the row is cut off"


def is_begun(text: str, model: str) -> bool:
    """Whether a text is like the beginning of another: digits for digits, the same signs."""
    if not any(map(str.isdecimal, model)):
        return model.startswith(text)
    return len(text) <= len(model) + 1 and all(
        (a.isdecimal() and b.isdecimal()) or (a.isalpha() and b.isalpha()) or a == b
        for a, b in zip(text, model, strict=False)
    )


def looks_cut(text: str, models: Sequence[str]) -> bool:
    """Whether a last line without an end is like the beginning of the rows above it."""
    return any(len(text) < len(model) + 1 and is_begun(text, model) for model in models)
