"""The figures of a season in words: of its contests, and of its cooks."""

from pitjournal.analysis.contests.season import Season
from pitjournal.analysis.contests.words import place_words
from pitjournal.journal.queries.season import CooksTook
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import counted, figure, percent

HOUR = 3600.0


def fact_lines(season: Season, *, money: bool = True) -> list[tuple[str, str]]:
    """Return the season's figures, each with its name; what is not known is left out."""
    held = [one for one in season.standings if one.judged]
    lines = [("contests", f"{len(held)} of {len(season.standings)} held")]
    if season.categories:
        lines.append(("categories judged", str(season.categories)))
    if season.best is not None:
        lines.append(("best over all", place_words(season.best)))
    if season.tens:
        won = f", {season.firsts} won" if season.firsts else ""
        lines.append(("categories in the first ten", f"{season.tens}{won}"))
    if season.beaten is not None:
        lines.append(("of the others beaten, on average", percent(season.beaten)))
    if money and season.paid is not None:
        lines.append(("contests paid", figure(season.paid, 2)))
    if money and season.cost is not None:
        lines.append(("contests cost", figure(season.cost, 2)))
    return lines


def cook_lines(
    took: CooksTook, system: UnitSystem, *, called: str = "cooks", money: bool = True
) -> list[tuple[str, str]]:
    """Return what cooks took, each with its name; `called` is what they are counted as."""
    lines = [(called, str(took.count))]
    if took.timed:
        lines.append(
            (f"at the fire, {counted(took.timed, 'cook')}", f"{figure(took.hours / HOUR)} h")
        )
    if took.fuel:
        lines.append(("fuel", show(took.fuel, Dimension.MASS, system)))
    if money and took.cost is not None:
        lines.append(("cooks cost", figure(took.cost, 2)))
    return lines
