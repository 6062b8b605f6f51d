"""Bare numbers as a cook reads them: one form for decimals, signs and per cent.

A point before the decimals, a true minus, no powers of ten, and a blank before the per cent.
What a machine reads (CSV, JSON, drawings) is written by its own writer.
"""

from decimal import Decimal

from pitjournal.units.scales import NOT_RECORDED

MINUS = "−"

_SIX = 6


def figure(value: float | None, digits: int = 0, *, signed: bool = False) -> str:
    """Return a number with so many decimals; one that rounds to nothing has no sign.

    Parameters
    ----------
    signed
        A difference: + before one that is more than nothing.
    """
    if value is None:
        return NOT_RECORDED
    return _signed(f"{value:.{digits}f}", value, signed=signed)


def trimmed(value: float | None, most: int = _SIX, *, signed: bool = False) -> str:
    """Return a number with as many digits as it needs, and at most so many that mean something."""
    if value is None:
        return NOT_RECORDED
    text = f"{value:.{most}g}"
    if "e" in text:
        text = f"{Decimal(text):f}"
    return _signed(text, value, signed=signed)


def counted(count: int, what: str, *, none: str = "0") -> str:
    """Return how many of something that takes an s: "1 cook", "3 cooks", "0 cooks" or `none`."""
    return f"1 {what}" if count == 1 else f"{count or none} {what}s"


def percent(share: float, digits: int = 0) -> str:
    """Return a share of one in per cent, "5 %"."""
    return f"{figure(100 * share, digits)} %"


def _signed(text: str, value: float, *, signed: bool) -> str:
    bare = text.lstrip("-")
    if not any(digit in bare for digit in "123456789") and bare[:1].isdecimal():
        return bare
    return (MINUS if value < 0 else "+" * signed) + bare
