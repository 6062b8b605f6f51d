"""Several cooks of one comparison, through the journal's own door, with the words a cook reads.

The numbers are worked by hand beside each; the methods are held to their sources in
tests/science (test_pooled, test_series, test_moderated, test_equivalence).
"""

import json
import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from scipy import stats

from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.findings.comparison import Difference
from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.findings.like import EVERY_CUT
from pitjournal.analysis.findings.next_cook import suggestions
from pitjournal.analysis.trade_words import pieces_of
from pitjournal.app import main
from pitjournal.domain.cook import Arm, CookStatus
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.bench import Choose
from pitjournal.journal.commands.records import AddCook, Change
from pitjournal.units import UnitSystem
from tests.analysis.makers import CATALOGUE, compared
from tests.journal.findings.series import add_cook, add_two_by_two, differing

NEEDLED = (TreatmentKind.NONE, TreatmentKind.NEEDLED)
THREE = (TreatmentKind.NONE, TreatmentKind.INJECTED, TreatmentKind.NEEDLED)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    made = open_journal(tmp_path / "journal", new=True)
    yield made
    made.close()


def found(journal: Journal, cook_id: str) -> Findings:
    return journal.findings.of(cook_id, UnitSystem.US)


def rows(journal: Journal, cook_id: str) -> list[dict[str, Any]]:
    """Return the differences in the declared outcome as the command line answers them."""
    answer = as_json(found(journal, cook_id))
    return [row for row in answer["differences"] if row["declared"]]


# joined, with a floor


def test_that_cooks_that_agree_by_chance_are_no_surer_than_their_pieces(journal: Journal) -> None:
    ids = [add_cook(journal, differing(e, -0.6, 0.0, 0.6)) for e in (0.9, 1.0, 1.1)]
    (joined,) = found(journal, ids[-1]).across
    # Pairs scatter by 0.6, so a mean of three by 0.6 ÷ √3 and one of nine by 0.2; Q is less than
    # k − 1. Student's table: t 4.3027 at two degrees of freedom.
    assert joined.estimate == pytest.approx(1.0)
    assert joined.se == pytest.approx(0.2)
    assert joined.low == pytest.approx(1 - 4.3027 * 0.2, abs=1e-4)


def test_that_cooks_contradicting_each_other_are_said_to_with_each_difference(
    journal: Journal,
) -> None:
    effects = (1.5, -1.25, 1.75, -1.5)
    ids = [add_cook(journal, differing(e, -0.1, 0.0, 0.1)) for e in effects]
    said = found(journal, ids[-1]).words[0]
    assert said.startswith("Injected racks: the cooks contradict each other in tenderness: cook 1 ")
    for number, effect in enumerate(effects, 1):
        sign = "+" if effect > 0 else "−"
        assert f"cook {number} {sign}{abs(effect):g} points" in said
    assert "not enough to tell" not in said
    first = suggestions(found(journal, ids[-1]), journal.whole(ids[-1]), UnitSystem.US)[0]
    assert first.heading == "Find what parted the cooks"
    assert "cook 4 and cook 3 lie furthest apart" in first.words
    joined = rows(journal, ids[-1])[-1]
    assert joined["verdict"] == "the cooks contradict each other"
    assert [cook["estimate"] for cook in joined["by_cook"]] == pytest.approx(effects)
    assert joined["between"]["p"] < 0.05


def test_that_arms_of_joined_cooks_are_held_to_one_chance(journal: Journal) -> None:
    left = (-0.6, 0.0, 0.6)
    both = [differing(1.2, *left)[0], differing(1.2, *left)[1], differing(0.1, 0.6, 0.0, -0.6)[1]]
    ids = [add_cook(journal, both, kinds=THREE) for _ in range(4)]
    injected, needled = found(journal, ids[-1]).across
    # Four cooks that agree are held to 1 %, by Student's t on all their pieces; two arms to half.
    assert injected.se is not None
    assert injected.series.df is not None
    raw = 2 * float(stats.t.sf(injected.estimate / injected.se, injected.series.df))
    assert injected.series.p == pytest.approx(2 * raw * 0.05 / 0.01)
    assert needled.series.p >= injected.series.p
    # And with each cook as one answer, on three degrees of freedom, two arms to half of 5 %.
    once = 2 * float(stats.t.sf(injected.estimate / injected.se, 3))
    assert injected.p == pytest.approx(once)
    assert rows(journal, ids[-1])[-2]["p_corrected"] == pytest.approx(2 * once)
    assert 2 * once < 0.05
    assert injected.tells
    assert not needled.tells
    words = next(one for one in found(journal, ids[-1]).words if one.startswith("Over four cooks"))
    assert "it is held to the 99 % interval" in words
    assert "so few cooks may hide one" in words


