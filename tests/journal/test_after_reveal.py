"""What is changed after the codes were seen is told, also when the reveal is undone first.

The rule is the design's; that a hypothesis made after the results are known is no test of them is
Kerr (1998), Personality and Social Psychology Review 2, 196–217, from memory.
"""

import json
import shutil
import sqlite3
from collections.abc import Sequence
from pathlib import Path

import pytest

from pitjournal.analysis.findings.as_json import as_json
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import Blindness, Sample, Tasting
from pitjournal.files.summary.content import Choice
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.mishaps import CorrectScore
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.journal.commands.tasting import GiveScore, LockTasting, RevealTasting
from pitjournal.journal.sharing import whole_summary
from pitjournal.store.schema import SCHEMA_VERSION
from pitjournal.units import UnitSystem
from tests.builders import NOON, add_comparison
from tests.journal.findings.series import add_cook, differing

MAJOR, MINOR = SCHEMA_VERSION


def tasted(journal: Journal, *, seen: Blindness | None = None) -> tuple[str, str]:
    """Return the ids of a cook of three arms and of its tasting, scored and revealed."""
    command = add_comparison()
    journal.do(command)
    cook_id = command.cook.id
    journal.do(DrawTasting(cook_id, ("Ada", "Ben"), seed=1, seen=seen))
    (session,) = journal.find(Tasting, cook_id=cook_id)
    for place, sample in enumerate(journal.find(Sample, tasting_id=session.id)):
        for taster in session.tasters:
            journal.do(GiveScore(session.id, sample.id, taster, "tenderness", 4 + place % 4))
    journal.do(LockTasting(session.id))
    journal.do(RevealTasting(session.id))
    return cook_id, session.id


def words(journal: Journal, cook_id: str) -> Sequence[str]:
    return journal.findings.of(cook_id, UnitSystem.US).words


def told(journal: Journal, cook_id: str) -> str:
    return next((one for one in words(journal, cook_id) if "had been seen" in one), "")


def test_that_a_cook_whose_plan_stood_is_told_nothing_of_it(journal: Journal) -> None:
    cook_id, _ = tasted(journal)
    assert not told(journal, cook_id)
    assert as_json(journal.findings.of(cook_id, UnitSystem.US))["after_reveal"] == []


def test_that_an_outcome_changed_after_the_reveal_is_told_and_not_when_changed_back(
    journal: Journal,
) -> None:
    cook_id, _ = tasted(journal)
    journal.do(Change(Cook, cook_id, {"outcome": "yield_off"}))
    assert told(journal, cook_id) == (
        "After the codes had been seen the declared outcome was changed from tenderness to yield."
    )
    (late,) = as_json(journal.findings.of(cook_id, UnitSystem.US))["after_reveal"]
    assert late["what"] == "outcome"
    journal.do(Change(Cook, cook_id, {"outcome": "score.tenderness"}))
    assert not told(journal, cook_id)


def test_that_an_outcome_changed_before_the_reveal_is_no_matter(journal: Journal) -> None:
    command = add_comparison()
    journal.do(command)
    journal.do(Change(Cook, command.cook.id, {"outcome": "yield_off"}))
    assert not told(journal, command.cook.id)


LEFT = (-0.1, 0.05, 0.0, 0.05, -0.05, 0.05)


def test_that_what_matters_said_after_the_reveal_is_told_and_answers_nothing(
    journal: Journal,
) -> None:
    # The margin of an equivalence test is set before the results are seen (Schuirmann 1987).
    cook_id = add_cook(journal, differing(0.05, *LEFT))
    before = words(journal, cook_id)
    assert "not enough to tell" in before[0]
    journal.do(Change(Cook, cook_id, {"worth_knowing": 2.5}))
    assert told(journal, cook_id) == (
        "After the codes had been seen a difference worth knowing was set, 2.5 points: asked "
        "afterwards, it answers nothing."
    )
    assert [one for one in words(journal, cook_id) if "had been seen" not in one] == list(before)
    answer = as_json(journal.findings.of(cook_id, UnitSystem.US))
    assert [late["what"] for late in answer["after_reveal"]] == ["worth_knowing"]
    assert {row["verdict"] for row in answer["differences"] if row["declared"]} == {
        "not enough to tell"
    }


def test_that_a_margin_made_wider_after_the_reveal_is_held_to_what_stood(
    journal: Journal,
) -> None:
    cook_id = add_cook(journal, differing(0.05, *LEFT), worth=0.02)
    journal.do(Change(Cook, cook_id, {"worth_knowing": 2.5}))
    assert "was changed from 0.02 points to 2.5 points: held to is the first" in told(
        journal, cook_id
    )
    assert "no difference that matters" not in " ".join(words(journal, cook_id))
    journal.do(Change(Cook, cook_id, {"worth_knowing": None}))
    assert "was taken away: it is still held to" in told(journal, cook_id)


def test_that_a_margin_of_a_series_set_after_the_reveal_answers_nothing(journal: Journal) -> None:
    ids = [add_cook(journal, differing(e, -0.3, 0.0, 0.3)) for e in (0.1, -0.1, 0.05, -0.05)]
    journal.do(Change(Cook, ids[-1], {"worth_knowing": 2.5}))
    assert "asked afterwards" in told(journal, ids[-1])
    assert "no difference that matters" not in " ".join(words(journal, ids[-1]))


def test_that_a_stop_rule_and_what_is_kept_alike_changed_after_the_reveal_are_told(
    journal: Journal,
) -> None:
    cook_id, _ = tasted(journal)
    journal.do(Change(Cook, cook_id, {"stop_rule": "by feel", "held": "the same rub"}))
    said = told(journal, cook_id)
    assert "the stop rule was " in said
    assert "what was to be kept alike was " in said


