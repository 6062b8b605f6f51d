"""Words for units of temperature, in several languages, and for parts of a degree."""

import re
from functools import lru_cache

_BASES = ("degC", "degF", "K")
_PARTS = ("", "/10", "/100", "/1000")
UNITS = ("", *(f"{base}{part}" for part in _PARTS for base in _BASES))
"""Units by the code that stands for them in arrays; 0 is "not said", "degC/10" tenths of one."""

DEGREE = (
    r"(?:[Ââ]?[°º˚ø¡\ufffd]|deg(?:r(?:ees?)?\.?|s|\.)?|grads?|grados?|degr[ée]s?|gradi|graus?|"
    r"grader|graden)"
)
_WORD = r"(celsius|celcius|centigrades?|cent[íi]grados?|fahrenheit|farenheit|kelvins?|c|f|k)"
LETTER = rf"{_WORD}(?![^\W_])"
_UNIT = rf"(?:(?:{DEGREE}[\s._]*)?{_WORD}|([℃℉])|([cfk])\s*[°º˚])"
_TWICE = rf"{_UNIT}\.?(?:\s*[(\[]\s*{_UNIT}\s*[)\]])?"
_OPEN, _CLOSE = r"^[(\[{<\"']*\s*(?:(?:in|en)\s+)?", r"\.?\s*[)\]}>\"':]*$"
_ALONE = re.compile(f"{_OPEN}{_TWICE}{_CLOSE}", re.IGNORECASE)
_OF = r"(?:[\s-]*(?:of(?:\s+an?)?|de|von|di)\b)?[\s_-]*"
_BEFORE = (
    (
        r"(?:[x×*]?\s*0[.,]1|1\s*/\s*10|10\^?[-−]1|1e-1|[x×*]\s*10|tenths?|10ths|zehntel|d[ée]cim[ao]s?|"
        r"dixi[èe]mes?|decimi|deci)"
    ),
    (
        r"(?:[x×*]?\s*0[.,]01|1\s*/\s*100|10\^?[-−]2|1e-2|[x×*]\s*100|hundredths?|100ths|hundertstel|"
        r"cent[ée]sim[ao]s?|centi[èe]mes?|centesimi|centi)"
    ),
    (
        r"(?:[x×*]?\s*0[.,]001|1\s*/\s*1000|10\^?[-−]3|1e-3|[x×*]\s*1000|thousandths?|1000ths|"
        r"tausendstel|mil[ée]sim[ao]s?|milli[èe]mes?|millesimi|milli)"
    ),
)
_BEHIND = (
    r"(?:[x×*·/]\s*10|[x×*·]?\s*10\^[-−]?1|e[-−]1|tenths?)",
    r"(?:[x×*·/]\s*100|[x×*·]?\s*10\^[-−]?2|e[-−]2|hundredths?)",
    r"(?:[x×*·/]\s*1000|[x×*·]?\s*10\^[-−]?3|e[-−]3|thousandths?)",
)
_LETTERS = "dcm"
_SCALED = tuple(
    re.compile(pattern, re.IGNORECASE)
    for before, behind, letter in zip(_BEFORE, _BEHIND, _LETTERS, strict=True)
    for pattern in (
        f"{_OPEN}{before}{_OF}{_UNIT}{_CLOSE}",
        rf"{_OPEN}{_UNIT}[\s_]*{behind}{_CLOSE}",
        # A single letter before a unit is a part of one only as it is written by the rules of
        # units (SI brochure, chapter 3): small, before a large letter or a degree sign.
        rf"{_OPEN}(?-i:{letter})(?:[°º]\s*)?((?-i:[CFK])){_CLOSE}",
    )
)
_BY_LETTER = {"c": "degC", "f": "degF", "k": "K", "℃": "degC", "℉": "degF"}
_LONGEST = 40


def unit_of(found: re.Match[str] | None) -> str:
    """Return the unit of the first group that took part in a match."""
    if found is None:
        return ""
    letter = next((group for group in found.groups() if group), "")
    return _BY_LETTER.get(letter[:1].casefold(), "")


@lru_cache(maxsize=4096)
def unit_named(word: str) -> str:
    """Return degC, degF or K for a word that is a unit (degC/10 for tenths), else an empty text."""
    text = unmangled(word.strip())
    if not text or len(text) > _LONGEST:
        return ""
    found = unit_of(_ALONE.match(text))
    if found:
        return found
    for place, pattern in enumerate(_SCALED):
        found = unit_of(pattern.match(text))
        if found:
            return found + _PARTS[1 + place // 3]
    return ""


def unmangled(text: str) -> str:
    """Return a text whose letters beyond ASCII were read in the wrong encoding, as written."""
    if "Ã" not in text and "Â" not in text:
        return text
    try:
        return text.encode("latin-1").decode("utf-8")
    except UnicodeError:
        return text


def base_unit(unit: str) -> str:
    """Return the whole unit of a part of one."""
    return unit.partition("/")[0]


def is_part(unit: str) -> bool:
    """Whether a unit is a part of a degree, as of numbers that hold tenths."""
    return "/" in unit


def to_celsius_slope(unit: str) -> tuple[float, float]:
    """Return (zero, per degree): °C is (value − zero) ÷ per degree."""
    base, _, part = unit.partition("/")
    zero, slope = {"degF": (32.0, 1.8), "K": (273.15, 1.0)}.get(base, (0.0, 1.0))
    many = float(part or 1)
    return zero * many, slope * many
