"""A tasting from the draw to the correction, through the journal's own door."""

import re
from collections import Counter
from dataclasses import replace
from datetime import timedelta

import pytest

from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.tasting.totals import totals
from pitjournal.domain.cook import Arm, CookStatus
from pitjournal.domain.record import new_id
from pitjournal.domain.scheme import ANSWER, Scheme
from pitjournal.domain.tasting import Mishap, Score, Session, Tasting, TastingNote
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.schemes import shipped
from pitjournal.files.summary.content import Choice, PrivatePart
from pitjournal.journal import Journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.mishaps import CorrectScore, MarkAbsent, MarkSpilled, SwapScores
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.journal.commands.tasting import GiveAnswer, GiveScore, LockTasting, RevealTasting
from pitjournal.journal.sharing import whole_summary
from pitjournal.units import UnitSystem
from tests.analysis.makers import compared
from tests.builders import NOON, add_comparison

PANEL = ("Ada", "Bruno", "Clio", "Dov", "Elif", "Fee")
LATER = NOON + timedelta(hours=7)


def cooked(journal: Journal) -> WholeCook:
    command = add_comparison()
    journal.do(command)
    return journal.whole(command.cook.id)


def drawn(
    journal: Journal,
    scheme_id: str = "home-panel-1",
    *,
    tasters: tuple[str, ...] = PANEL,
    **more: object,
) -> Session:
    """Draw a session on three arms of three pieces."""
    whole = cooked(journal)
    ways = tuple(arm.id for arm in whole.arms[:2])
    command = DrawTasting(whole.cook.id, tasters, 7, shipped(scheme_id), ways=ways, **more)  # type: ignore[arg-type]
    journal.do(command)
    return now(journal)


def now(journal: Journal) -> Session:
    (tasting,) = journal.find(Tasting)
    return journal.whole(tasting.cook_id).session(tasting)


def score_all(journal: Journal, session: Session, value: float = 6.0) -> None:
    for taster in session.tasting.tasters:
        for sample in session.served(taster):
            for name in session.tasting.criteria:
                journal.do(GiveScore(session.tasting.id, sample.id, taster, name, value))


def reveal(journal: Journal, session: Session) -> None:
    journal.do(LockTasting(session.tasting.id))
    journal.do(RevealTasting(session.tasting.id))


def scores_of(journal: Journal, session: Session) -> dict[str, object]:
    rows = journal.values([session.tasting.cook_id])
    return {key: v for row in rows for key, v in row[3].items() if key.startswith("score.")}


def test_that_codes_have_three_digits_and_each_is_its_own(journal: Journal) -> None:
    session = drawn(journal)
    codes = [sample.code for sample in session.samples]
    assert all(re.fullmatch(r"[1-9]\d\d", code) for code in codes)
    assert len(set(codes)) == 9
    assert all(len(session.served(taster)) == 9 for taster in PANEL)


def test_that_a_session_keeps_the_rules_it_was_drawn_with(journal: Journal) -> None:
    session = drawn(journal, "contest-2")
    assert (session.tasting.scheme, session.tasting.version) == ("contest", 2)
    assert session.tasting.asked == shipped("contest-2").reads


def test_that_a_panel_may_be_served_some_each(journal: Journal) -> None:
    session = drawn(journal, each=5)
    assert all(len(session.served(taster)) == 5 for taster in PANEL)
    assert session.expected("Ada") == 20


def test_that_one_piece_may_be_served_twice(journal: Journal) -> None:
    session = drawn(journal, twice=True)
    pieces = Counter(sample.piece_id for sample in session.samples)
    assert sorted(pieces.values()) == [1] * 8 + [2]
    with pytest.raises(JournalError, match="Serving a piece twice"):
        journal.do(DrawTasting(session.tasting.cook_id, PANEL, 1, twice=True, each=5))
    contest = shipped("contest-2")
    with pytest.raises(JournalError, match="one card a taster"):
        journal.do(DrawTasting(session.tasting.cook_id, PANEL, 1, contest, twice=True))


def test_that_a_warm_up_is_drawn_and_not_scored(journal: Journal) -> None:
    session = drawn(journal, warm_up=True)
    whole = journal.whole(session.tasting.cook_id)
    assert session.tasting.warm_up in {piece.id for piece in whole.pieces}
    assert len(session.samples) == 9


