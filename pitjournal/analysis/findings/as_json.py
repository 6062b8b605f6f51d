"""Findings as the documented answer of the command line: SI units, unknown is null."""

from collections.abc import Mapping
from typing import Any

from pitjournal.analysis.findings.across import Across
from pitjournal.analysis.findings.adjusted import Adjusted
from pitjournal.analysis.findings.comparison import Borrowed, Difference
from pitjournal.analysis.findings.factorial import Effect
from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.findings.leeway import ArmLeeway
from pitjournal.analysis.findings.slow_findings import SlowFindings
from pitjournal.analysis.findings.targets import TargetReached
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.units import STORED, difference_of

NOTHING = SlowFindings()


def as_json(found: Findings, deeper: SlowFindings = NOTHING) -> dict[str, Any]:
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
        "other_cuts": {
            "joined": found.every_cut,
            "cooks": [
                {"number": one.number, "title": one.title, "cuts": list(one.cuts)}
                for one in found.other_cuts
            ],
        },
        "adjusted": [_adjusted(found, adjusted) for adjusted in found.adjusted],
        "effects": [_effect(found, effect) for effect in found.effects],
        "means": [
            {
                "variable": variable.key,
                "unit": STORED[variable.dimension],
                "arms": [
                    {
                        "arm": name,
                        "mean": mean.value,
                        "known": mean.known,
                        "pieces": mean.pieces,
                        **({"at_least": True} if mean.open else {}),
                    }
                    for name, mean in zip(_names(found), means, strict=True)
                ],
            }
            for variable, means in (*found.scored, *found.about)
        ],
        "scales": [
            {
                "title": scale.title,
                "words": list(scale.words),
                "method": scale.worked.method,
                "source": scale.worked.source,
            }
            for scale in deeper.scales
        ],
        "by_lot": [
            {"arm": arm.name, "p": lot.p, "ways": lot.ways, "all": lot.whole, "evened": lot.evened}
            for lot in found.lots
            for arm in found.arms
            if arm.arm_id == lot.arm_id
        ],
        "tasted": [None if seen is None else str(seen) for seen in found.seen],
        "after_reveal": [{"what": late.what, "words": late.words} for late in found.late],
        "confounded": [
            {
                "arm": one.arm,
                "variable": one.variable.key,
                "own": list(one.own),
                "control": list(one.control_own),
            }
            for one in found.confounded
        ],
        "called_alike": [list(names) for names in found.called_alike],
        "joined_confounded": [
            {"number": number, "with": list(labels)} for number, labels in found.not_told_apart
        ],
        "joined_one_arm_tasters": list(found.one_armed),
        "one_arm_tasters": [
            {"taster": one.taster, "arm": one.arm, "hardly_any_of": list(one.few)}
            for one in found.one_arm
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
                **_modelled(deeper, leeway),
                "known": leeway.known,
                "reason": leeway.reason or None,
            }
            for leeway in found.leeways
        ],
        "targets": [_target(aim) for aim in found.targets],
        "contradicted": [
            window.label
            for window in found.windows
            if window.axis == "time" and not window.consistent
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
        "below": list(found.below),
        "words": list(found.words),
    }


def _target(aim: TargetReached) -> Mapping[str, Any]:
    return {
        "target": aim.target.name,
        "feels": [aim.target.low, aim.target.high],
        "score": aim.score.key if aim.score else None,
        "arms": [
            {
                "arm": arm.arm,
                "at_least": arm.stay,
                "off_within": arm.off[0],
                "off_known": arm.off[1],
                "score": arm.score,
            }
            for arm in aim.arms
        ],
    }


def _names(found: Findings) -> list[str | None]:
    """Return the arms in their order; a cook of one way has one nameless group."""
    return [arm.name for arm in found.arms] or [None]


def _apart(variable: Variable) -> str:
    """Return the unit of a difference in a variable."""
    return STORED[difference_of(variable.dimension)]


