"""`pitjournal contests`: list the contests of a journal with what came of them."""

from contextlib import closing

from pitjournal.analysis.contests.results import Overall, Result, overall_of, result_of
from pitjournal.cli.output import as_json, left_out, line, table
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.domain.contest import CHECK_THE_RULES, TurnIn, WholeContest
from pitjournal.journal import open_journal
from pitjournal.units.figures import figure, percent


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--year", metavar="YEAR", type=int)
    parser.add_json()


def run(arguments: Arguments) -> int:
    """List them, newest first."""
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        found = [
            whole
            for whole in journal.contests.all()
            if arguments.year is None or whole.contest.day.year == arguments.year
        ]
        left_out(journal)
    if arguments.json:
        as_json([_entry(whole) for whole in found])
    elif not found:
        line("No contests yet." if arguments.year is None else "No contest in that year.")
    else:
        _list(found)
    return 0


def _entry(whole: WholeContest) -> dict[str, object]:
    contest, overall = whole.contest, overall_of(whole)
    return {
        "id": contest.id,
        "name": contest.name,
        "date": contest.day.isoformat(),
        "place": contest.place or None,
        "field": contest.field,
        "total": overall.total,
        "placed": overall.place,
        "paid": contest.paid,
        "cost": contest.cost,
        "categories": [_category(turn_in, result_of(turn_in)) for turn_in in whole.turn_ins],
    }


def _category(turn_in: TurnIn, result: Result) -> dict[str, object]:
    category = turn_in.category
    return {
        "id": category.id,
        "name": category.name,
        "meat": category.meat or None,
        "opens": category.opens.isoformat() if category.opens else None,
        "ideal": category.ideal.isoformat() if category.ideal else None,
        "closes": category.closes.isoformat() if category.closes else None,
        "judged_by": category.title or None,
        "cards": list(result.cards),
        "total": result.total,
        "placed": result.place,
        "worked_out": result.worked_out,
        "tied": result.tied,
        "field": result.field,
        "beaten": result.beaten,
        "card_spread": result.spread,
        "cook": category.cook_id,
        "doubts": list(result.doubts),
    }


def _list(found: list[WholeContest]) -> None:
    heads = ("Date", "Contest", "Category", "Total", "Place", "Field", "Beaten")
    rows: list[tuple[str, ...]] = []
    for whole in found:
        day, overall = whole.contest.day.isoformat(), _figures(overall_of(whole))
        rows.append((day, whole.contest.name, "over all", *overall))
        rows += [("", "", one.category.name, *_figures(result_of(one))) for one in whole.turn_ins]
    table(heads, rows, right=(3, 4, 5, 6))
    line("")
    line(CHECK_THE_RULES)


def _figures(came: Overall) -> tuple[str, str, str, str]:
    return (
        "–" if came.total is None else figure(came.total, 4),
        "–" if came.place is None else str(came.place),
        "–" if came.field is None else str(came.field),
        "–" if came.beaten is None else percent(came.beaten),
    )
