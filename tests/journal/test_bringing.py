"""Old cooks brought along: through the journal's own door, and out again."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.files.old_cooks import read_old_cooks
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.bringing import answers_of, bringing

ROWS = [
    "Cook #,Date,Cut,Weight (lb),Pit (F),Hours,Rest (min),Wrap,Score (1-10),Wood,Smoker,IT,Injected,Notes,Fed",
    "1,2021-03-06,brisket,10,250,12.5,90,paper,8,oak,drum,203,no,windy,12",
    "1,2021-03-06,brisket,9,250,11,90,none,6,oak,drum,201,yes,,",
    "2,2021-05-01,BB ribs,2.5,275,5,10,,7,cherry,kettle,,no,,4",
]


def _old(rows: list[str] = ROWS) -> bytes:
    return "\n".join(rows).encode()


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return open_journal(tmp_path / "cooks", new=True)


def _bring(journal: Journal, rows: list[str] = ROWS) -> tuple[int, int]:
    found = bringing(journal, read_old_cooks(_old(rows), "old.csv"), "America/Chicago")
    if found.command is not None:
        journal.do(found.command)
    return found.fresh, found.known


def test_that_rows_of_one_number_are_one_cook_and_its_values_are_those_of_the_table(
    journal: Journal,
) -> None:
    assert _bring(journal) == (2, 0)
    first, second = sorted(journal.find(Cook), key=lambda cook: cook.number)
    whole = journal.whole(first.id)
    assert [arm.wrap for arm in whole.arms] == ["paper", "none"]
    assert whole.cooker is not None
    assert whole.cooker.name == "drum"
    pieces = {
        owner: said for owner, _, level, said in journal.values([first.id]) if level == "piece"
    }
    one, two = (pieces[piece.id] for piece in whole.pieces)
    # Hand arithmetic: 12.5 h = 45,000 s; 10 lb = 4,535.9237 g; 203 °F = 95 °C; 90 min = 5,400 s.
    assert one["time_on"] == pytest.approx(45_000)
    assert one["mass_on"] == pytest.approx(4535.9237)
    assert one["internal_off"] == pytest.approx(95.0)
    assert one["time_rested"] == pytest.approx(5_400)
    assert (one["wrap"], two["wrap"]) == ("paper", "none")
    assert two["treatment"] == "injected"
    assert two["non_intact"] is True
    assert "Fed: 12" in first.note
    assert "windy" in first.note
    assert second.title == "Back ribs"


def test_that_what_the_table_does_not_say_is_not_recorded(journal: Journal) -> None:
    _bring(journal)
    second = max(journal.find(Cook), key=lambda cook: cook.number)
    values = next(said for _, _, level, said in journal.values([second.id]) if level == "piece")
    assert values.get("wrap") is None  # the cell was empty: that is not "none"
    assert values.get("spritzes") is None
    assert values.get("time_to_wrap") is None
    assert values.get("leeway_at_least") is None


def test_that_the_same_table_again_adds_only_what_is_new(journal: Journal) -> None:
    _bring(journal)
    more = [*ROWS, "3,2021-06-05,butt,8,240,13,60,foil,9,oak,drum,203,no,,"]
    assert _bring(journal) == (0, 2)
    assert _bring(journal, more) == (1, 2)
    assert journal.cooks.count() == 3


def test_that_one_undo_takes_all_out_and_redo_brings_it_back(journal: Journal) -> None:
    _bring(journal)
    journal.undo()
    assert journal.cooks.count() == 0
    assert _bring(journal) == (2, 0)
    journal.undo()
    journal.redo()
    assert journal.cooks.count() == 2


def test_that_a_brought_cook_says_so_and_trends_can_leave_it_out(journal: Journal) -> None:
    _bring(journal)
    said = [values["brought"] for _, _, level, values in journal.values() if level == "cook"]
    assert said == [True, True]


def test_that_answers_of_another_form_are_refused_with_a_hint() -> None:
    with pytest.raises(Exception, match="cannot be read") as refused:
        answers_of('{"Weight": {"pounds": true}}')
    assert "unit" in str(refused.value)


SIDE_BY_SIDE = """Cook,Date,Title,Cut,Arm,Treatment,Tenderness (1-9)
1,2025-01-25,Butts,pork butt,Injected,injected with phosphate,7
1,2025-01-25,Butts,pork butt,injected,injected,8
1,2025-01-25,Butts,pork butt,Plain,,5
1,2025-01-25,Butts,pork butt,Plain,,6
"""


def test_an_arm_is_one_by_its_name_whatever_was_done_to_its_pieces(tmp_path: Path) -> None:
    journal = open_journal(tmp_path / "cooks", new=True)
    old = read_old_cooks(SIDE_BY_SIDE.encode(), "side.csv")
    found = bringing(journal, old, "America/Chicago")
    assert found.command is not None
    journal.do(found.command)
    (cook,) = journal.find(Cook)
    whole = journal.whole(cook.id)
    assert [(arm.name, arm.control) for arm in whole.ordered_arms] == [
        ("Plain", True),
        ("Injected", False),
    ]
    assert [len(whole.pieces_of(arm)) for arm in whole.ordered_arms] == [2, 2]
    (treatment,) = whole.treatments
    assert (treatment.kind, treatment.note) == (
        TreatmentKind.INJECTED,
        "injected with phosphate; injected",
    )

    # The means differ by (7 + 8)/2 − (5 + 6)/2 = 2 points, and nobody declared that before.
    (row,) = [one for one in journal.findings.of(cook.id).differences if one.key.startswith("own.")]
    assert (row.arm, row.estimate, row.declared) == ("Injected", 2.0, False)
    journal.close()


def test_pieces_of_one_arm_that_were_treated_differently_keep_what_was_done(
    tmp_path: Path,
) -> None:
    journal = open_journal(tmp_path / "cooks", new=True)
    rows = SIDE_BY_SIDE.replace("injected,injected,8", "injected,jaccarded,8")
    found = bringing(journal, read_old_cooks(rows.encode(), "side.csv"), "America/Chicago")
    assert found.command is not None
    journal.do(found.command)
    whole = journal.whole(journal.find(Cook)[0].id)
    kinds = {str(whole.treatment_kind(piece)) for piece in whole.pieces[:2]}
    assert kinds == {"injected", "needled"}
    assert len(whole.arms) == 2
    journal.close()


def test_that_a_cook_put_on_at_24_begins_with_the_next_day(journal: Journal) -> None:
    # ISO 8601:2004, 4.2.3; Chicago was six hours behind UTC in March before the 14th.
    rows = ["Date,Cut,Put on,Took off", "2021-03-06,butt,24:00,9:30", "2021-03-09,butt,20:00,7:30"]
    assert _bring(journal, rows) == (2, 0)
    first = min(journal.find(Cook), key=lambda cook: cook.starts_at)
    assert first.starts_at == datetime(2021, 3, 7, 6, 0, tzinfo=UTC)


NO_FIELD = {
    "a yield beside fuel": (
        """Date,Cut,Hours,Charcoal,Charcoal used (lb),Yield %,Price/lb,Racks
