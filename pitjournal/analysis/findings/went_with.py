"""What went with an arm, or nearly, cook by cook: no verdict on such an arm is about it alone."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pitjournal.analysis.findings.across import Across
from pitjournal.analysis.findings.borrowed import Known
from pitjournal.analysis.findings.comparison import Difference, PieceValues
from pitjournal.analysis.findings.confounded import Confounded, confounded_of
from pitjournal.analysis.findings.like import way_of
from pitjournal.analysis.findings.one_arm import OneArm, one_arm_tasters
from pitjournal.analysis.trade_words import in_letters, listed, pieces_of
from pitjournal.domain.arm_names import arm_key
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.cook import Arm
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.first_letter import capital

TASTED = "who tasted it"

MOST_APART = 0.5
"""Shares of pieces cut short may differ by as much between arms."""

CAME_OFF = "when they came off"
LEEWAY, NO_END = "leeway_at_least", "leeway_at_most"
"""A piece that came off while it was right was right for at least so long: how long it would have
been is not known, and where one arm came off so and the other did not, that is what differs."""


@dataclass(frozen=True)
class WentWith:
    """What one cook cannot tell apart from an arm.

    Attributes
    ----------
    look
        Of the arm, in the cook that is told of.
    number
        Of the cook in which it went with the arm.
    what
        In words: "the pack", "who tasted it".
    own
        Whether that is the cook that is told of.
    """

    look: int
    number: int
    what: tuple[str, ...]
    own: bool


@dataclass(frozen=True)
class Beside:
    """A cook that is joined with the one that is told of, and what goes with its arms.

    `confounded` goes with an arm completely; the tasters of `one_sided` met one arm alone.
    """

    whole: WholeCook
    confounded: tuple[Confounded, ...]
    one_sided: tuple[OneArm, ...]


def beside_of(
    others: Iterable[Known], catalogue: Catalogue, outcome: Variable | None
) -> tuple[Beside, ...]:
    """Return what goes with the arms of other cooks.

    Parameters
    ----------
    others
        The other cooks joined, with their pieces' values.
    catalogue
        The variables of the journal.
    outcome
        The declared outcome.
    """
    return tuple(
        Beside(
            cook,
            confounded_of(cook, values, catalogue),
            () if outcome is None else one_arm_tasters(cook, outcome.key),
        )
        for cook, values in others
    )


def own_company(
    whole: WholeCook, confounded: Sequence[Confounded], one_sided: Sequence[OneArm]
) -> tuple[WentWith, ...]:
    """Return what went with each arm of a cook.

    Parameters
    ----------
    whole
        The cook.
    confounded, one_sided
        What goes with its arms, and which tasters met one arm alone.
    """
    found = []
    for arm in whole.arms:
        what = _of_arm(whole, arm.id, confounded, one_sided)
        if what and not arm.control:
            look = whole.arm_index(arm.id) or 0
            found.append(WentWith(look, whole.cook.number, what, own=True))
    return tuple(found)


def company_elsewhere(
    whole: WholeCook, across: Sequence[Across], beside: Iterable[Beside]
) -> tuple[WentWith, ...]:
    """Return what went with a cook's arms in the other cooks they are joined with.

    Parameters
    ----------
    whole
        The cook.
    across
        Its comparisons over several cooks.
    beside
        The other cooks joined.
    """
    ways = {whole.arm_index(arm.id) or 0: way_of(whole, arm) for arm in whole.arms}
    found = []
    for one in beside:
        cook = one.whole
        for joined in across:
            same = [a for a in cook.arms if way_of(cook, a) == ways.get(joined.look)]
            what = [w for a in same for w in _of_arm(cook, a.id, one.confounded, one.one_sided)]
            if what and any(effect.cook_id == cook.cook.id for effect in joined.cooks):
                found.append(
                    WentWith(joined.look, cook.cook.number, tuple(dict.fromkeys(what)), own=False)
                )
    return tuple(found)


def elsewhere(
    beside: Sequence[Beside],
) -> tuple[tuple[tuple[int, tuple[str, ...]], ...], tuple[int, ...]]:
    """Return which other cooks joined could not tell an arm apart, and which had one-arm tasters.

    Parameters
    ----------
    beside
        The other cooks joined.
    """
    apart = (
        (one.whole.cook.number, tuple(dict.fromkeys(c.variable.label for c in one.confounded)))
        for one in beside
        if one.confounded
    )
    armed = (one.whole.cook.number for one in beside if one.one_sided)
    return tuple(apart), tuple(armed)


def company_of(went: Iterable[WentWith], judged: Difference | Across) -> tuple[WentWith, ...]:
    """Return what went with an arm in this cook, or in all that are joined."""
    joined = isinstance(judged, Across)
    return tuple(one for one in went if one.look == judged.look and (joined or one.own))


def pulled_early(
    whole: WholeCook, values: PieceValues, outcome: Variable | None
) -> tuple[WentWith, ...]:
    """Return the arms whose leeway differs from the control's by when pieces came off, maybe.

    Parameters
    ----------
    whole
        The cook.
    values
        What is known of its pieces, by id and catalogue key.
    outcome
        The declared outcome.
    """
    control = whole.control
    if outcome is None or outcome.key != LEEWAY or control is None:
        return ()
    here = _share_cut_short(whole, values, control.id)
    found = []
    for arm in whole.arms:
        there = _share_cut_short(whole, values, arm.id)
        if arm.control or here is None or there is None or abs(here - there) <= MOST_APART:
            continue
        look = whole.arm_index(arm.id) or 0
        found.append(WentWith(look, whole.cook.number, (CAME_OFF,), own=True))
    return tuple(found)


def _share_cut_short(whole: WholeCook, values: PieceValues, arm_id: str) -> float | None:
    """Return the share of an arm's pieces that came off before they were past right."""
    own = [values.get(piece.id, {}) for piece in whole.pieces if piece.arm_id == arm_id]
    seen = [one for one in own if one.get(LEEWAY) is not None]
    return sum(one.get(NO_END) is None for one in seen) / len(seen) if seen else None


