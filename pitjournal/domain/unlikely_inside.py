"""What a probe hardly says of meat that is on: kept all the same, but asked about first.

All limits are common practice, no source: they only ask.
"""

from datetime import timedelta

from pitjournal.domain.cuts import same_cut, usual_of
from pitjournal.domain.event import DonenessCheck, EventKind, Feel, feel_of
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook

HOTTEST = 104.0
"""°C. Meat holds water, and hardly comes above its boiling point."""

COLDEST, LONG_ON = 4.0, timedelta(hours=1)
"""°C that meat has left behind when it has been on so long."""

HOT, JUST_ON = 45.0, timedelta(minutes=10)
"""°C that meat has not come to when it has been on for so short a while."""

FALLS = 15.0
"""K that meat on the fire does not cool by: more between two probes of a piece is a slip."""

APART, AT_ONCE = 40.0, timedelta(minutes=30)
"""K that pieces of one cut, probed within so long, are not apart."""

SHORT_OF = 30.0
"""K below what its cut comes off at, meat does not feel right yet."""


def unlikely_inside(whole: WholeCook, check: DonenessCheck) -> str:
    """Return what is asked about a probe before it is kept, or an empty text.

    Parameters
    ----------
    whole
        The cook as it is known without it.
    check
        The probe in question.
    """
    piece = next((one for one in whole.pieces if one.id == check.piece_id), None)
    if piece is None or check.internal is None:
        return ""
    if check.internal > HOTTEST:
        return "hardly any meat gets hotter inside than water boils"
    if whole.last(EventKind.OFF, piece) is not None:
        return ""  # what rests and cools is another matter
    return (
        _since_it_went_on(whole, piece, check, check.internal)
        or _beside_others(whole, piece, check, check.internal)
        or _by_feel(piece, check, check.internal)
    )


def _since_it_went_on(whole: WholeCook, piece: Piece, check: DonenessCheck, internal: float) -> str:
    on = whole.first(EventKind.ON, piece)
    if on is None or on.happened_at is None:
        return ""
    long = check.at - on.happened_at
    if internal < COLDEST and long > LONG_ON:
        return "so cold after so long on the fire"
    if internal > HOT and timedelta(0) <= long < JUST_ON:
        return "so hot when it has only just gone on"
    known = [(one.at, one.internal) for one in whole.checks_of(piece) if one.at <= check.at]
    before = [(at, degrees) for at, degrees in known if degrees is not None]
    if long > LONG_ON and before and before[-1][1] - internal > FALLS:
        return "so much colder than before"
    return ""


def _beside_others(whole: WholeCook, piece: Piece, check: DonenessCheck, internal: float) -> str:
    """Return what is asked where another piece of the cut, probed just now, is far from it."""
    cuts = {one.id: one.cut for one in whole.pieces if one.id != piece.id}
    for other in reversed(whole.checks):
        recent = timedelta(0) <= check.at - other.at < AT_ONCE
        alike = other.piece_id in cuts and same_cut(cuts[other.piece_id], piece.cut)
        if recent and alike and other.internal is not None:
            return "so far from the others" if abs(internal - other.internal) > APART else ""
    return ""


def _by_feel(piece: Piece, check: DonenessCheck, internal: float) -> str:
    usual = usual_of(piece.cut)
    if usual is None or check.feel is None or feel_of(check.feel) is Feel.UNDER:
        return ""
    if internal < usual.off.low - SHORT_OF:
        return "right so far below what it comes off at"
    return ""