2021-03-06,brisket,12,lump,9,58,$5.49,2""",
        ("yield: 58 %", "price: 5.49", "pieces: 2"),
    ),
    "times without a length": (
        "Date,Cut,Pit (F),Wrapped for (h),Rest (min),Took off\n2021-03-06,brisket,250,5,90,18:30",
        ("time wrapped: 5 h", "time rested: 1 h 30 min", "Took off: 18:30"),
    ),
    "words beside a score": (
        "Date,Cut,Hours,Verdict\n2021-03-06,butt,12,8/10 a bit salty",
        ("rating: 8/10 a bit salty",),
    ),
    "a pit that differs between pieces": (
        """Cook #,Date,Cut,Weight (lb),Smoker,Pit (F),Weather
1,2021-03-06,butt,8,drum,250,rain
1,2021-03-06,flat,6,kettle,275,rain""",
        ("piece 2, cooker: kettle", "piece 2, set point: 135.0 °C"),
    ),
    "wraps that differ within an arm": (
        "Cook #,Date,Cut,Hours,Arm,Wrap\n1,2021-03-06,butt,12,A,foil\n1,2021-03-06,butt,12,A,paper",
        ("piece 1, wrap: foil", "piece 2, wrap: paper"),
    ),
}


@pytest.mark.parametrize("what", NO_FIELD)
def test_that_what_no_field_takes_stands_in_the_note(journal: Journal, what: str) -> None:
    table, wanted = NO_FIELD[what]
    assert _bring(journal, table.splitlines()) == (1, 0)
    note = journal.find(Cook)[0].note
    for words in wanted:
        assert words in note.splitlines(), note


def test_that_a_wrap_that_came_off_again_is_logged(journal: Journal) -> None:
    _bring(
        journal,
        ["Date,Cut,Hours,Wrapped at (h),Wrapped for (h)", "2021-03-06,spare ribs,6,3,2"],
    )
    cook = journal.find(Cook)[0]
    values = next(said for _, _, level, said in journal.values([cook.id]) if level == "piece")
    assert (values["time_to_wrap"], values["time_wrapped"]) == (3 * 3600, 2 * 3600)
    assert cook.note == ""
