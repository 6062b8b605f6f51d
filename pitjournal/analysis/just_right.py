"""Just-about-right answers: how many found too little or too much, and what it cost in liking."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pitjournal.domain.scheme import Criterion, Scale
from pitjournal.domain.tasting import Session

if TYPE_CHECKING:
    from pitjournal.science.just_about_right import Penalty, Side

NO_INTERVAL = (
    "Answers of the same taster and of the same piece go together, so the costs have no interval."
)


@dataclass(frozen=True)
class JustRight:
    """One just-about-right criterion over all samples; `cost` is None without a liking."""

    name: str
    shares: tuple[float, float, float]
    n: int
    cost: "Penalty | None"
    words: str


def just_right(session: Session) -> tuple[JustRight, ...]:
    """Return each just-about-right criterion; nothing before the reveal or without answers."""
    if not session.tasting.revealed:
        return ()
    criteria = session.tasting.asked.criteria
    points = (c.name for c in criteria if c.scale in {Scale.WHOLE, Scale.HALF, Scale.LINE})
    liking = next(points, None)
    found = (_one(session, c, liking) for c in criteria if c.ideal is not None)
    return tuple(one for one in found if one is not None)


def _one(session: Session, criterion: Criterion, liking: str | None) -> JustRight | None:
    from pitjournal.science.just_about_right import penalty  # noqa: PLC0415 - numpy, when needed

    ideal = criterion.ideal or 0.0
    sides = {
        (sample, taster): value - ideal
        for (sample, taster, name), value in session.given.items()
        if name == criterion.name
    }
    n = len(sides)
    if not n:
        return None
    little = sum(side < 0 for side in sides.values()) / n
    much = sum(side > 0 for side in sides.values()) / n
    liked = [session.given.get((*key, liking or ""), float("nan")) for key in sides]
    cost = penalty(list(sides.values()), liked) if liking else None
    said = [f"{criterion.name.capitalize()}: right for {1 - little - much:.0%} of {n} answers"]
    if cost is not None:
        said += [
            words
            for words in (
                _side_words("too little", cost.too_little, liking),
                _side_words("too much", cost.too_much, liking),
            )
            if words
        ]
    shares = (little, 1 - little - much, much)
    return JustRight(criterion.name, shares, n, cost, "; ".join(said) + ".")


def _side_words(side: str, found: "Side", liking: str | None) -> str:
    """Return what a side costs; nothing where hardly anyone named it, or nothing to compare."""
    if not found.reported or found.drop is None:
        return ""
    way = "less" if found.drop > 0 else "more"
    if abs(found.drop) < 0.05:
        return f"{side} for {found.share:.0%}, at no cost in {liking}"
    return f"{side} for {found.share:.0%}, who gave {abs(found.drop):.1f} points {way} {liking}"
