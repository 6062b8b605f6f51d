"""Leeway and the two targets through the journal's own door.

Common practice, no source: feel 3 to 5 is right; a contest wants a clean bite, many at home want
it further; a stay lies between the last under and the first over. Sums by hand.
"""

from dataclasses import replace

import pytest

from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.findings.findings import Findings
from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.targets import SETTING, Target, targets_text
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.journal import Journal
from pitjournal.journal.commands.bench import Choose
from pitjournal.journal.commands.records import AddCook
from pitjournal.units import UnitSystem
from tests.analysis.makers import compared, felt
from tests.builders import an_event

TWO = ("Left alone", "Injected")


def kept(
    journal: Journal, checks: tuple[tuple[tuple[float, int], ...], ...], off: float
) -> tuple[WholeCook, Findings]:
    """Keep a cook whose pieces were felt so, min after noon, and came off then."""
    whole = compared(TWO, ((6.0, 7.0), (7.0, 8.0)))
    given: list[DonenessCheck] = []
    for piece, own in zip(whole.pieces, checks, strict=True):
        given += felt(whole.cook, piece, *own)
    events = (
        an_event(whole.cook.id, EventKind.ON),
        an_event(whole.cook.id, EventKind.OFF, minutes=off),
    )
    parts = (*whole.arms, *whole.pieces, *given, *events)
    journal.do(AddCook(whole.cook, (*parts, *whole.tastings, *whole.samples, *whole.scores)))
    return whole, journal.findings.of(whole.cook.id, UnitSystem.US)


EARLY = ((200.0, 2), (215.0, 3), (230.0, 4), (245.0, 5), (260.0, 6))
LATE = ((200.0, 2), (215.0, 5), (230.0, 5), (245.0, 6), (260.0, 6))


def test_that_findings_and_trends_agree_to_the_second(journal: Journal) -> None:
    # The last check is half a minute after coming off: both count it, or neither.
    checks = (*EARLY[:3], (245.5, 5))
    whole, found = kept(journal, (checks, checks, checks, checks), off=245)
    trends = {
        owner: values
        for owner, cook, level, values in journal.values([whole.cook.id])
        if level == "piece"
    }
    for window in (w for w in found.windows if w.axis == "time"):
        assert trends[window.piece_id]["leeway_at_least"] == window.at_least
        assert window.at_least == (245.5 - 215) * 60
        assert trends[window.piece_id].get("leeway_at_most") == window.at_most
        assert trends[window.piece_id]["feel_off"] == 5.0


def test_that_contradictory_feels_are_said(journal: Journal) -> None:
    turned = ((200.0, 2), (215.0, 6), (230.0, 3), (245.0, 5))
    _, found = kept(journal, (turned, EARLY, EARLY, EARLY), off=261)
    assert (
        "The feels of A1 contradict each other, right or over and then less again: its bounds are "
        "the widest that it allows." in found.words
    )
    assert as_json(found)["contradicted"] == ["A1"]
    _, clean = kept(journal, (EARLY, EARLY, EARLY, EARLY), off=261)
    assert as_json(clean)["contradicted"] == []


def test_that_contest_and_home_are_answered_side_by_side_also_where_they_disagree(
    journal: Journal,
) -> None:
    _, found = kept(journal, (EARLY, EARLY, LATE, LATE), off=261)
    contest, home = as_json(found)["targets"]
    assert (contest["feels"], home["feels"]) == ([3, 4], [4, 6])
    left, injected = contest["arms"]
    assert left["at_least"] == 15 * 60.0  # felt 3 at 215 and 4 at 230
    assert injected["at_least"] == 0.0  # from 2 to 5 between two checks, perhaps not at all
    assert (left["off_within"], left["off_known"]) == (0, 2)
    left, injected = home["arms"]
    assert left["at_least"] == 30 * 60.0  # 4 at 230 to 6 at 260
    assert injected["at_least"] == 45 * 60.0  # 5 at 215 to 6 at 260
    assert (injected["off_within"], injected["off_known"]) == (2, 2)
    assert home["score"] == "score.tenderness"
    assert contest["score"] is None  # no contest's scheme was tasted


def test_that_arms_that_serve_the_two_tables_differently_are_told(journal: Journal) -> None:
    slow = ((200.0, 2), (215.0, 3), (230.0, 4), (245.0, 4), (260.0, 7))
    quick = ((200.0, 2), (215.0, 4), (230.0, 5), (245.0, 6), (260.0, 6))
    _, found = kept(journal, (slow, slow, quick, quick), off=261)
    # Contest: 215 to 245 against 215 alone; home: 230 to 245 against 215 to 260.
    assert (
        "The two targets disagree, as far as was seen: Left alone stayed so longest for contest, "
        "Injected for home." in found.words
    )


def test_that_the_targets_are_data_that_the_cook_edits(journal: Journal) -> None:
    mine = (Target("contest", 3, 3, weighted=True), Target("home", 5, 7))
    journal.do(Choose(SETTING, targets_text(mine), "Change the targets"))
    _, found = kept(journal, (EARLY, EARLY, LATE, LATE), off=261)
    assert [aim["feels"] for aim in as_json(found)["targets"]] == [[3, 3], [5, 7]]
    journal.undo()
    journal.undo()
    assert [target.low for target in journal.targets()] == [3, 4]
    with pytest.raises(JournalError, match="no range of feels"):
        targets_text((replace(mine[0], high=8),))


def test_that_checks_after_the_rest_do_not_count_at_the_pit(journal: Journal) -> None:
    _, found = kept(journal, (EARLY, EARLY, EARLY, EARLY), off=231)
    (first, *_) = (w for w in found.windows if w.axis == "time")
    assert first.at_least == 15 * 60.0  # 215 to 230; what was felt later is the box
