"""Meat by its meaning, through the journal's own door, in the words a cook reads.

End points: FDA Food Code 2017/2022 3-401.11 and the USDA FSIS safe minimum internal temperature
chart (resources/safety/rules.csv). What means what is common practice, no source.
"""

import html
import json
import re
from datetime import timedelta

import pytest

from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.cli.main import main
from pitjournal.domain.cook import Arm
from pitjournal.domain.event import DonenessCheck, EventKind, Note
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.treatment import FuelLoad, FuelStage, Treatment, TreatmentKind
from pitjournal.journal import Journal
from pitjournal.journal.commands.bench import CheckDoneness, LogEvent
from pitjournal.journal.commands.records import Add, AddCook, Change
from pitjournal.journal.queries.plan_notes import notes_of_plan
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook, an_event

US = UnitSystem.US


def cooked(
    journal: Journal,
    cut: str,
    *fahrenheit: float,
    kinds: tuple[str, ...] = (),
    arm: str = "one",
) -> str:
    """Cook one piece for four hours, probed every five minutes before it comes off."""
    cook = a_cook(title=cut)
    group = Arm(cook_id=cook.id, position=0, name=arm)
    piece = Piece(cook_id=cook.id, position=0, label="A1", cut=cut, arm_id=group.id)
    journal.do(AddCook(cook, (group, piece)))
    for kind in kinds:
        treatment = Treatment(cook_id=cook.id, arm_id=group.id, kind=TreatmentKind(kind))
        journal.do(Add((treatment,), "Treat"))
    journal.do(LogEvent(an_event(cook.id, EventKind.ON), "On"))
    for place, degrees in enumerate(fahrenheit):
        check = DonenessCheck(
            cook_id=cook.id,
            piece_id=piece.id,
            at=NOON + timedelta(minutes=239 - 5 * (len(fahrenheit) - 1 - place)),
            internal=(degrees - 32) / 1.8,
        )
        journal.do(CheckDoneness(check))
    journal.do(LogEvent(an_event(cook.id, EventKind.OFF, minutes=240), "Off"))
    return cook.id


def told(journal: Journal, cook_id: str) -> tuple[str, str]:
    """Return the first safety fact and its state, as Findings shows them."""
    fact = journal.findings.of(cook_id, US).safety[0]
    return fact.fact, str(fact.state)


def test_chicken_wings_at_160_degrees_are_judged_as_poultry(journal: Journal) -> None:
    fact, state = told(journal, cooked(journal, "chicken wings", 158, 160))
    assert fact == "Poultry: 165 °F (74 °C) all through, every piece"
    assert state == "not reached"


def test_a_cut_nobody_knows_is_asked_for_and_judged_by_the_strictest_rule(
    journal: Journal,
) -> None:
    cook_id = cooked(journal, "grandpa's mystery", 160, 160)
    fact, state = told(journal, cook_id)
    assert fact.startswith("Meat not known (“grandpa's mystery”). What meat is it?")
    assert "165 °F" in fact
    assert state == "not reached"
    notes = notes_of_plan(journal.whole(cook_id))
    assert notes[0].startswith("Meat not known: “grandpa's mystery”. What meat is it?")
    assert journal.whole(cook_id).pieces[0].cut == "grandpa's mystery"  # stays as written


@pytest.mark.parametrize(
    "kinds", [("dry-brined", "injected"), ("injected", "dry-brined"), ("left alone", "needled")]
)
def test_injected_meat_is_non_intact_whatever_else_was_done_and_held_rows_count(
    journal: Journal, kinds: tuple[str, ...]
) -> None:
    fact, state = told(journal, cooked(journal, "pork loin", 156, 156, kinds=kinds))
    assert fact.startswith(("Counts as non-intact (injected)", "Counts as non-intact (needled)"))
    assert "155 °F (68 °C) for 17 s" in fact
    assert state == "reached"


def test_a_label_in_a_pieces_note_is_heard_and_quoted(journal: Journal) -> None:
    # 9 CFR 317.2(e)(2): "contains 15% added solution"; Food Code 3-401.11(A)(2): injected meats.
    cook_id = cooked(journal, "pork chops", 146, 146)
    piece = journal.whole(cook_id).pieces[0]
    note = "on sale, contains up to 12 % solution"
    journal.do(Change(Piece, piece.id, {"note": note}, "Note"))
    fact, _ = told(journal, cook_id)
    quoted = "its note says “contains up to 12 % solution”"
    assert fact.startswith(f"Counts as non-intact ({quoted}): 155 °F")
    assert quoted[1:] in notes_of_plan(journal.whole(cook_id))[0]