def test_that_an_arm_that_a_second_arm_takes_the_proof_from_is_not_said_to_differ(
    journal: Journal,
) -> None:
    left = (-0.6, 0.0, 0.6)
    both = [differing(0.9, *left)[0], differing(0.9, *left)[1], differing(0.1, 0.6, 0.0, -0.6)[1]]
    ids = [add_cook(journal, both, kinds=THREE) for _ in range(4)]
    injected, _ = found(journal, ids[-1]).across
    # All pieces together pass this look; by cooks p is 0.035, and 0.07 over two arms.
    assert injected.series.p < 0.05
    joined = rows(journal, ids[-1])[-2]
    assert joined["p"] == pytest.approx(0.0349, abs=1e-4)
    assert joined["p_corrected"] == pytest.approx(2 * joined["p"])
    assert joined["verdict"] == "not enough to tell"
    assert joined["looks"]["by"] == "pieces"
    said = " ".join(found(journal, ids[-1]).words)
    assert "four cooks of the same comparison are not enough to tell (+0.9 points" in said
    assert "told by all their pieces" in said or "All their pieces together would tell" in said


# no cook knows its own spread


def one_each(journal: Journal, effects: tuple[float, ...]) -> list[str]:
    """Add cooks of one piece an arm that differ by so much."""
    return [add_cook(journal, ((5.0,), (5.0 + effect,))) for effect in effects]


def test_that_cooks_of_one_piece_an_arm_are_joined_by_cooks(journal: Journal) -> None:
    ids = one_each(journal, (1.0, 2.0, 1.0, 3.0, 2.0))
    (joined,) = found(journal, ids[-1]).across
    # Mean 9 ÷ 5; squares about it 0.64 + 0.04 + 0.64 + 1.44 + 0.04 = 2.8, ÷ 4 ÷ 5; t 2.7764.
    assert joined.estimate == pytest.approx(1.8)
    assert joined.se == pytest.approx(math.sqrt(2.8 / 4 / 5))
    assert joined.low == pytest.approx(1.8 - 2.7764 * math.sqrt(0.14), abs=1e-4)
    said = found(journal, ids[-1]).words[0]
    assert "+1.8 points in tenderness, 95 % interval +0.76 to +2.84 points; 10 racks" in said
    assert "cook 1 +1 point, cook 2 +2 points, cook 3 +1 point" in said
    # p 0.0086 at four degrees of freedom; looked at after every cook, 0.008 is what it is held to.
    assert joined.series.level == 0.008
    assert not joined.tells
    assert rows(journal, ids[-1])[-1]["cooks"] == 5


def test_that_cooks_of_one_piece_that_agree_well_tell_together(journal: Journal) -> None:
    ids = one_each(journal, (1.9, 2.0, 2.1, 2.0, 1.9))
    assert found(journal, ids[-1]).words[0].startswith("Over five cooks injected racks were 1.98 ")
    assert found(journal, ids[2]).across[0].low is not None


@pytest.mark.parametrize("pieces", [1, 3])
def test_that_cooks_that_do_not_scatter_at_all_are_each_named(
    journal: Journal, pieces: int
) -> None:
    ids = [add_cook(journal, differing(2.0, *(0.0,) * pieces)) for _ in range(4)]
    said = found(journal, ids[-1]).words[0]
    assert said.startswith("Over four cooks: injected racks +2 points in tenderness")
    assert "cook 1 +2 points, cook 2 +2 points, cook 3 +2 points, cook 4 +2 points" in said
    assert "no interval, as the cooks do not scatter" in said
    assert as_json(found(journal, ids[-1]))


