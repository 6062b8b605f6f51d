"""The panel looked after: how tasters agree, how well they repeat, who is far off the rest.

A taster who is far off is shown as such and stays in. Everything here is after the reveal.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean, median, stdev
from typing import TYPE_CHECKING

from pitjournal.domain.scheme import Criterion, Scale
from pitjournal.domain.tasting import Session
from pitjournal.units.figures import figure

if TYPE_CHECKING:
    from pitjournal.science.comparison.paired import Estimate
    from pitjournal.science.sensory.agreement import Agreement, Likeness, Repeatability

FAR = 1.0
"""Points off the rest from which a taster is called far off (common practice, no source)."""

FEWEST = 4
"""Tasters it takes to say which of them is off: one odd one must not move the rest's middle."""

POOR, GOOD = 0.5, 0.75
"""Limits of agreement, Koo and Li (2016), J. Chiropractic Medicine 15, 155-163; from memory."""

LOOKS = 0.05
"""Chance of calling anyone of the panel far off when nobody is."""

Table = dict[str, dict[str, float]]
"""Score by piece id and taster."""


@dataclass(frozen=True)
class CriterionAgreement:
    """How far the tasters agree on one criterion.

    `one` is the agreement of single tasters in points (ICC 2,1), `order` Kendall's W with its
    p value; None where they can't be worked out. `left_out` says in words whose scores, and how
    many pieces, are not in the table they are of.
    """

    name: str
    pieces: int
    tasters: int
    one: "Agreement | None"
    order: float | None
    order_p: float | None
    words: str
    left_out: str = ""


@dataclass(frozen=True)
class TasterLook:
    """How one taster scored beside the rest.

    `level` is the scores − the median of the others' on the same pieces, points; `like` how
    the order goes with theirs.
    """

    name: str
    count: int
    mean: float | None
    spread: float | None
    level: "Estimate | None"
    like: "Likeness | None"
    far: bool
    words: str


@dataclass(frozen=True)
class Panel:
    """What a session says about its tasters."""

    criteria: tuple[CriterionAgreement, ...]
    tasters: tuple[TasterLook, ...]
    repeat: "Repeatability | None"
    words: tuple[str, ...]


def panel_of(session: Session) -> Panel | None:
    """Return how the panel did; None before the reveal, and where nothing was scored."""
    if not session.tasting.revealed or not session.tasting.asked.scored:
        return None
    tables = {c.name: _table(session, c.name) for c in session.tasting.asked.criteria}
    criteria = tuple(
        _agreement(session, criterion, tables[criterion.name])
        for criterion in session.tasting.asked.criteria
    )
    scored = [c for c in session.tasting.asked.criteria if _of_points(c, session)]
    tasters = _tasters(session, {c.name: tables[c.name] for c in scored})
    repeat, said = _repeats(session, [c.name for c in scored])
    words = [*_alone(session), said, *(look.words for look in tasters if look.words)]
    return Panel(criteria, tasters, repeat, tuple(word for word in words if word))


def _of_points(criterion: Criterion, session: Session) -> bool:
    """Whether a criterion is scored in the points of the first one that is."""
    points = [
        c
        for c in session.tasting.asked.criteria
        if c.scale in {Scale.WHOLE, Scale.HALF, Scale.LINE}
    ]
    ends = (criterion.low, criterion.high)
    return criterion in points and ends == (points[0].low, points[0].high)


def _table(session: Session, name: str) -> Table:
    """Return the scores of one criterion; two portions of one piece are averaged."""
    found: dict[str, dict[str, list[float]]] = {}
    for (sample_id, taster, criterion), value in session.given.items():
        sample = session.by_id.get(sample_id)
        if sample is not None and criterion == name and math.isfinite(value):
            found.setdefault(sample.piece_id, {}).setdefault(taster, []).append(value)
    return {
        piece: {taster: fmean(values) for taster, values in row.items()}
        for piece, row in found.items()
    }


def _who(session: Session) -> list[str]:
    return [taster for taster in session.present if session.count(taster)]


def _alone(session: Session) -> list[str]:
    who = _who(session)
    if not who:
        return ["Nobody scored, so nothing can be said of the panel."]
    if len(who) == 1:
        return [f"{who[0]} scored alone, so whether others would agree can't be said."]
    return []


# agreement