def test_ostrich_is_held_to_its_own_paragraph_and_shown_beside_the_consumers_chart(
    journal: Journal,
) -> None:
    # FDA Food Code 2022 3-401.11(A)(2): 155 °F for 17 s, or 145 °F for 3 min, for ratites;
    # 9 CFR 381.1 counts them as poultry, of which the consumers' chart asks 165 °F.
    facts = journal.findings.of(cooked(journal, "ostrich steak", 156, 156), US).safety
    assert facts[0].fact.startswith("Ostrich, emu or rhea: 155 °F (68 °C) for 17 s (158 °F at once")
    assert (facts[0].state, facts[1].state) == ("reached", "not reached")
    assert "165 °F" in facts[1].fact
    assert "3-401.11(A)(2)" in facts[0].source
    assert "9 CFR 381.1" in facts[1].source
    assert not [fact for fact in facts if "published table" in fact.fact]


def test_a_tongue_is_called_variety_meat_and_not_ground(journal: Journal) -> None:
    facts = journal.findings.of(cooked(journal, "beef tongue", 161, 161), US).safety
    assert facts[0].fact.startswith("Variety meat: 160 °F (71 °C) all through")
    assert "meat organs" in facts[0].source
    assert not any("ound meat" in fact.fact for fact in facts)


def test_a_note_typed_at_the_bench_says_what_was_done_to_meat(journal: Journal) -> None:
    cook_id = cooked(journal, "pork loin", 147, 147)  # five minutes apart: 145 °F held
    assert told(journal, cook_id)[1] == "reached"
    note = Note(cook_id=cook_id, text="stuffed the thick end with rice", at=NOON)
    journal.do(Add((note,), "Note"))
    fact, state = told(journal, cook_id)
    assert fact.startswith("Stuffed meat (the log says “stuffed”): 165 °F")
    assert state == "not reached"


def test_one_reading_is_not_all_through(journal: Journal) -> None:
    fact, state = told(journal, cooked(journal, "turkey breast", 170))
    assert state == "unknown"
    assert "one reading at one point" in fact


def test_planned_fuel_is_not_used_and_more_left_than_put_in_gives_no_rate(
    journal: Journal,
) -> None:
    cook = a_cook()
    piece = Piece(cook_id=cook.id, position=0, label="A1", cut="brisket")
    loads = [
        FuelLoad(cook_id=cook.id, stage=stage, fuel="lump", mass=mass, at=NOON)
        for stage, mass in ((FuelStage.IN, 1000.0), (FuelStage.LEFT, 1500.0))
    ]
    journal.do(AddCook(cook, (piece, loads[0])))
    assert journal.findings.of(cook.id, US).fuel.used is None
    journal.do(LogEvent(an_event(cook.id, EventKind.LIT), "Lit"))
    assert journal.findings.of(cook.id, US).fuel.used == 1000.0
    journal.do(Add((loads[1],), "Weigh fuel"))
    fuel = journal.findings.of(cook.id, US).fuel
    assert (fuel.used, fuel.rate, fuel.per_meat) == (None, None, None)


def test_ribs_finds_every_kind_of_ribs_however_written(
    journal: Journal, capsys: pytest.CaptureFixture[str]
) -> None:
    for cut in ("baby backs", "St Louis ribs", "dino ribs", "Spareribs", "brisket", "chuck ribs"):
        cooked(journal, cut, 200, 203)
    ribs = Question("time_on", (By("cut"),), (Where("cut", Sign.IS, ("ribs",)),))
    found = journal.trends.ask(ribs, US)
    names = {group.key[0] for group in found.groups}
    assert names == {"baby backs", "St Louis ribs", "dino ribs", "Spareribs", "chuck ribs"}
    beef = Question("time_on", (By("cut"),), (Where("cut", Sign.IS, ("beef ribs",)),))
    assert {g.key[0] for g in journal.trends.ask(beef, US).groups} == {"dino ribs", "chuck ribs"}
    folder = str(journal.folder)
    journal.close()
    main(["trends", folder, "--show", "time on", "--by", "cut", "--where", "cut=ribs"])
    by_filter = capsys.readouterr().out
    main(["trends", folder, "--question", "time on by cut where cut is ribs"])
    by_sentence = capsys.readouterr().out
    for text in (by_filter, by_sentence):
        assert "dino ribs" in text
        assert "Spareribs" in text
        assert "brisket" not in text


