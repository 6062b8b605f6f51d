"""How a piece is wrapped from now on, for the forecast: as it was, else as it is planned."""

from dataclasses import replace

import pytest

from pitjournal.domain.cook import Arm
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.ahead import _wrapping
from tests.analysis.makers import one_rack
from tests.builders import NOON, an_event

HOUR = 3600.0
BEGUN = NOON.timestamp()


def wrapped(arm_wrap: str, *events: Event) -> tuple[WholeCook, Piece]:
    cook, piece = one_rack()
    arm = Arm(cook_id=cook.id, position=0, name="Wrapped", wrap=arm_wrap)
    piece = replace(piece, arm_id=arm.id)
    moved = tuple(replace(event, cook_id=cook.id) for event in events)
    return WholeCook(cook=cook, arms=(arm,), pieces=(piece,), events=moved), piece


@pytest.mark.parametrize(
    ("logged", "arm", "kind"),
    [({"wrap": "paper"}, "boat", "paper"), ({}, "boat", "boat"), ({}, "", "foil")],
)
def test_that_what_it_was_wrapped_in_is_what_was_logged_else_its_arms_else_foil(
    logged: dict[str, str], arm: str, kind: str
) -> None:
    found = _wrapping(*wrapped(arm, an_event("", EventKind.WRAP, minutes=120, **logged)), BEGUN)
    assert found is not None
    assert (found.at, found.wrap, found.until) == (2 * HOUR, kind, float("inf"))


def test_that_a_wrap_ends_where_it_was_opened_and_a_planned_one_counts_before() -> None:
    wrap = an_event("", EventKind.WRAP, minutes=120, wrap="paper")
    opened = an_event("", EventKind.UNWRAP, minutes=180)
    found = _wrapping(*wrapped("", wrap, opened), BEGUN)
    assert found is not None
    assert found.until == 3 * HOUR
    planned = replace(wrap, happened_at=None, planned_at=wrap.happened_at)
    ahead = _wrapping(*wrapped("boat", planned), BEGUN)
    assert ahead is not None
    assert (ahead.at, ahead.wrap) == (2 * HOUR, "paper")
    assert _wrapping(*wrapped("boat"), BEGUN) is None
