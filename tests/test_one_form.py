"""One form for dates, hours and decimals: said in two modules, and called by all others.

`domain/times/moments` says times, `units/figures` and `units/showing` numbers. What a machine reads
has forms of its own; the files that write it are named here.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pitjournal

SOURCE = Path(pitjournal.__file__).parent

SAYS = {"domain/times/moments.py", "units/figures.py", "units/showing.py", "units/as_typed.py"}

FOR_MACHINES = {
    "analysis/plan/calculators.py": "a diffusivity, in powers of ten",
    "analysis/trends/table.py": "CSV",
    "domain/safety_tables.py": "the key of a column",
    "science/heat/evaporation.py": "a fault of whoever calls it",
    "science/heat/probe_check.py": "a fault of whoever calls it",
    "analysis/trends/columns/frame.py": "names of groups, compared and never shown",
    "analysis/trends/language/written.py": "CSV and JSON",
    "cli/forecast.py": "the key of a variable",
    "domain/times/typed_times.py": "reads",
    "files/bundle/package.py": "a data package",
    "files/photos.py": "the stamp of a camera",
    "files/plan_calendar.py": "iCalendar (RFC 5545)",
    "files/summary/printed.py": "a table of PDF",
    "files/summary/svg.py": "SVG",
    "files/summary/table_file.py": "CSV",
    "journal/bundles/readings.py": "CSV",
    "journal/backups/archive.py": "a file's name",
    "store/copies.py": "a file's name",
    "store/replacing.py": "a file's name",
}

_NUMBER = re.compile(r"(?:\.[^<>^]+|^\+?)[efg%]$")
_TIME = re.compile(r"%[a-zA-Z]")


def said_elsewhere() -> Iterator[str]:
    """Yield where a number or a time is written out by hand."""
    for path in sorted(SOURCE.rglob("*.py")):
        name = path.relative_to(SOURCE).as_posix()
        if name in SAYS or name in FOR_MACHINES or "journal/demonstration" in name:
            continue
        yield from (f"{name}:{line}: {what}" for line, what in faults(path.read_text("utf-8")))


def faults(source: str) -> Iterator[tuple[int, str]]:
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Attribute) and node.attr == "strftime":
            yield node.lineno, "strftime"
        if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
            spec = ast.unparse(node.format_spec).removeprefix("f")[1:-1]
            if _TIME.search(spec) or _NUMBER.search(spec):
                yield node.lineno, f"a value as “{spec}”"
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "format":
            yield node.lineno, "format()"


def test_that_dates_hours_and_decimals_are_said_in_one_place() -> None:
    assert not list(said_elsewhere())


def test_that_what_is_exempt_is_there_and_needs_it() -> None:
    for name in (*FOR_MACHINES, *SAYS):
        assert (SOURCE / name).exists(), name


def test_that_each_way_of_writing_by_hand_is_found() -> None:
    source = 'a = f"{x:.1f}{d:%H:%M}{y:g}{z:.0%}"\nb = d.strftime("%d")\nc = format(x, ".2f")\n'
    source += 'd = f"{x:>8}{n:02}{x!r}"\n'
    assert len(list(faults(source))) == 6
