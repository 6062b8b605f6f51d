"""Which rule a piece of meat is judged by: by what it is, and by everything done to it."""

from collections.abc import Iterable
from dataclasses import dataclass

from pitjournal.domain.cuts import form_in, meat_of
from pitjournal.domain.cuts.done import BOTH, Done, done_in, named_by_blade
from pitjournal.domain.cuts.labels import solution_in
from pitjournal.domain.cuts.meat import Form, JudgedAs
from pitjournal.domain.cuts.words import stems
from pitjournal.domain.event import EventKind
from pitjournal.domain.log_words import said_in_log, texts_about
from pitjournal.domain.piece import Piece
from pitjournal.domain.trace import Sits
from pitjournal.domain.treatment import NON_INTACT, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook

EARLY = 60.0
"""A probe that goes in below this, °C (140 °F), goes into raw meat (common practice, no source)."""

IN_FROM_THE_START = 3600.0
"""A trace that begins within an hour of going on was in the meat early, s."""

PROBED_EARLY = "probed early"

_BY_FORM = {Form.GROUND: JudgedAs.GROUND, Form.STUFFED: JudgedAs.STUFFED}


@dataclass(frozen=True)
class Judged:
    """The rule that asks most of a piece, and why, where what was done to it is the reason.

    Attributes
    ----------
    rule
        Which rule.
    why
        In a cook's words: "injected", "probed early".
    """

    rule: JudgedAs
    why: tuple[str, ...] = ()


def judged(whole: WholeCook, piece: Piece) -> Judged:
    """Return what a piece is judged as; every treatment counts, its own and its arm's."""
    meat = meat_of(piece.cut)
    rule, why = meat.judged_as, tuple(_non_intact(whole, piece))
    done = _done(whole, piece)
    form = max((one for one, _ in done), key=lambda one: one.rank, default=None)
    if form is Form.STUFFED:
        rule = max(rule, JudgedAs.STUFFED, key=_asks)
    elif form is Form.GROUND:
        rule = max(rule, JudgedAs.GROUND, key=_asks)
    if why and not (rule is JudgedAs.SEAFOOD and why == (PROBED_EARLY,)):
        rule = max(rule, JudgedAs.NON_INTACT, key=_asks)
    if form is not None and rule is _BY_FORM.get(form) is not meat.judged_as:
        why = tuple(dict.fromkeys(text for one, text in done if one is form))
    return Judged(rule, why)


def why_non_intact(whole: WholeCook, piece: Piece) -> tuple[str, ...]:
    """Return what was done to a piece that carries its surface inside, before it was probed."""
    return tuple(why for why in _non_intact(whole, piece) if why != PROBED_EARLY)


def forms_of(whole: WholeCook, piece: Piece) -> set[Form]:
    """Return what words about a piece say was made of it, besides its cut."""
    return {form for form, _ in _done(whole, piece)}


def _asks(rule: JudgedAs) -> int:
    return list(JudgedAs).index(rule)


def _done(whole: WholeCook, piece: Piece) -> list[tuple[Form, str]]:
    """Return the forms that words name, and where: treatments, the arm, the notes, the title."""
    found = _said_of(whole, piece)
    apart = _told_by_arms(whole, piece)
    # A step such as "inject" says once more what a treatment says.
    known = {str(one.kind) for one in whole.treatments_of(piece)}
    logged = (one for one in said_in_log(whole, piece, apart) if one.what not in known)
    found += _named(logged, "the log says")
    # What one arm says of itself is what the title is about; else the title is of them all.
    told = {form for form, _ in found} | apart
    if any(t.kind in NON_INTACT for t in whole.treatments_of(piece)):
        told.add(Form.NON_INTACT)
    titled = whole.once(_titled)
    where = "the cook's title or question says"
    return found + _named((one for one in titled if one.form not in told), where)


def _told_by_arms(whole: WholeCook, piece: Piece) -> frozenset[Form]:
    """Return the forms that tell a cook's arms apart: the title does not speak of every arm."""
    return frozenset() if piece.arm_id is None else whole.once(_forms_of_arms)