def test_that_a_triangle_serves_two_alike_and_one_other(journal: Journal) -> None:
    session = drawn(journal, "triangle-1")
    odd = Counter[int]()
    for taster in PANEL:
        pieces = [sample.piece_id for sample in session.served(taster)]
        assert sorted(Counter(pieces).values()) == [1, 2]
        odd[next(place for place, p in enumerate(pieces) if pieces.count(p) == 1)] += 1
        assert session.expected(taster) == 1
    assert odd == {0: 2, 1: 2, 2: 2}
    codes = [sample.code for sample in session.samples]
    assert len(set(codes)) == 18


def test_that_portions_of_a_set_come_from_one_pack(journal: Journal) -> None:
    session = drawn(journal, "pair-1")
    whole = journal.whole(session.tasting.cook_id)
    packs = {piece.id: piece.pack for piece in whole.pieces}
    used = Counter[str]()
    for taster in PANEL:
        found = {packs[sample.piece_id] for sample in session.served(taster)}
        assert len(found) == 1
        used.update(found)
    assert set(used.values()) == {2}


def test_that_the_reference_of_a_duo_trio_is_served_first_and_cannot_be_chosen(
    journal: Journal,
) -> None:
    session = drawn(journal, "duo-trio-1", tasters=PANEL[:4])
    for taster in session.tasting.tasters:
        reference, *others = session.served(taster)
        assert (reference.code, reference.reference) == ("R", True)
        assert [sample.piece_id for sample in others].count(reference.piece_id) == 1
    reference = session.served("Ada")[0]
    with pytest.raises(JournalError, match="can't choose R"):
        journal.do(GiveAnswer(session.tasting.id, "Ada", reference.id))


def test_that_a_set_needs_two_ways_with_pieces(journal: Journal) -> None:
    whole = cooked(journal)
    triangle = shipped("triangle-1")
    arms = journal.find(Arm, cook_id=whole.cook.id)
    with pytest.raises(JournalError, match="Choose two"):
        journal.do(DrawTasting(whole.cook.id, PANEL, 1, triangle, ways=(arms[0].id,)))
    pieces = tuple(p.id for p in whole.pieces if p.arm_id == arms[0].id)
    both = (arms[0].id, arms[1].id)
    with pytest.raises(JournalError, match="no piece to taste"):
        journal.do(DrawTasting(whole.cook.id, PANEL, 1, triangle, ways=both, pieces=pieces))


def test_that_an_answer_can_be_changed_and_taken_back(journal: Journal) -> None:
    session = drawn(journal, "triangle-1")
    first, second, _ = session.served("Ada")
    other = session.served("Bruno")[0]
    tasting = session.tasting.id
    journal.do(GiveAnswer(tasting, "Ada", first.id))
    journal.do(GiveAnswer(tasting, "Ada", second.id))
    assert now(journal).given == {(second.id, "Ada", ANSWER): 1.0}
    with pytest.raises(JournalError, match="can't choose"):
        journal.do(GiveAnswer(tasting, "Ada", other.id))
    journal.do(GiveAnswer(tasting, "Ada", None))
    assert not now(journal).given
    with pytest.raises(JournalError, match="is not scored"):
        journal.do(GiveScore(tasting, first.id, "Ada", ANSWER, 1.0))


def test_that_bad_scores_are_refused_with_what_and_where(journal: Journal) -> None:
    session = drawn(journal, "contest-2")
    sample = session.served("Ada")[0]
    tasting = session.tasting.id
    for value in (12.0, float("nan"), 6.5):
        with pytest.raises(JournalError, match=f"{sample.code}, taste: .*2 to 9, or 1 as a pen"):
            journal.do(GiveScore(tasting, sample.id, "Ada", "taste", value))
    with pytest.raises(JournalError, match="Smoke is not scored"):
        journal.do(GiveScore(tasting, sample.id, "Ada", "smoke", 6.0))
    with pytest.raises(JournalError, match="is not served"):
        journal.do(GiveScore(tasting, sample.id, "Nobody", "taste", 6.0))
    with pytest.raises(JournalError, match="scored, not answered"):
        journal.do(GiveAnswer(tasting, "Ada", sample.id))
    assert not journal.find(Score)


def test_that_a_place_is_given_once(journal: Journal) -> None:
    session = drawn(journal, "ranking-1")
    first, second, *_ = session.served("Ada")
    tasting = session.tasting.id
    journal.do(GiveScore(tasting, first.id, "Ada", "place", 2.0))
    with pytest.raises(JournalError, match=f"{second.code}: {first.code} has place 2 already"):
        journal.do(GiveScore(tasting, second.id, "Ada", "place", 2.0))
    journal.do(GiveScore(tasting, first.id, "Ada", "place", 2.0))
    journal.do(GiveScore(tasting, first.id, "Ada", "place", 9.0))
    with pytest.raises(JournalError, match="places 1 to 9"):
        journal.do(GiveScore(tasting, second.id, "Ada", "place", 10.0))