# looking after every cook


def test_that_a_first_cook_tells_and_a_later_one_is_one_look_of_a_series(journal: Journal) -> None:
    first = add_cook(journal, differing(1.0, -0.1, 0.0, 0.1))
    assert found(journal, first).words[0].startswith("Injected racks were 1 point more tender")
    ids = [add_cook(journal, differing(e, -0.1, 0.0, 0.1)) for e in (0.95, 1.05)]
    said = found(journal, ids[-1]).words[0]
    assert said.startswith("Over three cooks injected racks were 1 point more tender")
    assert "This cook alone: +1.05 points (95 % interval" in said
    assert [row["verdict"] for row in rows(journal, ids[-1])] == ["one of several cooks", "higher"]


def test_that_a_telling_cook_after_others_that_told_nothing_is_no_finding(
    journal: Journal,
) -> None:
    ids = [add_cook(journal, differing(e, -0.4, 0.0, 0.4)) for e in (0.0, 0.1, -0.1, 0.0)]
    last = add_cook(journal, differing(0.3, -0.05, 0.0, 0.05))
    (own,) = found(journal, last).declared
    assert own.p is not None
    assert own.p < 0.035  # by itself it would be
    said = " ".join(found(journal, last).words)
    assert "more tender" not in said
    assert "five cooks of the same comparison are not enough to tell" in said
    assert ids


def test_that_the_list_says_of_a_cook_what_its_series_says_as_findings_do(
    journal: Journal,
) -> None:
    ids = [add_cook(journal, differing(1.0, -0.1, 0.0, 0.1)) for _ in range(2)]
    alone = add_cook(journal, differing(1.0, -0.1, 0.0, 0.1), cut="pork butt")
    said = journal.findings.headlines([*ids, alone], UnitSystem.US)
    assert said[ids[0]] == said[ids[1]] == "Injected: tenderness +1 point, over two cooks"
    assert found(journal, ids[0]).words[0].startswith("Over two cooks injected racks were 1 point")
    assert said[alone] == "Injected: tenderness +1 point"
    ids += [add_cook(journal, differing(e, -0.1, 0.0, 0.1)) for e in (1.1, 0.9)]
    said = journal.findings.headlines(ids, UnitSystem.US)
    assert set(said.values()) == {"Injected: tenderness +1 point, over four cooks"}
    assert all(found(journal, one).across[0].tells for one in ids)


def test_that_the_list_says_that_cooks_contradict_each_other_or_differ_by_too_little(
    journal: Journal,
) -> None:
    ids = [add_cook(journal, differing(e, -0.1, 0.0, 0.1)) for e in (1.5, -1.25, 1.75, -1.5)]
    (said,) = set(journal.findings.headlines(ids, UnitSystem.US).values())
    assert said == "Injected: the cooks contradict each other, over four cooks"
    small = [
        add_cook(journal, differing(e, -0.2, 0.0, 0.2), cut="pork butt", worth=2.0)
        for e in (0.0, 0.1, -0.1, 0.0)
    ]
    (said,) = set(journal.findings.headlines(small, UnitSystem.US).values())
    assert said == "no difference that matters, over four cooks"
    one = add_cook(journal, differing(0.0, -0.1, 0.0, 0.1), cut="brisket flat", worth=2.0)
    assert journal.findings.headlines([one], UnitSystem.US)[one] == "no difference that matters"
    assert "no difference that matters to you" in found(journal, one).words[0]


def test_that_a_joined_verdict_says_first_in_how_many_cooks_the_arm_had_company(
    journal: Journal,
) -> None:
    ids = [add_cook(journal, differing(1.0, -0.1, 0.0, 0.1)) for _ in range(3)]
    apart = add_cook(journal, differing(1.0, -0.1, 0.0, 0.1), packs=False)
    for piece in journal.whole(apart).pieces:
        grade = "choice" if piece.label.startswith("A") else "select"
        journal.do(Change(Piece, piece.id, {"grade": grade}))
    words = found(journal, ids[0]).words
    told = next(one for one in words if "more tender than" in one)
    start = (
        "In one of four cooks by the arm or by the grade, they cannot say which: over four cooks"
    )
    assert told.startswith(start)
    assert words[0].startswith("Among the cooks joined, an arm cannot be told apart")
    joined = rows(journal, ids[0])[-1]
    assert joined["verdict"] == "higher, in 1 of 4 cooks by the arm or by the grade"
    assert joined["not_told_apart_from"] == [{"cook": 4, "what": ["grade"]}]
    assert "one spread for all cooks" in told
    assert joined["between"]["one_spread"] is True


