"""What the tasting pages show, without widgets: progress, means, totals, places."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from pitjournal.analysis.derived import mean_of
from pitjournal.analysis.tasting.scored_pieces import levelled
from pitjournal.analysis.tasting.serving import (
    MOST_AT_ONCE,
    SETS,
    balanced_with,
    dealt_by_arm,
    share_enough,
    times_met,
)
from pitjournal.analysis.tasting.totals import cards_short, places, totals
from pitjournal.domain.piece import Piece
from pitjournal.domain.scheme import Asks, Criterion, Rules, Scheme
from pitjournal.domain.tasting import Sample, Session, Tasting
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.records import Remove, Together
from pitjournal.units.figures import figure, trimmed
from pitjournal.units.first_letter import capital


@dataclass(frozen=True)
class PieceScores:
    """A revealed sample: its code, its piece, and the tasters' mean by criterion.

    `given` is the mean as it was given, where the tasters' levels were set even; else None.
    `total` and `place` are those of a contest scheme; None where there is none.
    """

    code: str
    piece: Piece
    look: int | None
    means: tuple[float | None, ...]
    given: tuple[float | None, ...]
    total: float | None
    place: int | None


@dataclass(frozen=True)
class ArmScores:
    """A way: its name, its look, how many pieces were tasted, and their mean by criterion."""

    name: str
    look: int
    pieces: int
    means: tuple[float | None, ...]
    total: float | None


def newest(whole: WholeCook) -> Tasting | None:
    """Return the cook's newest session."""
    return whole.tastings[-1] if whole.tastings else None


def session_names(whole: WholeCook) -> list[tuple[str, str]]:
    """Return each session's id and a name that no other has."""
    found: list[tuple[str, str]] = []
    for tasting in whole.tastings:
        same = sum(name.startswith(tasting.scheme) for _, name in found)
        found.append((tasting.id, f"{tasting.scheme} {same + 1}" if same else tasting.scheme))
    return found


def scheme_names(schemes: Sequence[Scheme]) -> list[tuple[Scheme, str]]:
    """Return what may be chosen: the name alone where there is one version of it."""
    offered = [scheme for scheme in schemes if not scheme.retired]
    named = []
    for scheme in offered:
        versions = [s.version for s in offered if s.name == scheme.name]
        alone = len(versions) == 1
        named.append((scheme, scheme.name if alone else f"{scheme.name}, {scheme.version}"))
    return named


def progress(session: Session) -> tuple[int, int]:
    """Return how many scores there are, of how many."""
    given = sum(session.count(taster) for taster in session.present)
    return given, sum(session.expected(taster) for taster in session.present)


def finished(session: Session, taster: str) -> bool:
    """Whether nothing more is waited for from a taster."""
    return session.count(taster) >= session.expected(taster)


def servings(rules: Rules, samples: int) -> list[tuple[int, str]]:
    """Return how many samples each taster may be served, 0 being all."""
    if not rules.scored or samples <= MOST_AT_ONCE or rules.most is not None:
        return []
    some = [(each, f"{each} each") for each in range(MOST_AT_ONCE, 2, -1)]
    return [(0, f"all {samples} to everyone"), *some]


TOO_FEW_IN_COMMON = (
    " That is too few in common to set a kind and a strict taster even: serve each more, or all."
)


def balance_words(samples: int, each: int, tasters: int, arms: Sequence[str] = ()) -> str:
    """Return how even the serving comes out, in words; `arms` has the arm of each sample."""
    if samples < 2 or tasters < 1:
        return ""
    if 2 <= each < samples and dealt_by_arm(samples, each, arms):
        return _by_arm_words(samples, each, tasters, arms)
    needed = balanced_with(samples, each)
    if tasters % needed == 0:
        return "The orders balance fully: every sample follows every other equally often."
    served = each or samples
    times = tasters * served / samples
    met = f"each sample is met {figure(times)} times"
    if times != round(times):
        met = f"each sample is met {int(times)} or {int(times) + 1} times"
    said = f"The orders balance fully with {needed} tasters. With {tasters}, {met}."
    if each and not share_enough(samples, tasters * served, tasters):
        said += TOO_FEW_IN_COMMON
    return said


def _by_arm_words(samples: int, each: int, tasters: int, arms: Sequence[str]) -> str:
    """Return how even it comes out where each taster's share of the arms goes first."""
    count = len(set(arms))
    said = "Each taster gets the arms as evenly as can be."
    if each < count:
        said = f"With {each} each of {count} arms nobody meets them all: serve each more."
    met = times_met(arms, tasters, each)
    few, most = min(met), max(met)
    times = f"{few} {'or' if most - few == 1 else 'to'} {most}" if most > few else f"{few}"
    said += f" With {tasters}, each sample is met {times} times."
    unmet = met.count(0)
    if unmet:
        pieces = "One sample is" if unmet == 1 else f"{unmet} samples are"
        said += f" {pieces} tasted by nobody: serve each more, or ask more tasters."
    elif not share_enough(samples, tasters * each, tasters):
        said += TOO_FEW_IN_COMMON
    return said


def served_of(session: Session, taster: str) -> tuple[Sample, ...]:
    """Return a taster's samples in order; without the reference, which is not scored."""
    return tuple(sample for sample in session.served(taster) if not sample.reference)