@pytest.mark.parametrize("scheme_id", ["home-panel-1", "contest-2", "triangle-1", "ranking-1"])
def test_that_nothing_is_known_before_the_reveal(journal: Journal, scheme_id: str) -> None:
    """By any way: values, totals, the session a page may show, the findings."""
    session = drawn(journal, scheme_id)
    tasting = session.tasting
    if tasting.asked.scored:
        for taster in tasting.tasters:
            for place, sample in enumerate(session.served(taster), 1):
                for name in tasting.criteria:
                    journal.do(GiveScore(tasting.id, sample.id, taster, name, float(place)))
    else:
        for taster in tasting.tasters:
            journal.do(GiveAnswer(tasting.id, taster, session.served(taster)[1].id))
    for step in (None, LockTasting(tasting.id)):
        if step is not None:
            journal.do(step)
        assert not scores_of(journal, session)
        assert not totals(now(journal))
        assert not now(journal).sealed().scores
        found = journal.findings.of(tasting.cook_id)
        assert all(d.pieces == 0 for d in found.differences if d.key.startswith("score."))
    journal.do(RevealTasting(tasting.id))
    assert bool(scores_of(journal, session)) is tasting.asked.scored
    assert now(journal).sealed().scores


def test_that_a_contest_total_is_a_score_of_the_piece(journal: Journal) -> None:
    session = drawn(journal, "contest-2")
    score_all(journal, session, 9.0)
    reveal(journal, session)
    rows = [row for row in journal.values([session.tasting.cook_id]) if row[2] == "piece"]
    assert [row[3]["score.total (contest)"] for row in rows] == [pytest.approx(180.0)] * 9
    assert "score.total (contest)" in journal.catalogue()


def test_that_a_taster_who_did_not_come_is_not_waited_for(journal: Journal) -> None:
    session = drawn(journal)
    tasting = session.tasting.id
    journal.do(MarkAbsent(tasting, "Dov", LATER))
    assert now(journal).expected("Dov") == 0
    assert "Dov" not in now(journal).present
    with pytest.raises(JournalError, match="already"):
        journal.do(MarkAbsent(tasting, "Dov", LATER))
    with pytest.raises(JournalError, match="not at this tasting"):
        journal.do(MarkAbsent(tasting, "Gus", LATER))
    journal.do(GiveScore(tasting, session.samples[0].id, "Ada", "tenderness", 5.0))
    with pytest.raises(JournalError, match="has scored already"):
        journal.do(MarkAbsent(tasting, "Ada", LATER))
    journal.undo()
    journal.undo()
    assert now(journal).expected("Dov") == 36


def test_that_a_lost_sample_takes_its_scores_with_it(journal: Journal) -> None:
    session = drawn(journal)
    tasting, sample = session.tasting.id, session.served("Ada")[3]
    journal.do(GiveScore(tasting, sample.id, "Ada", "tenderness", 5.0))
    journal.do(MarkSpilled(tasting, "Ada", sample.id, LATER))
    after = now(journal)
    assert not after.scores
    assert sample not in after.served("Ada")
    assert sample in after.served("Bruno")
    assert after.expected("Ada") == 32
    assert after.notes[0].said == f"{sample.code} of Ada was lost, 1 score with it"
    with pytest.raises(JournalError, match="already"):
        journal.do(MarkSpilled(tasting, "Ada", sample.id, LATER))


def test_that_two_samples_swap_all_their_scores(journal: Journal) -> None:
    session = drawn(journal)
    tasting, (one, two, three, *_) = session.tasting.id, session.served("Ada")
    journal.do(GiveScore(tasting, one.id, "Ada", "tenderness", 5.0))
    journal.do(GiveScore(tasting, two.id, "Ada", "tenderness", 8.0))
    journal.do(GiveScore(tasting, two.id, "Ada", "flavour", 3.0))
    journal.do(GiveScore(tasting, two.id, "Bruno", "flavour", 9.0))
    journal.do(SwapScores(tasting, "Ada", one.id, two.id, LATER))
    assert now(journal).given == {
        (two.id, "Ada", "tenderness"): 5.0,
        (one.id, "Ada", "tenderness"): 8.0,
        (one.id, "Ada", "flavour"): 3.0,
        (two.id, "Bruno", "flavour"): 9.0,
    }
    journal.undo()
    assert now(journal).given[one.id, "Ada", "tenderness"] == 5.0
    with pytest.raises(JournalError, match="with itself"):
        journal.do(SwapScores(tasting, "Ada", one.id, one.id, LATER))
    with pytest.raises(JournalError, match="scored neither"):
        journal.do(SwapScores(tasting, "Bruno", one.id, three.id, LATER))


