"""Column heads: names, units, and what is no temperature."""

import itertools
import re
from collections.abc import Mapping, Sequence

from pitjournal.files.probe_log.cells import is_mark, unit_named, unit_of
from pitjournal.files.probe_log.times.clock import COUNTER_HEAD

_DEGREE = r"(?:[Ââ]?[°º˚ø¡\ufffd]|deg(?:rees?|s|\.)?|grad)"
_LETTER = r"(c|f|k|celsius|centigrade|fahrenheit|kelvin)"
_BRACKETED = re.compile(
    rf"\s*[(\[{{<]\s*(?:in\s+)?(?:{_DEGREE}?[\s._]*{_LETTER}|([℃℉]))\.?\s*[)\]}}>]", re.IGNORECASE
)
_AT_END = re.compile(
    rf"(?:[\s,_/|:.-]+(?:in\s+)?(?:{_DEGREE}[\s._]*{_LETTER}|(celsius|centigrade|fahrenheit|kelvin))"
    rf"|\s*[Ââ]?[°º˚ø¡\ufffd]\s*{_LETTER}\b|\s*([℃℉]))\.?(?=$|\s*[(\[])",
    re.IGNORECASE,
)
_CAMEL = re.compile(r"(?<=[Tt]emp)(C|F)$|(?<=[Tt]emperature)(C|F)$")
_BARE = re.compile(r"^(.*?)([\s_,-]+)([A-Za-z])$")
_OTHER_UNIT = re.compile(
    r"^[(\[]?(?:%|%?rh|pct|percent|m?v|volts?|rpm|dbm?|hpa|kpa|psi|mbar|bar|inhg|ms|s|sec|min|h|hrs?|"
    r"hh:mm(?::ss)?|mm:ss|yyyy.*|dd.*|lux|k?g|lbs?|oz|m?a|k?w|hz|ppm|m/s|km/h|mph|ohms?|Ω|"
    r"0/1|on/off|bool|text|count)[)\]]?$",
    re.IGNORECASE,
)
_OTHER_AT_END = re.compile(
    r"(?:[(\[]\s*(?:%|%?rh|pct|m?v|volts?|rpm|dbm?|hpa|kpa|psi|mbar|bar|lux|k?g|lbs?|ma|w|hz|ppm|m/s|"
    r"km/h|mph|ohms?|0/1|on/off)\s*[)\]]|[\s_](?:pct|percent|mv|volts?|rpm|dbm|hpa|kpa|psi|ppm)|%)$",
    re.IGNORECASE,
)
_NEVER = re.compile(
    r"\b(?:batt|batter(?:y|ies|ie|ia)|bater[ií]a|vbat|akku\w*|pile|signal\w*|rssi|snr|lqi|wi ?fi|"
    r"alarm\w*|alerts?|hum|humid|humidity|humedad|humidit[ée]|umidit\w+|rh|\w*feuchte|moisture)\b",
    re.IGNORECASE,
)
_NO_TEMPERATURE = re.compile(
    r"\b(?:fans?|fan speed|blower|lüfter|ventilator|ventilateur|ventola|volts?|voltage|vcc|spannung|"
    r"dampers?|valves?|vents?|count|counter|index|idx|row|seq|sequence|status|state|errors?|flags?|"
    r"mode|duty|output|power|pwm|pid|pressure|druck|baro\w*|wind|lux|notes?|comments?|remarks?|memo|"
    r"events?|markers?|crc|checksum|rpm|door|lid|weight|mass|co2|ppm|latitude|longitude|altitude|"
    r"stage|phase|uptime|price|amount|qty|quantity|revenue|cost|sales|volume|firmware|version|serial|model|user|link|quality|rate|time|remaining)\b|[%#]",
    re.IGNORECASE,
)
_COMMENT = re.compile(r"^\s*(?:#+|//+|;+|\*+|--+|!+|>+)\s*")


def plain_words(head: str) -> str:
    """Return a head as words: no underscores, no joined capitals."""
    return re.sub(r"([a-z])([A-Z])", r"\1 \2", head.replace("_", " ").replace(".", " "))


