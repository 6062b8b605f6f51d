"""A contest's total as the declared outcome, through the journal's own door.

Common practice, no source: six judges, the lowest weighted card left out; scores 2 to 9 weighted
0.5600, 2.2972 and 1.1428, so that six cards of all eights come to 8 × 4 × 5 = 160.
"""

import pytest

from pitjournal.domain.cook import Arm
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import Sample, Tasting
from pitjournal.files.schemes import shipped
from pitjournal.journal import Journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.records import AddCook
from pitjournal.journal.commands.tasting import GiveScore, LockTasting, RevealTasting
from pitjournal.units import UnitSystem
from tests.builders import a_cook, three_arms

TOTAL = "score.total (contest)"
JUDGES = ("Ada", "Ben", "Cleo", "Dan", "Eve", "Finn")


def judged(journal: Journal, judges: tuple[str, ...]) -> str:
    """Return the id of a cook whose injected racks got an eight for all, A1 a six, others a seven."""
    cook = a_cook(outcome=TOTAL)
    journal.do(AddCook(cook, three_arms(cook)))
    journal.do(DrawTasting(cook.id, judges, seed=1, scheme=shipped("contest-2")))
    (session,) = journal.find(Tasting, cook_id=cook.id)
    arms = {arm.id: arm.name for arm in journal.find(Arm, cook_id=cook.id)}
    given = {
        piece.id: {"Injected": 8.0}.get(
            arms[piece.arm_id or ""], 6.0 if piece.label == "A1" else 7.0
        )
        for piece in journal.find(Piece, cook_id=cook.id)
    }
    for sample in journal.find(Sample, tasting_id=session.id):
        for judge in judges:
            for criterion in session.criteria:
                journal.do(
                    GiveScore(session.id, sample.id, judge, criterion, given[sample.piece_id])
                )
    journal.do(LockTasting(session.id))
    journal.do(RevealTasting(session.id))
    return cook.id


def test_that_findings_and_the_list_show_the_totals_that_count(journal: Journal) -> None:
    cook_id = judged(journal, JUDGES)
    found = journal.findings.of(cook_id, UnitSystem.US)
    means = {arm.name: arm.mean for arm in found.arms}
    assert means["Injected"] == pytest.approx(160)
    assert means["Left alone"] == pytest.approx((120 + 140 + 140) / 3)  # 6 and 7 × 4 × 5
    words = " ".join(found.words)
    assert "Injected racks scored 26.67 points higher in total (contest)" in words
    headline = journal.findings.headlines([cook_id], UnitSystem.US)[cook_id]
    assert headline == "Injected: total (contest) +26.67 points"


def test_that_too_few_cards_are_told_as_the_reason(journal: Journal) -> None:
    cook_id = judged(journal, JUDGES[:4])
    words = journal.findings.of(cook_id, UnitSystem.US).words
    assert words[0] == "A total takes 6 whole cards; some pieces have 4, and so no total."
    assert journal.findings.headlines([cook_id], UnitSystem.US)[cook_id].startswith("no total")


def test_that_both_contest_schemes_say_that_they_follow_one_published_rule() -> None:
    for scheme in ("contest-1", "contest-2"):
        note = shipped(scheme).note
        assert "follows one published rule" in note
        assert "anyone may edit the weights" in note
        assert "the rules of the contest you enter come first" in note
