"""What one cook showed: everything the page draws and the summary tells, worked out once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pitjournal.analysis import wording
from pitjournal.analysis.across_cooks import Across, across_cooks
from pitjournal.analysis.comparison import (
    ArmSummary,
    Difference,
    PieceValues,
    compare,
    correct_for_looks,
    number,
    summaries,
)
from pitjournal.analysis.derived import CookValues, Readings, mean_of
from pitjournal.analysis.ledger import LedgerRow, ledger_of
from pitjournal.analysis.leeway import ArmLeeway, PieceWindow, leeways, piece_windows
from pitjournal.analysis.safety import SafetyFact, facts_of
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import TastingState
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import STORED, Dimension, UnitSystem, difference_of, show

EXPLORED = ("yield_off", "time_on", "cook_loss", "leeway_at_least")
"""Looked at beside every score, and corrected for being looked at."""

ABOUT = ("pickup", "yield_off", "time_on", "time_wrapped", "time_rested", "stall_length")
"""Told of each arm beside the comparison."""


@dataclass(frozen=True)
class Fuel:
    """What the fire took: g, g/s, and g a g of meat."""

    used: float | None
    rate: float | None
    per_meat: float | None


@dataclass(frozen=True)
class Mean:
    """The mean of the pieces where a variable is known, and how many those are, of how many."""

    value: float | None
    known: int
    pieces: int

    @property
    def of(self) -> str:
        """Of how many pieces, when it is not all of them."""
        return "" if self.known in {0, self.pieces} else f" ({self.known} of {self.pieces})"


@dataclass(frozen=True)
class Findings:
    """What one cook showed."""

    cook_id: str
    title: str
    question: str
    outcome: Variable | None
    blind: bool
    arms: tuple[ArmSummary, ...]
    differences: tuple[Difference, ...]
    ledger: tuple[LedgerRow, ...]
    windows: tuple[PieceWindow, ...]
    leeways: tuple[ArmLeeway, ...]
    about: tuple[tuple[Variable, tuple[Mean, ...]], ...]
    fuel: Fuel
    safety: tuple[SafetyFact, ...]
    words: tuple[str, ...]
    across: tuple[Across, ...] = ()

    @property
    def declared(self) -> tuple[Difference, ...]:
        """The differences in the declared outcome."""
        return tuple(d for d in self.differences if d.declared)


def findings_of(  # noqa: PLR0917 - a cook and what is known around it
    whole: WholeCook,
    values: CookValues,
    catalogue: Catalogue,
    readings: Readings,
    system: UnitSystem,
    others: Sequence[tuple[WholeCook, PieceValues]] = (),
) -> Findings:
    """Work out what a cook showed.

    Parameters
    ----------
    whole, values
        The cook, and what was derived of it.
    catalogue
        The variables of the journal.
    readings
        Gives a trace's samples.
    system
        The units of the sentences; numbers stay in storage units.
    others
        Cooks that may have made the same comparison, this one among them.
    """
    outcome = catalogue.get(whole.cook.outcome or "")
    sealed = any(session.state is not TastingState.REVEALED for session in whole.tastings)
    score = outcome is not None and outcome.key.startswith("score.")
    blind = sealed and score
    pieces = values.pieces
    arms: tuple[ArmSummary, ...] = ()
    differences: list[Difference] = []
    if outcome is not None:
        arms = summaries(whole, pieces, outcome.key)
        differences += compare(arms, outcome.key, declared=True)
    explored = _explored(whole, values, catalogue, outcome)
    differences += correct_for_looks(explored)
    across: tuple[Across, ...] = ()
    if outcome is not None and not blind:
        across = across_cooks(whole, outcome.key, others)
    ledger = ledger_of(whole, pieces, catalogue, outcome.key if outcome else None)
    bounds = leeways(whole)
    cook = values.cook
    fuel = Fuel(*(number(cook.get(key)) for key in ("fuel_used", "fuel_rate", "fuel_per_meat")))
    return Findings(
        cook_id=whole.cook.id,
        title=whole.cook.title,
        question=whole.cook.question,
        outcome=outcome,
        blind=blind,
        arms=arms or _bare_arms(whole),
        differences=tuple(differences),
        ledger=ledger,
        windows=piece_windows(whole),
        leeways=bounds,
        about=_about(whole, values, catalogue),
        fuel=fuel,
        safety=facts_of(whole, readings),
        words=_words(whole, values, outcome, arms, differences, ledger, bounds, system, blind=blind)
        + _over_cooks(across, outcome, system),
        across=across,
    )


def _over_cooks(
    across: tuple[Across, ...], outcome: Variable | None, system: UnitSystem
) -> tuple[str, ...]:
    if outcome is None:
        return ()
    return tuple(wording.across_sentence(joined, outcome, system) for joined in across)


def _bare_arms(whole: WholeCook) -> tuple[ArmSummary, ...]:
    return summaries(whole, {}, "")


def _explored(
    whole: WholeCook, values: CookValues, catalogue: Catalogue, outcome: Variable | None
) -> list[Difference]:
    keys = [key for key in catalogue if key.startswith("score.")] + list(EXPLORED)
    found: list[Difference] = []
    for key in keys:
        if outcome is not None and key == outcome.key:
            continue
        arms = summaries(whole, values.pieces, key)
        found += [d for d in compare(arms, key, declared=False) if d.estimate is not None]
    return found


def _about(
    whole: WholeCook, values: CookValues, catalogue: Catalogue
) -> tuple[tuple[Variable, tuple[Mean, ...]], ...]:
    groups = [whole.pieces_of(arm) for arm in whole.ordered_arms] or [whole.pieces]
    found = []
    for key in ABOUT:
        means = tuple(_mean(values, group, key) for group in groups)
        if any(mean.known for mean in means):
            found.append((catalogue[key], means))
    return tuple(found)


def _mean(values: CookValues, pieces: Sequence[Piece], key: str) -> Mean:
    all_values = [number(values.pieces.get(piece.id, {}).get(key)) for piece in pieces]
    known = [value for value in all_values if value is not None]
    return Mean(mean_of(known), len(known), len(pieces))


def _words(  # noqa: PLR0917 - what a page of words is made of
    whole: WholeCook,
    values: CookValues,
    outcome: Variable | None,
    arms: tuple[ArmSummary, ...],
    differences: list[Difference],
    ledger: tuple[LedgerRow, ...],
    bounds: tuple[ArmLeeway, ...],
    system: UnitSystem,
    *,
    blind: bool,
) -> tuple[str, ...]:
    if len(whole.arms) < 2:
        return _alone(whole, values, system)
    said: list[str] = []
    if blind:
        said.append(wording.BLIND)
    elif outcome is None:
        said.append("No outcome was declared, so everything here is exploratory.")
    else:
        control = next((arm for arm in arms if arm.control), None)
        if control is None:
            said.append("No arm is the control, so nothing is compared.")
        else:
            by_id = {arm.arm_id: arm for arm in arms}
            said += [
                wording.difference_sentence(d, control, by_id[d.arm_id], outcome, system)
                for d in differences
                if d.declared
            ]
    said += [wording.leeway_sentence(bounds), wording.ledger_sentence(ledger, system)]
    return tuple(sentence for sentence in said if sentence)


def _alone(whole: WholeCook, values: CookValues, system: UnitSystem) -> tuple[str, ...]:
    said = ["One way was cooked, so nothing is compared."]
    parts = []
    for key, label, dimension in (
        ("yield_off", "yield", Dimension.FRACTION),
        ("time_on", "on for", Dimension.DURATION),
    ):
        mean = _mean(values, whole.pieces, key)
        if mean.value is not None:
            parts.append(f"{label} {show(mean.value, dimension, system)}{mean.of}")
    if parts:
        said.append(f"On average of {len(whole.pieces)} pieces: {', '.join(parts)}.")
    return tuple(said)


# as JSON


def as_json(found: Findings) -> dict[str, Any]:
    """Return the documented keys of `pitjournal findings --json`; SI units, unknown is null."""
    grams = 1000.0
    fuel = found.fuel
    return {
        "cook": found.title,
        "question": found.question,
        "outcome": found.outcome.key if found.outcome else None,
        "arms": [
            {
                "name": arm.name,
                "control": arm.control,
                "pieces": len(arm.points),
                "mean": arm.mean,
                "sd": arm.sd,
            }
            for arm in found.arms
        ],
        "differences": [
            *(_difference(found, d) for d in found.differences),
            *(_joined(found, joined) for joined in found.across),
        ],
        "ledger": [
            {
                "arm": row.arm,
                "variable": row.variable.key,
                "difference": row.difference,
                "unit": STORED[difference_of(row.variable.dimension)],
            }
            for row in found.ledger
        ],
        "leeway": [
            {
                "arm": leeway.arm,
                "axis": leeway.axis,
                "unit": "K" if leeway.axis == "temperature" else "s",
                "at_least": leeway.at_least,
                "at_most": leeway.at_most,
                "estimate": None,
                "low": None,
                "high": None,
                "known": leeway.known,
                "reason": leeway.reason or None,
            }
            for leeway in found.leeways
        ],
        "fuel": {
            "used_kg": None if fuel.used is None else fuel.used / grams,
            "per_hour_kg": None if fuel.rate is None else fuel.rate * 3600 / grams,
            "per_kg_meat": fuel.per_meat,
        },
        "safety": [
            {"fact": fact.fact, "state": str(fact.state), "source": fact.source}
            for fact in found.safety
        ],
        "words": list(found.words),
    }


def _joined(found: Findings, joined: Across) -> Mapping[str, Any]:
    assert found.outcome is not None
    return {
        "arm": joined.arm,
        "outcome": found.outcome.key,
        "declared": True,
        "estimate": joined.estimate,
        "low": joined.low,
        "high": joined.high,
        "unit": STORED[difference_of(found.outcome.dimension)],
        "pieces": joined.pieces,
        "cooks": len(joined.cooks),
        "method": joined.method,
        "could_show": None,
    }


def _difference(found: Findings, difference: Difference) -> Mapping[str, Any]:
    unit = "points"
    if found.outcome is not None and difference.key == found.outcome.key:
        unit = STORED[difference_of(found.outcome.dimension)]
    elif not difference.key.startswith("score."):
        variable = next(v for v in Catalogue.BUILT_IN if v.key == difference.key)
        unit = STORED[difference_of(variable.dimension)]
    return {
        "arm": difference.arm,
        "outcome": difference.key,
        "declared": difference.declared,
        "estimate": difference.estimate,
        "low": difference.low,
        "high": difference.high,
        "unit": unit,
        "pieces": difference.pieces,
        "cooks": 1,
        "method": difference.method,
        "could_show": difference.could_show,
    }
