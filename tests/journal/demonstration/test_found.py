"""What the journal's own findings and trends say of what is hidden in the scenario.

The truth was written by hand, apart from the program (`truth.json`).
"""

import json
from pathlib import Path
from typing import Any

import pytest

from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.trends.inference.agreement import agreement
from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal
from pitjournal.journal.sharing import whole_summary
from pitjournal.units import UnitSystem

TRUTH: dict[str, list[dict[str, Any]]] = json.loads(
    (Path(__file__).parent / "truth.json").read_text(encoding="utf-8")
)


def truth(part: str, what: str) -> dict[str, Any]:
    return next(entry for entry in TRUTH[part] if entry["what"].startswith(what))


def a_comparison(cooks: list[WholeCook], *names: str) -> WholeCook:
    wanted = set(names)
    return next(w for w in cooks if {arm.name for arm in w.arms} == wanted and w.checks)


def test_that_injecting_is_found_over_cooks_and_needling_is_not(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    whole = a_comparison(cooks, "Left alone", "Injected", "Needled")
    found = demonstration.findings.of(whole.cook.id, UnitSystem.US)
    injected, needled = found.across
    hidden = truth("found", "injecting makes ribs")
    assert abs(injected.estimate - hidden["true"]) <= hidden["within"]
    assert injected.tells
    assert not needled.tells
    said = " ".join(found.words)
    assert "injected racks were 0.91 points more tender than racks left alone" in said
    assert "Needled racks: three cooks of the same comparison are not enough to tell" in said


def test_that_exploratory_rows_carry_their_corrected_verdict_in_text_and_json(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    whole = a_comparison(cooks, "Left alone", "Injected", "Needled")
    answer = as_json(demonstration.findings.of(whole.cook.id, UnitSystem.US))
    explored = [row for row in answer["differences"] if not row["declared"]]
    for row in explored:
        tells = row["p_corrected"] is not None and row["p_corrected"] < 0.05
        assert row["verdict"] == ("worth a test" if tells else "not enough to tell")
    assert {row["verdict"] for row in explored} == {"worth a test", "not enough to tell"}
    tables = whole_summary(demonstration, whole.cook.id, system=UnitSystem.US).tables
    told = next(table for table in tables if table.title.startswith("Difference from"))
    columns = {column.head: column.cells for column in told.columns}
    said = [
        verdict
        for outcome, verdict in zip(columns["Outcome"], columns["Says"], strict=True)
        if outcome.endswith("exploratory")
    ]
    assert said == [row["verdict"] for row in explored]


def test_that_the_table_to_share_tells_a_difference_over_cooks_from_that_of_the_cook(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    whole = a_comparison(cooks, "Left alone", "Injected", "Needled")
    tables = whole_summary(demonstration, whole.cook.id, system=UnitSystem.US).tables
    told = next(table for table in tables if table.title.startswith("Difference from"))
    columns = {column.head: column.cells for column in told.columns}
    rows = list(zip(columns["Arm"], columns["Outcome"], columns["Pieces"], strict=True))
    assert len({(arm, outcome) for arm, outcome, _ in rows}) == len(rows)
    over = [(outcome, int(pieces)) for _, outcome, pieces in rows if " over " in outcome]
    assert len(over) == 2
    assert all(pieces > len(whole.pieces) for _, pieces in over)


def test_that_a_dry_brine_is_found_juicier_by_trends_inside_cooks(demonstration: Journal) -> None:
    hidden = truth("found", "a dry brine")
    question = Question(
        "score.juiciness",
        (By("treatment"),),
        (Where("cut", Sign.IS, ("chicken thighs",)),),
        within=True,
    )
    answer = demonstration.trends.ask(question, UnitSystem.US)
    means = {group.key[0]: group.mean for group in answer.groups}
    difference = means["dry-brined"] - means["left alone"]
    assert difference == pytest.approx(hidden["true"], abs=hidden["within"])


def test_that_the_compressed_log_is_found_to_burn_less(demonstration: Journal) -> None:
    hidden = truth("found", "the compressed log")
    question = Question("fuel_rate", (By("cooker"), By("fuel")))
    answer = demonstration.trends.ask(question, UnitSystem.US)
    rates = {group.key: group.mean for group in answer.groups}
    ratios = [
        rates[cooker, "compressed log"] / rates[cooker, "lump"]
        for cooker in ("the gravity box", "the old drum")
    ]
    mean = sum(ratios) / len(ratios)
    assert mean == pytest.approx(hidden["true"], abs=hidden["within"])


@pytest.mark.parametrize("hidden", TRUTH["agree"], ids=lambda hidden: hidden["what"])
def test_that_how_far_judges_and_panel_agree_is_found(
    demonstration: Journal, hidden: dict[str, Any]
) -> None:
    question = Question(hidden["measure"], (By(hidden["against"]),))
    frame, catalogue = demonstration.trends.frame(), demonstration.catalogue()
    found = agreement(frame, question, catalogue, UnitSystem.US)
    assert found is not None
    assert (found.n, found.groups) == (18, 6)
    assert found.mean == pytest.approx(hidden["true"], abs=hidden["within"])
    assert found.low <= hidden["true"] <= found.high
    assert (found.low > 0) == (hidden["true"] > 0)


def test_that_no_score_of_a_running_cook_leaks(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    blind = [w for w in cooks if any(str(s.state) != "revealed" for s in w.tastings)]
    assert blind
    for whole in blind:
        rows = demonstration.values([whole.cook.id])
        assert not any(key.startswith("score.") for row in rows for key in row[3])


def test_that_a_cook_whose_outcome_nobody_judged_counts_the_pieces_it_had(
    demonstration: Journal, cooks: list[WholeCook]
) -> None:
    counted = 0
    for whole in cooks:
        summary = whole_summary(demonstration, whole.cook.id, system=UnitSystem.US)
        for table in summary.tables:
            columns = {column.head: column.cells for column in table.columns}
            if not table.title.startswith("Each arm") or "Pieces" not in columns:
                continue
            for name, shown in zip(columns["Arm"], columns["Pieces"], strict=True):
                (arm,) = (arm for arm in whole.arms if arm.name == name)
                assert 0 < int(shown) <= len(whole.pieces_of(arm))
                counted += 1
    assert counted > 20