def _agreement(session: Session, criterion: Criterion, table: Table) -> CriterionAgreement:
    from pitjournal.science.sensory.agreement import panel_agreement
    from pitjournal.science.sensory.ranks import friedman

    who = _fullest(session, table)
    whole = [[row[taster] for taster in who] for row in table.values() if set(who) <= set(row)]
    name, k, n = criterion.name, len(who), len(whole)
    gaps = _gaps_words(session, table, who, n)
    why = _why_not(name, whole, k, table)
    if why:
        return CriterionAgreement(name, n, k, None, None, None, why, gaps)
    ranked = friedman([list(column) for column in zip(*whole, strict=True)])
    order = None if ranked is None else ranked.w
    p = None if ranked is None else (ranked.p if ranked.exact_p is None else ranked.exact_p)
    found = None if criterion.scale is Scale.RANK else panel_agreement(whole)
    one = None if found is None else found.any_tasters
    words = _agreement_words(criterion, one, order, p, (k, n))
    return CriterionAgreement(name, n, k, one, order, p, f"{words}{gaps}", gaps)


def _fullest(session: Session, table: Table) -> list[str]:
    """Return the tasters whose full table of scores tells most: (tasters − 1) × (pieces − 1).

    Both the ICC and Kendall's W take a table without gaps. Those with the fewest scores are left
    out, one after another, where the table is larger for it: one guest who leaves early does not
    take the others' pieces along. Only how many scores there are decides, never what they are.
    Where each was served only some, everybody has gaps and nobody is left out.
    """
    who = _who(session)
    if session.tasting.some_each(len(session.samples)):
        return who
    count = {taster: sum(taster in row for row in table.values()) for taster in who}
    by_count = sorted(who, key=lambda taster: -count[taster])
    best, most = who, -1
    for k in range(len(who), 1, -1):
        those = set(by_count[:k])
        pieces = sum(those <= set(row) for row in table.values())
        told = (k - 1) * (pieces - 1)
        if told > most:
            best, most = [taster for taster in who if taster in those], told
    return best


def _gaps_words(session: Session, table: Table, who: Sequence[str], pieces: int) -> str:
    """Say who and what is not in the full table; empty where all is, or nobody was left out."""
    if session.tasting.some_each(len(session.samples)):
        return ""
    said = []
    for taster in _who(session):
        if taster not in who:
            count = sum(taster in row for row in table.values())
            left = ", who left early" * (taster in session.left)
            said.append(f"{taster}{left} (scored {count} of {len(table)})")
    less = len(table) - pieces
    if less and pieces:
        said.append(
            "one piece that not all of them scored"
            if less == 1
            else f"{less} pieces that not all of them scored"
        )
    return f" Not in it: {'; '.join(said)}." if said else ""


def _why_not(name: str, whole: Sequence[Sequence[float]], tasters: int, table: Table) -> str:
    """Return why agreement can't be worked out, or an empty text."""
    said = name.capitalize()
    if tasters < 2:
        return f"{said}: agreement takes two tasters."
    if len(whole) < 2:
        met = "each met only some of them" if len(table) > 1 else "there is one"
        return f"{said}: agreement takes two pieces that all tasters scored; {met}."
    if len({value for row in whole for value in row}) == 1:
        return f"{said}: every score is the same, so how far the tasters agree can't be said."
    return ""


def _agreement_words(
    criterion: Criterion,
    one: "Agreement | None",
    order: float | None,
    p: float | None,
    size: tuple[int, int],
) -> str:
    name = criterion.name.capitalize()
    parts = []
    if one is not None:
        bounds = f"{figure(one.value, 2)}, {figure(one.low, 2)} to {figure(one.high, 2)}"
        parts.append(f"{_how_well(one)} (ICC {bounds})")
    elif criterion.scale is not Scale.RANK:
        parts.append("the tasters set the pieces the same distances apart")
    if order is not None and p is not None:
        chance = "less than 1 in 1000" if p < 0.001 else figure(p, 3).rstrip("0").rstrip(".")
        alike = "the order is shared" if p <= LOOKS else "not enough to tell one order"
        parts.append(f"{alike} (Kendall’s W {figure(order, 2)}, p {chance})")
    elif criterion.scale is Scale.RANK or not parts:
        parts.append("no taster put one piece before another")
    return f"{name}: {'; '.join(parts)}. {size[0]} tasters, {size[1]} pieces."


def _how_well(one: "Agreement") -> str:
    if one.low >= GOOD:
        return "the tasters agree well"
    if one.low >= POOR:
        return "the tasters agree fairly well"
    if one.high < POOR:
        return "the tasters hardly agree, or the pieces hardly differ"
    return "not enough to tell how far the tasters agree"


# each taster


