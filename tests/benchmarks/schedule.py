"""A day of six cuts and eight steps each, shown anew and painted, against a frame of 16 ms."""

import os
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.cook import CookKind
from pitjournal.domain.day.ribbon import ribbon_of
from pitjournal.domain.event import Event
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.charts.ribbon.ribbon_strip import RibbonStrip
from pitjournal.ui.look.theme import look
from pitjournal.ui.plan.schedule_model import step_lines
from pitjournal.ui.plan.step_list import StepList
from pitjournal.units import UnitSystem
from tests.benchmarks.measure import Measurement, rounds
from tests.benchmarks.page_switch import application
from tests.builders import NOON, a_cook

FRAME = 0.016
LIMIT = 1.0
ROUNDS = rounds(60)
CUTS = ("brisket", "pork butt", "spare ribs", "back ribs", "chicken thighs", "turkey")
STEPS = ("trim and weigh", "rub", "on", "wrap", "start probing", "off", "sliced", "turn in")


def six_cuts() -> WholeCook:
    """Return a contest of six cuts with eight steps each."""
    cook = a_cook("Six turn-ins", kind=CookKind.CONTEST)
    pieces = tuple(
        Piece(cook_id=cook.id, position=n, label=f"{cut[:1]}{n}", cut=cut)
        for n, cut in enumerate(CUTS)
    )
    events = tuple(
        Event(
            cook_id=cook.id,
            kind=kind,
            happened_at=None,
            entered_at=NOON,
            planned_at=NOON + timedelta(minutes=20 * number + 55 * place),
            pieces=(piece.id,),
            takes=600.0,
        )
        for number, piece in enumerate(pieces)
        for place, kind in enumerate(STEPS)
    )
    return WholeCook(cook=cook, pieces=pieces, events=events)


def run() -> Measurement:
    """Measure one move of the whole day until it is painted, the slowest of ten in a hundred."""
    os.environ.setdefault("PITJOURNAL_SETTINGS", str(Path(tempfile.gettempdir()) / "none.json"))
    look().start(application(), "light")
    holder = QWidget()
    layout = QVBoxLayout(holder)
    ribbon = RibbonStrip()
    steps = StepList(lambda: NOON, lambda *_: "", lambda *_: None, lambda *_: None, lambda *_: None)
    layout.addWidget(ribbon)
    layout.addWidget(steps)
    whole = six_cuts()
    holder.resize(840, 1900)
    holder.show()
    page = QImage(holder.size(), QImage.Format.Format_RGB32)
    days = [
        replace(whole, events=tuple(_later(event, minutes) for event in whole.events))
        for minutes in range(0, 30, 5)
    ]

    def redraw(place: int) -> None:
        day = days[place % len(days)]
        ribbon.show_ribbon(ribbon_of(day, NOON), day.cook.zone)
        steps.show_lines(step_lines(day, UnitSystem.US), day.cook.zone)
        holder.render(page)

    redraw(0)
    times = sorted(_processor_seconds(redraw, place) for place in range(ROUNDS))
    holder.close()
    return Measurement("schedule", times[int(0.9 * ROUNDS)], FRAME, LIMIT)


def _processor_seconds(work: Callable[[int], None], place: int) -> float:
    """Return how long work kept the processor, s: what else the machine does is no fault of it."""
    start = time.process_time()
    work(place)
    return time.process_time() - start


def _later(event: Event, minutes: int) -> Event:
    assert event.planned_at is not None
    return replace(event, planned_at=event.planned_at + timedelta(minutes=minutes))
