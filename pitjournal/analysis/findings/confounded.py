"""What goes with an arm, so that nothing in this cook, or hardly a piece, tells the two apart."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pitjournal.analysis.findings.comparison import PieceValues, number
from pitjournal.analysis.trade_words import listed, pieces_of
from pitjournal.domain.blocks import Value
from pitjournal.domain.catalogue import Catalogue, Kind, Level, Origin, Variable
from pitjournal.domain.cook import Arm
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.first_letter import capital

HELD = ("pack", "animal", "lot")
"""What several pieces come from: each may have one of its own, and then nothing goes together."""
SORTS = ("supplier", "grade", "frozen", "side", "end", "cut")
"""What a piece is or is not."""
BESIDE = ("wrap", "rub")
"""What is done besides a treatment: where arms are treated alike, it is what they compare."""
PLACE = "slot"
ENDS = frozenset({"side", "end"})
"""Here one name is not enough: racks left alone have not got it from their left side."""
PRIVATE = frozenset({"supplier", "lot"})
MOST_NAMED = 3
HARDLY = 0.5
"""Where fewer of an arm's pieces than this share have a partner of the same pack, they hardly
tell the arm from the pack."""


@dataclass(frozen=True)
class Confounded:
    """An arm that shares no value of a variable with the control, nor through other arms.

    `own` and `control_own` are the values, in words. `hardly` says that a few pieces do share one.
    """

    arm_id: str
    arm: str
    look: int
    control: str
    variable: Variable
    own: tuple[str, ...]
    control_own: tuple[str, ...]
    hardly: bool = False


def confounded_of(
    whole: WholeCook, values: PieceValues, catalogue: Catalogue
) -> tuple[Confounded, ...]:
    """Return what can't be told apart from being in an arm, the arms in their order.

    Only what is known of every piece of both arms counts. What an arm is named by ("prime",
    "frozen") is what the cook compares, and not beside it. A slot that names a cooker or a rack
    ("drum 1", "top 2") stands for that one.

    Parameters
    ----------
    whole
        The cook, with all its records.
    values
        What is known of its pieces, by id and catalogue key, storage units.
    catalogue
        The variables of the journal.
    """
    control = whole.control
    if control is None:
        return ()
    found = []
    for arm in whole.ordered_arms:
        if not arm.control:
            found += [
                Confounded(
                    arm.id,
                    arm.name,
                    whole.arm_index(arm.id) or 0,
                    control.name,
                    variable,
                    tuple(_words(value) for value in dict.fromkeys(own[arm.id])),
                    tuple(_words(value) for value in dict.fromkeys(own[control.id])),
                    not set(own[arm.id]).isdisjoint(own[control.id]),
                )
                for variable in _asked(catalogue)
                if (own := _by_arm(whole, values, variable.key))
                and _goes_with(whole, variable.key, arm, control, own)
            ]
    return tuple(_plainest(found))


def _asked(catalogue: Catalogue) -> list[Variable]:
    """Return the variables looked at: those of the piece that sort it, the cook's own too."""
    own = [
        variable
        for variable in catalogue.values()
        if variable.origin is Origin.OWN
        and variable.level is Level.PIECE
        and variable.kind in {Kind.CHOICE, Kind.YES_NO}
    ]
    return [*(catalogue[key] for key in (*HELD, *SORTS, *BESIDE, PLACE)), *own]


def _by_arm(whole: WholeCook, values: PieceValues, key: str) -> Mapping[str, list[Value]]:
    return {
        arm.id: [values.get(piece.id, {}).get(key) for piece in whole.pieces_of(arm)]
        for arm in whole.arms
    }


def _goes_with(
    whole: WholeCook, key: str, arm: Arm, control: Arm, by_arm: Mapping[str, list[Value]]
) -> bool:
    mine, others = by_arm[arm.id], by_arm[control.id]
    if not mine or not others or any(_unknown(value) for value in (*mine, *others)):
        return False
    named = _named_by(arm, mine), _named_by(control, others)
    compared = all(named) or (any(named) and key not in ENDS)
    if (compared or key in BESIDE) and not _treated_otherwise(whole, arm, control):
        return False
    if key == PLACE:
        return _in_a_row(mine, others) or _place_goes_with(arm, control, by_arm)
    if _joined(arm, control, by_arm) and not _hardly_shared(mine, others):
        return False
    repeats = len(set(mine)) < len(mine) or len(set(others)) < len(others)
    return repeats or key not in HELD or len(mine) == len(others) == 1


def _hardly_shared(mine: Sequence[Value], others: Sequence[Value]) -> bool:
    """Whether two arms share a value, and fewer than half of the smaller one's pieces do."""
    one, two = Counter(mine), Counter(others)
    paired = sum((one & two).values())
    return 0 < paired < HARDLY * min(len(mine), len(others))


def _place_goes_with(arm: Arm, control: Arm, by_arm: Mapping[str, list[Value]]) -> bool:
    """Whether racks or cookers named by slots go with an arm; two pieces can't lie in one slot."""
    if all(_rack(value) for own in by_arm.values() for value in own):
        by_arm = {one: [_rack(value) for value in own] for one, own in by_arm.items()}
        return not _joined(arm, control, by_arm)
    own = by_arm[arm.id], by_arm[control.id]
    repeats = any(len(set(values)) < len(values) for values in own)
    return repeats and not _joined(arm, control, by_arm)


