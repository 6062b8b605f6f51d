"""The few words that stand for each cook in the list: what it showed, or its series of cooks."""

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from pitjournal.domain.cook import Arm
from pitjournal.domain.impossible import possible
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import TastingState
from pitjournal.domain.treatment import Treatment
from pitjournal.journal.queries.whole import whole_cooks
from pitjournal.units import UnitSystem

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pitjournal.analysis.derived import Values
    from pitjournal.analysis.findings.across import Across
    from pitjournal.analysis.findings.borrowed import Known
    from pitjournal.analysis.findings.comparison import Difference, PieceValues
    from pitjournal.analysis.findings.sparks import Sparks
    from pitjournal.domain.catalogue import Catalogue, Variable
    from pitjournal.domain.whole_cook import WholeCook
    from pitjournal.journal.journal import Journal

_Key = tuple[object, ...]


@dataclass
class Series:
    """The comparisons of several cooks in a journal, read once for all rows of a list.

    Attributes
    ----------
    journal
        Whose cooks.
    """

    journal: "Journal"
    _others: "dict[tuple[str, ...], list[Known]]" = field(default_factory=dict)
    _joined: "dict[_Key, dict[str, Across]]" = field(default_factory=dict)

    @cached_property
    def catalogue(self) -> "Catalogue":
        """The variables of the journal."""
        return self.journal.catalogue()

    @cached_property
    def values(self) -> "dict[str, dict[str, Values]]":
        """What is known of the pieces of the newest cooks that compared anything, oldest first."""
        from pitjournal.journal.queries.findings import comparisons, piece_values

        return piece_values(self.journal, comparisons(self.journal))

    @cached_property
    def arms(self) -> "dict[str, WholeCook]":
        """Those cooks with their arms and treatments."""
        return whole_cooks(self.journal.database, list(self.values), (Arm, Treatment))

    def of(self, whole: "WholeCook", outcome: "Variable") -> "dict[str, Across]":
        """Return each arm's answer over several cooks, by its id: as Findings gives it.

        Parameters
        ----------
        whole
            A cook with all its records.
        outcome
            Its declared outcome.
        """
        from pitjournal.analysis.findings.after_reveal import as_settled
        from pitjournal.analysis.findings.like import EVERY_CUT, cuts_of, same_comparison, way_of
        from pitjournal.journal.queries.findings import steps_of

        sealed = any(session.state is not TastingState.REVEALED for session in whole.tastings)
        if whole.control is None or (sealed and outcome.key.startswith("score.")):
            return {}
        alike = tuple(one for one, cook in self.arms.items() if same_comparison(whole, cook))
        if len(alike) < 2:
            return {}
        whole = as_settled(whole, steps_of(self.journal, whole))
        every_cut = bool(self.journal.setting(EVERY_CUT + whole.cook.id))
        ways = {arm.id: way_of(whole, arm) for arm in whole.arms if not arm.control}
        key: _Key = (
            alike,
            outcome.key,
            whole.cook.worth_knowing,
            frozenset(ways.values()),
            cuts_of(whole),
            every_cut,
        )
        if key not in self._joined:
            found = self._work_out(whole, outcome, alike, every_cut=every_cut)
            by_way = {ways[arm_id]: joined for arm_id, joined in found.items()}
            if len(found) < len(ways):  # an arm that no other cook compared is of this cook alone
                return found
            self._joined[key] = by_way
        known = self._joined[key]
        return {arm_id: known[way] for arm_id, way in ways.items() if way in known}

    def own(
        self, whole: "WholeCook", pieces: "PieceValues", outcome: "Variable"
    ) -> "tuple[Difference, ...]":
        """Return each arm against the control in this cook, with the spread its past lends it.

        Parameters
        ----------
        whole, pieces
            The cook, and what is known of its pieces.
        outcome
            Its declared outcome.
        """
        from pitjournal.analysis.findings.comparison import summaries
        from pitjournal.analysis.findings.judged import declared_differences
        from pitjournal.journal.queries.findings import lenders

        arms = summaries(whole, pieces, outcome.key)
        past = lenders(self.journal, whole, self.values, [])
        return declared_differences(whole, arms, outcome.key, past)

    def _work_out(
        self, whole: "WholeCook", outcome: "Variable", alike: tuple[str, ...], *, every_cut: bool
    ) -> "dict[str, Across]":
        from pitjournal.analysis.findings.across_cooks import across_cooks
        from pitjournal.journal.queries.findings import lenders

        others = self._known(alike)
        past = lenders(self.journal, whole, self.values, others)
        own = self.own(whole, self.values.get(whole.cook.id, {}), outcome)
        across = across_cooks(whole, outcome.key, others, every_cut=every_cut, past=past, own=own)
        looks = {whole.arm_index(arm.id) or 0: arm.id for arm in whole.arms if not arm.control}
        return {looks[joined.look]: joined for joined in across}

    def _known(self, alike: tuple[str, ...]) -> "list[Known]":
        if alike not in self._others:
            found = whole_cooks(self.journal.database, list(alike), (Arm, Treatment, Piece))
            ordered = sorted(found.values(), key=lambda cook: cook.cook.starts_at)
            self._others[alike] = [(cook, self.values.get(cook.cook.id, {})) for cook in ordered]
        return self._others[alike]