def _forms_of_arms(whole: WholeCook) -> frozenset[Form]:
    if len(whole.arms) < 2:
        return frozenset()
    forms = {form_in(arm.name) for arm in whole.arms}
    forms |= {Form.NON_INTACT for arm in whole.arms if named_by_blade(arm.name)}
    of_arms = [one for one in whole.treatments if one.arm_id is not None]
    forms |= {form_in(f"{t.recipe} {t.note}") for t in of_arms if t.kind is TreatmentKind.OTHER}
    return frozenset(forms | {Form.NON_INTACT for one in of_arms if one.kind in NON_INTACT})


def _titled(whole: WholeCook) -> tuple[Done, ...]:
    return done_in(f"{whole.cook.title}\n{whole.cook.question}")


def _said_of(whole: WholeCook, piece: Piece) -> list[tuple[Form, str]]:
    """Return the forms that words name of one piece: those of its treatments, arm and note."""
    found: list[tuple[Form, str]] = []
    treatments = whole.treatments_of(piece)
    for one in treatments:
        text = f"{one.recipe} {one.tool} {one.note}".strip()
        if one.kind is TreatmentKind.OTHER and form_in(text) is not Form.WHOLE:
            found.append((form_in(text), text))
        elif one.kind is TreatmentKind.OTHER and named_by_blade(text):
            found.append((Form.NON_INTACT, f"it was treated with “{text}”"))
        elif one.kind is not TreatmentKind.OTHER:
            said = f"with “{one.kind}” it says"
            asked = Form.NON_INTACT.rank if one.kind in NON_INTACT else Form.WHOLE.rank
            found += _named(done_in(f"{one.recipe}\n{one.tool}\n{one.note}"), said, asked)
    arm = whole.arm_of(piece)
    name = "" if arm is None else arm.name.strip()
    if form_in(name) is not Form.WHOLE:
        found.append((form_in(name), f"its arm is named “{name}”"))
    elif named_by_blade(name) and not {*stems(name)} & {*stems(piece.cut)}:
        found.append((Form.NON_INTACT, f"its arm is named “{name}”"))
    found += _named(done_in(piece.note), "its note says")
    bought = f"{piece.supplier}\n{piece.grade}\n{piece.lot}"
    if label := solution_in(bought):
        found.append((Form.NON_INTACT, f"what was bought says “{label}”"))
    texts = [piece.cut, name, piece.note, *(f"{t.kind} {t.recipe} {t.note}" for t in treatments)]
    texts += texts_about(whole, piece)
    both = [d for d in done_in("\n".join(texts)) if d.what in BOTH]
    return found or [(done.form, done.what) for done in both]


def _named(done: Iterable[Done], where: str, above: int = 0) -> list[tuple[Form, str]]:
    return [(one.form, f"{where} “{one.words}”") for one in done if one.form.rank > above]


def _non_intact(whole: WholeCook, piece: Piece) -> list[str]:
    kinds = [t.kind for t in whole.treatments_of(piece) if t.kind in NON_INTACT]
    found = [str(kind) for kind in kinds]
    named = whole.arm_of(piece) if kinds else None  # a row says it, and its arm is named by it
    by_name = "" if named is None else f"its arm is named “{named.name.strip()}”"
    done = _done(whole, piece)
    found += [text for form, text in done if form is Form.NON_INTACT and text != by_name]
    if meat_of(piece.cut).form is Form.NON_INTACT:
        found.append(piece.cut)
    if piece.declared_solution:
        found.append("sold with a solution in it")
    if _probed_early(whole, piece):
        found.append(PROBED_EARLY)
    return list(dict.fromkeys(found))


def _probed_early(whole: WholeCook, piece: Piece) -> bool:
    """Whether a probe went in while the inside was raw, and took the surface with it."""
    on = whole.moment_of(EventKind.ON, piece)
    if on is None:
        return False
    by_hand = any(
        check.internal is not None and check.internal < EARLY for check in whole.checks_of(piece)
    )
    return by_hand or any(
        trace.piece_id == piece.id
        and trace.sits is Sits.MEAT
        and trace.starts_at.timestamp() <= on + IN_FROM_THE_START
        for trace in whole.traces
    )
