"""What one cook showed: everything the page draws and the summary tells, worked out once."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from pitjournal.analysis.derived import CookValues
from pitjournal.analysis.findings import several_words, wording
from pitjournal.analysis.findings.across import Across
from pitjournal.analysis.findings.across_cooks import across_cooks
from pitjournal.analysis.findings.adjusted import Adjusted, adjusted_differences, adjusted_sentences
from pitjournal.analysis.findings.after_reveal import (
    Late,
    as_settled,
    eyes_open_sentence,
    judged,
    late_changes,
    late_sentence,
    no_total_sentence,
)
from pitjournal.analysis.findings.borrowed import Known
from pitjournal.analysis.findings.by_lot import ByLot, by_lot
from pitjournal.analysis.findings.comparison import (
    ArmSummary,
    Difference,
    compare,
    correct_for_looks,
    number,
    summaries,
)
from pitjournal.analysis.findings.confounded import (
    Confounded,
    confounded_of,
    confounded_sentences,
)
from pitjournal.analysis.findings.factorial import (
    Effect,
    effects_of,
    two_by_two_sentences,
)
from pitjournal.analysis.findings.judged import declared_differences
from pitjournal.analysis.findings.ledger import LedgerRow, ledger_of
from pitjournal.analysis.findings.ledger_words import ledger_sentence
from pitjournal.analysis.findings.leeway import (
    ArmLeeway,
    PieceWindow,
    leeways,
    piece_windows,
    windows_of,
)
from pitjournal.analysis.findings.like import (
    OtherCut,
    other_cuts,
    turned_like,
)
from pitjournal.analysis.findings.means import Mean, means_by_arm
from pitjournal.analysis.findings.one_arm import (
    OneArm,
    one_arm_sentence,
    one_arm_tasters,
    one_taster_sentence,
)
from pitjournal.analysis.findings.own_scale import is_ranking
from pitjournal.analysis.findings.past_slope import PastPiece
from pitjournal.analysis.findings.places import OwnScale, ranked
from pitjournal.analysis.findings.story import story_of
from pitjournal.analysis.findings.targets import TargetReached, disagreement, targets_reached
from pitjournal.analysis.findings.went_with import (
    WentWith,
    beside_of,
    beside_sentences,
    company_elsewhere,
    company_of,
    elsewhere,
    own_company,
    pulled_early,
    treated_besides,
    verdict_with,
)
from pitjournal.analysis.safety.below import below_of, sentences
from pitjournal.analysis.safety.facts import facts_of
from pitjournal.analysis.safety.states import SafetyFact
from pitjournal.analysis.traces.readings import Readings
from pitjournal.analysis.trade_words import noun_of
from pitjournal.domain.arm_names import called_alike, called_alike_sentence
from pitjournal.domain.catalogue import Catalogue, Origin, Variable
from pitjournal.domain.fires import impossible_fuel, left_weighed
from pitjournal.domain.past import RowStep
from pitjournal.domain.targets import Target
from pitjournal.domain.tasting import Blindness, TastingState
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem

EXPLORED = ("yield_off", "time_on", "cook_loss", "leeway_at_least")
"""Looked at beside every score, and corrected for being looked at."""

ABOUT = (
    "pickup",
    "yield_off",
    "yield_edible",
    "cost_per_edible",
    "time_on",
    "time_wrapped",
    "time_rested",
    "stall_length",
)
"""Told of each arm beside the comparison."""


ONE_OF_SEVERAL = "one of several cooks"
"""What stands beside the difference of a cook whose comparison others made too."""


@dataclass(frozen=True)
class Fuel:
    """What the fire took: g, g/s, and g a g of meat."""

    used: float | None
    rate: float | None
    per_meat: float | None
    all_burnt: bool = False


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
    scored: tuple[tuple[Variable, tuple[Mean, ...]], ...] = ()
    across: tuple[Across, ...] = ()
    adjusted: tuple[Adjusted, ...] = ()
    effects: tuple[Effect, ...] = ()
    noun: str = "piece"
    confounded: tuple[Confounded, ...] = ()
    late: tuple[Late, ...] = ()
    seen: tuple[Blindness | None, ...] = ()
    other_cuts: tuple[OtherCut, ...] = ()
    every_cut: bool = False
    lots: tuple[ByLot, ...] = ()
    targets: tuple[TargetReached, ...] = ()
    one_arm: tuple[OneArm, ...] = ()
    not_told_apart: tuple[tuple[int, tuple[str, ...]], ...] = ()
    one_armed: tuple[int, ...] = ()
    went_with: tuple[WentWith, ...] = ()
    places: OwnScale | None = None
    called_alike: tuple[tuple[str, ...], ...] = ()
    treated_besides: tuple[tuple[str, tuple[str, ...]], ...] = ()
    below: tuple[str, ...] = ()

    @property
    def declared(self) -> tuple[Difference, ...]:
        """The differences in the declared outcome."""
        return tuple(d for d in self.differences if d.declared)

    def company_of(self, judged: Difference | Across) -> tuple[WentWith, ...]:
        """Return what went with an arm in this cook, or in all that are joined."""
        return company_of(self.went_with, judged)

    def verdict_of(self, judged: Difference | Across) -> str:
        """Return what a difference says in a few words; one of a series says nothing alone.

        Where something went with the arm completely the words say so: no reader can take them
        for a claim on the arm.
        """
        alone = isinstance(judged, Difference) and judged.declared
        if alone and any(a.look == judged.look for a in self.across):
            return ONE_OF_SEVERAL
        return verdict_with(judged, self.company_of(judged))


def findings_of(  # noqa: PLR0917 - a cook and what is known around it
    whole: WholeCook,
    values: CookValues,
    catalogue: Catalogue,
    readings: Readings,
    system: UnitSystem,
    others: Sequence[Known] = (),
    past: Sequence[PastPiece] = (),
    steps: Sequence[RowStep] = (),
    targets: Sequence[Target] = (),
    *,
    lenders: Sequence[Known] = (),
    every_cut: bool = False,
    apart: Sequence[WholeCook] = (),
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
    past
        Pieces of earlier cooks, against which what else differed is sized.
    steps
        What became of the cook's records, oldest first: what was changed after the reveal.
    targets
        What counts as right at a contest and at home.
    lenders
        Cooks that may lend their spread to this one or to the first of the comparison, oldest
        first; a cook is lent to by those before it alone.
    every_cut
        Whether the same comparison with other cuts is joined too, as the cook asked.
    apart
        Cooks that held one of its arms against another control.
    """
    late = late_changes(whole, steps, catalogue, system)
    whole = as_settled(whole, steps)
    outcome = catalogue.get(whole.cook.outcome or "")
    sealed = any(session.state is not TastingState.REVEALED for session in whole.tastings)
    score = outcome is not None and outcome.key.startswith("score.")
    blind = sealed and score
    pieces = values.pieces
    arms: tuple[ArmSummary, ...] = ()
    differences: list[Difference] = []
    if outcome is not None:
        arms = summaries(whole, pieces, outcome.key)
        differences += declared_differences(whole, arms, outcome.key, lenders)
    across: tuple[Across, ...] = ()
    beside: tuple[OtherCut, ...] = ()
    if outcome is not None and not blind:
        across = across_cooks(
            whole, outcome.key, others, every_cut=every_cut, past=lenders, own=differences
        )
        beside = other_cuts(whole, [cook for cook, _ in others])
    joined = {cook.cook_id for one in across for cook in one.cooks}
    joined_too = [
        (turned_like(whole, cook), known)
        for cook, known in others
        if cook.cook.id in joined - {whole.cook.id}
    ]
    beside_it = beside_of(joined_too, catalogue, outcome)
    not_told_apart, one_armed = elsewhere(beside_it)
    differences += correct_for_looks(_explored(whole, values, catalogue, outcome))
    key = outcome.key if outcome and not blind else None
    ledger = ledger_of(whole, pieces, catalogue, key, past)
    aims = targets_reached(whole, pieces, catalogue, targets)
    seen = windows_of(whole)
    bounds, windows = leeways(whole, seen), piece_windows(whole, seen)
    noun = noun_of(piece.cut for piece in whole.pieces)
    confounded = confounded_of(whole, pieces, catalogue)
    one_sided = one_arm_tasters(whole, outcome.key) if outcome is not None and not blind else ()
    went = own_company(whole, confounded, one_sided) + pulled_early(whole, pieces, outcome)
    went += company_elsewhere(whole, across, beside_it)
    besides = treated_besides(whole)
    said = [wording.BLIND] if blind else []
    effects: tuple[Effect, ...] = ()
    places = None if blind or outcome is None else _places(whole, arms, outcome)
    if outcome is not None and not blind:
        effects = effects_of(whole, arms)
        if places is not None:
            said = list(places.words)
        elif effects:
            said = two_by_two_sentences(effects, across, outcome, system, noun, went)
        else:
            said = wording.declared_sentences(
                differences, across, arms, outcome, system, noun, went
            )
    said = [
        eyes_open_sentence(whole, outcome.key) if outcome else "",
        called_alike_sentence(whole.arms),
        *confounded_sentences(confounded, noun),
        *beside_sentences(whole, besides, noun),
        one_arm_sentence(one_sided, noun),
        several_words.not_told_apart_sentence(
            not_told_apart, [c.hardly for one in beside_it for c in one.confounded]
        ),
        several_words.one_armed_sentence(one_armed),
        late_sentence(late),
        no_total_sentence(whole, outcome.key) if outcome else "",
        *said,
    ]
    adjusted = adjusted_differences(arms, pieces, ledger) if not blind else ()
    said += [
        one_taster_sentence(whole, outcome.key) if outcome and not blind else "",
        *adjusted_sentences(adjusted, differences, outcome, system, noun),
        wording.leeway_sentence(bounds, noun),
        wording.contradicted_sentence(windows),
        disagreement(aims),
        ledger_sentence(ledger, system, noun),
        wording.moved_sentence(whole),
        wording.grown_sentence(whole, pieces),
        impossible_fuel(whole.fuel_loads),
        *several_words.how_joined(whole, [cook for cook, _ in others], joined, catalogue),
        several_words.other_controls_sentence(apart),
        several_words.other_cuts_sentence(beside, every_cut=every_cut),
    ]
    return Findings(
        cook_id=whole.cook.id,
        title=whole.cook.title,
        question=whole.cook.question,
        outcome=outcome,
        blind=blind,
        arms=arms or _bare_arms(whole),
        differences=tuple(differences),
        ledger=ledger,
        windows=windows,
        leeways=bounds,
        about=means_by_arm(whole, values, catalogue, ABOUT),
        scored=means_by_arm(whole, values, catalogue, _scores(catalogue)),
        fuel=_fuel(whole, values),
        safety=facts_of(whole, readings),
        below=sentences(below_of(whole, readings), whole.cook.zone),
        words=tuple(_words(whole, values, outcome, system, noun, said)),
        across=across,
        adjusted=adjusted,
        effects=effects,
        noun=noun,
        confounded=confounded,
        one_arm=one_sided,
        late=late,
        targets=aims,
        lots=by_lot(whole, arms) if outcome is not None and not blind else (),
        seen=tuple(one.seen for one in judged(whole, outcome.key)) if outcome else (),
        other_cuts=beside,
        every_cut=every_cut,
        not_told_apart=not_told_apart,
        one_armed=one_armed,
        went_with=went,
        places=places,
        called_alike=called_alike(whole.arms),
        treated_besides=besides,
    )


