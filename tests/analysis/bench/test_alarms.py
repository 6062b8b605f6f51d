"""Alarms with a clock of our own: when they are due, what silences them, what does not."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from pitjournal.analysis.bench.alarm_offers import COLD, HOT, Offer, offers
from pitjournal.analysis.bench.alarms import (
    AlarmNow,
    alarm_now,
    alarms_now,
    grouped,
    watched_traces,
)
from pitjournal.domain.alarm import Alarm, AlarmKind, AlarmState, Watched, impossible_alarm
from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import safety_rules
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.treatment import FuelLoad, FuelStage
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import Dimension, UnitSystem, show
from tests.analysis.makers import no_readings
from tests.builders import NOON, a_cook, an_event


def at(minutes: float) -> datetime:
    return NOON + timedelta(minutes=minutes)


def fahrenheit(value: float) -> float:
    return (value - 32.0) / 1.8


COOK = a_cook(set_point=fahrenheit(250))
PIECE = Piece(cook_id=COOK.id, position=0, label="A1", cut="St. Louis ribs")


def a_whole(*alarms: Alarm, events: Sequence[tuple[str, float]] = ()) -> WholeCook:
    made = tuple(an_event(COOK.id, kind, minutes=minutes) for kind, minutes in events)
    traces = (_trace(Sits.PIT, None), _trace(Sits.MEAT, PIECE.id))
    return WholeCook(cook=COOK, pieces=(PIECE,), events=made, traces=traces, alarms=alarms)


def _trace(sits: Sits, piece_id: str | None) -> Trace:
    return Trace(
        cook_id=COOK.id,
        probe_file_id="file",
        channel="1",
        unit_in_file="degF",
        sits=sits,
        samples=str(sits),
        count=0,
        starts_at=NOON,
        ends_at=NOON,
        interval=60.0,
        piece_id=piece_id,
    )


def reads(**by_place: Sequence[tuple[float, float]]) -> Callable[[Trace], Samples]:
    """Return readings given as minutes after noon and °F."""

    def readings(trace: Trace) -> Samples:
        points = by_place[str(trace.sits)]
        times = np.array([at(minutes).timestamp() for minutes, _ in points])
        values = np.array([fahrenheit(value) for _, value in points], dtype=np.float32)
        return Samples(times, values)

    return readings


def timer(minutes: float) -> Alarm:
    return Alarm(cook_id=COOK.id, kind=AlarmKind.AT, words="light", set_at=NOON, at=at(minutes))


def spritz(minutes: float) -> Alarm:
    return Alarm(
        cook_id=COOK.id,
        kind=AlarmKind.AFTER,
        words="spritz",
        set_at=NOON,
        after=60 * minutes,
        after_kind=EventKind.SPRITZ,
    )


def level(watched: Watched, low: float | None, high: float | None, *, once: bool) -> Alarm:
    return Alarm(
        cook_id=COOK.id,
        kind=AlarmKind.REACHES if once else AlarmKind.LEAVES,
        words="level",
        set_at=NOON,
        watched=watched,
        piece_id=PIECE.id if watched is Watched.PIECE else None,
        low=None if low is None else fahrenheit(low),
        high=None if high is None else fahrenheit(high),
    )


def clock(alarm: Alarm, minutes: float, events: Sequence[tuple[str, float]] = ()) -> AlarmNow:
    return alarm_now(alarm, a_whole(alarm, events=events), no_readings, at(minutes))


def test_that_an_alarm_at_a_time_waits_and_then_rings_until_it_is_heard() -> None:
    alarm = timer(20)
    assert clock(alarm, 19.9).state is AlarmState.WAITING
    assert clock(alarm, 20).state is AlarmState.RINGING
    assert clock(alarm, 600).state is AlarmState.RINGING  # a computer that slept
    heard = replace(alarm, heard=at(20))
    assert clock(heard, 21).state is AlarmState.HEARD
    assert clock(heard, 21).is_open  # to hear it is not to do it
    assert clock(replace(heard, done=at(20)), 22).state is AlarmState.DONE


def test_that_an_alarm_put_off_is_silent_for_a_while_only() -> None:
    alarm = replace(timer(20), later=at(31))
    assert clock(alarm, 30).state is AlarmState.LATER
    assert clock(alarm, 31).state is AlarmState.RINGING


def test_that_an_alarm_after_an_event_follows_the_last_one() -> None:
    alarm = spritz(45)
    assert clock(alarm, 500).state is AlarmState.WAITING  # nothing was sprayed yet
    once = [("spritz", 0.0)]
    assert clock(alarm, 44, once).state is AlarmState.WAITING
    assert clock(alarm, 46, once).state is AlarmState.RINGING
    heard = replace(alarm, heard=at(45))
    assert clock(heard, 46, once).state is AlarmState.HEARD
    again = [("spritz", 0.0), ("spritz", 47.0)]
    assert clock(heard, 48, again).state is AlarmState.WAITING
    assert clock(heard, 92, again).state is AlarmState.RINGING


def test_that_a_probe_and_a_load_of_fuel_can_be_followed_too() -> None:
    check = DonenessCheck(cook_id=COOK.id, piece_id=PIECE.id, at=at(10), feel=2)
    load = FuelLoad(cook_id=COOK.id, stage=FuelStage.ADDED, fuel="lump", mass=900.0, at=at(20))
    left = replace(load, stage=FuelStage.LEFT, at=at(90))
    whole = replace(a_whole(), checks=(check,), fuel_loads=(load, left))
    found = offers(whole, at(30), (), UnitSystem.US)["After the last"]
    dues = {
        offer.text: alarm_now(offer.alarms[0], whole, no_readings, at(30)).due for offer in found
    }
    assert dues["Probe"] == at(25)  # a quarter of an hour on (common practice, no source)
    assert dues["Refuel"] == at(80)  # what is left over is no load


def test_that_an_event_kind_of_ones_own_can_be_waited_for() -> None:
    alarm = replace(spritz(30), after_kind="split added")
    assert clock(alarm, 31, [("split added", 0.0)]).state is AlarmState.RINGING


def test_that_a_meat_reaches_a_temperature_once() -> None:
    alarm = level(Watched.PIECE, None, 180, once=True)
    rising = [(m, 150 + m) for m in range(41)]
    found = alarm_now(alarm, a_whole(alarm), reads(meat=rising), at(40))
    assert found.state is AlarmState.RINGING
    assert found.due == at(30)  # 150 + 30 °F
    heard = replace(alarm, heard=found.due)
    fallen = [*rising, (41, 90.0), (42, 191.0)]  # pulled out and put back
    found = alarm_now(heard, a_whole(heard), reads(meat=fallen), at(42))
    assert found.state is AlarmState.HEARD


def test_that_a_probe_by_hand_counts_as_a_reading_of_its_piece() -> None:
    alarm = level(Watched.PIECE, None, 180, once=True)
    check = DonenessCheck(cook_id=COOK.id, piece_id=PIECE.id, at=at(10), internal=fahrenheit(183))
    whole = replace(a_whole(alarm), checks=(check,), traces=())
    assert alarm_now(alarm, whole, no_readings, at(11)).state is AlarmState.RINGING
    other = replace(whole, checks=(replace(check, piece_id="another"),))
    assert alarm_now(alarm, other, no_readings, at(11)).state is AlarmState.UNKNOWN


def test_that_the_pit_must_have_been_in_its_band_before_it_can_leave_it() -> None:
    alarm = level(Watched.PIT, 235, 265, once=False)
    heating = [(m, 70.0 + 10 * m) for m in range(17)]  # to 230 °F
    found = alarm_now(alarm, a_whole(alarm), reads(pit=heating), at(16))
    assert found.state is AlarmState.WAITING
    steady = [*heating, (17, 240.0), (18, 250.0), (19, 228.0)]
    found = alarm_now(alarm, a_whole(alarm), reads(pit=steady), at(19))
    assert (found.state, found.due) == (AlarmState.RINGING, at(19))


def test_that_each_time_out_of_the_band_rings_anew() -> None:
    alarm = level(Watched.PIT, 235, 265, once=False)
    first = [(0.0, 250.0), (1.0, 270.0), (2.0, 271.0)]
    found = alarm_now(alarm, a_whole(alarm), reads(pit=first), at(2))
    heard = replace(alarm, heard=found.due)
    back = [*first, (3.0, 250.0)]
    found = alarm_now(heard, a_whole(heard), reads(pit=back), at(3))
    assert found.state is AlarmState.WAITING
    again = [*back, (4.0, 230.0)]
    found = alarm_now(heard, a_whole(heard), reads(pit=again), at(4))
    assert (found.state, found.due) == (AlarmState.RINGING, at(4))


def test_that_what_came_back_by_itself_still_rings_until_it_is_heard() -> None:
    alarm = level(Watched.PIECE, None, 40, once=False)
    points = [(0.0, 38.0), (60.0, 44.0), (90.0, 36.0)]
    found = alarm_now(alarm, a_whole(alarm), reads(meat=points), at(91))
    assert found.state is AlarmState.RINGING
    assert found.over


def test_that_a_flutter_at_the_limit_is_one_alarm() -> None:
    alarm = level(Watched.PIECE, None, 40, once=False)
    points = [(0.0, 38.0), *[(1.0 + m, 40.2 if m % 2 else 39.9) for m in range(20)]]
    found = alarm_now(alarm, a_whole(alarm), reads(meat=points), at(21))
    assert found.due == at(2)


@pytest.mark.parametrize(("reading", "rings"), [(40.0, False), (40.3, True)])
def test_that_a_cold_hold_rings_only_over_its_limit(reading: float, rings: bool) -> None:
    offer = _offer("Cold hold")
    alarm = offer.alarms[0]
    found = alarm_now(alarm, a_whole(alarm), reads(meat=[(0.0, 38.0), (1.0, reading)]), at(1))
    assert (found.state is AlarmState.RINGING) is rings


def test_that_a_hot_hold_rings_under_its_limit() -> None:
    alarm = _offer("Hot hold").alarms[0]
    points = [(0.0, 165.0), (30.0, 139.5)]
    found = alarm_now(alarm, a_whole(alarm), reads(meat=points), at(30))
    assert found.state is AlarmState.RINGING


def test_that_a_silent_probe_is_unknown_and_not_fine() -> None:
    alarm = level(Watched.PIT, 235, 265, once=False)
    points = [(0.0, 250.0), (1.0, 250.0)]
    assert alarm_now(alarm, a_whole(alarm), reads(pit=points), at(5)).state is AlarmState.WAITING
    found = alarm_now(alarm, a_whole(alarm), reads(pit=points), at(12))
    assert (found.state, found.read_at) == (AlarmState.UNKNOWN, at(1))
    assert alarm_now(alarm, a_whole(alarm), no_readings, at(5)).state is AlarmState.UNKNOWN


def test_that_a_logger_whose_clock_runs_ahead_rings_once() -> None:
    alarm = level(Watched.PIECE, None, 180, once=True)
    points = [(8.0, 150.0), (9.0, 181.0)]  # its clock is 8 min ahead of ours
    found = alarm_now(alarm, a_whole(alarm), reads(meat=points), at(1))
    assert found.state is AlarmState.RINGING
    heard = replace(alarm, heard=found.due)
    found = alarm_now(heard, a_whole(heard), reads(meat=points), at(2))
    assert found.state is AlarmState.HEARD


def test_that_alarms_set_across_the_change_of_the_clocks_keep_their_length() -> None:
    # United States, 1 November 2026: at 2:00 CDT the clocks go back to 1:00 CST (15 USC 260a).
    before = datetime(2026, 11, 1, 1, 30, tzinfo=ZoneInfo("America/Chicago")).astimezone(UTC)
    offer = next(o for o in offers(a_whole(), before, (), UnitSystem.US)["In"] if "1 h" in o.text)
    alarm = offer.alarms[0]
    assert alarm.at == before + timedelta(hours=1)
    assert offer.below == "01:30 CST"
    # Across midnight too.
    late = datetime(2026, 11, 1, 4, 50, tzinfo=UTC)  # 23:50 CDT on 31 October
    assert offers(a_whole(), late, (), UnitSystem.US)["In"][2].below == "00:10"


def test_that_what_rings_comes_first_and_pieces_that_say_the_same_come_together() -> None:
    other = replace(PIECE, id="b", label="B1")
    ringing = [
        replace(timer(30), words="Start probing", piece_id=piece.id) for piece in (PIECE, other)
    ]
    whole = replace(
        a_whole(timer(5), *ringing), alarms=(timer(60), *ringing, replace(timer(70), words="box"))
    )
    found = alarms_now(whole, no_readings, at(31))
    assert [len(group) for group in grouped(found)] == [2, 1, 1]
    assert found[0].state is AlarmState.RINGING


def _offer(text: str, system: UnitSystem = UnitSystem.US) -> Offer:
    found = offers(a_whole(), NOON, (), system)["On a temperature"]
    return next(offer for offer in found if offer.text == text)


def test_that_the_holds_are_those_of_the_published_guidance() -> None:
    # USDA FSIS consumer guidance: between 40 °F and 140 °F (resources/safety/rules.csv).
    rule = safety_rules()["consumer-2h"]
    assert "between 40 F and 140 F" in rule.rule
    assert pytest.approx((4.444, 60.0), abs=0.001) == (COLD, HOT)
    alarm = _offer("Cold hold").alarms[0]
    assert rule.citation in alarm.source
    assert alarm.words == "Cold hold over 40 °F"
    assert _offer("Hot hold", UnitSystem.METRIC).alarms[0].words == "Hot hold under 60 °C"


def test_that_probing_starts_ten_degrees_early() -> None:
    # Ribs come off from 190 °F; probe from 10 °F before (common practice, no source).
    alarm = _offer("Probe").alarms[0]
    assert alarm.high == pytest.approx(fahrenheit(180))
    assert alarm.does == "feel"


def test_that_the_pit_band_is_fifteen_degrees_either_side() -> None:
    assert _offer("Pit").below == "235–265 °F"


def test_that_planned_steps_can_ring() -> None:
    planned = replace(an_event(COOK.id, EventKind.UNWRAP), happened_at=None, planned_at=at(90))
    whole = replace(a_whole(), events=(planned,))
    offer = offers(whole, NOON, (), UnitSystem.US)["As planned"][0]
    assert (offer.text, offer.alarms[0].at) == ("Unwrap", at(90))


@pytest.mark.parametrize(
    "broken",
    [
        replace(timer(1), at=None),
        replace(spritz(1), after=None),
        replace(spritz(1), after_kind=""),
        level(Watched.PIT, None, None, once=True),
        level(Watched.PIT, None, None, once=False),
        level(Watched.PIT, 265, 235, once=False),
    ],
)
def test_that_an_alarm_that_could_never_be_due_is_told_apart(broken: Alarm) -> None:
    assert impossible_alarm(broken)


def test_that_all_that_is_offered_can_be_due() -> None:
    events = [("on", -60.0), ("spritz", -30.0), ("wrap", -10.0)]
    found = offers(a_whole(events=events), NOON, (), UnitSystem.US)
    assert not [a for some in found.values() for o in some for a in o.alarms if impossible_alarm(a)]


def test_that_an_alarm_bound_to_a_trace_looks_at_no_other() -> None:
    alarm = level(Watched.PIT, 225, 275, once=False)
    whole = a_whole(alarm)
    pit = whole.pit_trace
    assert pit is not None
    other = replace(pit, id="another", sits=Sits.OTHER)
    both = replace(whole, traces=(pit, other))
    assert watched_traces(alarm, both) == (pit,)
    bound = replace(alarm, watched=Watched.PROBE, trace_id="another")
    assert watched_traces(bound, both) == (other,)
    assert watched_traces(replace(bound, trace_id="gone"), both) == ()


def test_that_an_offer_to_be_told_again_says_the_time_that_its_alarm_waits() -> None:
    cook = a_whole(events=[("on", -60.0), ("spritz", -30.0)])
    check = DonenessCheck(cook_id=COOK.id, piece_id=PIECE.id, at=at(-5), internal=70.0)
    load = FuelLoad(cook_id=COOK.id, stage=FuelStage.ADDED, fuel="lump", mass=1000.0)
    fed = replace(cook, checks=(check,), fuel_loads=(load,))
    every = [o for some in offers(fed, NOON, (), UnitSystem.US).values() for o in some]
    probe = next(one for one in every if one.text == "Probe" and one.below.startswith("+"))
    refuel = next(one for one in every if one.text == "Refuel")
    assert (probe.below, probe.alarms[0].after) == ("+ 15 min", 15 * 60.0)
    assert (refuel.below, refuel.alarms[0].after) == ("+ 1 h", 60 * 60.0)
    assert refuel.alarms[0].words == "Refuel: 1 h after the last"
    for one in every:  # what is said is what is waited
        alarm = one.alarms[0]
        if alarm.kind is AlarmKind.AFTER:
            assert alarm.after is not None
            assert one.below == f"+ {show(alarm.after, Dimension.DURATION, UnitSystem.US)}"