def test_that_a_locked_score_changes_only_with_a_reason_that_is_kept(journal: Journal) -> None:
    session = drawn(journal)
    tasting, sample = session.tasting.id, session.served("Ada")[0]
    score_all(journal, session)
    correct = CorrectScore(tasting, "Ada", sample.id, "flavour", 8.0, LATER, "read 6 for 8")
    with pytest.raises(JournalError, match="not locked"):
        journal.do(correct)
    reveal(journal, session)
    with pytest.raises(JournalError, match="locked"):
        journal.do(GiveScore(tasting, sample.id, "Ada", "flavour", 8.0))
    for command in (
        CorrectScore(tasting, "Ada", sample.id, "flavour", 8.0, LATER, " "),
        MarkSpilled(tasting, "Ada", sample.id, LATER),
        SwapScores(tasting, "Ada", sample.id, session.served("Ada")[1].id, LATER),
    ):
        with pytest.raises(JournalError, match=r"reason|Write down why"):
            journal.do(command)
    journal.do(correct)
    assert now(journal).given[sample.id, "Ada", "flavour"] == 8.0
    (note,) = journal.find(TastingNote)
    assert note.mishap is Mishap.CORRECTED
    assert note.said == f"{sample.code}, flavour, of Ada: 8 instead of 6"
    assert note.why == "read 6 for 8"
    with pytest.raises(JournalError, match="that already"):
        journal.do(correct)
    with pytest.raises(JournalError, match="1 to 9"):
        journal.do(CorrectScore(tasting, "Ada", sample.id, "flavour", 11.0, LATER, "because"))


def test_that_an_answer_is_corrected_with_a_reason(journal: Journal) -> None:
    session = drawn(journal, "triangle-1")
    tasting, (one, two, _) = session.tasting.id, session.served("Ada")
    journal.do(GiveAnswer(tasting, "Ada", one.id))
    reveal(journal, session)
    journal.do(CorrectScore(tasting, "Ada", two.id, ANSWER, None, LATER, "pointed at the other"))
    assert now(journal).given == {(two.id, "Ada", ANSWER): 1.0}
    assert now(journal).notes[0].said == f"Ada chose {two.code}, not {one.code}"
    with pytest.raises(JournalError, match=r"chose .* already"):
        journal.do(CorrectScore(tasting, "Ada", two.id, ANSWER, None, LATER, "again"))


def test_that_a_kind_taster_does_not_lift_the_pieces_served_to_him(journal: Journal) -> None:
    """Every piece is worth 5; Ada gives 2 more. Served some each, all pieces still come out even.

    With the levels set even, each piece has 5 + the mean level of the tasters, 2 ÷ 6.
    """
    session = drawn(journal, each=5)
    for taster in PANEL:
        for sample in session.served(taster):
            value = 7.0 if taster == "Ada" else 5.0
            journal.do(GiveScore(session.tasting.id, sample.id, taster, "tenderness", value))
    reveal(journal, session)
    rows = [row for row in journal.values([session.tasting.cook_id]) if row[2] == "piece"]
    assert [row[3]["score.tenderness"] for row in rows] == [pytest.approx(5 + 2 / 6)] * 9


def test_that_a_draw_needs_pieces_tasters_and_a_scheme_that_works(journal: Journal) -> None:
    whole = cooked(journal)
    cook = whole.cook.id
    with pytest.raises(JournalError, match="nothing to taste"):
        journal.do(DrawTasting(cook, PANEL, 1, pieces=("none",)))
    with pytest.raises(JournalError, match="needs a taster"):
        journal.do(DrawTasting(cook, (), 1))
    with pytest.raises(JournalError, match="needs something to score"):
        journal.do(DrawTasting(cook, PANEL, 1, Scheme(name="empty")))
    many = tuple(f"taster {number}" for number in range(301))
    ways = tuple(arm.id for arm in whole.arms[:2])
    with pytest.raises(JournalError, match="too many portions"):
        journal.do(DrawTasting(cook, many, 1, shipped("triangle-1"), ways=ways))
    journal.do(DrawTasting(cook, PANEL, 1, criteria=("flavour",)))
    assert now(journal).tasting.criteria == ("flavour",)