def no_temperature(head: str, unit: str = "") -> bool:
    """Whether a column's head says that it is no temperature.

    A unit of temperature outweighs most words ("Fan side (F)"), but not an alarm's, a
    battery's, a signal's or a humidity's. A set point is a temperature and stays one.
    """
    words = plain_words(head)
    if _NEVER.search(words):
        return True
    if unit:
        return False
    return bool(
        _OTHER_AT_END.search(head.strip())
        or COUNTER_HEAD.match(head)
        or _NO_TEMPERATURE.search(words)
    )


def other_unit(cell: str) -> bool:
    """Whether a cell of a units row is the unit of something else than a temperature."""
    return bool(_OTHER_UNIT.match(cell.strip()))


def split_unit(head: str) -> tuple[str, str]:
    """Return a head without its unit, and the unit (or an empty text)."""
    words = head.strip()
    for pattern in (_BRACKETED, _AT_END, _CAMEL):
        found = pattern.search(words)
        if found:
            rest = (words[: found.start()] + words[found.end() :]).strip(" ,;:/_-")
            return rest, unit_of(found)
    return ("", unit_named(words)) if unit_named(words) and len(words) > 1 else (words, "")


def named_heads(heads: Mapping[int, str]) -> dict[int, tuple[str, str]]:
    """Return each column's name and unit, by the column's place.

    A single letter at the end ("pit_c", "Pit F") is a unit only where it cannot be the letter
    of a probe ("Probe A, Probe B, Probe C"): where all columns that end so agree.
    """
    found = {place: split_unit(head) for place, head in heads.items()}
    bare = {
        place: match
        for place, (name, unit) in found.items()
        if not unit and (match := _BARE.match(name))
    }
    letters = {match[3].casefold() for match in bare.values()}
    marks = {match[2].strip() for match in bare.values()}
    alone = len(bare) + sum(bool(unit) for _, unit in found.values()) == len(found)
    snake = marks == {"_"}
    if letters and letters <= {"c", "f", "k"} and (snake or (alone and len(letters) == 1)):
        for place, match in bare.items():
            found[place] = (match[1].strip(" ,;:/_-"), unit_named(match[3]))
    return _distinct(found)


def _distinct(found: dict[int, tuple[str, str]]) -> dict[int, tuple[str, str]]:
    """Name columns without a head by their place, and number names that come twice."""
    seen: dict[str, int] = {}
    named = {}
    for order, (place, (name, unit)) in enumerate(found.items(), 1):
        bare = name or f"Channel {order}"
        seen[bare] = seen.get(bare, 0) + 1
        named[place] = (bare if seen[bare] == 1 else f"{bare} ({seen[bare]})", unit)
    return named


def without_comment(cells: Sequence[str]) -> tuple[str, ...]:
    """Return a row's cells without a comment's mark before the first one."""
    if not cells:
        return ()
    return (_COMMENT.sub("", cells[0]), *cells[1:])


def is_comment(cells: Sequence[str]) -> bool:
    """Whether a row begins like a comment."""
    return bool(cells) and _COMMENT.match(cells[0]) is not None and not is_mark(cells[0])


_KEY = re.compile(
    r"unit|einheit|scale|skala|unit[ée]|unidad|enhet|eenheid|temp|grad|\bdeg", re.IGNORECASE
)
_NO_KEY = re.compile(
    r"type|couple|sensor|alarm|offset|calib|limit|set ?point|target", re.IGNORECASE
)
_IN_UNIT = re.compile(
    rf"(?:temp\w*|readings?|values?|data|unit\w*|all)\b.*?\b(?:in|are|is)\s+(?:{_DEGREE}?[\s._]*{_LETTER}|([℃℉]))\b",
    re.IGNORECASE,
)


def stated_unit(lines: Sequence[str]) -> str:
    """Return the unit that words beside the rows state, the last one first; or an empty text."""
    for line in reversed(lines):
        words = _COMMENT.sub("", line)
        found = _IN_UNIT.search(words)
        if found and not _NO_KEY.search(words):
            return unit_of(found)
        parts = [part.strip() for part in re.split(r"[:=;,\t|]|\s{2,}", words) if part.strip()]
        for key, value in itertools.pairwise(parts):
            if _KEY.search(key) and not _NO_KEY.search(key) and unit_named(value):
                return unit_named(value)
        if len(parts) == 1 and _KEY.search(words) and not _NO_KEY.search(words):
            last = re.split(r"\s+", words.strip(), maxsplit=1)[-1]
            if unit_named(last):
                return unit_named(last)
    return ""