@dataclass(frozen=True)
class Showed:
    """What stands of a cook in the list: a few words, and what is drawn of it alone."""

    words: str
    sparks: "Sparks"


def showed(journal: "Journal", cook_ids: list[str], system: UnitSystem) -> dict[str, Showed]:
    """Return what stands of each cook in the list."""
    from pitjournal.analysis.findings.sparks import Sparks
    from pitjournal.journal.queries.findings import piece_values

    series = Series(journal)
    values = piece_values(journal, cook_ids)
    found = {}
    for cook_id, kept in journal.wholes(cook_ids).items():
        whole, pieces = possible(kept), values[cook_id]
        outcome = series.catalogue.get(whole.cook.outcome or "")
        one = Showed("", Sparks())
        if outcome is not None and len(whole.arms) > 1:
            one = _compared(series, whole, pieces, outcome, system)
        found[cook_id] = one if one.words else replace(one, words=_yielded(pieces, system))
    return found


def headlines(journal: "Journal", cook_ids: list[str], system: UnitSystem) -> dict[str, str]:
    """Return the few words that stand for each cook in the list: what it showed."""
    return {cook_id: one.words for cook_id, one in showed(journal, cook_ids, system).items()}


def _yielded(pieces: "PieceValues", system: UnitSystem) -> str:
    """Return the mean yield of a cook's pieces in words, or nothing."""
    from pitjournal.analysis.derived import mean_of
    from pitjournal.analysis.findings.comparison import number
    from pitjournal.units import Dimension, show

    mean = mean_of([number(values.get("yield_off")) for values in pieces.values()])
    return "" if mean is None else f"yield {show(mean, Dimension.FRACTION, system)}"


def _compared(
    series: Series,
    whole: "WholeCook",
    pieces: "PieceValues",
    outcome: "Variable",
    system: UnitSystem,
) -> Showed:
    """Return what a cook's comparison showed; it is drawn where the series holds the cook."""
    from pitjournal.analysis.findings.after_reveal import no_total_sentence
    from pitjournal.analysis.findings.sparks import Sparks, sparks_of

    made = series.own(whole, pieces, outcome)
    joined = series.of(whole, outcome)
    words = _words(made, joined, _names(series, whole, pieces, made), outcome, system)
    if not words and not joined and no_total_sentence(whole, outcome.key):
        words = "no total: too few cards, or too many"
    known = whole.cook.id in series.values
    return Showed(words, sparks_of(made, outcome, system) if known else Sparks())


def _words(
    made: "Sequence[Difference]",
    joined: "Mapping[str, Across]",
    names: "Mapping[str, str]",
    outcome: "Variable",
    system: UnitSystem,
) -> str:
    """Return what the arms showed, over several cooks where others made the same comparison."""
    from pitjournal.analysis.findings.several_words import series_headline
    from pitjournal.analysis.findings.wording import headline

    alone = [d for d in made if d.arm_id not in joined]
    words = headline(alone, outcome, system, names)
    if not joined:
        return words
    together = series_headline(joined, names, outcome, system)
    if not any(d.tells for d in alone):
        return together
    return f"{together}; {words}" if any(j.tells for j in joined.values()) else words


def _names(
    series: Series, whole: "WholeCook", pieces: "PieceValues", made: "Sequence[Difference]"
) -> "Mapping[str, str]":
    """Return what each arm is called, with what cannot be told apart from it."""
    from pitjournal.analysis.findings.confounded import confounded_of
    from pitjournal.analysis.findings.one_arm import one_arm_tasters
    from pitjournal.analysis.findings.went_with import own_company

    told = confounded_of(whole, pieces, series.catalogue)
    tasters = one_arm_tasters(whole, whole.cook.outcome or "")
    went = {one.look: one.what for one in own_company(whole, told, tasters)}
    return {d.arm_id: " or ".join((d.arm, *went.get(d.look, ())[:1])) for d in made}