@pytest.mark.parametrize(
    ("name", "begins"),
    [
        ("Injected", "Counts as non-intact (its arm is named “Injected”)"),
        ("needled", "Counts as non-intact (its arm is named “needled”)"),
        ("Bladed, 2 passes", "Counts as non-intact (its arm is named “Bladed, 2 passes”)"),
        ("Blade", "Counts as non-intact (its arm is named “Blade”)"),
        ("MT", "Counts as non-intact (its arm is named “MT”)"),
        ("Stuffed", "Stuffed meat (its arm is named “Stuffed”): 165 °F"),
        ("Not injected", "Whole meat: 145 °F"),
        ("Foil", "Whole meat: 145 °F"),
    ],
)
def test_an_arm_named_by_a_treatment_is_judged_by_it_without_a_row_of_its_own(
    journal: Journal, name: str, begins: str
) -> None:
    cook_id = cooked(journal, "pork loin", 170, 170, arm=name)
    fact, state = told(journal, cook_id)
    assert fact.startswith(begins)
    assert state == "reached"
    counts = [values for *_, level, values in journal.values() if level == "piece"]
    assert counts[0].get("non_intact") is (True if "non-intact" in begins else None)


@pytest.mark.parametrize("cut", ["fillet", "cutlets", "smoked neck", "steak", "Braten", "cheeks"])
def test_a_part_of_an_animal_not_said_is_asked_for_and_judged_by_the_strictest_rule(
    journal: Journal, cut: str
) -> None:
    fact, state = told(journal, cooked(journal, cut, 150, 150))
    assert fact.startswith(f"Meat not known (“{cut}”). Of what animal is it?")
    assert "165 °F" in fact
    assert state == "not reached"


def test_the_summary_and_json_say_the_same_states_as_findings(
    journal: Journal, capsys: pytest.CaptureFixture[str]
) -> None:
    cook_id = cooked(journal, "fillet", 150, 150)
    fact, state = told(journal, cook_id)
    folder = journal.folder
    journal.close()
    main(["findings", str(folder), cook_id, "--json"])
    safety = json.loads(capsys.readouterr().out)["safety"]
    assert (safety[0]["fact"], safety[0]["state"]) == (fact, state)
    page = folder.parent / "summary.html"
    main(["summary", str(folder), cook_id, "--to", str(page)])
    written = html.unescape(re.sub(r"<[^>]+>", " ", page.read_text("utf-8")))
    assert state in written.casefold()
    assert fact in written


def test_curing_salt_far_above_its_limit_has_a_line_of_its_own(
    journal: Journal, capsys: pytest.CaptureFixture[str]
) -> None:
    # 9 CFR 424.22(b)(3): dry-cured bacon, 200 ppm ingoing; 20 g × 6.25 % on 1 kg are 1,250 ppm.
    cook_id = cooked(journal, "pork belly", 160, 160, kinds=("dry-brined",))
    whole = journal.whole(cook_id)
    green = Weighing(cook_id=cook_id, piece_id=whole.pieces[0].id, stage=Stage.TRIMMED, mass=1000.0)
    journal.do(Add((green,), "Weigh"))
    fields = {"cure": 20.0, "cure_strength": 0.0625}
    journal.do(Change(Treatment, whole.treatments[0].id, fields, "Cure"))
    line = (
        "Nitrite going in: 1250 ppm, 1050 ppm above the 200 ppm of dry-cured bacon, 6.25 times as "
        "much (9 CFR 424.22(b)(3))."
    )
    assert line in notes_of_plan(journal.whole(cook_id))
    folder = str(journal.folder)
    journal.close()
    main(["findings", folder, "1", "--json"])
    assert line in json.loads(capsys.readouterr().out)["protects"]
    main(["findings", folder, "1"])
    assert line in " ".join(capsys.readouterr().out.split())