def _adjusted(found: Findings, adjusted: Adjusted) -> Mapping[str, Any]:
    assert found.outcome is not None
    return {
        "arm": adjusted.arm,
        "outcome": found.outcome.key,
        "at_equal": adjusted.variable.key,
        "estimate": adjusted.estimate,
        "low": adjusted.low,
        "high": adjusted.high,
        "unit": _apart(found.outcome),
        "pieces": adjusted.pieces,
        "method": adjusted.worked.method,
    }


def _effect(found: Findings, effect: Effect) -> Mapping[str, Any]:
    assert found.outcome is not None
    return {
        "name": effect.name,
        "together": effect.together,
        "outcome": found.outcome.key,
        "estimate": effect.estimate,
        "low": effect.low,
        "high": effect.high,
        "unit": _apart(found.outcome),
        "pieces": effect.pieces,
        "p": effect.p,
        "p_of_three": effect.adjusted,
    }


def _modelled(deeper: SlowFindings, leeway: ArmLeeway) -> Mapping[str, float | None]:
    """Return the estimate of a leeway with its interval, over all cooks of the comparison."""
    model = deeper.model(leeway.axis)
    arms = model.arms if model is not None else ()
    stay = next((arm for arm in arms if arm.arm == leeway.arm), None)
    if stay is None:
        return {"estimate": None, "low": None, "high": None}
    return {"estimate": stay.median, "low": stay.low, "high": stay.high}


def _company(found: Findings, judged: Difference | Across) -> list[Mapping[str, Any]]:
    """Return what went with an arm, cook by cook: then the verdict is not about it alone."""
    return [
        {"cook": one.number, "what": [what.removeprefix("the ") for what in one.what]}
        for one in found.company_of(judged)
    ]


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
        "p": joined.p,
        "p_corrected": joined.p_corrected,
        "verdict": found.verdict_of(joined),
        "not_told_apart_from": _company(found, joined),
        "matters": joined.matters,
        "borrowed": None,
        "looks": {
            "level": joined.series.level or None,
            "p": joined.series.p,
            "low": joined.series.low,
            "high": joined.series.high,
            "df": joined.series.df,
            "by": "pieces" if joined.series.alike and not joined.by_cook else "cooks",
            "found_after": joined.series.after if joined.tells else None,
        },
        "between": {
            "sd": joined.tau,
            "i2": joined.i2,
            "p": joined.series.differ_p,
            "one_spread": not joined.by_cook,
            "contradict": joined.contradiction or None,
        },
        "by_cook": [
            {
                "number": cook.number,
                "title": cook.title,
                "estimate": cook.estimate,
                "low": cook.low,
                "high": cook.high,
                "pieces": cook.pieces,
                "turned": cook.turned,
            }
            for cook in joined.cooks
        ],
    }


def _borrowed(borrowed: Borrowed | None) -> Mapping[str, Any] | None:
    if borrowed is None:
        return None
    return {
        "low": borrowed.low,
        "high": borrowed.high,
        "p": borrowed.p,
        "df": borrowed.df,
        "cooks": borrowed.cooks,
    }


def _difference(found: Findings, difference: Difference) -> Mapping[str, Any]:
    unit = "points"
    if found.outcome is not None and difference.key == found.outcome.key:
        unit = STORED[difference_of(found.outcome.dimension)]
    elif not difference.key.startswith("score."):
        variables = (*(one for one, _ in (*found.scored, *found.about)), *Catalogue.BUILT_IN)
        variable = next(one for one in variables if one.key == difference.key)
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
        "p": difference.p,
        "p_corrected": difference.adjusted,
        "verdict": found.verdict_of(difference),
        "not_told_apart_from": _company(found, difference),
        "matters": difference.matters,
        "borrowed": _borrowed(difference.borrowed),
        "looks": None,
        "between": None,
        "by_cook": None,
    }