def revealed(whole: WholeCook, session: Session) -> list[PieceScores]:
    """Return each sample with its piece and means, arm after arm; nothing before the reveal."""
    if not session.tasting.revealed:
        return []
    pieces = {piece.id: piece for piece in whole.pieces}
    added = totals(session)
    even = [levelled(session, criterion) for criterion in _criteria(session)]
    won = places(session.tasting.asked, added)
    found = []
    for sample in session.samples:
        piece = pieces.get(sample.piece_id)
        if piece is None:
            continue
        total = added.get(piece.id)
        plain = tuple(_mean(session, sample.id, name) for name in session.tasting.criteria)
        means = tuple(
            mean if own is None else own.get(piece.id)
            for mean, own in zip(plain, even, strict=True)
        )
        given = tuple(None if own is None else mean for mean, own in zip(plain, even, strict=True))
        found.append(
            PieceScores(
                sample.code,
                piece,
                whole.arm_index(piece.arm_id),
                means,
                given,
                total.value if total else None,
                won.get(piece.id),
            )
        )
    return sorted(found, key=lambda s: (s.look is None, s.look or 0, s.piece.position))


def _criteria(session: Session) -> list[Criterion]:
    rules = session.tasting.asked
    return [c for name in session.tasting.criteria if (c := rules.criterion(name)) is not None]


def _mean(session: Session, sample_id: str, criterion: str) -> float | None:
    given = session.given.items()
    known = [value for (s, _, name), value in given if s == sample_id and name == criterion]
    return fmean(known) if known else None


def arm_means(whole: WholeCook, found: Sequence[PieceScores], criteria: int) -> list[ArmScores]:
    """Return each arm's means by criterion: means of its pieces' means."""
    arms = []
    for arm in whole.ordered_arms:
        mine = [scores for scores in found if scores.piece.arm_id == arm.id]
        by_piece: dict[str, list[PieceScores]] = {}
        for scores in mine:
            by_piece.setdefault(scores.piece.id, []).append(scores)
        means = tuple(
            mean_of([mean_of([s.means[place] for s in same]) for same in by_piece.values()])
            for place in range(criteria)
        )
        total = mean_of([same[0].total for same in by_piece.values()])
        look = whole.arm_index(arm.id) or 0
        arms.append(ArmScores(arm.name, look, len(by_piece), means, total))
    return arms


def means_words(session: Session) -> str:
    """Return what totals or means rest on, where that needs a word; or why there is no total."""
    if session.tasting.some_each(len(session.samples)):
        if any(levelled(session, criterion) is not None for criterion in _criteria(session)):
            return (
                "Each taster met only some samples, so the tasters’ levels are set even; what was "
                "given stands in brackets."
            )
        return (
            "Each taster met only some samples, and they share too few to set their levels even: "
            "the means are as given, and a kind taster lifts what he met."
        )
    rules = session.tasting.asked
    if rules.most is None or rules.judges is None:
        return ""
    short = cards_short(session)
    if not short:
        drop = f", the lowest {rules.drop} left out" if rules.drop else ""
        return f"A total adds {rules.judges} weighted cards{drop}; at most {trimmed(rules.most)}."
    return f"{short} A version of the scheme with as many judges as you have gives one."


def usual_serving(rules: Rules, samples: int) -> int:
    """Return how many samples each taster is served where nobody says: 0 is all."""
    return next((each for each, _ in servings(rules, samples) if each), 0)


def sets_words(asks: Asks, tasters: int) -> str:
    """Return how even the sets of a triangle, duo–trio or pair come out, in words."""
    sets = len(SETS[asks])
    if not tasters or tasters % sets == 0:
        return f"Each of the {sets} ways to set the portions out is served equally often."
    return (
        f"There are {sets} ways to set the portions out: they balance fully with {sets} tasters, "
        f"or a multiple. With {tasters}, by lot."
    )


def draw_again(whole: WholeCook, session: Session, seed: int) -> Together:
    """Return the command that draws the same tasting anew, as one step."""
    tasting, rules = session.tasting, session.tasting.asked
    pieces = dict.fromkeys(sample.piece_id for sample in session.samples)
    arms = dict.fromkeys(p.arm_id or "" for p in whole.pieces if p.id in pieces)
    served = min((tasting.meets(taster) for taster in tasting.tasters), default=0)
    draw = DrawTasting(
        whole.cook.id,
        tasting.tasters,
        seed,
        Scheme(
            id=tasting.scheme_id,
            name=tasting.scheme,
            version=tasting.version,
            rules=rules.as_map(),
        ),
        pieces=tuple(pieces) if rules.scored else (),
        ways=() if rules.scored else tuple(arms),
        each=served if rules.scored and served < len(session.samples) else 0,
        twice=rules.scored and len(pieces) < len(session.samples),
        warm_up=bool(tasting.warm_up),
        seen=tasting.seen,
    )
    return Together((Remove(Tasting, tasting.id), draw), "Draw the codes again")


def scale_words(session: Session, taster: str) -> str:
    """Return which scores there are, criteria of one scale together."""
    scales: dict[str, list[str]] = {}
    for criterion in session.tasting.asked.criteria:
        scale = criterion.words(session.tasting.meets(taster))
        scales.setdefault(scale, []).append(criterion.name)
    if len(scales) == 1:
        scale = next(iter(scales))
        return f"{capital(scale)}."
    said = "; ".join(f"{', '.join(names)} {scale}" for scale, names in scales.items())
    return f"{capital(said)}."
