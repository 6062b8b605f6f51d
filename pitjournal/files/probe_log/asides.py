"""What is no temperature, by a column's head or its unit, in several languages."""

import re
from collections.abc import Iterable

from pitjournal.files.probe_log.times.find_clock import COUNTER_HEAD
from pitjournal.files.probe_log.units import DEGREE, unit_named

_OTHER_SCALES = r"°\s?r[aée]?|deg\.?\s?ra?|rankine|r[ée]aumur"
"""Scales of temperature that are read by nothing here."""

_UNITS = (
    r"%|%?\s?r\.?\s?[hf]\.?|%\s?(?:rh|rf|r\.\s?f\.?|hr|ur)|pct|percent|prozent|"
    r"[mkµu]?v(?:[\s.]?(?:dc|ac))?|volts?|voltios?|[mµu]?a(?:h|dc|ac)?|amps?|amp[eè]res?|amperios?|"
    r"[mk]?w(?:h|s)?|watts?|vatios?|[kmg]?j|btu(?:/h)?|rpm|u/min|upm|tr/min|1/min|min-1|dbm?|"
    r"[hkm]?pa|psi|m?bar|inhg|mmhg|inh2o|ms|s|secs?|min|h|hrs?|hh:mm(?::ss)?|mm:ss|yyyy.*|dd.*|"
    r"lux|lx|lm|[km]?g|lbs?|oz|[kmg]?hz|[km]?ohms?|[km]?Ω|ppm|ppb|mg/m[3³]|g/m[3³]|g/kg|m/s|km/h|"
    r"mph|l/min|l/h|m[3³]/h|cfm|[cm]?m|adc|raw|cnt|counts?|digits?|bits?|bool(?:ean)?|0/1|on/off|"
    r"text|steps?|state|level|kb|mb|usd|eur|"
    rf"{_OTHER_SCALES}"
)
_UNIT = re.compile(rf"^[(\[]?\s*(?:{_UNITS})\s*[)\]]?$", re.IGNORECASE)
_BRACKETED = re.compile(rf"[(\[]\s*(?:in\s+)?({_UNITS})\s*[)\]]", re.IGNORECASE)
_LETTERS = "AWVHSJGM"
"""Units of one letter, that in brackets might also tell one probe from another."""
_BEHIND = re.compile(
    r"(?:[\s_,/]+(?:in\s+)?(?:pct|percent|prozent|[mk]?v(?:dc|ac)?|volts?|ma|mah|amps?|[mk]?wh?|watts?|rpm|"
    r"dbm|[hk]pa|m?bar|psi|ppm|[mk]?hz|lux|kg|lbs?|m/s|km/h|mph|cfm|"
    rf"{_OTHER_SCALES})"
    rf"|,\s*(?:{_UNITS})|%)$",
    re.IGNORECASE,
)
_PROBE = re.compile(r"\b(?:probe|channel|ch|sensor|kanal|canal|sonde|sonda)\s+\w$", re.IGNORECASE)
_NEVER = re.compile(
    r"\b(?:v?bat|[uv]?[\s_]?batt?|batter(?:y|ies|ie|ia)\w*|bater[ií]a|vbat\w*|akku\w*|batterie\w*|pile|"
    r"signal\w*|señal|segnale|rssi|snr|lqi|wi ?fi|alarm\w*|alerts?|alerta|alerte|hum|humid|humidity|"
    r"humedad|humidit[ée]|umidit\w+|umidade|rh|\w*feuchte|\w*feuchtigkeit|moisture|vochtigheid|"
    r"luftfuktighet|luftfugtighed|fugtighed|fuktighet|wilgotno\w+|vlhkost|kosteus|nem|nedvess\w+|"
    r"влажность|湿度|濕度|습도|batterij|batteri|bateria|akumulator|baterie|akku|pil|батарея|аккумулятор|电池|電池)\b",
    re.IGNORECASE,
)
_POWER = (
    r"volts?|voltage|voltaje|voltaggio|vcc|vdd|\w*spannung|tensi[oó]n|tensione|tension|[\w ]*\bcurrent|"
    r"\w*strom|courant|corriente|corrente|amps?|amperage|amperes?|ampere|watts?|wattage|leistung|"
    r"\w+leistung|puissance|potencia|potenza|power|energy|energie|energ[ií]a|[km]wh|m?ah|"
    r"supply|versorgung|netzteil|alimentation|alimentaci[oó]n|alimentazione|alim|mains|netz|"
    r"secteur|[vui] (?:in|out|bus|supply|sys|ref|ext|usb|solar|bat\w*)|vin|vout|vbus|vsys|vref|"
    r"\d+ ?v(?:olts?)?|charge|charging|ladung|ladezustand|soc|carga|spanning|spänning|spænding|"
    r"spenning|tens[ãa]o|napięcie|nap[ěe]t[íi]|jännite|gerilim|fesz[üu]lts[ée]g|напряжение|电压|電圧|電壓|전압|"
    r"stroom|ström|strøm|prąd|proud|virta|ak.m|corrente|ток|电流|電流|전류|vermogen|effekt|moc|"
    r"výkon|teho|güç|pot[êe]ncia|мощность|功率|電力|전력"
)
_WORKS = (
    r"fans?|fan speed|blower|lüfter\w*|gebläse\w*|ventilator|ventilateur|ventilador|ventola|"
    r"drehzahl|turbine|rpm|dampers?|valves?|vents?|klappe|airflow|air flow|duty|output|pwm|pid|"
    r"heater|heating element|ventilatore|ventilatoren|fläkt|wentylator|auger|igniter|ignition|feed rate|hopper|pellets?|fuel|füllstand|door|lid|tür|deckel|porte|"
    r"couvercle|puerta|tapa|porta"
)
_OTHERS = (
    r"count|counter|index|idx|row|seq|sequence|status|state|estado|[ée]tat|stato|errors?|flags?|"
    r"mode|modus|modo|pressure|\w*druck|pression|presi[oó]n|pressione|baro\w*|wind|lux|notes?|"
    r"notiz|comments?|kommentar|remarks?|bemerkung|memo|events?|ereignis|[ée]v[ée]nement|evento|"
    r"markers?|crc|checksum|weight|mass|gewicht|poids|peso|co2|co|ppm|latitude|longitude|altitude|"
    r"stage|phase|uptime|price|amount|qty|quantity|revenue|cost|sales|volume|firmware|version|"
    r"serial|model|user|link|quality|rate|time|remaining|level|niveau|nivel|livello|strength|"
    r"signalstärke|sendeleistung|lat|lon|lng|höhe|hoogte|adc|resistance|widerstand|packets?|retries|distance|elevation|height|speed|ratings?|"
    r"scores?|tenderness|taste|juiciness|appearance|age|account|heart|pulses?|bpm|size|length|width|"
    r"counts|people|persons?|personen|personas|visitors?|besucher|visiteurs|entries|exits|passages|"
    r"impulse?|impulsos"
)
_NO_TEMPERATURE = re.compile(rf"\b(?:{_POWER}|{_WORKS}|{_OTHERS})\b|%", re.IGNORECASE)
_WHOLLY = re.compile(r"^\s*(?:open|high|low|close|steps?|total|sum|value id)\s*$", re.IGNORECASE)
_MEANT = re.compile(
    r"\bcurrent(?: (?:temp\w*|reading|value))\b|\b(?:pit|food|meat|probe|grill) current\b",
    re.IGNORECASE,
)


