"""What is worth practising next, in a cook's words."""

from datetime import datetime

from pitjournal.analysis.contests.next_practice import Practice
from pitjournal.analysis.contests.season import Season
from pitjournal.analysis.contests.words import place_words
from pitjournal.journal.queries.season import CooksTook
from pitjournal.ui.destination import ToTest
from pitjournal.units.figures import counted, figure, trimmed
from pitjournal.units.first_letter import capital

DAY = 86_400.0
OWN_WORDS = {"taste": "flavour"}
"""What one's own panel calls what judges call otherwise (common practice, no source)."""


def practice_heading(season: Season, now: datetime) -> str:
    """Return what the list is called: before which contest, and how many days are left."""
    ahead = [one.contest for one in season.standings if one.contest.starts_at > now]
    if not ahead:
        return "What to practise next"
    first = min(ahead, key=lambda contest: contest.starts_at)
    days = round((first.starts_at - now).total_seconds() / DAY)
    when = "tomorrow" if days == 1 else f"in {days} days" if days else "today"
    return f"What to practise before {first.name}, {when}"


def practice_title(one: Practice) -> str:
    """Return what is practised: "Brisket: taste"."""
    return f"{capital(one.category)}: {one.criterion}"


def practice_words(one: Practice) -> str:
    """Return why: what it costs, by which weight, how places scatter, and what is known."""
    lost = f"{figure(one.lost, 1)} points a contest are held back there"
    said = [f"{lost}, weight {trimmed(one.weight, 4)}"]
    if len(one.places) > 1 and min(one.places) != max(one.places):
        said.append(f"places {place_words(min(one.places))} to {place_words(max(one.places))}")
    known = f"{counted(one.asked, 'comparison')} so far" if one.asked else "never compared yet"
    return f"{'; '.join(said)}; {known}."


def to_practise(one: Practice) -> ToTest:
    """Return what a new cook is to test: the cook chooses what changes."""
    counts = OWN_WORDS.get(one.criterion, one.criterion)
    question = f"What makes {one.category} better in {one.criterion}?"
    return ToTest(question, "", (), f"score.{counts}", one.meat)


def balance_lines(season: Season, took: CooksTook) -> list[tuple[str, str]]:
    """Return what the whole season cost, less what was paid; nothing where none is recorded."""
    known = [cost for cost in (season.cost, took.cost) if cost is not None]
    if not known or (len(known) < 2 and season.paid is None):
        return []
    spent = sum(known)
    if season.paid is None:
        return [("in all it cost", figure(spent, 2))]
    return [("in all it cost, less what was paid", figure(spent - season.paid, 2))]