def _unknown(value: Value) -> bool:
    return value is None or value == ""


def _named_by(arm: Arm, own: Sequence[Value]) -> bool:
    """Whether an arm is named by what it has, such as "Prime": then that is what is compared.

    By whole words: a supplier called A is not in "left alone".
    """
    name = _spoken(arm.name)
    return any(
        not name.isdisjoint({"frozen", "fresh"})
        if isinstance(value, bool)
        else bool(words := _spoken(str(value))) and (words <= name or name <= words)
        for value in own
    )


def _spoken(text: str) -> frozenset[str]:
    """Return the words of a name; "unfrozen" speaks of frozen."""
    words = "".join(one if one.isalnum() else " " for one in text.casefold()).split()
    return frozenset(words) | {
        known for known in ("frozen", "fresh") for word in words if known in word
    }


def _treated_otherwise(whole: WholeCook, arm: Arm, control: Arm) -> bool:
    """Whether two arms were treated in different ways, so that this is what is compared."""
    kinds = [
        {whole.treatment_kind(piece) for piece in whole.pieces_of(one)} for one in (arm, control)
    ]
    return kinds[0].isdisjoint(kinds[1])


def _rack(value: Value) -> str:
    """Return what a slot is called without its number: "drum" of "drum 1"; "" of a bare number."""
    return str(value or "").rstrip("0123456789 .,#-").casefold()


def _joined(arm: Arm, control: Arm, by_arm: Mapping[str, list[Value]]) -> bool:
    """Whether the two share a value, or are joined by an arm that shares one with both."""
    reached, grown = {control.id}, True
    while grown:
        met = {value for one in reached for value in by_arm[one] if not _unknown(value)}
        more = {one for one, own in by_arm.items() if met & set(own)} | reached
        grown, reached = more != reached, more
    return arm.id in reached


def _in_a_row(mine: Sequence[Value], others: Sequence[Value]) -> bool:
    """Whether one arm has all the low places and the other all the high ones."""
    one, two = ([_place(value) for value in values] for values in (mine, others))
    low, high = [p for p in one if p is not None], [p for p in two if p is not None]
    if min(len(low), len(high)) < 2 or len(low) < len(one) or len(high) < len(two):
        return False
    return max(low) < min(high) or max(high) < min(low)


def _place(value: Value) -> float | None:
    if isinstance(value, str):
        last = value.split()[-1:]
        return float(last[0]) if last and last[0].isdecimal() else None
    return number(value)


def _words(value: Value) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _plainest(found: Sequence[Confounded]) -> list[Confounded]:
    """Leave out a lot that only says again which pack it is, and the animal of each pack."""
    kept: list[Confounded] = []
    for one in found:
        same = any(
            k.arm_id == one.arm_id
            and k.variable.key in HELD
            and one.variable.key in HELD
            and (set(k.own), set(k.control_own)) == (set(one.own), set(one.control_own))
            for k in kept
        )
        if not same:
            kept.append(one)
    return kept


def confounded_sentences(found: Sequence[Confounded], noun: str) -> list[str]:
    """Return for each arm what it can't be told apart from.

    Suppliers and lots are named without what they are: these words are shared.
    """
    said = []
    for arm_id in dict.fromkeys(one.arm_id for one in found):
        mine = [one for one in found if one.arm_id == arm_id]
        names = listed(
            [f"the {one.variable.label}" for one in mine if one.variable.key != "frozen"]
        )
        if any(one.variable.key == "frozen" for one in mine):
            names = f"{names} and having been frozen" if names else "having been frozen"
        shown = [one for one in mine if one.variable.key not in PRIVATE]
        sides = [
            f"{name}: {', '.join(parts)}"
            for name, parts in (
                (mine[0].arm, [_some(one, one.own) for one in shown]),
                (mine[0].control, [_some(one, one.control_own) for one in shown]),
            )
        ]
        which = f" ({'; '.join(sides)})" if shown else ""
        said.append(
            f"{capital(pieces_of(mine[0].arm, noun))} {cannot(mine)} be told apart from {names}"
            f"{which}. Whatever differs may come from that."
        )
    return said


def cannot(found: Sequence[Confounded]) -> str:
    """Return "cannot", or "can hardly" where a few pieces share all that is named."""
    return "can hardly" if all(one.hardly for one in found) else "cannot"


def _some(one: Confounded, values: Sequence[str]) -> str:
    """Return what an arm has, as in "pack 1", "slot 1, 2 and 3", "not frozen"."""
    label = one.variable.label
    if one.variable.kind is Kind.YES_NO:
        return label if values[0] == "yes" else f"not {label}"
    named = list(values[:MOST_NAMED])
    if not values[0].casefold().startswith(label.casefold()):
        named[0] = f"{label} {named[0]}"
    more = len(values) - len(named)
    return listed([*named, f"{more} more"] if more else named)
