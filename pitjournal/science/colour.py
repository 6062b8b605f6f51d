"""Colours: contrast as the web's accessibility guideline counts it."""

LUMINANCE = (0.2126, 0.7152, 0.0722)
"""Weights of linear red, green and blue (WCAG 2.2, relative luminance)."""


def parse_hex(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue, 0 to 255, of a colour such as ``"#c8501e"``.

    Raises
    ------
    ValueError
        If it is no such colour.
    """
    digits = colour.removeprefix("#")
    if len(digits) != 6:
        raise ValueError(f"{colour} is not a colour of six hexadecimal digits")
    return int(digits[:2], 16), int(digits[2:4], 16), int(digits[4:], 16)


def linear(level: float) -> float:
    """Return the linear light of an sRGB level, both from 0 to 1."""
    return level / 12.92 if level <= 0.04045 else float(((level + 0.055) / 1.055) ** 2.4)


def relative_luminance(colour: str) -> float:
    """Return the relative luminance of a colour, 0 black to 1 white (WCAG 2.2)."""
    parts = (linear(level / 255) for level in parse_hex(colour))
    return sum(weight * part for weight, part in zip(LUMINANCE, parts, strict=True))


def contrast(one: str, two: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.2, success criterion 1.4.3)."""
    darker, lighter = sorted((relative_luminance(one), relative_luminance(two)))
    return (lighter + 0.05) / (darker + 0.05)