def test_that_what_looking_costs_is_said_in_how(journal: Journal) -> None:
    from pitjournal.analysis.findings.explain import explanations  # noqa: PLC0415 - for one test
    from pitjournal.analysis.findings.slow_findings import SlowFindings  # noqa: PLC0415 - only here

    ids = [add_cook(journal, differing(e, -0.6, 0.0, 0.6)) for e in (0.3, 0.4, 0.2, 0.3)]
    how = dict(explanations(found(journal, ids[-1]), SlowFindings(), UnitSystem.US))
    looking = how["Looking after every cook"]
    assert "Lan & DeMets (1983)" in looking.source
    assert "It costs power" in looking.assumptions
    # Student's table, 8 degrees of freedom: 3.3554 at 1 % and 2.3060 at 5 %.
    assert f"{3.3554 / 2.3060:.2f} times as long as looked at once" in looking.data
    assert "max(1, Q ÷ (k − 1))" in how["Injected over several cooks"].formula


def test_that_a_two_by_two_cooked_again_is_one_look_of_several(journal: Journal) -> None:
    left = (-0.6, 0.0, 0.6)
    steps = (left, left[::-1], (0.6, -0.6, 0.0))
    arms = [tuple(5.2 + step for step in own) for own in steps]
    ids = [add_two_by_two(journal, [(5.0, 5.0, 5.0), *arms]) for _ in range(2)]
    said = " ".join(found(journal, ids[1]).words)
    assert "two cooks of the same comparison are not enough to tell (+0.2 points" in said
    assert "This cook alone, with and without the other, in tenderness" in said
    assert "12 racks, one of several cooks." in said
    assert "more tender" not in said


# like with like


def test_that_a_cut_joins_its_own_and_others_are_named_and_joined_when_asked(
    journal: Journal, capsys: pytest.CaptureFixture[str]
) -> None:
    left = (-0.3, 0.0, 0.3)
    add_cook(journal, differing(0.5, *left), cut="Spare ribs, St Louis cut")
    add_cook(journal, differing(0.5, *left), cut="pork butt")
    last = add_cook(journal, differing(0.5, *left))
    got = found(journal, last)
    assert [len(joined.cooks) for joined in got.across] == [2]
    beside = (
        "One cook made the same comparison with another cut (cook 2, pork butt) and is not joined."
    )
    assert beside in got.words
    folder = str(journal.folder)
    asked = journal.findings.of(last, UnitSystem.US, every_cut=True)
    assert [len(joined.cooks) for joined in asked.across] == [3]
    assert "is joined as you asked" in asked.words[-1]
    journal.do(Choose(EVERY_CUT + last, "yes", "Join other cuts"))
    assert len(found(journal, last).across[0].cooks) == 3
    journal.undo()
    assert len(found(journal, last).across[0].cooks) == 2
    journal.close()
    for flags, cooks in (([], 2), (["--every-cut"], 3)):
        assert main(["findings", folder, "3", "--json", *flags]) == 0
        answer = json.loads(capsys.readouterr().out)
        assert answer["differences"][-1]["cooks"] == cooks
        assert answer["other_cuts"]["joined"] is bool(flags)
        assert [cook["cuts"] for cook in answer["other_cuts"]["cooks"]] == [["pork butt"]]


def test_that_cooks_of_another_cut_alone_are_still_named(journal: Journal) -> None:
    add_cook(journal, differing(0.5, -0.3, 0.0, 0.3), cut="brisket")
    last = add_cook(journal, differing(0.5, -0.3, 0.0, 0.3))
    got = found(journal, last)
    assert not got.across
    assert "(cook 1, brisket) and is not joined" in got.words[-1]


