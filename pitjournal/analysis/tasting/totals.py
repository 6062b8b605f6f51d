"""Weighted totals of a contest scheme: whole cards, the lowest left out, places with ties."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pitjournal.domain.scheme import Criterion, Rules, Ties
from pitjournal.domain.tasting import Session


@dataclass(frozen=True)
class Total:
    """What a piece's cards add up to.

    Attributes
    ----------
    cards
        The weighted total of each taster who scored all that is weighted, lowest first.
    value
        The sum without the lowest; None where the scheme asks for another number of cards.
    best_by
        Sum of what counts by weighted criterion, the heaviest first: it settles ties.
    """

    cards: tuple[float, ...]
    value: float | None
    best_by: tuple[float, ...]


def weighted_card(rules: Rules, scores: Mapping[str, float]) -> float | None:
    """Return one taster's weighted total of one sample; None where a score is missing."""
    if not rules.weighted or any(c.name not in scores for c in rules.weighted):
        return None
    return sum((c.weight or 0.0) * scores[c.name] for c in rules.weighted)


def total_of(rules: Rules, cards: Sequence[Mapping[str, float]]) -> Total:
    """Return the total of a piece from its tasters' scores by criterion."""
    whole = [(card, one) for one in cards if (card := weighted_card(rules, one)) is not None]
    whole.sort(key=lambda pair: pair[0])
    counted = whole[rules.drop :]
    known = rules.judges is not None and len(whole) == rules.judges
    heaviest = sorted(rules.weighted, key=_weight, reverse=True)
    return Total(
        tuple(card for card, _ in whole),
        sum(card for card, _ in counted) if known else None,
        tuple(sum(one[c.name] for _, one in counted) for c in heaviest),
    )


def _weight(criterion: Criterion) -> float:
    return criterion.weight or 0.0


def totals(session: Session) -> dict[str, Total]:
    """Return each piece's total by its id; none before the reveal, none without weights."""
    rules = session.tasting.asked
    if not session.tasting.revealed or not rules.weighted:
        return {}
    cards: dict[str, dict[tuple[str, str], dict[str, float]]] = {}
    for (sample_id, taster, criterion), value in session.given.items():
        sample = session.by_id.get(sample_id)
        if sample is not None:
            of_piece = cards.setdefault(sample.piece_id, {})
            of_piece.setdefault((sample_id, taster), {})[criterion] = value
    return {piece: total_of(rules, list(given.values())) for piece, given in cards.items()}


def cards_short(session: Session) -> str:
    """Return why pieces have no total: how many whole cards they have, of how many; or nothing."""
    judges = session.tasting.asked.judges
    short = sorted({len(t.cards) for t in totals(session).values() if t.value is None})
    if judges is None or not short:
        return ""
    had = " or ".join(str(count) for count in short)
    return f"A total takes {judges} whole cards; some pieces have {had}, and so no total."


def places(rules: Rules, found: Mapping[str, Total]) -> dict[str, int]:
    """Return the place of each piece that has a total, 1 the highest; equal ones share it."""
    keys = {}
    for piece, total in found.items():
        if total.value is not None:
            settle = total.best_by if rules.ties is Ties.SETTLED else ()
            keys[piece] = tuple(round(part, 9) for part in (total.value, *settle))
    return {piece: 1 + sum(other > key for other in keys.values()) for piece, key in keys.items()}
