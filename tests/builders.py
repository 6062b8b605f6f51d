"""Small invented cooks for tests."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.tasting import Sample, Tasting
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.files.schemes import shipped
from pitjournal.journal import Journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.records import AddCook
from pitjournal.journal.commands.tasting import GiveScore, LockTasting, RevealTasting

NOON = datetime(2026, 5, 2, 12, 0, tzinfo=UTC)


def a_cook(title: str = "Ribs on a Saturday", **fields: object) -> Cook:
    """Return a planned cook; its number is given when it is added."""
    values: dict[str, object] = {
        "number": 0,
        "title": title,
        "starts_at": NOON,
        "zone": "America/Chicago",
    }
    return Cook(**{**values, **fields})  # type: ignore[arg-type]


def three_arms(cook: Cook, *, pieces_each: int = 3) -> tuple[Record, ...]:
    """Return control, injected and needled arms with pieces in packs."""
    kinds = (TreatmentKind.NONE, TreatmentKind.INJECTED, TreatmentKind.NEEDLED)
    arms = tuple(
        Arm(cook_id=cook.id, position=place, name=kind.capitalize(), control=place == 0)
        for place, kind in enumerate(kinds)
    )
    treatments = tuple(
        Treatment(cook_id=cook.id, kind=kind, arm_id=arm.id)
        for kind, arm in zip(kinds, arms, strict=True)
    )
    pieces = tuple(
        Piece(
            cook_id=cook.id,
            position=3 * number + place,
            label=f"{'ABC'[place]}{number + 1}",
            cut="St. Louis ribs",
            arm_id=arm.id,
            pack=f"pack {number + 1}",
        )
        for number in range(pieces_each)
        for place, arm in enumerate(arms)
    )
    return (*arms, *pieces, *treatments)


def add_comparison(title: str = "Does injecting change the bite?") -> AddCook:
    """Return the command that adds a three-arm comparison cook."""
    cook = a_cook(title, outcome="score.tenderness")
    return AddCook(cook, three_arms(cook))


def an_event(
    cook_id: str,
    kind: EventKind | str,
    *,
    minutes: float = 0,
    pieces: Sequence[str] = (),
    **details: str,
) -> Event:
    """Return an event so many minutes after noon."""
    moment = NOON + timedelta(minutes=minutes)
    return Event(
        cook_id=cook_id,
        kind=str(kind),
        happened_at=moment,
        entered_at=moment,
        pieces=tuple(pieces),
        details=details,
    )


def add_judged(journal: Journal, title: str, tenderness: Sequence[tuple[float, float]]) -> None:
    """Add a cook whose pieces a panel and judges scored: what each gave every piece."""
    cook = a_cook(title)
    pieces = tuple(
        Piece(cook_id=cook.id, position=place, label=f"P{place}", cut="brisket")
        for place in range(len(tenderness))
    )
    journal.do(AddCook(cook, pieces))
    places = {piece.id: place for place, piece in enumerate(pieces)}
    for number, scheme in enumerate(("home-panel-1", "contest-2")):
        draw = DrawTasting(
            cook.id, ("Ada",), seed=1, scheme=shipped(scheme), criteria=("tenderness",)
        )
        journal.do(draw)
        session = max(journal.find(Tasting, cook_id=cook.id), key=lambda one: one.id)
        for sample in journal.find(Sample, tasting_id=session.id):
            value = tenderness[places[sample.piece_id]][number]
            journal.do(GiveScore(session.id, sample.id, "Ada", "tenderness", value))
        journal.do(LockTasting(session.id))
        journal.do(RevealTasting(session.id))