# what is not joined, or joined under another name


def test_that_a_cook_with_another_control_is_named_and_not_joined(journal: Journal) -> None:
    left = (-0.3, 0.0, 0.3)
    add_cook(journal, differing(0.5, *left), kinds=(TreatmentKind.BRINED, TreatmentKind.INJECTED))
    last = add_cook(journal, differing(0.5, *left))
    assert (
        "One cook held the same arm against another control (cook 1, against Brined) and is not "
        "joined."
    ) in found(journal, last).words


def test_that_an_arm_joined_by_what_was_done_is_named_where_it_is_called_otherwise(
    journal: Journal,
) -> None:
    left = (-0.3, 0.0, 0.3)
    first = add_cook(journal, differing(0.5, *left))
    arm = next(arm for arm in journal.whole(first).arms if not arm.control)
    journal.do(Change(Arm, arm.id, {"name": "Dry"}))
    last = add_cook(journal, differing(0.5, *left))
    assert len(found(journal, last).across[0].cooks) == 2
    assert (
        "Joined by what was done, not by name: “Dry” of cook 1 as “Injected”."
        in found(journal, last).words
    )


def test_that_ten_cooks_of_another_cut_are_said_to_be_ten_with_the_newest_named(
    journal: Journal,
) -> None:
    for _ in range(10):
        add_cook(journal, differing(0.5, -0.3, 0.3), cut="brisket")
    last = add_cook(journal, differing(0.5, -0.3, 0.3))
    said = found(journal, last).words[-1]
    assert said.startswith("Ten cooks made the same comparison with other cuts (the newest eight: ")
    assert "cook 3, brisket" in said
    assert "cook 2, brisket" not in said


# words of one cook


def weighed(journal: Journal, on_off: list[tuple[float, float]]) -> str:
    """Add a cook of the yield of four pieces, the first two left alone; return its id."""
    whole = compared(("Left alone", "Injected"), ((5.0, 5.0), (5.0, 5.0)), packs=False)
    cook = replace(whole.cook, outcome="yield_off", status=CookStatus.DONE)
    weights = [
        Weighing(cook_id=cook.id, piece_id=piece.id, mass=mass, stage=stage)
        for piece, both in zip(whole.pieces, on_off, strict=True)
        for mass, stage in zip(both, (Stage.TRIMMED, Stage.OFF), strict=True)
    ]
    journal.do(AddCook(cook, (*whole.arms, *whole.pieces, *weights)))
    return cook.id


def test_that_yields_differ_by_percentage_points_and_meat_that_grew_is_named(
    journal: Journal,
) -> None:
    shrunk = [(900.0, 150.0), (900.0, 150.0), (900.0, 750.0), (900.0, 750.0)]
    said = " ".join(found(journal, weighed(journal, shrunk)).words)
    assert "66.7 percentage points" in said
    assert "yielded 66.7 %" not in said
    grown = [(900.0, 600.0), (900.0, 600.0), (900.0, 1200.0), (900.0, 1200.0)]
    said = " ".join(found(journal, weighed(journal, grown)).words)
    assert "percentage points" not in said  # no difference is made of what cannot be
    assert "No yield is worked out" in said
    assert "B1 and B2 weighed more when they came off than before" in said


def test_that_what_a_scale_cannot_hold_is_not_said_to_be_shown() -> None:
    from pitjournal.analysis.findings.wording import _why_not  # noqa: PLC0415 - for one test

    wide = Difference(
        "b", "B", 1, "score.tenderness", True, 1.0, -40.0, 42.0, 0.8, None, 4, 2, 49.0, "", ""
    )
    scale = replace(CATALOGUE["score.tenderness"], ends=(1.0, 9.0))
    assert _why_not(wide, scale, UnitSystem.US).endswith("shown nothing on this scale.")


@pytest.mark.parametrize(
    ("arm", "noun", "says"),
    [
        ("Injected", "belly", "injected bellies"),
        ("Ours", "butt", "butts of “Ours”"),
        ("Left alone", "belly", "bellies left alone"),
        ("Brined", "half", "brined halves"),
    ],
)
def test_that_several_pieces_are_called_as_a_cook_would(arm: str, noun: str, says: str) -> None:
    assert pieces_of(arm, noun) == says


