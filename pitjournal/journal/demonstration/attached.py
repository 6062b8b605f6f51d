"""The probe files and pictures of one invented cook."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from pitjournal.domain.event import Photo
from pitjournal.domain.trace import Sits, Trace
from pitjournal.files.probe_log import ReadOptions, read_probe_log
from pitjournal.journal.attaching import Placement, attach_photos, attach_probe_log
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import KeepPhotos, KeepProbeFile
from pitjournal.journal.commands.records import Change, Together
from pitjournal.journal.demonstration.cuts import MINUTE
from pitjournal.journal.demonstration.day import Day
from pitjournal.journal.demonstration.pictures import STAGES, draw_meat
from pitjournal.journal.demonstration.probe_text import DIALECTS, Logged
from pitjournal.journal.demonstration.records import ZONE, Setup
from pitjournal.journal.demonstration.simulation import STEP, Array
from pitjournal.journal.journal import Journal

SLOW = 240.0
"""The second logger's clock is so many s slow."""

READS_HIGH = 0.8
"""A probe of the second logger reads so much too high, K."""

_MOST = 3
"""Meat probes of one logger."""


@dataclass(frozen=True)
class Wiring:
    """A logger on a cook: its dialect, its file's name, the pieces it is in, its faults."""

    dialect: str
    name: str
    pieces: tuple[int, ...]
    clock: float = 0.0
    reads_high: float = 0.0


def wirings(setup: Setup) -> Iterator[Wiring]:
    """Yield the loggers of a cook: none, one, or two for the one that has many pieces."""
    plan, day = setup.plan, setup.lit.astimezone(ZONE).strftime("%Y-%m-%d")
    if not plan.logger:
        return
    every = tuple(range(len(setup.pieces)))
    yield Wiring(plan.logger, f"{day} pit.{DIALECTS[plan.logger][1]}", every[:_MOST])
    if plan.second_logger:
        name = f"{day} second.{DIALECTS['long'][1]}"
        yield Wiring("long", name, every[_MOST : 2 * _MOST], -SLOW, READS_HIGH)


def probe_file(
    journal: Journal,
    setup: Setup,
    day: Day,
    wiring: Wiring,
    *,
    lot: np.random.Generator,
    until: float,
) -> Command:
    """Write the logger's file, read it back through the importer, and return the command."""
    channels: dict[str, Array] = {"Pit": np.array(day.pit) + lot.normal(0, 0.4, len(day.pit))}
    places = [Placement(sits=Sits.PIT, place="grate, middle")]
    meat = np.array(day.meat)
    for number, piece in enumerate(wiring.pieces, start=1):
        noise = lot.normal(wiring.reads_high if number == 1 else 0.0, 0.12, len(meat))
        channels[f"Probe {number}"] = meat[:, piece] + noise
        places.append(Placement(sits=Sits.MEAT, piece_id=setup.pieces[piece].id, place="middle"))
    seconds = STEP * np.arange(1, len(meat) + 1)
    keep = (seconds % MINUTE == 0) & (seconds <= until)
    logged = Logged(
        times=setup.lit.timestamp() + wiring.clock + seconds[keep],
        channels={name: values[keep] for name, values in channels.items()},
        zone=ZONE,
    )
    write, _ = DIALECTS[wiring.dialect]
    data = write(logged)
    log = read_probe_log(data, wiring.name, ReadOptions(day_first=True))
    found = {channel.name: place for place, channel in enumerate(log.channels)}
    placements = _placed(dict(zip(channels, places, strict=True)), found)
    command = attach_probe_log(journal, setup.cook.id, data, wiring.name, log, placements)
    return _put_right(command, wiring)


def _placed(wanted: Mapping[str, Placement], found: Mapping[str, int]) -> dict[int, Placement]:
    """Match channels by name, with or without the unit a reader may leave on it."""
    return {
        place: placement
        for name, placement in wanted.items()
        for heading, place in found.items()
        if heading.startswith(name)
    }


def _put_right(command: Command, wiring: Wiring) -> Command:
    """Shift a slow clock, and correct the probe that reads high."""
    if not wiring.clock or not isinstance(command, KeepProbeFile):
        return command
    mends = [
        Change(Trace, trace.id, _mend(trace, wiring), "Put a logger right")
        for trace in command.traces
    ]
    return Together((command, *mends), command.label)


def _mend(trace: Trace, wiring: Wiring) -> dict[str, float]:
    high = trace.channel.startswith("Probe 1")
    return {"shift": -wiring.clock, "correction": -wiring.reads_high if high else 0.0}


def photos(
    journal: Journal, setup: Setup, day: Day, *, lot: np.random.Generator, until: float
) -> Command | None:
    """Draw a picture of each stage that was reached, and return the command that keeps them.

    None for a cook without pictures, or before the first.
    """
    if not setup.plan.photos:
        return None
    wrapped = float(np.nanmin(day.wrapped)) if not np.isnan(day.wrapped).all() else day.on
    moments = (day.on, wrapped, day.over - 8 * MINUTE, day.over + 2 * MINUTE)
    stages = [(stage, at) for stage, at in zip(STAGES, moments, strict=True) if at <= until]
    drawn = []
    for stage, at in stages:
        local = setup.at(at).astimezone(ZONE).replace(tzinfo=None)
        picture = draw_meat(stage, len(setup.pieces), local, lot)
        drawn.append((f"{stage.replace(' ', '-')}.jpg", picture))
    if not drawn:
        return None
    command = attach_photos(journal, setup.cook.id, drawn)
    assert isinstance(command, KeepPhotos)
    captions = [
        Change(Photo, photo.id, {"caption": f"{stage.capitalize()} (drawn)"}, "Caption")
        for photo, (stage, _) in zip(command.photos, stages, strict=True)
    ]
    return Together((command, *captions), command.label)