def test_that_more_samples_than_codes_are_refused(journal: Journal) -> None:
    whole = cooked(journal)
    pieces = tuple(
        replace(whole.pieces[0], id=new_id(), position=number, label=str(number))
        for number in range(901)
    )
    journal.do(Add(pieces, "Add pieces"))
    with pytest.raises(JournalError, match="three-digit codes"):
        journal.do(DrawTasting(whole.cook.id, ("Ada",), 1))


def test_that_a_score_can_be_cleared_and_the_steps_come_in_order(journal: Journal) -> None:
    session = drawn(journal)
    tasting, sample = session.tasting.id, session.served("Ada")[0]
    with pytest.raises(JournalError, match="no scores yet"):
        journal.do(LockTasting(tasting))
    journal.do(GiveScore(tasting, sample.id, "Ada", "flavour", 5.0))
    journal.do(GiveScore(tasting, sample.id, "Ada", "flavour", None))
    assert not now(journal).scores
    journal.do(GiveScore(tasting, sample.id, "Ada", "flavour", 5.0))
    with pytest.raises(JournalError, match="Lock the scores before"):
        journal.do(RevealTasting(tasting))
    journal.do(LockTasting(tasting))
    with pytest.raises(JournalError, match="locked already"):
        journal.do(LockTasting(tasting))


def test_that_what_is_not_on_the_sheet_can_be_neither_lost_nor_swapped(journal: Journal) -> None:
    session = drawn(journal, "duo-trio-1")
    tasting, (reference, one, two) = session.tasting.id, session.served("Ada")
    other = session.served("Bruno")[1]
    journal.do(GiveAnswer(tasting, "Ada", one.id))
    with pytest.raises(JournalError, match="reference is not scored"):
        journal.do(SwapScores(tasting, "Ada", reference.id, two.id, LATER))
    with pytest.raises(JournalError, match="is not served"):
        journal.do(MarkSpilled(tasting, "Ada", other.id, LATER))
    journal.do(SwapScores(tasting, "Ada", one.id, two.id, LATER))
    assert now(journal).given == {(two.id, "Ada", ANSWER): 1.0}
    journal.do(MarkSpilled(tasting, "Bruno", other.id, LATER))
    assert now(journal).notes[-1].said == f"{other.code} of Bruno was lost"


def test_that_a_set_with_a_lost_portion_is_left_out(journal: Journal) -> None:
    session = drawn(journal, "triangle-1")
    tasting, (one, two, _) = session.tasting.id, session.served("Ada")
    journal.do(GiveAnswer(tasting, "Ada", one.id))
    journal.do(MarkSpilled(tasting, "Ada", two.id, LATER))
    after = now(journal)
    assert not after.scores
    assert after.notes[0].said == f"{two.code} of Ada was lost, 1 answer with it"
    assert (after.expected("Ada"), after.expected("Bruno")) == (0, 1)
    with pytest.raises(JournalError, match="had a portion lost"):
        journal.do(GiveAnswer(tasting, "Ada", one.id))


def test_that_taking_the_reveal_back_hides_the_scores_again(journal: Journal) -> None:
    session = drawn(journal)
    score_all(journal, session)
    reveal(journal, session)
    assert scores_of(journal, session)
    journal.undo()
    assert not scores_of(journal, session)
    assert not now(journal).sealed().scores


def test_that_a_lost_portion_takes_two_scores_with_it_and_says_so(journal: Journal) -> None:
    session = drawn(journal)
    tasting, sample = session.tasting.id, session.served("Ada")[0]
    for name in ("flavour", "tenderness"):
        journal.do(GiveScore(tasting, sample.id, "Ada", name, 5.0))
    journal.do(MarkSpilled(tasting, "Ada", sample.id, LATER))
    assert now(journal).notes[0].said.endswith("2 scores with it")


# who met one arm alone


def served_two_each(journal: Journal, served: dict[str, tuple[int, int]]) -> str:
    """Return the id of a cook of four pieces in two arms, of which each taster scored two."""
    whole = compared(("Left alone", "Injected"), ((4.0, 4.0), (8.0, 8.5)), packs=False)
    (session,) = whole.tastings
    places = {t: [whole.samples[place].id for place in own] for t, own in served.items()}
    tasting = replace(session, tasters=tuple(served), orders=places)
    scores = [
        replace(whole.scores[place], id=new_id(), taster=taster)
        for taster, own in served.items()
        for place in own
    ]
    parts = (*whole.arms, *whole.pieces, tasting, *whole.samples, *scores)
    journal.do(AddCook(replace(whole.cook, status=CookStatus.DONE), parts))
    return whole.cook.id