_AMOUNT = re.compile(
    r"^\W*(?:counts?|amounts?|qty|quantity|level|numbers?|anzahl|menge|zahl|nombre|quantit[ée]|"
    r"cantidad|n[úu]mero|quantit[àa]|numero)\W*$",
    re.IGNORECASE,
)


def is_amount(head: str) -> bool:
    """Whether a head says only that something was counted or measured, and not what."""
    return _AMOUNT.match(plain_words(head)) is not None


def plain_words(head: str) -> str:
    """Return a head as words: no underscores, no joined capitals."""
    return re.sub(r"([a-z])([A-Z])", r"\1 \2", head.replace("_", " ").replace(".", " "))


def no_temperature(head: str, unit: str = "", others: Iterable[str] = ()) -> bool:
    """Whether a column's head says that it is no temperature.

    A unit of temperature outweighs most words ("Fan side (F)"), but not an alarm's, a
    battery's, a signal's or a humidity's. A set point is a temperature and stays one.

    Parameters
    ----------
    head
        The head.
    unit
        The unit of temperature that is stated of the column, or an empty text.
    others
        The heads beside it, which tell "Probe (A)" of several from amperes.
    """
    words = plain_words(head)
    if _NEVER.search(words) or _NEVER.search(head):
        return True
    if unit:
        return False
    if COUNTER_HEAD.match(head) or _has_other_unit(head.strip(), others):
        return True
    if _MEANT.search(words) or (words.casefold() == "current" and _has_target(others)):
        return False
    if _WHOLLY.match(words):
        return True
    return any(_NO_TEMPERATURE.search(text) for text in (words, head))


def _has_target(heads: Iterable[str]) -> bool:
    return any(re.search(r"target|set ?point|\bset\b|goal", head, re.IGNORECASE) for head in heads)


def _has_other_unit(head: str, others: Iterable[str]) -> bool:
    """Whether a head ends in, or holds in brackets, the unit of something else."""
    found = _BRACKETED.search(head)
    if found and not (found[1].upper() in _LETTERS and len(found[1]) == 1 and _lettered(others)):
        return True
    return _BEHIND.search(head) is not None and not _PROBE.search(head)


def _lettered(heads: Iterable[str]) -> bool:
    """Whether letters in brackets tell probes apart: one of them is the letter of no unit."""
    found = [match[1].upper() for head in heads if (match := re.search(r"[(\[](\w)[)\]]", head))]
    return any(letter not in _LETTERS + "CFK" for letter in found)


def bare_degree(cell: str) -> bool:
    """Whether a cell is a degree sign and no more: of a temperature, of which scale it is silent."""
    return re.fullmatch(DEGREE, cell.strip(), re.IGNORECASE) is not None


def other_unit(cell: str) -> bool:
    """Whether a cell is the unit of something else than a temperature."""
    return _UNIT.match(cell.strip()) is not None and not unit_named(cell)
