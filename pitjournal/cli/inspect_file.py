"""`pitjournal inspect`: what is understood of a probe's file."""

from pathlib import Path

from pitjournal.cli.output import as_json, heading, line, table
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.files import strangers
from pitjournal.files.places import name_of
from pitjournal.files.probe_log import COUNTED_IN, ProbeLog, ReadOptions
from pitjournal.files.probe_log.report import Channel
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import trimmed


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_argument("file", metavar="FILE", type=Path)
    order = parser.add_mutually_exclusive_group()
    order.add_argument("--day-first", dest="day_first", action="store_true", default=None)
    order.add_argument("--month-first", dest="day_first", action="store_false", default=None)
    parser.add_argument("--counted-in", dest="counted", choices=sorted(COUNTED_IN), default="")
    parser.add_argument("--timezone", metavar="NAME")
    parser.add_units()
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Read the file and say what it holds; nothing is kept."""
    path: Path = arguments.file
    data = strangers.file_bytes(path)
    options = ReadOptions(
        day_first=arguments.day_first, timezone=arguments.timezone, counted=arguments.counted
    )
    log = strangers.probe_log(data, name_of(path), options)
    if arguments.json:
        as_json(log.as_json())
    else:
        _tell(log, system_of(arguments))
    return 0


def _tell(log: ProbeLog, system: UnitSystem) -> None:
    zone = {"local": "as the logger's clock showed them", "elapsed": "from the logger's start"}
    line(f"{log.file}: {log.encoding}, {log.rows_read} rows read, {log.rows_skipped} left out.")
    line(f"Times: {zone.get(log.timezone, log.timezone)}.")
    heading("Channels")
    heads = ("Name", "Unit", "Readings", "Missing", "From", "To", "Least", "Most")
    rows = [_row(channel, system) for channel in log.channels]
    table(heads, rows, right=(2, 3, 6, 7))
    if log.notes:
        heading("Notes")
        for note in log.notes:
            line(note.text)
    if log.rejected:
        heading("Left out")
        table(("Line", "Why"), [(str(row.line), row.reason) for row in log.rejected], right=(0,))


def _row(channel: Channel, system: UnitSystem) -> tuple[str, ...]:
    def edge(iso: str | None, seconds: float | None) -> str:
        return iso or ("" if seconds is None else f"{trimmed(seconds)} s")

    return (
        channel.name,
        channel.unit_words,
        str(channel.count),
        str(channel.missing),
        edge(channel.start, channel.start_s),
        edge(channel.end, channel.end_s),
        show(channel.min_c, Dimension.TEMPERATURE, system),
        show(channel.max_c, Dimension.TEMPERATURE, system),
    )