# the spread of one's own past cooks


def test_that_three_past_cooks_lend_their_spread_and_two_do_not(journal: Journal) -> None:
    for spread in (0.5, 0.4):
        add_cook(journal, differing(0.0, -spread, 0.0, spread), kinds=NEEDLED)
    two = add_cook(journal, differing(1.0, -0.5, 0.0, 0.5))
    (own,) = found(journal, two).declared
    assert own.borrowed is None
    add_cook(journal, differing(0.2, -0.6, 0.0, 0.6), kinds=(NEEDLED[0], TreatmentKind.BRINED))
    last = add_cook(
        journal, differing(1.0, -0.5, 0.0, 0.5), kinds=(NEEDLED[0], TreatmentKind.DRY_BRINED)
    )
    (lent,) = found(journal, last).declared
    assert lent.borrowed is not None
    assert lent.borrowed.cooks == 4
    # Pairs of 0.4 to 0.6, so pieces of 0.16 to 0.36 ÷ 2 a square: alike, so the common variance
    # (0.25 + 0.16 + 0.25 + 0.36 + 0.25) ÷ 10 = 0.127 counts for four degrees of freedom beside the
    # own 0.125 on two: (4 × 0.127 + 2 × 0.125) ÷ 6, times 2 ÷ 3; t 2.4469 at six degrees.
    half = 2.4469 * math.sqrt((4 * 0.127 + 2 * 0.125) / 6 * 2 / 3)
    assert lent.borrowed.low == pytest.approx(1.0 - half, abs=1e-4)
    assert lent.low == pytest.approx(1.0 - 4.3027 * 0.5 / math.sqrt(3), abs=1e-4)
    said = found(journal, last).words[0]
    assert "spread borrowed from your last four cooks; three racks of each" in said
    (row,) = rows(journal, last)
    assert row["low"] == pytest.approx(lent.low)
    assert row["borrowed"]["low"] == pytest.approx(lent.borrowed.low)
    assert row["borrowed"]["cooks"] == 4


def test_that_only_pieces_of_the_same_cut_and_the_same_kind_of_pairs_lend(journal: Journal) -> None:
    for place in range(4):
        cut = "pork butt" if place % 2 else "St. Louis ribs"
        add_cook(
            journal, differing(0.0, -0.5, 0.1, 0.5), kinds=NEEDLED, cut=cut, packs=place % 2 == 1
        )
    last = add_cook(journal, differing(1.0, -0.5, 0.0, 0.5))
    (own,) = found(journal, last).declared
    assert own.borrowed is None


# what does not matter


def test_that_a_difference_too_small_to_matter_is_a_third_answer(journal: Journal) -> None:
    left = (-0.1, 0.05, 0.0, 0.05, -0.05, 0.05)
    asked = add_cook(journal, differing(0.05, *left), worth=0.5)
    said = found(journal, asked).words[0]
    assert said.startswith("Injected racks: no difference that matters to you (+0.05 points in ")
    assert "less than 0.5 points either way; six racks of each)." in said
    (row,) = rows(journal, asked)
    assert (row["verdict"], row["matters"]) == ("no difference that matters", 0.5)
    wide = add_cook(journal, differing(0.05, -0.9, 0.9, 0.0), worth=0.5, kinds=NEEDLED)
    assert "not enough to tell" in found(journal, wide).words[0]
    unasked = add_cook(journal, differing(0.05, *left), kinds=(NEEDLED[0], TreatmentKind.MARINATED))
    assert "not enough to tell" in found(journal, unasked).words[0]


def test_that_several_cooks_give_the_third_answer_together(journal: Journal) -> None:
    ids = [
        add_cook(journal, differing(e, -0.3, 0.0, 0.3), worth=0.75)
        for e in (0.1, -0.1, 0.05, -0.05)
    ]
    said = found(journal, ids[-1]).words[0]
    assert said.startswith("Over four cooks: no difference that matters to you in tenderness")
    assert rows(journal, ids[-1])[-1]["verdict"] == "no difference that matters"