def _fuel(whole: WholeCook, values: CookValues) -> Fuel:
    used, rate, per_meat = (
        number(values.cook.get(key)) for key in ("fuel_used", "fuel_rate", "fuel_per_meat")
    )
    return Fuel(used, rate, per_meat, all_burnt=not left_weighed(whole))


def _places(whole: WholeCook, arms: Sequence[ArmSummary], outcome: Variable) -> OwnScale | None:
    """Return the answer in places where the outcome is a ranking."""
    return ranked(arms, outcome.label) if is_ranking(whole, outcome.key) else None


def _bare_arms(whole: WholeCook) -> tuple[ArmSummary, ...]:
    return summaries(whole, {}, "")


def _explored(
    whole: WholeCook, values: CookValues, catalogue: Catalogue, outcome: Variable | None
) -> list[Difference]:
    keys = _scores(catalogue) + list(EXPLORED)
    found: list[Difference] = []
    for key in keys:
        if outcome is not None and key == outcome.key:
            continue
        arms = summaries(whole, values.pieces, key)
        found += [d for d in compare(arms, key, declared=False) if d.estimate is not None]
    return found


def _scores(catalogue: Catalogue) -> list[str]:
    """Return what is scored: at tastings, and on scales of the cook's own, as old tables have."""
    own = {key for key, one in catalogue.items() if one.outcome and one.origin is Origin.OWN}
    return [key for key in catalogue if key.startswith("score.") or key in own]


def _words(  # noqa: PLR0917 - what a page of words is made of
    whole: WholeCook,
    values: CookValues,
    outcome: Variable | None,
    system: UnitSystem,
    noun: str,
    said: Sequence[str],
) -> Iterator[str]:
    if len(whole.arms) < 2:
        yield from story_of(whole, values, system, noun)
        return
    if outcome is None:
        yield "No outcome was declared, so everything here is exploratory."
    yield from (sentence for sentence in said if sentence)
