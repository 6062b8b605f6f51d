"""What is said of a contest: its result and those of its categories, in words."""

from datetime import datetime

from pitjournal.analysis.contests.results import Overall, Result, result_of, tie_words
from pitjournal.analysis.contests.words import place_words, total_words
from pitjournal.domain.contest import CHECK_THE_RULES, Category, Contest, TurnIn
from pitjournal.domain.day.turn_in import beyond, handed_in
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import figure, percent, trimmed


def chip_words(turn_in: TurnIn) -> str:
    """Return a category in a few words: "ribs · 167.4516 · 3rd"."""
    result = result_of(turn_in)
    parts = (turn_in.category.name, total_words(result.total), place_words(result.place))
    return " · ".join(part for part in parts if part)


def window_words(turn_in: TurnIn) -> str:
    """Return the turn-in window: "12:00, window 11:55 to 12:05"; nothing where it is not set."""
    category, zone = turn_in.category, turn_in.contest.zone
    parts = [show_time(category.ideal, zone)] if category.ideal else []
    if category.opens and category.closes:
        ends = show_time(category.opens, zone), show_time(category.closes, zone)
        parts.append(f"window {ends[0]} to {ends[1]}")
    return ", ".join(parts)


def missed_words(category: Category, at: datetime) -> str:
    """Return by how much a box missed its window; nothing where it was in time."""
    missed = beyond(category, at)
    if missed is None:
        return ""
    span = show(max(abs(missed.total_seconds()), 60.0), Dimension.DURATION, UnitSystem.US)
    late = missed.total_seconds() > 0
    return f"{span} after the window closed" if late else f"{span} before the window opens"


def handed_words(whole: WholeCook, turn_in: TurnIn) -> str:
    """Return when a box was turned in by the cook's log, and whether in time; nothing before."""
    at = handed_in(whole, turn_in.category.id)
    if at is None:
        return ""
    known = turn_in.category.opens or turn_in.category.closes
    missed = missed_words(turn_in.category, at) or ("in time" if known else "")
    said = f"turned in {show_time(at, turn_in.contest.zone)}"
    return f"{said}, {missed}" if missed else said


def result_lines(turn_in: TurnIn) -> list[str]:
    """Return what came of a category, a line each; how the place is known is said."""
    result = result_of(turn_in)
    return [line for line in (*_result(turn_in, result), tie_words(turn_in, result)) if line]


def _result(turn_in: TurnIn, result: Result) -> list[str]:
    rules = turn_in.category.asked
    lines = []
    if rules.judges and len(turn_in.cards) and result.total is None:
        lines.append(f"{len(result.cards)} of {rules.judges} whole cards so far.")
    if result.total is not None:
        most = f" of {trimmed(rules.most)}" if rules.most else ""
        lines.append(f"Total {total_words(result.total)}{most}.")
    if result.place is not None:
        how = ", by the totals of all others" if result.worked_out else ""
        lines.append(f"{place_words(result.place, result.field)}{how}.")
    if result.beaten is not None:
        lines.append(f"Better than {percent(result.beaten)} of the others.")
    return lines


def overall_words(overall: Overall) -> str:
    """Return what came of the contest: "Total 640.1234 · 4th of 42"; nothing before it is known."""
    parts = (
        f"Total {total_words(overall.total)}" if overall.total is not None else "",
        place_words(overall.place, overall.field),
    )
    return " · ".join(part for part in parts if part)


def rules_words(turn_in: TurnIn) -> str:
    """Return by what a category is judged, and whose rules come first."""
    category = turn_in.category
    rules = category.asked
    if not category.scheme:
        return f"Choose what it is judged by. {CHECK_THE_RULES}"
    dropped = "none" if not rules.drop else "the lowest" if rules.drop == 1 else f"{rules.drop}"
    return f"{rules.judges} cards, {dropped} left out. {CHECK_THE_RULES}"


def money_words(contest: Contest) -> str:
    """Return what a contest paid beside what it cost, in the cook's money."""
    parts = []
    if contest.paid is not None:
        parts.append(f"paid {figure(contest.paid, 2)}")
    if contest.cost is not None:
        parts.append(f"cost {figure(contest.cost, 2)}")
    return ", ".join(parts)


def box_words(turn_in: TurnIn) -> list[str]:
    """Return what the box has to hold, and what it may not, a line each."""
    category = turn_in.category
    told = (("The box has to hold", category.must), ("It may not hold", category.must_not))
    return [f"{what}: {' '.join(text.split())}" for what, text in told if text.strip()]
