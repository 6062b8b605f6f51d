"""Which rule a piece of meat is judged by: by what it is, and by everything done to it."""

from dataclasses import dataclass

from pitjournal.domain.cuts import form_in, meat_of
from pitjournal.domain.cuts.meat import Form, JudgedAs
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.trace import Sits
from pitjournal.domain.treatment import NON_INTACT, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook

EARLY = 60.0
"""A probe that goes in below this, °C (140 °F), goes into raw meat (common practice, no source)."""

IN_FROM_THE_START = 3600.0
"""A trace that begins within an hour of going on was in the meat early, s."""


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
    done = max((form for form, _ in _done(whole, piece)), key=lambda one: one.rank, default=None)
    if done is Form.STUFFED:
        rule = max(rule, JudgedAs.STUFFED, key=_asks)
    elif done is Form.GROUND:
        rule = max(rule, JudgedAs.GROUND, key=_asks)
    if why:
        rule = max(rule, JudgedAs.NON_INTACT, key=_asks)
    return Judged(rule, why)


def why_non_intact(whole: WholeCook, piece: Piece) -> tuple[str, ...]:
    """Return what was done to a piece that carries its surface inside, before it was probed."""
    return tuple(why for why in _non_intact(whole, piece) if why != "probed early")


def _asks(rule: JudgedAs) -> int:
    return list(JudgedAs).index(rule)


def _done(whole: WholeCook, piece: Piece) -> list[tuple[Form, str]]:
    """Return the forms that words name: of treatments of no other kind, and of the arm."""
    other = [t for t in whole.treatments_of(piece) if t.kind is TreatmentKind.OTHER]
    texts = [f"{t.recipe} {t.tool} {t.note}".strip() for t in other]
    found: list[tuple[Form, str]] = [
        (form, text) for text in texts if (form := form_in(text)) is not Form.WHOLE
    ]
    arm = whole.arm_of(piece)
    form = Form.WHOLE if arm is None else form_in(arm.name)
    if arm is not None and form is not Form.WHOLE:
        found.append((form, f"its arm is named “{arm.name.strip()}”"))
    return found


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
        found.append("probed early")
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
