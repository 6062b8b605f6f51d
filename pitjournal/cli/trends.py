"""`pitjournal trends`: a measure by any variable, over all cooks."""

import csv
import sys
from contextlib import closing
from typing import TYPE_CHECKING

from pitjournal.cli.output import as_json, line, table
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.errors import JournalError
from pitjournal.journal import open_journal
from pitjournal.units import STORED, UnitSystem, difference_of, show, show_interval

if TYPE_CHECKING:
    from pitjournal.analysis.trends.answer import Answer
    from pitjournal.domain.catalogue import Catalogue


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--show", metavar="MEASURE")
    parser.add_argument("--by", metavar="VARIABLE", action="append", default=[])
    parser.add_argument("--where", metavar="VARIABLE=VALUE", action="append", default=[])
    parser.add_argument("--within", action="store_true")
    parser.add_argument("--variables", action="store_true")
    parser.add_units()
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true")
    form.add_argument("--csv", action="store_true")


def run(arguments: Arguments) -> int:
    """Ask, and tell the answer."""
    from pitjournal.analysis.trends.question import Question, by_of, variable_named, where_of

    system = system_of(arguments)
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        catalogue = journal.catalogue()
        if arguments.variables:
            return _variables(catalogue, json=arguments.json)
        if arguments.show is None:
            message = "What is to be shown?"
            raise JournalError(message, "Add --show, such as --show yield; list with --variables.")
        question = Question(
            variable_named(catalogue, arguments.show).key,
            tuple(by_of(catalogue, words) for words in arguments.by),
            tuple(where_of(catalogue, words, system) for words in arguments.where),
            arguments.within,
        )
        found = journal.trends.ask(question, system)
    if arguments.json:
        as_json(_as_json(found, arguments))
    elif arguments.csv:
        _as_csv(found)
    else:
        _tell(found, system)
    return 0


def _variables(catalogue: "Catalogue", *, json: bool) -> int:
    rows = [(v.key, v.label, str(v.level), str(v.kind)) for v in catalogue.values()]
    if json:
        as_json([{"key": k, "label": n, "level": lv, "kind": kd} for k, n, lv, kd in rows])
    else:
        table(("Key", "Name", "Of", "Kind"), rows)
    return 0


def _as_json(found: "Answer", arguments: Arguments) -> dict[str, object]:
    return {
        "measure": found.measure.key,
        "unit": STORED[found.measure.dimension],
        "by": [by.key for by in found.question.by],
        "where": list(arguments.where),
        "groups": [
            {
                "key": list(group.key),
                "cooks": group.cooks,
                "pieces": group.pieces,
                "mean": group.mean,
                "low": group.low,
                "high": group.high,
                "sd": group.sd,
                "median": group.median,
            }
            for group in found.groups
        ],
        "not_recorded": found.not_recorded,
    }


def _as_csv(found: "Answer") -> None:
    writer = csv.writer(sys.stdout)
    unit = STORED[found.measure.dimension]
    names = [variable.key for variable in found.by]
    writer.writerow([*names, "cooks", "pieces", f"mean ({unit})", "low", "high", "sd", "median"])
    for group in found.groups:
        numbers = (group.mean, group.low, group.high, group.sd, group.median)
        cells = ["" if number is None else repr(number) for number in numbers]
        writer.writerow([*group.key, group.cooks, group.pieces, *cells])


def _tell(found: "Answer", system: UnitSystem) -> None:
    what = found.measure
    by = " and ".join(variable.label for variable in found.by)
    line(f"{what.label}{' by ' + by if by else ''}: mean over cooks, 95 % interval")
    line()
    if not found.groups:
        line("No cook has what is asked for.")
    rows = []
    for group in found.groups:
        bounds = show_interval(group.low, group.high, what.dimension, system)
        sd = show(group.sd, difference_of(what.dimension), system)
        rows.append(
            (
                *group.key,
                str(group.cooks),
                str(group.pieces),
                show(group.mean, what.dimension, system),
                bounds,
                "–" if group.sd is None else sd,
                "few" if group.few else "",
            )
        )
    heads = [*(v.label for v in found.by), "Cooks", "Pieces", "Mean", "95 % interval", "SD", ""]
    count = len(found.by)
    table(heads, rows, right=(count, count + 1, count + 2))
    line()
    line(f"Exploratory: a trend is a hint. Not recorded: {found.not_recorded} pieces.")
