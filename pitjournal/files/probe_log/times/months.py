"""Names of months as loggers write them, in the languages of Latin letters."""

import unicodedata

_NAMES = (
    "jan january januar janvier janv enero ene gennaio gen januari janeiro",
    "feb february februar fevrier fevr fev febrero febbraio februari fevereiro",
    "mar march marz mrz maerz mars marzo maart mrt marco",
    "apr april avril avr abril abr aprile",
    "may mai mayo maggio mag mei maio maj",
    "jun june juni juin junio giugno giu junho",
    "jul july juli juillet juil julio luglio lug julho",
    "aug august aout agosto ago augustus augusti",
    "sep sept september septembre septiembre settembre set setembro",
    "oct october okt oktober octobre octubre ottobre ott outubro out",
    "nov november novembre noviembre novembro",
    "dec december dez dezember decembre diciembre dic dicembre dezembro",
)
MONTHS = {name: number for number, names in enumerate(_NAMES, 1) for name in names.split()}


def month_named(word: str) -> int | None:
    """Return a month's number, or None; accents do not matter."""
    plain = unicodedata.normalize("NFKD", word.casefold())
    return MONTHS.get("".join(char for char in plain if not unicodedata.combining(char)))