def test_that_no_tasters_name_leaves_with_a_summary_that_keeps_them(journal: Journal) -> None:
    cook_id = served_two_each(journal, {"Ada": (2, 3), "Ben": (0, 1), "Cal": (0, 2)})
    said = str(whole_summary(journal, cook_id, Choice()))
    assert "one taster tasted nothing but" in said
    assert not any(name in said for name in ("Ada", "Ben", "Cal"))
    named = str(whole_summary(journal, cook_id, Choice(parts=frozenset({PrivatePart.TASTERS}))))
    assert "Ada, Ben, Cal" in named


def test_that_a_taster_of_one_arm_alone_is_told_before_the_answer(journal: Journal) -> None:
    cook_id = served_two_each(journal, {"Ada": (2, 3), "Ben": (0, 1), "Cal": (0, 2)})
    found = journal.findings.of(cook_id, UnitSystem.US)
    assert found.words[0] == (
        "One taster tasted nothing but injected racks and one taster tasted nothing but racks left alone. How "
        "kind such tasters may be cannot be told apart from the arm, and the interval knows nothing of it: "
        "whatever differs may come from who tasted what."
    )
    assert as_json(found)["one_arm_tasters"] == [
        {"taster": "Ada", "arm": "Injected", "hardly_any_of": []},
        {"taster": "Ben", "arm": "Left alone", "hardly_any_of": []},
    ]
    (row,) = [row for row in as_json(found)["differences"] if row["declared"]]
    assert row["not_told_apart_from"] == [{"cook": 1, "what": ["who tasted it"]}]
    claimed = "higher" in row["verdict"] or "lower" in row["verdict"]
    assert row["verdict"].endswith("by the arm or by who tasted it") == claimed


def test_that_tasters_of_both_arms_are_not_named(journal: Journal) -> None:
    cook_id = served_two_each(journal, {"Ada": (0, 2), "Ben": (1, 3), "Cal": (0, 3)})
    found = journal.findings.of(cook_id, UnitSystem.US)
    assert not found.one_arm
    assert "How kind" not in " ".join(found.words)


def test_that_a_draw_of_some_each_gives_everyone_both_arms(journal: Journal) -> None:
    whole = compared(("Left alone", "Injected"), ((4.0, 4.0), (8.0, 8.5)), packs=False)
    journal.do(AddCook(whole.cook, (*whole.arms, *whole.pieces)))
    arm_of = {piece.id: piece.arm_id for piece in whole.pieces}
    for seed in range(20):
        journal.do(DrawTasting(whole.cook.id, PANEL[:3], seed, each=2))
        session = now(journal)
        for taster in PANEL[:3]:
            assert len({arm_of[sample.piece_id] for sample in session.served(taster)}) == 2
        journal.undo()


def test_that_tasters_who_agree_exactly_say_the_same_by_the_panel_model(journal: Journal) -> None:
    """By hand: 5, 6, 5 against 7, 6, 8 is 21 ÷ 3 − 16 ÷ 3, whatever the lot gave for an order."""
    scores, told = ((5.0, 6.0, 5.0), (7.0, 6.0, 8.0)), list[str]()
    for seed in range(8):
        whole = compared(("Left alone", "Injected"), scores, packs=False)
        journal.do(AddCook(whole.cook, (*whole.arms, *whole.pieces)))
        journal.do(DrawTasting(whole.cook.id, PANEL[:3], seed))
        (tasting,) = journal.find(Tasting, cook_id=whole.cook.id)
        session = journal.whole(whole.cook.id).session(tasting)
        given = {score.sample_id: score.value for score in whole.scores}
        by_piece = {sample.piece_id: given[sample.id] for sample in whole.samples}
        for taster in PANEL[:3]:
            for sample in session.served(taster):
                value = by_piece[sample.piece_id]
                for name in tasting.criteria:
                    journal.do(GiveScore(tasting.id, sample.id, taster, name, value))
        journal.do(LockTasting(tasting.id))
        journal.do(RevealTasting(tasting.id))
        told += [
            scale.words[0]
            for scale in journal.findings.slow(whole.cook.id).scales
            if "kindness" in scale.title
        ]
    assert told
    assert all(one.startswith("Injected: +1.67") for one in told)
