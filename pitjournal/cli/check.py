"""`pitjournal check`: whether a journal is whole, and with `--repair` mend it."""

from pathlib import Path

from pitjournal.cli.at_terminal import AtTerminal
from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.domain.record import one_of
from pitjournal.journal.backups.salvage import prospects
from pitjournal.journal.checks import Check, check_folder
from pitjournal.units.figures import figure


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--repair", action="store_true")
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Check it; 1 when something did not hold, also after a repair."""
    if arguments.repair:
        return _repair(arguments)
    found = check_folder(arguments.journal, AtTerminal())
    if arguments.json:
        as_json(found.as_json())
    else:
        tell(found)
        if not found.held:
            _advise(arguments.journal.expanduser(), found)
    return 0 if found.held else 1


def _repair(arguments: Arguments) -> int:
    from pitjournal.journal.repair import repair_folder

    repaired = repair_folder(arguments.journal.expanduser())
    if arguments.json:
        as_json(repaired.as_json())
        return 0 if repaired.check.held else 1
    for words in repaired.done:
        line(f"mended    {words}")
    for words in repaired.left:
        line(f"NOT MENDED  {words}")
    line(f"swept     {repaired.swept} files of no use, {figure(repaired.swept_bytes / 1e6, 1)} MB")
    if repaired.aside is not None:
        line(f"aside     what was broken lies in {repaired.aside}")
    line()
    tell(repaired.check)
    return 0 if repaired.check.held else 1


def _derived(found: Check) -> str:
    if found.older:
        return "worked-out values are of older formulas, and will be worked out anew"
    return "each worked-out value is what its records give"


READ, POSSIBLE = "every record can be read", "every value is one that can be"


def tell(found: Check) -> None:
    """Say what held and what did not, a line each; what was not looked at claims nothing."""
    for held, words in _findings(found):
        mark = "NOT LOOKED AT" if held is None else "held    " if held else "NOT HELD"
        line(f"{mark}  {words}")
        rows = found.rows if words == READ else found.impossible if words == POSSIBLE else ()
        for row in rows:
            line(f"          {one_of(row.kind)} ({row.id}): {row.why}")
        for name in found.unlike if words == _files(found) else ():
            line(f"          {name}")
    if found.impossible:
        line("          what cannot be stays as it is, and answers count it as not recorded")
    for lack in found.lacking:
        line(f"          {lack} is not there, or not as this program makes it")
    for other in found.foreign:
        acts = "; it is taken out when the journal is next changed" if other.acts else ""
        line(f"          {other} is another program's, and no part of the journal{acts}")
    if found.rubbish:
        line(f"          {found.rubbish} files were left half-written; they harm nothing")
    line()
    line("The journal is whole." if found.held else "The journal is not whole.")


def _findings(found: Check) -> list[tuple[bool | None, str]]:
    if not found.looked:
        whole = (False, "the database is whole")
        if found.lacking:
            whole = (False, "all tables and columns are there")
        what = ("records that are pointed at", "kept files", "traces", "worked-out values")
        return [
            whole,
            *((None, words) for words in (*what, f"whether {READ}", f"whether {POSSIBLE}")),
        ]
    return [
        (found.database, "the database is whole"),
        (found.foreign_keys, "every record that is pointed at is there"),
        (not found.missing and not found.changed, _files(found)),
        (found.traces, "each trace has its readings, as many as were noted"),
        (found.derived, _derived(found)),
        (not found.rows, READ),
        (not found.impossible, POSSIBLE),
        (found.built, "all that the journal is built of is there, and nothing else acts in it"),
    ]


def _files(found: Check) -> str:
    files = f"{found.checked} kept {'file' if found.checked == 1 else 'files'} looked at"
    if found.missing:
        files += f", {found.missing} missing"
    if found.changed:
        files += f", {found.changed} changed"
    return files


def _advise(folder: Path, found: Check) -> None:
    """Say what to do about a journal that is not whole."""
    if found.database and found.looked:
        line("Try: pitjournal check JOURNAL --repair")
        return
    prospect = prospects(folder)
    for words in prospect.lines():
        line(words)
    for words in prospect.commands():
        line(f"Try: {words}")
