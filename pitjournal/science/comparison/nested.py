"""Differences and slopes when readings are nested: tasters in pieces, readings in cooks."""

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import ROUNDING, Array, largest
from pitjournal.science.comparison.mixed import indicator, variance_components
from pitjournal.science.comparison.paired import Estimate, blocked_difference, t_estimate


def _independent(columns: Array) -> Array:
    """Return the columns that add something to an intercept and to those before them."""
    kept: Array = np.ones((columns.shape[0], 1))
    for column in columns.T:
        wider = np.column_stack([kept, column])
        if np.linalg.matrix_rank(wider) > kept.shape[1]:
            kept = wider
    return kept[:, 1:]


def within_slope(
    values: ArrayLike, piece_codes: ArrayLike, taster_codes: ArrayLike | None, along: ArrayLike
) -> tuple[float, float] | None:
    """Return by how much a covariate moves a score within pieces and tasters, and what is left.

    Parameters
    ----------
    values, along
        Scores and what goes with each, such as its place in the serving, shape (n,).
    piece_codes, taster_codes
        Of each score, shape (n,); None where tasters are not known.

    Returns
    -------
    tuple of float, or None
        The slope, and the standard deviation that no piece, taster or slope explains (exactly 0
        where that is rounding). None where the covariate goes with pieces and tasters.
    """
    y, x = (np.asarray(one, dtype=np.float64).ravel() for one in (values, along))
    known = [np.ones((y.size, 1)), indicator(piece_codes)]
    known += [] if taster_codes is None else [indicator(taster_codes)]
    columns = np.hstack(known)

    def left(one: Array) -> Array:
        centred = one - np.mean(one)
        return np.asarray(centred - columns @ np.linalg.lstsq(columns, centred, rcond=None)[0])

    own, scores = left(x), left(y)
    if float(np.std(own)) <= 1e-9 * max(largest(x), 1.0):
        return None
    slope = float(own @ scores / (own @ own))
    rest = float(np.std(scores - slope * own))
    none = 16 * ROUNDING * largest(y)
    return (
        0.0 if abs(slope) * float(np.std(own)) <= none else slope
    ), 0.0 if rest <= none else rest


def piece_means(
    values: ArrayLike, piece_codes: ArrayLike, *others: ArrayLike
) -> tuple[Array, list[Array]]:
    """Return the mean of each piece, in order of its code, and its other codes.

    Parameters
    ----------
    values
        Readings, shape (n,); what is not a number is left out.
    piece_codes
        Piece of each reading, shape (n,).
    *others
        Further codes that are one for each piece, such as arm and block, shape (n,).
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(y)
    pieces = np.asarray(piece_codes).ravel()[whole]
    names, first, places = np.unique(pieces, return_index=True, return_inverse=True)
    counts = np.bincount(places, minlength=names.size)
    sums = np.asarray(np.bincount(places, weights=y[whole], minlength=names.size), np.float64)
    return sums / counts, [np.asarray(other).ravel()[whole][first] for other in others]


def nested_difference(
    values: ArrayLike,
    arm_codes: ArrayLike,
    piece_codes: ArrayLike,
    arm: int,
    control: int,
    *,
    block_codes: ArrayLike | None = None,
    taster_codes: ArrayLike | None = None,
    covariate: ArrayLike | None = None,
    confidence: float = 0.95,
) -> Estimate:
    """Return arm − control with the piece as the replicate, however many tasted each.

    A mixed model by restricted likelihood; its degrees of freedom never exceed what the
    number of pieces allows. Where the readings show no spread between pieces at all, none within
    them (tasters who agree exactly), or too few to fit, piece means are compared instead, each
    taster's kindness and the covariate's slope within pieces taken out of them where they are
    known. `n` is the number of pieces.

    Parameters
    ----------
    values
        Scores, shape (n,).
    arm_codes, piece_codes
        Whole numbers naming arm and piece of each score, shape (n,).
    arm, control
        The two arms to compare.
    block_codes
        Block of each score; None without blocks.
    taster_codes
        Taster of each score where the same tasters meet several pieces; None otherwise.
    covariate
        A number that goes with each score, such as its place in the serving, held at equal. It
        is left out where it goes with the pieces: then nothing tells the two apart.
    confidence
        Of the interval, 0 to 1.
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(y)
    arms, pieces = (np.asarray(codes).ravel()[whole] for codes in (arm_codes, piece_codes))
    blocks = np.asarray(
        np.zeros(y.size, dtype=np.int64) if block_codes is None else block_codes
    ).ravel()[whole]
    who = None if taster_codes is None else np.asarray(taster_codes).ravel()[whole]
    along = None if covariate is None else np.asarray(covariate, dtype=np.float64).ravel()[whole]
    moved = None if along is None else within_slope(y[whole], pieces, who, along)
    along = None if moved is None else along
    even = y[whole]
    if along is not None and moved is not None:
        even = even - moved[0] * (along - np.mean(along))
    means, (arm_of, block_of) = piece_means(even, pieces, arms, blocks)
    plain = blocked_difference(means, arm_of, block_of, arm, control, confidence=confidence)
    if plain.df is None or (moved is not None and not moved[1]):
        return plain
    others = [name for name in np.unique(arms) if name not in {arm, control}]
    design = [(arms == arm)[:, None], *((arms == name)[:, None] for name in others)]
    design += [] if along is None else [(along - np.mean(along))[:, None]]
    everyone = who is not None and _complete(pieces, who)
    if along is not None and who is not None and everyone:  # then no taster's level counts
        design.append(indicator(who)[:, 1:])
    fixed = _independent(np.hstack([*design, indicator(blocks)[:, 1:]]).astype(np.float64))
    sources: dict[str, ArrayLike] = {"piece": pieces}
    if who is not None and (along is None or not everyone):
        sources["taster"] = who
    fit = variance_components(y[whole], sources, fixed)
    if fit is None:
        return plain
    if not fit.components["piece"]:
        if "taster" not in fit.effects or along is not None:
            return plain
        _, level = np.unique(np.asarray(sources["taster"]), return_inverse=True)
        fair = y[whole] - fit.effects["taster"][level.ravel()]
        means, _ = piece_means(fair, pieces)
        return blocked_difference(means, arm_of, block_of, arm, control, confidence=confidence)
    df = max(min(float(fit.df[1]), plain.df - (along is not None)), 1.0)
    method = "mixed model, piece as replicate"
    return t_estimate(
        float(fit.coefficients[1]),
        float(fit.errors[1]),
        df,
        means.size,
        method,
        confidence=confidence,
    )


def _complete(pieces: Array, tasters: Array) -> bool:
    """Whether every taster scored every piece, equally often."""
    table = indicator(tasters).T @ indicator(pieces)
    return bool(np.all(table == table[0, 0])) and bool(table[0, 0])


def _for_groups(corner: Array, groups: int) -> Array:
    """Return the relative factor of all groups: heights first, then slopes."""
    return np.asarray(np.kron(corner, np.eye(groups)), dtype=np.float64)
