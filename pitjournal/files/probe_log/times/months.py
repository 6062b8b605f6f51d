"""Names of months as loggers write them, in a dozen languages."""

import unicodedata

_NAMES = (
    "jan january januar janvier janv enero ene gennaio gen januari janeiro stycznia styczen sty ledna leden tammikuuta tammikuu ocak januar января январь янв",
    "feb february februar fevrier fevr fev febrero febbraio februari fevereiro lutego luty unora unor helmikuuta helmikuu subat februar февраля февраль фев",
    "mar march marz mrz maerz mars marzo maart mrt marco marca marzec brezna brezen marts maaliskuuta maaliskuu mart marcius марта март мар",
    "apr april avril avr abril abr aprile kwietnia kwiecien kwi dubna duben huhtikuuta huhtikuu nisan aprilis апреля апрель апр",
    "may mai mayo maggio mag mei maio maj maja kvetna kveten toukokuuta toukokuu mayis majus мая маи",
    "jun june juni juin junio giugno giu junho czerwca czerwiec cze cervna cerven kesakuuta kesakuu haziran junius июня июнь июн",
    "jul july juli juillet juil julio luglio lug julho lipca lipiec lip cervence cervenec heinakuuta heinakuu temmuz julius июля июль июл",
    "aug august aout agosto ago augustus augusti sierpnia sierpien sie srpna srpen elokuuta elokuu agustos augusztus августа август авг",
    "sep sept september septembre septiembre settembre set setembro wrzesnia wrzesien wrz zari syyskuuta syyskuu eylul szeptember сентября сентябрь сен",
    "oct october okt oktober octobre octubre ottobre ott outubro out pazdziernika pazdziernik paz rijna rijen lokakuuta lokakuu ekim октября октябрь окт",
    "nov november novembre noviembre novembro listopada listopad listopadu marraskuuta marraskuu kasim ноября ноябрь ноя",
    "dec december dez dezember decembre diciembre dic dicembre dezembro grudnia grudzien gru prosince prosinec joulukuuta joulukuu aralik декабря декабрь дек",
)
MONTHS = {name: number for number, names in enumerate(_NAMES, 1) for name in names.split()}

_DOTLESS = "\N{LATIN SMALL LETTER DOTLESS I}"


def month_named(word: str) -> int | None:
    """Return a month's number, or None; accents do not matter."""
    plain = unicodedata.normalize("NFKD", word.casefold().replace(_DOTLESS, "i"))
    return MONTHS.get("".join(char for char in plain if not unicodedata.combining(char)))
