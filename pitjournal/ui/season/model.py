"""What is said of a season, in words."""

from pitjournal.analysis.contests.season import Season
from pitjournal.journal.queries.season import YearOfCooks
from pitjournal.ui.contest_words import place_words
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import counted, figure, percent

HOUR = 3600.0


def fact_lines(season: Season) -> list[tuple[str, str]]:
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
    if season.paid is not None:
        lines.append(("contests paid", figure(season.paid, 2)))
    if season.cost is not None:
        lines.append(("contests cost", figure(season.cost, 2)))
    return lines


def cook_lines(year: YearOfCooks, system: UnitSystem) -> list[tuple[str, str]]:
    """Return what the year's cooks took."""
    lines = [("contest and practice cooks", str(len(year.cooks)))]
    if year.timed:
        lines.append(
            (f"at the fire, {counted(year.timed, 'cook')}", f"{figure(year.hours / HOUR)} h")
        )
    if year.fuel:
        lines.append(("fuel", show(year.fuel, Dimension.MASS, system)))
    if year.cost is not None:
        lines.append(("cooks cost", figure(year.cost, 2)))
    return lines
