"""A day worked out backward: from the trade's ranges, and from one's own cooks."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from pitjournal.analysis.plan.durations import Like, past_span, trade, trade_time_on
from pitjournal.analysis.plan.schedule import Group, Spans, spans_of, work_out
from pitjournal.analysis.plan.schedule_check import all_in_time, crowded, in_time, slack, troubles
from pitjournal.domain.blocks import Value
from pitjournal.domain.cook import Arm, CookKind
from pitjournal.domain.day.schedule import BY_HAND, MADE, StepKind, chains
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import Seasoning, Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.values import Row
from tests.analysis.trends.frames import frame_of
from tests.builders import NOON, a_cook, an_event

HOUR = timedelta(hours=1)
SERVE = datetime(2026, 5, 2, 23, 0, tzinfo=UTC)
POUND = 453.59237


def ribs(**cook: object) -> WholeCook:
    """Return two racks, of which the second is injected four hours ahead."""
    made = replace(a_cook(serve_at=SERVE), **cook)  # type: ignore[arg-type]
    pieces = tuple(
        Piece(cook_id=made.id, position=n, label=f"A{n + 1}", cut="back ribs") for n in range(2)
    )
    injected = Treatment(
        cook_id=made.id, kind=TreatmentKind.INJECTED, piece_id=pieces[1].id, time=4 * 3600.0
    )
    rub = Seasoning(cook_id=made.id, position=0, rub="house rub", set_time=1800.0)
    return WholeCook(cook=made, pieces=pieces, treatments=(injected,), seasonings=(rub,))


def two_cuts() -> WholeCook:
    whole = ribs(kind=CookKind.CONTEST)
    butt = Piece(cook_id=whole.cook.id, position=2, label="P1", cut="pork butt")
    return replace(whole, pieces=(*whole.pieces, butt))


def nothing_past() -> Spans:
    return spans_of(ribs(), frame_of([]))


def at(steps: tuple[Event, ...], kind: str, piece: Piece | None = None) -> datetime:
    found = next(s for s in steps if s.kind == kind and (piece is None or piece.id in s.pieces))
    assert found.planned_at is not None
    return found.planned_at


def past_cooks(times: list[float], **values: Value) -> list[Row]:
    """Return a cook of back ribs for each time on, h."""
    rows: list[Row] = []
    for number, hours in enumerate(times):
        cook = f"cook {number}"
        rows.append((cook, cook, "cook", {"set_point": 107.0, "cooker": "the drum", **values}))
        for piece in range(3):
            own: dict[str, Value] = {
                "cut": "back ribs",
                "time_on": 3600 * (hours + (piece - 1) * 0.1),
            }
            rows.append((f"{cook}.{piece}", cook, "piece", own))
    return rows


def test_that_the_trade_is_asked_where_there_is_no_past() -> None:
    # Ribs take 3 to 6 hours, a butt 1 to 2 hours a pound (common practice, no source).
    spans = nothing_past()
    span = spans.groups[0].time_on
    assert span is not None
    assert (span.low, span.high) == (3 * 3600, 6 * 3600)
    assert "no source" in span.words
    butt = trade_time_on("pork butt", 8 * POUND)
    assert butt is not None
    assert (butt.low, butt.high) == pytest.approx((8 * 3600, 16 * 3600))
    assert trade_time_on("roadkill", 2000.0) is None


def test_that_one_cook_is_one_time_and_pieces_are_not() -> None:
    rows = past_cooks([4.0, 4.5, 5.0])
    span = past_span(frame_of(rows), "time_on", Like("back ribs", "the drum", 107.0))
    assert span is not None
    assert span.values == pytest.approx((4 * 3600, 4.5 * 3600, 5 * 3600))
    assert span.usual == pytest.approx(4.5 * 3600)
    assert span.words == "from 3 cooks of this cut on this cooker near this heat"


def test_that_the_narrowest_likeness_with_three_cooks_counts() -> None:
    hot = [
        (o.replace("cook", "hot"), c.replace("cook", "hot"), level, values)
        for o, c, level, values in past_cooks([3.0, 3.1, 3.2], set_point=150.0)
    ]
    frame = frame_of([*past_cooks([4.0, 4.5]), *hot])
    near = past_span(frame, "time_on", Like("back ribs", "the drum", 148.0))
    assert near is not None
    assert len(near.values) == 3
    between = past_span(frame, "time_on", Like("back ribs", "the drum", 125.0))
    assert between is not None
    assert between.words == "from 5 cooks of this cut on this cooker, reckoned for this heat"
    # At 107 °C they took 4 to 4.5 hours, at 150 °C 3 to 3.2: between lies between.
    assert 3.2 * 3600 < between.usual < 4.0 * 3600
    assert past_span(frame, "time_on", Like("brisket")) is None
    assert past_span(frame, "time_on", Like("back ribs"), skip="hot 0") is not None


def test_that_the_planned_cook_does_not_count_as_its_own_past() -> None:
    frame = frame_of(past_cooks([4.0, 4.5, 5.0]))
    assert past_span(frame, "time_on", Like("back ribs"), skip="cook 1") is None


def test_that_a_day_ends_at_serving_and_leaves_the_least_between() -> None:
    whole, spans = ribs(), nothing_past()
    steps = work_out(whole, Spans(groups_for(whole, spans), spans.preheat), NOON)
    kinds = [s.kind for s in steps]
    for kind in ("trim and weigh", "inject", "rub", "lit", "on", "wrap", "off", "sliced", "serve"):
        assert kind in kinds
    assert at(steps, StepKind.SERVE) == SERVE
    assert at(steps, EventKind.SLICED) == SERVE - timedelta(minutes=10)
    on, off = at(steps, EventKind.ON), at(steps, EventKind.OFF)
    assert off - on == timedelta(hours=4, minutes=30)  # the middle of 3 to 6 hours
    assert on - at(steps, StepKind.INJECT) == 4 * HOUR
    assert on - at(steps, StepKind.RUB) == timedelta(minutes=30)
    assert on - at(steps, EventKind.LIT) == timedelta(minutes=45)  # 30 to 60 min


def groups_for(whole: WholeCook, spans: Spans) -> tuple[Group, ...]:
    del spans
    return spans_of(whole, frame_of([])).groups


def planned(whole: WholeCook) -> tuple[WholeCook, Spans]:
    spans = spans_of(whole, frame_of([]))
    return replace(whole, events=work_out(whole, spans, NOON)), spans


def test_that_nine_cooks_in_ten_are_planned_to_be_in_time() -> None:
    whole, spans = planned(ribs())
    (one,) = in_time(whole, spans)
    assert one.chance == pytest.approx(0.9, abs=0.02)  # within the five minutes of rounding
    chain = chains(whole.events, {p.id: p.cut for p in whole.pieces})["back ribs"]
    spare = slack(chain)
    assert spare is not None
    assert spare > 0


def test_that_the_chance_is_that_of_the_room_that_is_left() -> None:
    whole = ribs()
    span = trade(4 * 3600.0, 6 * 3600.0)
    group = Group("back ribs", whole.pieces, span, None, trade(600.0, 1200.0))
    spans = Spans((group,), trade(1800.0, 3600.0))
    steps = work_out(whole, spans, NOON)
    on = next(s for s in steps if s.kind == EventKind.ON)
    # On six hours and the least rest (10 min) and slicing (10 min) before serving.
    late = replace(on, planned_at=SERVE - timedelta(hours=6, minutes=20))
    events = tuple(late if s.id == on.id else s for s in steps)
    (one,) = in_time(replace(whole, events=events), spans)
    assert one.chance == pytest.approx(0.95)  # six hours are the upper end of nine in ten


def test_that_a_serving_time_between_two_marks_of_five_minutes_stays_as_it_was_typed() -> None:
    odd = SERVE + timedelta(minutes=4)
    base = ribs()
    whole = replace(base, cook=replace(base.cook, serve_at=odd))
    steps = work_out(whole, spans_of(whole, frame_of([])), NOON)
    assert steps[-1].planned_at == odd


def test_that_the_chance_counts_from_now_where_the_plan_is_past() -> None:
    whole = ribs()
    span = trade(4 * 3600.0, 6 * 3600.0)
    group = Group("back ribs", whole.pieces, span, None, trade(600.0, 1200.0))
    spans = Spans((group,), trade(1800.0, 3600.0))  # 45 minutes until a fire is ready
    whole = replace(whole, events=work_out(whole, spans, NOON))
    # Five hours on fit before serving with the least rest and slicing. On the logarithm they are
    # 0.166 standard deviations above the middle of 4 to 6 h: 0.566 by the normal table.
    last = SERVE - timedelta(hours=5, minutes=20)
    (one,) = in_time(whole, spans, last - timedelta(minutes=45))
    assert one.chance == pytest.approx(0.566, abs=5e-4)
    lit = next(s for s in whole.events if s.kind == EventKind.LIT)
    burns = tuple(replace(e, happened_at=NOON) if e.id == lit.id else e for e in whole.events)
    (one,) = in_time(replace(whole, events=burns), spans, last)
    assert one.chance == pytest.approx(0.566, abs=5e-4)
    early = min(step.planned_at for step in whole.events if step.planned_at)
    assert in_time(whole, spans, early - HOUR) == in_time(whole, spans)


def test_that_several_turn_ins_are_kept_and_each_cut_goes_by_its_own() -> None:
    whole, spans = planned(two_cuts())
    end = next(s for s in whole.events if s.kind == StepKind.TURN_IN and len(s.pieces) == 2)
    moved_end = replace(end, planned_at=SERVE - HOUR)
    events = tuple(moved_end if e.id == end.id else e for e in whole.events)
    steps = work_out(replace(whole, events=events), spans, NOON)
    ribs_end = next(s for s in steps if s.kind == StepKind.TURN_IN and len(s.pieces) == 2)
    butt_end = next(s for s in steps if s.kind == StepKind.TURN_IN and len(s.pieces) == 1)
    assert ribs_end.planned_at == SERVE - HOUR
    assert butt_end.planned_at == SERVE
    each = in_time(replace(whole, events=steps), spans)
    assert all_in_time(each) == pytest.approx(each[0].chance + each[1].chance - 1)


def test_that_a_locked_step_outlasts_working_out_again() -> None:
    whole, spans = planned(ribs())
    wrap = next(s for s in whole.events if s.kind == EventKind.WRAP)
    assert wrap.planned_at is not None
    held = replace(wrap, locked=True, planned_at=wrap.planned_at - HOUR)
    events = tuple(held if e.id == wrap.id else e for e in whole.events)
    steps = work_out(replace(whole, events=events), spans, NOON)
    assert at(steps, EventKind.WRAP) == held.planned_at
    assert [s.id for s in steps if s.kind == EventKind.WRAP] == [wrap.id]


def test_that_without_a_serving_time_it_goes_forward_from_meat_on() -> None:
    whole, _ = planned(ribs(serve_at=None))
    assert at(whole.events, EventKind.ON) == NOON
    assert at(whole.events, StepKind.SERVE) > NOON + 5 * HOUR


def test_that_a_cut_nobody_knows_has_an_off_that_the_cook_sets() -> None:
    whole = ribs()
    strange = replace(whole, pieces=tuple(replace(p, cut="mystery") for p in whole.pieces))
    made, spans = planned(strange)
    # Right before the least rest (5 min) and slicing (10 min): nothing is claimed of how long.
    assert at(made.events, EventKind.OFF) == SERVE - timedelta(minutes=15)
    assert EventKind.WRAP not in {step.kind for step in made.events}
    assert in_time(made, spans) == ()
    forward, _ = planned(replace(strange, cook=replace(strange.cook, serve_at=None)))
    assert at(forward.events, EventKind.OFF) > at(forward.events, EventKind.ON)


def test_that_frozen_meat_goes_out_of_the_freezer_in_time() -> None:
    # 24 hours in the refrigerator for each 4 to 5 lb (USDA FSIS, The Big Thaw; from memory).
    whole = ribs()
    heavy = replace(whole.pieces[0], cut="brisket", frozen=True)
    mass = Weighing(cook_id=whole.cook.id, piece_id=heavy.id, stage=Stage.BOUGHT, mass=13.5 * POUND)
    made, _ = planned(replace(whole, pieces=(heavy,), weighings=(mass,), treatments=()))
    thaw, trim = at(made.events, StepKind.THAW), at(made.events, StepKind.TRIM)
    assert trim - thaw == 72 * HOUR


def test_that_too_little_time_and_too_few_hands_are_said() -> None:
    whole, _ = planned(two_cuts())
    assert not any(t.hands and t.first.kind == t.second.kind == "lit" for t in troubles(whole))
    rub = next(s for s in whole.events if s.kind == StepKind.RUB and len(s.pieces) == 2)
    other = next(s for s in whole.events if s.kind == StepKind.RUB and len(s.pieces) == 1)
    together = replace(other, planned_at=rub.planned_at)
    events = tuple(together if e.id == other.id else e for e in whole.events)
    found = troubles(replace(whole, events=events))
    assert any(t.hands and {t.first.id, t.second.id} == {rub.id, other.id} for t in found)
    off = next(s for s in whole.events if s.kind == EventKind.OFF and len(s.pieces) == 1)
    pulled = next(s for s in whole.events if s.kind == EventKind.PULLED and len(s.pieces) == 1)
    late = replace(off, planned_at=pulled.planned_at)
    events = tuple(late if e.id == off.id else e for e in whole.events)
    lacking = [t for t in troubles(replace(whole, events=events)) if not t.hands]
    assert (lacking[0].first.id, lacking[0].second.id) == (off.id, pulled.id)
    assert lacking[0].lacks == pytest.approx(3600.0)  # a butt is held for at least an hour


def test_that_each_wrap_is_a_step_of_its_own_and_none_is_no_step() -> None:
    whole = ribs()
    arms = tuple(
        Arm(cook_id=whole.cook.id, position=n, name=wrap, control=n == 0, wrap=wrap)
        for n, wrap in enumerate(("none", "foil"))
    )
    pieces = tuple(replace(p, arm_id=a.id) for p, a in zip(whole.pieces, arms, strict=True))
    made, _ = planned(replace(whole, arms=arms, pieces=pieces))
    (wrap,) = [step for step in made.events if step.kind == EventKind.WRAP]
    assert wrap.pieces == (pieces[1].id,)
    assert wrap.details == {"wrap": "foil"}


def test_that_pieces_treated_at_one_time_are_one_step() -> None:
    whole = ribs()
    other = replace(whole.treatments[0], id="other", piece_id=whole.pieces[0].id)
    made, _ = planned(replace(whole, treatments=(*whole.treatments, other)))
    (inject,) = [step for step in made.events if step.kind == StepKind.INJECT]
    assert set(inject.pieces) == {piece.id for piece in whole.pieces}


def test_that_a_cooker_with_too_few_slots_is_told_of() -> None:
    whole, _ = planned(two_cuts())
    assert crowded(whole) is None  # how many slots there are is not said
    drum = ShelfItem(kind=ShelfKind.COOKER, name="the drum", details={"slots": "2"})
    found = crowded(replace(whole, cooker=drum))
    assert found is not None
    # The butt went on first; with both racks three pieces are on at once.
    assert (found.pieces, found.slots) == (3, 2)
    assert found.at == at(whole.events, EventKind.ON, whole.pieces[0])
    room = replace(drum, details={"slots": "3"})
    assert crowded(replace(whole, cooker=room)) is None


@pytest.mark.parametrize(
    ("serve", "wall_hours"),
    [
        # Clocks go back on 1 November 2026 and forward on 8 March 2026 at 2:00 in Chicago
        # (Energy Policy Act of 2005, section 110).
        ("2026-11-01T12:00", 9),
        ("2026-03-08T12:00", 11),
        ("2026-05-02T12:00", 10),
    ],
)
def test_that_a_night_in_which_clocks_change_has_its_true_hours(
    serve: str, wall_hours: int
) -> None:
    zone = ZoneInfo("America/Chicago")
    at_noon = datetime.fromisoformat(serve).replace(tzinfo=zone).astimezone(UTC)
    whole = ribs(serve_at=at_noon)
    pieces = tuple(replace(piece, cut="brisket") for piece in whole.pieces)
    made, _ = planned(replace(whole, pieces=pieces))
    on, off = at(made.events, EventKind.ON), at(made.events, EventKind.OFF)
    assert off - on == 10 * HOUR  # the middle of 6 to 14 hours
    walls = [moment.astimezone(zone).replace(tzinfo=None) for moment in (on, off)]
    assert walls[1] - walls[0] == timedelta(hours=wall_hours)
    assert on.astimezone(zone).date() < off.astimezone(zone).date()


def test_that_a_day_worked_out_while_it_runs_goes_on_from_what_happened() -> None:
    whole = ribs()
    on = an_event(whole.cook.id, EventKind.ON, minutes=30)
    wrapped = an_event(whole.cook.id, EventKind.WRAP, minutes=150)
    made, spans = planned(replace(whole, events=(on, wrapped)))
    made = replace(made, events=(*made.events, on, wrapped))
    kinds = [step.kind for step in made.events if step.planned_at]
    assert kinds == [StepKind.PROBE, EventKind.OFF, EventKind.SLICED, StepKind.SERVE]
    assert at(made.events, EventKind.OFF) == NOON + timedelta(minutes=30) + timedelta(hours=4.5)
    assert at(made.events, StepKind.SERVE) == SERVE
    (one,) = in_time(made, spans)
    # On since 12:30; slicing and the least rest take 15 min before 23:00.
    span = spans.groups[0].time_on
    assert span is not None
    assert one.chance == pytest.approx(span.chance(3600 * 10.25))


def test_that_steps_made_by_hand_are_kept_and_go_with_the_meat() -> None:
    whole, spans = planned(ribs())
    on = at(whole.events, EventKind.ON)

    def mine(kind: str, minutes: int, **fields: object) -> Event:
        planned_at = on + timedelta(minutes=minutes)
        return replace(
            whole.events[0],
            id=f"mine {kind}",
            kind=kind,
            pieces=(),
            planned_at=planned_at,
            locked=False,
            takes=None,
            **fields,  # type: ignore[arg-type]
        )

    spritz = mine(EventKind.SPRITZ, 60)
    wrap = mine(EventKind.WRAP, 90, details={MADE: BY_HAND})
    later = replace(whole.cook, serve_at=SERVE + HOUR)
    again = replace(whole, cook=later, events=(*whole.events, spritz, wrap))
    end = next(e for e in again.events if e.kind == StepKind.SERVE)
    events = tuple(
        replace(e, planned_at=SERVE + HOUR) if e.id == end.id else e for e in again.events
    )
    steps = work_out(replace(again, events=events), spans, NOON)
    assert at(steps, EventKind.ON) == on + HOUR
    assert at(steps, EventKind.SPRITZ) == on + 2 * HOUR
    assert [s.planned_at for s in steps if s.id == wrap.id] == [on + HOUR + timedelta(minutes=90)]
    assert len([s for s in steps if s.kind == EventKind.WRAP]) == 2


def test_that_two_spellings_of_a_cut_are_one_chain() -> None:
    whole = ribs()
    one, *others = whole.pieces
    spelt = replace(whole, pieces=(one, *(replace(p, cut="Baby Backs") for p in others)))
    made, spans = planned(spelt)
    assert [group.cut for group in spans.groups] == ["back ribs"]
    (on,) = [step for step in made.events if step.kind == EventKind.ON]
    assert set(on.pieces) == {piece.id for piece in spelt.pieces}
