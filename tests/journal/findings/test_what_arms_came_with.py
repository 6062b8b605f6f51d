"""What was done beside a treatment, controls marked the other way round, tasters of three arms.

That a design tells only apart what it varies apart: Box, Hunter & Hunter, Statistics for
Experimenters, ch. 5 (from memory). Student's t and Holm (1979) as SciPy has them.
"""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from scipy import stats

from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.findings.comparison import compare, correct_for_looks, summaries
from pitjournal.analysis.findings.plate_words import but_of
from pitjournal.analysis.findings.several_words import not_told_apart_sentence
from pitjournal.app import main
from pitjournal.domain.cook import Arm, Cook, CookStatus
from pitjournal.domain.record import new_id
from pitjournal.domain.tasting import Tasting
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.files.old_cooks import read_old_cooks
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bringing import bringing
from pitjournal.journal.commands.records import Add, AddCook, Change
from pitjournal.units import UnitSystem
from tests.analysis.makers import compared
from tests.journal.findings.series import add_cook, add_two_by_two, differing
from tests.journal.findings.test_several_cooks import found, rows

CLEAR = ((5.0, 5.1, 4.9, 5.0), (7.0, 7.1, 6.9, 7.0))


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    made = open_journal(tmp_path / "journal", new=True)
    yield made
    made.close()


def also(journal: Journal, cook_id: str, kind: TreatmentKind) -> None:
    """Treat the second arm of a cook in a second way."""
    arm = journal.whole(cook_id).arms[1]
    journal.do(Add((Treatment(cook_id=cook_id, arm_id=arm.id, kind=kind),), "Treat"))


def test_a_second_treatment_of_an_arm_is_told_by_the_one_or_the_other(journal: Journal) -> None:
    cook_id = add_cook(journal, CLEAR, packs=False)
    also(journal, cook_id, TreatmentKind.DRY_BRINED)
    words = found(journal, cook_id).words
    assert words[0] == (
        "Injected racks cannot be told apart from having been dry-brined: racks left alone had "
        "neither the one nor the other. Whatever differs may come from the one or from the other."
    )
    (claim,) = [said for said in words if "more tender than" in said]
    assert claim.startswith("By the arm or by having been dry-brined, this cook cannot say which: ")
    (row,) = rows(journal, cook_id)
    said, _ = but_of(found(journal, cook_id), UnitSystem.US)
    assert said.startswith("But injected racks cannot be told apart from having been dry-brined")
    assert row["verdict"] == "higher, by the arm or by having been dry-brined"
    assert row["not_told_apart_from"] == [{"cook": 1, "what": ["having been dry-brined"]}]


def test_an_arm_named_by_both_of_its_treatments_is_what_is_compared(journal: Journal) -> None:
    cook_id = add_cook(journal, CLEAR, packs=False)
    also(journal, cook_id, TreatmentKind.DRY_BRINED)
    arm = journal.whole(cook_id).arms[1]
    journal.do(Change(Arm, arm.id, {"name": "Injected and dry brined"}))
    (row,) = rows(journal, cook_id)
    assert row["verdict"] == "higher"


def test_a_two_by_two_tells_its_treatments_apart(journal: Journal) -> None:
    cook_id = add_two_by_two(journal, [(5.0, 5.1, 4.9)] * 4)
    assert not any("neither the one" in words for words in found(journal, cook_id).words)


# the control marked the other way round


def test_a_cook_whose_control_is_the_arm_is_joined_with_its_sign_turned(
    journal: Journal,
) -> None:
    left = (-0.3, 0.0, 0.3)
    first = add_cook(journal, differing(1.0, *left))
    turned = (TreatmentKind.INJECTED, TreatmentKind.NONE)
    second = add_cook(journal, differing(-1.5, *left), kinds=turned)
    said = found(journal, first)
    (joined,) = said.across
    assert joined.estimate == pytest.approx(1.25)  # (1 + 1.5) ÷ 2, both as well known
    assert [one.estimate for one in joined.cooks] == pytest.approx([1.0, 1.5])
    assert (
        "Marked the other way round, with the arm as the control (cook 2): its difference counts "
        "with the sign turned."
    ) in said.words
    (back,) = found(journal, second).across
    assert back.arm == "Left alone"
    assert back.estimate == pytest.approx(-1.25)
    assert "(cook 1): its difference" in " ".join(found(journal, second).words)
    assert [one["turned"] for one in rows(journal, first)[-1]["by_cook"]] == [False, True]
    heads = journal.findings.headlines([first, second], UnitSystem.US)
    assert all("over two cooks" in words for words in heads.values())


def test_cooks_that_differ_in_size_alone_contradict_each_other_in_how_much(
    journal: Journal,
) -> None:
    near = (-0.05, 0.0, 0.05)
    ids = [add_cook(journal, differing(effect, *near)) for effect in (0.9, 2.9, 0.7)]
    joined = rows(journal, ids[-1])[-1]
    assert joined["verdict"] == "the cooks contradict each other in how much"
    assert joined["between"]["contradict"] == "in how much"
    said = found(journal, ids[-1]).words[0]
    assert said.startswith(
        "Injected racks: the cooks contradict each other in tenderness, in how much: "
    )
    unclear = add_cook(journal, differing(-0.05, -0.3, 0.0, 0.3))
    joined = rows(journal, unclear)[-1]
    assert joined["between"]["contradict"] == "in how much, perhaps in direction"
    last = add_cook(journal, differing(-2.0, *near))
    joined = rows(journal, last)[-1]
    assert joined["verdict"] == "the cooks contradict each other"
    assert joined["between"]["contradict"] == "in direction"


