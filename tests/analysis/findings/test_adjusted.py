"""The adjusted difference and what past cooks say of what else differed, by hand arithmetic."""

import pytest

from pitjournal.analysis.derived import CookValues, values_of
from pitjournal.analysis.findings.adjusted import adjusted_differences
from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.findings.comparison import PieceValues, summaries
from pitjournal.analysis.findings.findings import findings_of
from pitjournal.analysis.findings.ledger import LedgerRow, ledger_of
from pitjournal.analysis.findings.past_slope import PastPiece, past_slope_of
from pitjournal.domain.blocks import Value
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.analysis.makers import CATALOGUE, compared, no_readings

KEY = "score.tenderness"


def with_masses(
    scores: tuple[tuple[float, ...], ...], masses: tuple[tuple[float, ...], ...]
) -> tuple[WholeCook, PieceValues, tuple[LedgerRow, ...]]:
    whole = compared(("Left alone", "Injected"), scores, packs=False)
    values: dict[str, dict[str, Value]] = {
        piece: dict(known) for piece, known in values_of(whole, no_readings).pieces.items()
    }
    for piece, mass in zip(whole.pieces, (m for arm in masses for m in arm), strict=True):
        values[piece.id]["mass_trimmed"] = mass
    return whole, values, ledger_of(whole, values, CATALOGUE, KEY)


def test_that_a_difference_is_told_at_equal_weight() -> None:
    # By hand: score = weight ÷ 100 g + 0.5 for the injected, and small steps that add to nothing.
    masses = ((900.0, 1000.0, 1100.0, 1000.0), (1200.0, 1300.0, 1400.0, 1300.0))
    steps = (0.1, -0.1, 0.1, -0.1)
    scores = tuple(
        tuple(mass / 100 + 0.5 * arm + step for mass, step in zip(own, steps, strict=True))
        for arm, own in enumerate(masses)
    )
    whole, values, ledger = with_masses(scores, masses)
    (found,) = adjusted_differences(summaries(whole, values, KEY), values, ledger)
    assert found.variable.key == "mass_trimmed"
    assert found.estimate == pytest.approx(0.5)
    assert found.low < 0.5 < found.high
    assert found.pieces == 8
    assert "acts alike" in found.worked.assumptions
    known = CookValues({}, values)
    got = findings_of(whole, known, CATALOGUE, no_readings, UnitSystem.US)
    (told,) = as_json(got)["adjusted"]
    assert (told["arm"], told["at_equal"], told["pieces"]) == ("Injected", "mass_trimmed", 8)
    assert told["estimate"] == pytest.approx(0.5)
    assert told["unit"] == "points"


def test_that_equal_pieces_need_no_adjustment() -> None:
    masses = ((900.0, 1000.0, 1100.0), (905.0, 1000.0, 1100.0))
    whole, values, ledger = with_masses(((5, 6, 7), (7, 8, 9)), masses)
    assert adjusted_differences(summaries(whole, values, KEY), values, ledger) == ()


def test_that_pieces_that_do_not_overlap_enough_are_not_adjusted() -> None:
    masses = ((900.0, 901.0), (1400.0, 1401.0))
    whole, values, ledger = with_masses(((5, 6), (7, 8)), masses)
    assert adjusted_differences(summaries(whole, values, KEY), values, ledger) == ()


def past(count: int, *, cut: str = "brisket") -> list[PastPiece]:
    """Return pieces whose score falls by 1 a 100 g within each cook, whatever the cook's level."""
    found = []
    for n in range(count):
        cook, place = divmod(n, 4)
        values: dict[str, Value] = {
            "mass_on": 1000.0 + 100 * place,
            KEY: 8.0 + cook - place + (0.1 if n % 2 else -0.1),
            "arm": "Left alone",
            "cut": cut,
        }
        found.append(PastPiece(f"cook {cook}", values))
    return found


def test_that_what_else_differed_is_sized_within_past_cooks() -> None:
    went = past_slope_of(past(16), "mass_on", KEY, 310.0, ["brisket"])
    assert went is not None
    # Within a cook: Σxy ÷ Σx² of (−150, −50, 50, 150) and (1.4, 0.6, −0.6, −1.4) + rounding.
    slope = (-150 * 1.4 - 50 * 0.6 - 50 * 0.6 - 150 * 1.4) / (2 * 150**2 + 2 * 50**2)
    assert went.estimate == pytest.approx(310 * slope, abs=0.02)
    assert went.low < went.estimate < went.high
    assert (went.pieces, went.cooks) == (16, 4)


def test_that_a_slope_of_few_pieces_or_another_cut_is_not_told() -> None:
    assert past_slope_of(past(8), "mass_on", KEY, 310.0, ["brisket"]) is None
    assert past_slope_of(past(16), "mass_on", KEY, 310.0, ["back ribs"]) is None
    assert past_slope_of([], "mass_on", KEY, 310.0, ["brisket"]) is None