def _tasters(session: Session, tables: Mapping[str, Table]) -> tuple[TasterLook, ...]:
    from pitjournal.science.comparison.multiplicity import holm

    names = session.tasting.tasters
    levels = {name: _level(name, tables) for name in names}
    known = [name for name in names if (level := levels[name]) is not None and level.p is not None]
    raw = [level.p for name in known if (level := levels[name]) is not None]
    adjusted = dict(zip(known, holm([math.nan if p is None else p for p in raw]), strict=True))
    return tuple(
        _look(session, name, tables, levels[name], float(adjusted.get(name, math.nan)))
        for name in names
    )


def _beside(name: str, tables: Mapping[str, Table]) -> list[tuple[float, float]]:
    """Return a taster's mean and the others' median for each piece that both scored."""
    pairs: dict[str, list[tuple[float, float]]] = {}
    for table in tables.values():
        for piece, row in table.items():
            others = [value for taster, value in row.items() if taster != name]
            if name in row and others:
                pairs.setdefault(piece, []).append((row[name], median(others)))
    return [(fmean(o for o, _ in found), fmean(r for _, r in found)) for found in pairs.values()]


def _level(name: str, tables: Mapping[str, Table]) -> "Estimate | None":
    from pitjournal.science.comparison.paired import paired_difference

    pairs = _beside(name, tables)
    if not pairs:
        return None
    return paired_difference([rest for _, rest in pairs], [own for own, _ in pairs])


def _look(
    session: Session,
    name: str,
    tables: Mapping[str, Table],
    level: "Estimate | None",
    adjusted: float,
) -> TasterLook:
    from pitjournal.science.sensory.agreement import likeness

    given = session.given.items()
    mine = (v for (_, who, what), v in given if who == name and what in tables)
    values = [value for value in mine if math.isfinite(value)]
    pairs = _beside(name, tables)
    like = likeness([own for own, _ in pairs], [rest for _, rest in pairs])
    enough = len(_who(session)) >= FEWEST
    off = level is not None and abs(level.estimate) >= FAR and adjusted <= LOOKS
    far = enough and off
    words = ""
    if name in session.absent:
        words = f"{name} was absent."
    elif far and level is not None and level.low is not None and level.high is not None:
        way = "higher" if level.estimate > 0 else "lower"
        low, high = sorted((abs(level.low), abs(level.high)))
        words = (
            f"{name} is far off the rest: {figure(abs(level.estimate), 1)} points {way} "
            f"({figure(low, 1)} to {figure(high, 1)}; {level.n} pieces). The scores stay in."
        )
    elif like is not None and like.high < 0:
        words = (
            f"{name} puts the pieces the other way round than the rest "
            f"(correlation {figure(like.value, 2)}, {figure(like.low, 2)} to {figure(like.high, 2)}; {like.n} pieces). "
            "The scores stay in."
        )
    elif len(set(values)) == 1 and _portions(session, name, tables) > 1:
        words = f"{name} gave everything the same score, which tells nothing apart."
    elif name in session.left:
        words = f"{name} left early; what {name} gave counts."
    return TasterLook(
        name,
        len(values),
        fmean(values) if values else None,
        stdev(values) if len(values) > 1 else None,
        level,
        like,
        far,
        words,
    )


def _portions(session: Session, name: str, tables: Mapping[str, Table]) -> int:
    """Return how many portions a taster scored."""
    return len({sample for sample, who, what in session.given if who == name and what in tables})


# repeats


def _repeats(session: Session, names: Sequence[str]) -> tuple["Repeatability | None", str]:
    from pitjournal.science.sensory.agreement import repeatability

    if not names or not _who(session):
        return None, ""
    cells = _scores_by_piece(session, names)
    again = [cell for cell in cells.values() if len(cell) > 1]
    if not again:
        return None, (
            "No piece was served twice, so how well a taster repeats is not known. Next time "
            "serve one piece under two codes."
        )
    found = repeatability(again)
    if found is None:
        count = len(again)
        return None, f"Every score of the piece served twice came out the same ({count} pairs)."
    return found, (
        f"Of a piece served twice, one taster’s two scores lie within {figure(found.limit, 1)} points "
        f"of each other 19 times in 20 (standard deviation {figure(found.sd, 2)}, {figure(found.low, 2)} to "
        f"{figure(found.high, 2)}; {found.df} pairs)."
    )


def _scores_by_piece(
    session: Session, names: Sequence[str]
) -> Mapping[tuple[str, str, str], list[float]]:
    """Return the scores by piece, taster and criterion."""
    cells: dict[tuple[str, str, str], list[float]] = {}
    for (sample_id, taster, criterion), value in session.given.items():
        sample = session.by_id.get(sample_id)
        if sample is not None and criterion in names:
            cells.setdefault((sample.piece_id, taster, criterion), []).append(value)
    return cells