def test_a_cook_that_declared_another_scale_is_named_and_not_joined(journal: Journal) -> None:
    left = (-0.3, 0.0, 0.3)
    first = add_cook(journal, differing(1.0, *left))
    other = add_cook(journal, differing(1.0, *left))
    tasting = journal.whole(other).tastings[0]
    criteria = [{"name": "tenderness", "low": 0, "high": 100, "scale": "line"}]
    rules = {**tasting.asked.as_map(), "criteria": criteria}
    journal.do(Change(Tasting, tasting.id, {"rules": rules, "scheme": "on a line"}))
    journal.do(Change(Cook, other, {"outcome": "score.tenderness (on a line)"}))
    got = found(journal, first)
    assert not got.across
    assert (
        "A cook of the same comparison declared another scale than tenderness (cook 2, tenderness "
        "(on a line)) and is not joined."
    ) in got.words


# arms of nearly one name


def test_arms_of_nearly_one_name_are_asked_about_in_findings(journal: Journal) -> None:
    cook_id = add_cook(journal, CLEAR, packs=False)
    for arm, name in zip(journal.whole(cook_id).arms, ("Needled ", "needled"), strict=True):
        journal.do(Change(Arm, arm.id, {"name": name}))
    got = found(journal, cook_id)
    assert got.words[0].startswith("Two arms are called nearly the same: “Needled ” and “needled”")
    assert as_json(got)["called_alike"] == [["Needled ", "needled"]]


def test_arms_of_nearly_one_name_in_a_table_are_one_arm(journal: Journal) -> None:
    arms = ("Dry-brined,8", "dry brined,6", "Left alone,5")
    lines = ["Cook #,Date,Cut,Arm,Score (1-10)", *(f"1,2021-03-06,brisket,{one}" for one in arms)]
    table = "\n".join(lines)
    brought = bringing(journal, read_old_cooks(table.encode(), "old.csv"), "America/Chicago")
    assert brought.command is not None
    journal.do(brought.command)
    whole = journal.whole(journal.find(Cook)[0].id)
    assert [arm.name for arm in whole.arms] == ["Dry-brined", "Left alone"]
    assert [len(whole.pieces_of(arm)) for arm in whole.arms] == [2, 1]


# who tasted a third arm


def test_a_taster_who_hardly_met_a_third_arm_is_told_of_that_arm_alone(journal: Journal) -> None:
    whole = compared(("Left alone", "Injected", "Needled"), ((5.0,) * 4, (7.0,) * 4, (6.0,) * 4))
    more = [
        replace(score, id=new_id(), taster="Bea", value=score.value - place % 2 / 4)
        for place, score in enumerate(whole.scores)
        if place < 9  # all left alone, all injected, one of four needled
    ]
    session = replace(whole.tastings[0], tasters=("Ada", "Bea"))
    cook = replace(whole.cook, status=CookStatus.DONE)
    parts = (*whole.arms, *whole.pieces, session, *whole.samples, *whole.scores, *more)
    journal.do(AddCook(cook, parts))
    got = found(journal, cook.id)
    assert any(
        words.startswith("One taster tasted hardly any needled racks.") for words in got.words
    )
    injected, needled = rows(journal, cook.id)
    assert injected["not_told_apart_from"] == []
    assert needled["not_told_apart_from"] == [{"cook": 1, "what": ["who tasted it"]}]
    assert as_json(got)["one_arm_tasters"][0]["hardly_any_of"] == ["Needled"]


# words and figures


def test_what_a_few_pieces_told_apart_in_other_cooks_is_said_to_be_hard_and_not_impossible() -> (
    None
):
    with_packs = ((1, ("pack",)), (2, ("pack",)))
    assert "an arm can hardly be told apart" in not_told_apart_sentence(with_packs, [True, True])
    assert "an arm cannot be told apart" in not_told_apart_sentence(with_packs, [False, False])
    assert "cannot, or can hardly, be told" in not_told_apart_sentence(with_packs, [True, False])


def test_what_a_cook_of_two_arms_could_show_counts_both() -> None:
    # Holm (1979): the first of two is held to half. 8 in 10 by SciPy's noncentral t.
    whole = compared(
        ("Left alone", "Injected", "Needled"),
        ((5.0, 6.0, 7.0), (5.0, 6.5, 7.0), (5.5, 6.0, 7.5)),
        packs=False,
    )
    values = {
        piece.id: {"score.tenderness": score.value}
        for piece, score in zip(whole.pieces, whole.scores, strict=True)
    }
    key = "score.tenderness"
    for declared, level in ((False, 0.05 / 2), (True, 0.035 / 2)):
        arms = summaries(whole, values, key)
        made = compare(arms, key, declared=declared)
        for one in made if declared else correct_for_looks(made):
            assert one.df is not None
            assert one.se is not None
            assert one.could_show is not None
            edge, shift = stats.t.isf(level / 2, one.df), one.could_show / one.se
            assert stats.nct.sf(edge, one.df, shift) == pytest.approx(0.8, abs=1e-4)


def test_the_lot_stands_in_the_text_as_in_the_answer_for_programs(
    journal: Journal, capsys: pytest.CaptureFixture[str]
) -> None:
    # Four of eight: 70 ways, of which two lie so far apart: p = 2 ÷ 70.
    add_cook(journal, CLEAR, packs=False)
    folder = str(journal.folder)
    journal.close()
    assert main(["findings", folder, "1", "--json"]) == 0
    (lot,) = json.loads(capsys.readouterr().out)["by_lot"]
    assert lot["p"] == pytest.approx(2 / 70)
    assert main(["findings", folder, "1"]) == 0
    assert "Injected: p 0.029 by the lot itself (70 ways" in capsys.readouterr().out