def _of_arm(
    whole: WholeCook, arm_id: str, confounded: Sequence[Confounded], one_sided: Sequence[OneArm]
) -> tuple[str, ...]:
    what = [
        "having been frozen" if one.variable.key == "frozen" else f"the {one.variable.label}"
        for one in confounded
        if one.arm_id == arm_id
    ]
    if any(arm_id in one.apart for one in one_sided if not one.evened):
        what.append(TASTED)
    what += beside_the_treatment(whole, arm_id)
    return tuple(dict.fromkeys(what))


def beside_the_treatment(whole: WholeCook, arm_id: str) -> tuple[str, ...]:
    """Return what else was done to all of an arm that none of the control's pieces got.

    Not what the arm is named by, nor what other arms got alone: those are what the cook compares.

    Parameters
    ----------
    whole, arm_id
        The cook, and one of its arms.
    """
    control = whole.control
    arm = next(arm for arm in whole.arms if arm.id == arm_id)
    if control is None or arm.control:
        return ()
    kinds = {one.id: _kinds_of(whole, one) for one in whole.arms}
    own = [kind for kind in kinds[arm_id] if kind not in kinds[control.id]]
    apart = [one.id for one in whole.arms if one.id not in {arm_id, control.id}]
    told = [
        kind for kind in own if any((kind in kinds[one]) != (own[0] in kinds[one]) for one in apart)
    ]
    named = [kind for kind in own if arm_key(str(kind)) in arm_key(arm.name)]
    main = named or own[:1]
    return tuple(
        f"having been {kind}" if kind is not TreatmentKind.OTHER else "what else was done"
        for kind in own
        if kind not in main and kind not in told
    )


def _kinds_of(whole: WholeCook, arm: Arm) -> list[TreatmentKind]:
    """Return what was done to every piece of an arm, but leaving it alone."""
    pieces = whole.pieces_of(arm)
    every = [[one.kind for one in whole.treatments_of(piece)] for piece in pieces]
    if not every:
        return []
    return [
        kind
        for kind in dict.fromkeys(every[0])
        if kind is not TreatmentKind.NONE and all(kind in own for own in every)
    ]


def treated_besides(whole: WholeCook) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return what was done to an arm besides its treatment, and not to the control, by its name."""
    found = ((arm.name, beside_the_treatment(whole, arm.id)) for arm in whole.arms)
    return tuple((name, what) for name, what in found if what)


def beside_sentences(
    whole: WholeCook, found: Sequence[tuple[str, tuple[str, ...]]], noun: str
) -> list[str]:
    """Return what was done to arms besides their treatment, in words.

    Parameters
    ----------
    whole, found, noun
        The cook, what was done by the arm's name, and what one piece is called.
    """
    control = whole.control
    if control is None:
        return []
    return [
        f"{capital(pieces_of(name, noun))} cannot be told apart from {listed(what)}: "
        f"{pieces_of(control.name, noun)} had neither the one nor the other. Whatever "
        "differs may come from the one or from the other."
        for name, what in found
    ]


def claims(judged: Difference | Across) -> bool:
    """Whether something is said of an arm that what went with it could have made as well."""
    return judged.tells or judged.too_small


def first_words(judged: Difference | Across, found: Sequence[WentWith]) -> str:
    """Return what stands before a verdict that is not about the arm alone, or nothing.

    Parameters
    ----------
    judged
        One cook's difference, or that of several.
    found
        What went with its arm in the cooks it rests on.
    """
    either, always = either_words(judged, found)
    if not either:
        return ""
    who = "this cook" if isinstance(judged, Difference) else "these cooks" if always else "they"
    return f"{capital(either)}, {who} cannot say which: "


def first_of_effects(went: Iterable[WentWith]) -> str:
    """Return what stands before the effects of a two-by-two some of whose arms had company."""
    own = [one for one in went if one.own]
    if not own:
        return ""
    return f"By the arms or by {listed(_what(own))}, this cook cannot say which: "


def either_words(judged: Difference | Across, found: Sequence[WentWith]) -> tuple[str, bool]:
    """Return what else may have made a claim, and whether that holds in every cook behind it.

    "by the arm or by the slot", "in one of four cooks by the arm or by the slot"; nothing where
    nothing is claimed, or nothing went with the arm.
    """
    if not found or not claims(judged):
        return "", False
    either = _either(found)
    if isinstance(judged, Across) and len(found) < len(judged.cooks):
        some = f"{in_letters(len(found))} of {in_letters(len(judged.cooks))}"
        return f"in {some} cooks {either}", False
    return either, True


def verdict_with(judged: Difference | Across, found: Sequence[WentWith]) -> str:
    """Return a verdict in a few words that is no claim on the arm where something went with it."""
    words = judged.verdict
    worth = isinstance(judged, Difference) and not judged.declared and judged.tells
    if not found or not (claims(judged) or worth):
        return words
    either = _either(found)
    if isinstance(judged, Across) and len(found) < len(judged.cooks):
        return f"{words}, in {len(found)} of {len(judged.cooks)} cooks {either}"
    return f"{words}, {either}"


def _either(found: Sequence[WentWith]) -> str:
    return f"by the arm or by {listed(_what(found))}"


def _what(found: Sequence[WentWith]) -> list[str]:
    return list(dict.fromkeys(what for one in found for what in one.what))