def test_that_a_moved_piece_a_new_control_and_a_corrected_score_are_told(journal: Journal) -> None:
    cook_id, session_id = tasted(journal)
    control, injected, _ = journal.find(Arm, cook_id=cook_id)
    (piece,) = journal.find(Piece, cook_id=cook_id, label="A1")
    journal.do(Change(Piece, piece.id, {"arm_id": injected.id}))
    sample = journal.find(Sample, tasting_id=session_id)[0]
    journal.do(CorrectScore(session_id, "Ada", sample.id, "tenderness", 9, NOON, "misheard"))
    journal.do(Change(Arm, control.id, {"control": False}))
    journal.do(Change(Arm, injected.id, {"control": True}))
    said = told(journal, cook_id)
    assert "A1 was moved from Left alone to Injected" in said
    assert "Injected was made the control" in said
    assert "one score was corrected" in said


def test_that_a_tasted_piece_that_was_taken_out_is_told(journal: Journal) -> None:
    cook_id, _ = tasted(journal)
    journal.do(Remove(Piece, journal.find(Piece, cook_id=cook_id)[0].id))
    assert "a piece that had been tasted was taken out" in told(journal, cook_id)


def test_that_an_undone_reveal_is_not_forgotten_when_scores_are_typed_anew(
    journal: Journal,
) -> None:
    cook_id, session_id = tasted(journal)
    assert journal.undo_hides()
    journal.undo()  # the reveal
    assert not journal.undo_hides()
    journal.undo()  # the lock
    sample = journal.find(Sample, tasting_id=session_id)[0]
    journal.do(GiveScore(session_id, sample.id, "Ada", "tenderness", 9))
    journal.do(LockTasting(session_id))
    assert "the reveal was undone" in told(journal, cook_id)  # also while it is blind again
    journal.do(RevealTasting(session_id))
    said = told(journal, cook_id)
    assert "one score was typed in anew" in said
    assert "the reveal was undone" in said
    assert "the lock of the scores was undone" in said


def test_that_an_undone_reveal_is_told_where_the_codes_are_drawn_anew(journal: Journal) -> None:
    cook_id, session_id = tasted(journal)
    while journal.find(Tasting, cook_id=cook_id):
        journal.undo()
    journal.do(DrawTasting(cook_id, ("Ada",), seed=2))
    assert not journal.find(Tasting, id=session_id)
    assert "the reveal was undone" in told(journal, cook_id)


def test_that_a_lock_undone_before_anyone_saw_is_no_matter(journal: Journal) -> None:
    command = add_comparison()
    journal.do(command)
    cook_id = command.cook.id
    journal.do(DrawTasting(cook_id, ("Ada",), seed=1))
    (session,) = journal.find(Tasting, cook_id=cook_id)
    for sample in journal.find(Sample, tasting_id=session.id):
        journal.do(GiveScore(session.id, sample.id, "Ada", "tenderness", 5))
    journal.do(LockTasting(session.id))
    journal.undo()
    journal.do(LockTasting(session.id))
    journal.do(RevealTasting(session.id))
    assert not told(journal, cook_id)


def test_that_undo_and_redo_walk_past_what_is_kept(journal: Journal) -> None:
    cook_id, session_id = tasted(journal)
    journal.undo()
    journal.redo()
    (session,) = journal.find(Tasting, id=session_id)
    assert session.revealed
    journal.undo()
    assert "the reveal was undone" in told(journal, cook_id)
    assert journal.steps() == ("Lock the scores", "Reveal the codes")


@pytest.mark.parametrize("seen", [None, *Blindness])
def test_that_eyes_open_is_said_in_the_first_sentence_and_nothing_else_is(
    journal: Journal, seen: Blindness | None
) -> None:
    cook_id, _ = tasted(journal, seen=seen)
    first = words(journal, cook_id)[0]
    assert first.startswith("Tasted with eyes open") is (seen is Blindness.OPEN)
    assert as_json(journal.findings.of(cook_id, UnitSystem.US))["tasted"] == [
        None if seen is None else str(seen)
    ]


def test_that_the_summary_says_it_too(journal: Journal) -> None:
    cook_id, _ = tasted(journal, seen=Blindness.OPEN)
    journal.do(Change(Cook, cook_id, {"outcome": "score.juiciness"}))
    summary = whole_summary(journal, cook_id, Choice(), UnitSystem.US)
    said = json.dumps(summary, default=str)
    assert "the declared outcome was changed from tenderness to juiciness" in said


def test_that_a_journal_from_before_keeps_its_tastings_and_knows_their_history(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "old"
    journal = open_journal(folder, new=True)
    cook_id, _ = tasted(journal)
    journal.do(Change(Cook, cook_id, {"outcome": "yield_off"}))
    journal.close()
    with sqlite3.connect(folder / "journal.sqlite") as connection:
        connection.execute("ALTER TABLE tasting DROP COLUMN seen")
        connection.execute("ALTER TABLE cook DROP COLUMN evened")
        connection.execute("DROP INDEX row_image_by_row")
        connection.execute("UPDATE schema_version SET minor = 1")
    shutil.copytree(folder, tmp_path / "copy")
    journal = open_journal(tmp_path / "copy")
    assert list((tmp_path / "copy" / "backups").glob(f"*before-{MAJOR}.{MINOR}*"))
    assert journal.find(Tasting, cook_id=cook_id)[0].seen is None
    assert "the declared outcome was changed" in told(journal, cook_id)
    journal.close()
