"""Texts that are cut or wrapped to a width by whoever measures them."""

from pitjournal.files.summary.plate_shapes import Measure

MORE = "…"


def cut(text: str, width: float, size: float, measure: Measure, *, bold: bool = False) -> str:
    """Return a text cut to a width, with … where something is left out."""
    if measure(text, size, bold) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if measure(f"{text[:middle].rstrip()}{MORE}", size, bold) <= width:
            low = middle
        else:
            high = middle - 1
    return f"{text[:low].rstrip()}{MORE}"


def wrapped(
    text: str, width: float, size: float, measure: Measure, *, bold: bool = False
) -> list[str]:
    """Return a text in lines of a width; a word longer than a line is cut."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and measure(longer, size, bold) <= width:
            lines[-1] = longer
        else:
            lines.append(cut(word, width, size, measure, bold=bold))
    return lines
